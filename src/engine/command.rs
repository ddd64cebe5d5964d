//! What a program is told, line by line.

use std::fmt;

use shakmaty::fen::Fen;
use shakmaty::{CastlingMode, EnPassantMode, Move};

use super::options::EngineOption;
use super::question::Question;

/// A line to a program; shown without its end.
#[derive(Clone, Copy, Debug)]
pub enum EngineCommand<'c> {
    /// Speak UCI, and say who you are.
    Uci,
    /// Set an option.
    SetOption(&'c EngineOption),
    /// Say when you are ready.
    IsReady,
    /// What comes next has nothing to do with what came before.
    NewGame,
    /// Look at this position.
    Position(&'c Question),
    /// Search `nodes` positions and say what is best.
    Go {
        /// How many.
        nodes: u64,
        /// What was asked about the position: perhaps not all of its moves are searched.
        question: &'c Question,
    },
    /// End.
    Quit,
}

impl fmt::Display for EngineCommand<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            EngineCommand::Uci => f.write_str("uci"),
            EngineCommand::SetOption(option) => set_option(f, option),
            EngineCommand::IsReady => f.write_str("isready"),
            EngineCommand::NewGame => f.write_str("ucinewgame"),
            EngineCommand::Position(question) => position(f, question),
            EngineCommand::Go { nodes, question } => go(f, *nodes, question),
            EngineCommand::Quit => f.write_str("quit"),
        }
    }
}

fn set_option(f: &mut fmt::Formatter<'_>, option: &EngineOption) -> fmt::Result {
    write!(f, "setoption name {}", option.name)?;
    match option.value.as_deref() {
        None => Ok(()),
        // An empty text is told like this, by the standard.
        Some("") => f.write_str(" value <empty>"),
        Some(value) => write!(f, " value {value}"),
    }
}

fn position(f: &mut fmt::Formatter<'_>, question: &Question) -> fmt::Result {
    let fen = Fen::from_position(question.start(), EnPassantMode::Legal);
    write!(f, "position fen {fen}")?;
    if !question.moves().is_empty() {
        f.write_str(" moves")?;
    }
    moves(f, question, question.moves())
}

fn go(f: &mut fmt::Formatter<'_>, nodes: u64, question: &Question) -> fmt::Result {
    write!(f, "go nodes {nodes}")?;
    if question.is_restricted() {
        f.write_str(" searchmoves")?;
        moves(f, question, &question.searched())?;
    }
    Ok(())
}

fn moves(f: &mut fmt::Formatter<'_>, question: &Question, moves: &[Move]) -> fmt::Result {
    let mode = if question.is_shuffled() { CastlingMode::Chess960 } else { CastlingMode::Standard };
    moves.iter().try_for_each(|m| write!(f, " {}", m.to_uci(mode)))
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that can't go on has failed")]
mod tests {
    use shakmaty::{Chess, Position};

    use super::*;

    fn question(fen: &str, mode: CastlingMode, moves: &[&str]) -> Question {
        let start: Chess = fen.parse::<Fen>().unwrap().into_position(mode).unwrap();
        moves.iter().fold(Question::new(start), |question, m| {
            let m: Move =
                m.parse::<shakmaty::uci::UciMove>().unwrap().to_move(question.now()).unwrap();
            question.then(m).unwrap()
        })
    }

    #[test]
    fn options_are_set_as_the_standard_shows() {
        // The forms that the standard's description shows (from memory).
        for (option, expected) in [
            ("Selectivity=3", "setoption name Selectivity value 3"),
            ("Clear Hash", "setoption name Clear Hash"),
            ("Table Path=c:\\chess\\tb\\4", "setoption name Table Path value c:\\chess\\tb\\4"),
            ("Table Path=", "setoption name Table Path value <empty>"),
        ] {
            assert_eq!(EngineCommand::SetOption(&option.parse().unwrap()).to_string(), expected);
        }
    }

    #[test]
    fn positions_go_with_the_moves_since() {
        let fen = "r3k2r/8/8/8/8/8/8/R3K2R w KQkq - 0 1";
        let asked = question(fen, CastlingMode::Standard, &[]);
        assert_eq!(EngineCommand::Position(&asked).to_string(), format!("position fen {fen}"));
        let asked = question(fen, CastlingMode::Standard, &["e1g1", "e8c8"]);
        let expected = format!("position fen {fen} moves e1g1 e8c8");
        assert_eq!(EngineCommand::Position(&asked).to_string(), expected);
        // Castling goes to the rook's square in Chess960, by the standard.
        let asked = question(fen, CastlingMode::Chess960, &["e1h1"]);
        assert!(asked.is_shuffled());
        assert_eq!(
            EngineCommand::Position(&asked).to_string(),
            format!("position fen {fen} moves e1h1")
        );
    }

    #[test]
    fn moves_to_be_searched_follow_the_nodes() {
        // The form is the standard's (from memory).
        let go = |question: &Question| EngineCommand::Go { nodes: 7, question }.to_string();
        let asked = question("k7/8/8/8/8/8/P7/7K w - - 0 1", CastlingMode::Standard, &[]);
        assert_eq!(go(&asked), "go nodes 7");
        let excluded = asked.searched()[0];
        let others: Vec<Move> = asked.searched().split_off(1);
        let named = others.iter().map(|m| format!(" {}", m.to_uci(CastlingMode::Standard)));
        let expected = format!("go nodes 7 searchmoves{}", named.collect::<String>());
        assert_eq!(go(&asked.without(&[excluded]).unwrap()), expected);
        assert_eq!(others.len(), 4, "of a king in the corner and a pawn at home, five but one");
        // Black's only move is to take.
        let only = question("k7/1Q6/8/8/8/8/8/7K b - - 0 1", CastlingMode::Standard, &[]);
        let taking = only.searched()[0];
        assert!(only.without(&[taking]).is_none());
    }

    #[test]
    fn shuffled_positions_without_castling_are_ordinary_ones() {
        let asked = question("4k3/8/8/8/8/8/8/R3K3 w - - 0 1", CastlingMode::Chess960, &["a1a8"]);
        assert!(!asked.is_shuffled());
        assert!(asked.now().is_check());
    }
}
