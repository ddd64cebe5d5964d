//! A line played out on the board: its moves, the positions between them, and how it is written.

use shakmaty::san::{San, SanError, SanPlus, Suffix};
use shakmaty::{Chess, Color, Move, Position};

use super::{balance, legal_move, play_san, written};

/// The position after a legal move.
#[inline]
#[must_use]
pub fn played(pos: &Chess, m: Move) -> Chess {
    let mut after = pos.clone();
    after.play_unchecked(m);
    after
}

/// The position after a line of legal moves.
#[must_use]
pub fn played_out(start: &Chess, line: &[Move]) -> Chess {
    line.iter().fold(start.clone(), |pos, &m| played(&pos, m))
}

/// Legal moves from a position in SAN, with blanks between.
#[must_use]
pub fn line_in_san(start: &Chess, line: &[Move]) -> String {
    Replay::of(start, line).sans().collect::<Vec<String>>().join(" ")
}

/// A line in one text, as a book has it: `15.Bxh7+ Kxh7 16.Ng5+`.
#[must_use]
pub fn line_in_print(start: &Chess, line: &[Move]) -> String {
    let moves = Replay::of(start, line).in_print();
    let texts: Vec<String> =
        moves.iter().map(|one| one.number_in_print().unwrap_or_default() + &one.san).collect();
    texts.join(" ")
}

/// The moves of a game and the positions between them: `positions[i]` is the one in which `moves[i]`
/// is played, and the last position is the end.
#[derive(Clone, Debug, Default)]
pub struct Replay {
    /// One more than there are moves.
    pub positions: Vec<Chess>,
    /// The moves in playing order.
    pub moves: Vec<Move>,
}

impl Replay {
    /// Starts a new game; the room that an earlier game took is kept.
    pub fn start(&mut self, start: &Chess) {
        self.positions.clear();
        self.moves.clear();
        self.positions.push(start.clone());
    }

    /// A game from its start and its legal moves.
    #[must_use]
    pub fn of(start: &Chess, line: &[Move]) -> Replay {
        let mut replay = Replay::default();
        replay.start(start);
        for &m in line {
            replay.play(m);
        }
        replay
    }

    /// The position after the last move.
    ///
    /// # Panics
    ///
    /// If the replay was never started.
    #[must_use]
    pub fn end(&self) -> &Chess {
        self.positions.last().expect("a replay holds its first position from the start")
    }

    /// White's material less Black's in each position, in pawns.
    #[must_use]
    pub fn balances(&self) -> Vec<i32> {
        self.positions.iter().map(|pos| balance(pos, Color::White)).collect()
    }

    /// A line that is written in SAN with blanks between.
    ///
    /// # Errors
    ///
    /// The first word that is no legal move where it stands.
    pub fn read<'t>(start: &Chess, text: &'t str) -> Result<Replay, &'t str> {
        let mut replay = Replay::of(start, &[]);
        for word in text.split_ascii_whitespace() {
            replay.play(legal_move(replay.end(), word).ok_or(word)?);
        }
        Ok(replay)
    }

    /// Plays a legal move.
    pub fn play(&mut self, m: Move) {
        self.positions.push(played(self.end(), m));
        self.moves.push(m);
    }

    /// Plays a move as written.
    ///
    /// # Errors
    ///
    /// If no man, or more than one, can legally make it; the replay is then as it was.
    pub fn play_san(&mut self, san: San) -> Result<Move, SanError> {
        let last = self.positions.len() - 1;
        // Copied and played where it stays: it is large, and this is the innermost loop of mining.
        self.positions.extend_from_within(last..);
        let (before, after) = self.positions.split_at_mut(last + 1);
        let played = play_san(&before[last], san, &mut after[0]);
        match played {
            Ok(m) => self.moves.push(m),
            Err(_) => self.positions.truncate(last + 1),
        }
        played
    }

    /// The SAN of a legal move of the position at an index.
    #[must_use]
    pub fn san_of(&self, index: usize, m: Move) -> SanPlus {
        let before = &self.positions[index];
        SanPlus { san: written(before, m), suffix: check_mark(&played(before, m)) }
    }

    /// The SAN of the move at an index.
    #[must_use]
    pub fn san(&self, index: usize) -> SanPlus {
        let san = written(&self.positions[index], self.moves[index]);
        SanPlus { san, suffix: check_mark(&self.positions[index + 1]) }
    }

    /// The moves in SAN.
    pub fn sans(&self) -> impl Iterator<Item = String> {
        (0..self.moves.len()).map(|index| self.san(index).to_string())
    }

    /// The moves as they are printed.
    #[must_use]
    pub fn in_print(&self) -> Vec<PrintedMove> {
        let printed = |(index, san)| {
            let pos: &Chess = &self.positions[index];
            let (number, side) = (pos.fullmoves().get(), pos.turn());
            PrintedMove { number, side, san, is_first: index == 0 }
        };
        self.sans().enumerate().map(printed).collect()
    }
}

/// A move as it is printed.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct PrintedMove {
    /// The number of the move.
    pub number: u32,
    /// Who moves.
    pub side: Color,
    /// The move in SAN.
    pub san: String,
    /// Whether it is the first of its line.
    pub is_first: bool,
}

impl PrintedMove {
    /// What a book puts before it: `15.` before a move of White's, `15…` before the first if it is Black's.
    #[must_use]
    pub fn number_in_print(&self) -> Option<String> {
        let is_numbered = self.is_first || self.side == Color::White;
        is_numbered.then(|| format!("{}{}", self.number, self.side.fold_wb(".", "…")))
    }
}

/// The mark for the check or mate that stands on the board. Mate is looked for only in check.
fn check_mark(pos: &Chess) -> Option<Suffix> {
    pos.is_check().then(|| if pos.is_checkmate() { Suffix::Checkmate } else { Suffix::Check })
}
