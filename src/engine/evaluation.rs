//! What a program made of a position: its score, the best move, the line it expects.

use shakmaty::uci::UciMove;
use shakmaty::{Chess, Move, Position};

use super::fault::EngineFault;
use super::points::{Chances, Points};
use super::protocol::{Answer, Info};
use super::question::Question;
use super::score::{Bound, Score};

/// What a program made of a position.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct EngineEvaluation {
    /// What the position is worth, for the side to move.
    pub score: Score,
    /// Whether it is worth exactly that.
    pub bound: Bound,
    /// The points it promises, for the side to move: by the program's own figures, if it gives any.
    pub points: Points,
    /// The best move; `None` if the game is over.
    pub best: Option<Move>,
    /// The best move and best play after it, all legal, in the order of play.
    pub line: Vec<Move>,
    /// Depth in plies of the search that gave the score, as the program says.
    pub depth: Option<u32>,
    /// Positions searched, as the program says.
    pub nodes: Option<u64>,
}

impl EngineEvaluation {
    /// The evaluation of a position without legal moves, which needs no program; `None` if there are any.
    #[must_use]
    pub fn of_the_end(pos: &Chess) -> Option<EngineEvaluation> {
        let score = match (pos.is_checkmate(), pos.is_stalemate()) {
            (true, _) => Score::Mated(0),
            (_, true) => Score::Centipawns(0),
            _ => return None,
        };
        let (bound, points) = (Bound::Exact, Points::of_score(score));
        let (best, line) = (None, Vec::new());
        Some(EngineEvaluation { score, bound, points, best, line, depth: None, nodes: None })
    }

    /// The same evaluation with the score for the side that is not to move.
    #[must_use]
    pub fn for_the_other_side(self) -> EngineEvaluation {
        EngineEvaluation {
            score: self.score.for_the_other_side(),
            bound: self.bound.for_the_other_side(),
            points: self.points.for_the_other_side(),
            ..self
        }
    }
}

/// What has been heard of a search.
#[derive(Debug, Default)]
pub(super) struct HeardSearch {
    /// The last exact score. The very last score may be a bound from a search that was cut short; that
    /// says how far off the expectation was, not what the position is worth.
    exact: Option<Scored>,
    /// The last score that is a bound.
    bounded: Option<Scored>,
    /// The line that came last.
    line: Vec<UciMove>,
    nodes: Option<u64>,
}

#[derive(Clone, Debug)]
struct Scored {
    score: Score,
    bound: Bound,
    chances: Option<Chances>,
    depth: Option<u32>,
    line: Vec<UciMove>,
}

impl Scored {
    /// The points that are promised; a mate is a mate, whatever the chances.
    fn points(&self) -> Points {
        match (self.score, self.chances) {
            (Score::Centipawns(_), Some(chances)) => chances.points(),
            (score, _) => Points::of_score(score),
        }
    }
}

impl HeardSearch {
    /// Notes what the program says.
    pub(super) fn hear(&mut self, info: Info) {
        self.nodes = info.nodes.max(self.nodes);
        if info.line_number.is_some_and(|number| number > 1) {
            return;
        }
        if !info.line.is_empty() {
            self.line.clone_from(&info.line);
        }
        // The position is not mate, or nobody would have been asked.
        let Some((score, bound)) = info.score.filter(|(score, _)| *score != Score::Mated(0)) else {
            return;
        };
        let Info { chances, depth, line, .. } = info;
        let scored = Some(Scored { score, bound, chances, depth, line });
        match bound {
            Bound::Exact => self.exact = scored,
            Bound::AtLeast | Bound::AtMost => self.bounded = scored,
        }
    }

    /// The evaluation, once the program has named its move in a position that has legal moves.
    pub(super) fn end(
        self,
        question: &Question,
        answer: Answer,
    ) -> Result<EngineEvaluation, EngineFault> {
        let pos = question.now();
        let named = match answer {
            Answer::Move(named) => named,
            Answer::None => return Err(EngineFault::NoMove),
            Answer::Unreadable(text) => return Err(EngineFault::Unreadable(text)),
        };
        let best = named.to_move(pos).map_err(|_| EngineFault::Illegal(named.to_string()))?;
        if !question.allows(best) {
            return Err(EngineFault::Excluded(named.to_string()));
        }
        let scored = self.exact.or(self.bounded).ok_or(EngineFault::NoScore)?;
        // The line that belongs to the score, unless another move has become the best since.
        let line = [&scored.line, &self.line]
            .into_iter()
            .map(|line| legal_start(pos, line))
            .find(|line| line.first() == Some(&best))
            .unwrap_or_else(|| vec![best]);
        let points = scored.points();
        let Scored { score, bound, depth, .. } = scored;
        let (best, nodes) = (Some(best), self.nodes);
        Ok(EngineEvaluation { score, bound, points, best, line, depth, nodes })
    }
}

/// The moves of a line up to the first that is illegal.
fn legal_start(pos: &Chess, line: &[UciMove]) -> Vec<Move> {
    let mut pos = pos.clone();
    let play = |named: &UciMove| {
        let m = named.to_move(&pos).ok()?;
        pos.play_unchecked(m);
        Some(m)
    };
    line.iter().map_while(play).collect()
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that can't go on has failed")]
mod tests {
    use shakmaty::CastlingMode;
    use shakmaty::fen::Fen;

    use super::*;
    use crate::engine::protocol::{Said, read};

    /// What comes of these lines, said of the initial position.
    fn heard(lines: &[&str]) -> Result<EngineEvaluation, EngineFault> {
        heard_of(&Question::new(Chess::default()), lines)
    }

    fn heard_of(question: &Question, lines: &[&str]) -> Result<EngineEvaluation, EngineFault> {
        let mut search = HeardSearch::default();
        for line in lines {
            match read(line.as_bytes()) {
                Said::Info(info) => search.hear(info),
                Said::BestMove(answer) => return search.end(question, answer),
                other => panic!("{other:?}"),
            }
        }
        panic!("no best move")
    }

    fn uci(line: &[Move]) -> String {
        let moves: Vec<_> =
            line.iter().map(|m| m.to_uci(CastlingMode::Standard).to_string()).collect();
        moves.join(" ")
    }

    #[test]
    fn last_exact_score_counts_and_a_bound_only_without_one() {
        let found = heard(&[
            "info depth 8 score cp 31 nodes 900 pv e2e4 e7e5",
            "info depth 9 score cp -20 upperbound nodes 1500 pv e2e4 c7c5",
            "info depth 9 currmove d2d4 nodes 1700",
            "bestmove e2e4",
        ])
        .unwrap();
        assert_eq!((found.score, found.bound), (Score::Centipawns(31), Bound::Exact));
        assert_eq!((found.depth, found.nodes), (Some(8), Some(1700)));
        assert_eq!(uci(&found.line), "e2e4 e7e5");
        let found =
            heard(&["info depth 3 score cp 40 lowerbound pv d2d4", "bestmove d2d4"]).unwrap();
        assert_eq!((found.score, found.bound), (Score::Centipawns(40), Bound::AtLeast));
    }

    #[test]
    fn line_ends_before_its_first_illegal_move_and_starts_with_the_best_move() {
        let info = "info score cp 1 pv e2e4 e7e5 e4e5 g8f6";
        assert_eq!(uci(&heard(&[info, "bestmove e2e4"]).unwrap().line), "e2e4 e7e5");
        assert_eq!(uci(&heard(&[info, "bestmove d2d4"]).unwrap().line), "d2d4");
        let another = "info score cp 9 lowerbound pv d2d4 d7d5";
        assert_eq!(uci(&heard(&[info, another, "bestmove d2d4"]).unwrap().line), "d2d4 d7d5");
    }

    #[test]
    fn only_the_best_of_several_lines_counts() {
        let found = heard(&[
            "info multipv 1 score cp 31 pv e2e4",
            "info multipv 2 score cp 12 pv d2d4",
            "bestmove e2e4",
        ])
        .unwrap();
        assert_eq!((found.score, uci(&found.line)), (Score::Centipawns(31), "e2e4".to_owned()));
    }

    #[test]
    fn own_chances_count_before_the_score_and_mates_before_both() {
        let points = |info: &str| heard(&[info, "bestmove e2e4"]).unwrap().points.to_string();
        assert_eq!(points("info score cp 100 wdl 300 600 100 nodes 5"), "60.0");
        assert_eq!(points("info score cp 100 nodes 5"), "64.0");
        assert_eq!(points("info score mate 3 wdl 300 600 100"), "100.0");
        // Figures that are no thousand, not numbers or too few are not believed.
        for nonsense in ["300 600 200", "-1 900 101", "300 600", "a b c", "70000 0 0", ""] {
            assert_eq!(points(&format!("info score cp 100 wdl {nonsense} nodes 5")), "64.0");
        }
        let bounded = "info score cp 10 wdl 300 600 100 upperbound pv e2e4";
        let found = heard(&[bounded, "bestmove e2e4"]).unwrap();
        assert_eq!((found.bound, found.points), (Bound::AtMost, Points::of(60)));
        let other = found.for_the_other_side();
        assert_eq!((other.bound, other.points), (Bound::AtLeast, Points::of(40)));
    }

    #[test]
    fn move_that_was_not_to_be_searched_is_a_fault() {
        let lines = ["info score cp 1 pv e2e4", "bestmove e2e4"];
        let pos = Chess::default();
        let excluded = "e2e4".parse::<UciMove>().unwrap().to_move(&pos).unwrap();
        let question = Question::new(pos).without(&[excluded]).unwrap();
        assert_eq!(heard_of(&question, &lines), Err(EngineFault::Excluded("e2e4".to_owned())));
        assert!(heard_of(&question, &["info score cp 1", "bestmove d2d4"]).is_ok());
    }

    #[test]
    fn nonsense_is_told_apart() {
        let score = "info score cp 1";
        assert_eq!(heard(&[score, "bestmove e2e5"]), Err(EngineFault::Illegal("e2e5".to_owned())));
        assert_eq!(heard(&[score, "bestmove Q@e5"]), Err(EngineFault::Illegal("Q@e5".to_owned())));
        assert_eq!(heard(&[score, "bestmove e2"]), Err(EngineFault::Unreadable("e2".to_owned())));
        assert_eq!(heard(&[score, "bestmove (none)"]), Err(EngineFault::NoMove));
        assert_eq!(heard(&["bestmove e2e4"]), Err(EngineFault::NoScore));
        assert_eq!(heard(&["info score mate 0", "bestmove e2e4"]), Err(EngineFault::NoScore));
    }

    #[test]
    fn ended_games_need_no_program() {
        // Stalemate and mate in the corner.
        for (fen, score) in [
            ("7k/5Q2/6K1/8/8/8/8/8 b - - 0 1", Some(Score::Centipawns(0))),
            ("7k/6Q1/6K1/8/8/8/8/8 b - - 0 1", Some(Score::Mated(0))),
            ("7k/7Q/8/8/8/8/8/K7 b - - 0 1", None),
        ] {
            let pos = fen.parse::<Fen>().unwrap().into_position(CastlingMode::Standard).unwrap();
            assert_eq!(EngineEvaluation::of_the_end(&pos).map(|end| end.score), score, "{fen}");
        }
    }
}
