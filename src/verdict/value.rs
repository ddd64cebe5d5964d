//! Values of the material search: pawns and mates as numbers, the window that matters, and what is
//! remembered of a position.

use shakmaty::Move;

/// The value of best play, for the side that moves first.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum WeighedScore {
    /// It mates within this many of its moves.
    Mates(u8),
    /// Its material less that of the other side, in pawns; 0 for stalemate.
    Pawns(i32),
    /// It is mated within this many moves of the other side.
    Mated(u8),
}

/// The value of being mated at the start; a mate further away is worth less.
pub(super) const MATE: i32 = 10_000;
/// Values beyond this are mates.
const LEAST_MATE: i32 = 9_000;

impl WeighedScore {
    pub(super) fn of(value: i32) -> WeighedScore {
        let moves = |plies: i32| u8::try_from((plies + 1) / 2).unwrap_or(u8::MAX);
        if value > LEAST_MATE {
            WeighedScore::Mates(moves(MATE - value))
        } else if value < -LEAST_MATE {
            WeighedScore::Mated(moves(MATE + value))
        } else {
            WeighedScore::Pawns(value)
        }
    }
}

/// The values that matter: above the first and below the second.
#[derive(Clone, Copy)]
pub(super) struct ValueWindow {
    pub(super) alpha: i32,
    pub(super) beta: i32,
}

impl ValueWindow {
    pub(super) const FULL: ValueWindow = ValueWindow { alpha: -MATE, beta: MATE };

    pub(super) const fn seen_by_other(self) -> ValueWindow {
        ValueWindow { alpha: -self.beta, beta: -self.alpha }
    }

    /// Just wide enough to tell whether a value is above alpha, as the other side sees it.
    pub(super) const fn question_to_other(self) -> ValueWindow {
        ValueWindow { alpha: -self.alpha - 1, beta: -self.alpha }
    }

    pub(super) const fn is_question(self) -> bool {
        self.beta - self.alpha == 1
    }
}

/// What a search of a certain depth said of a position.
#[derive(Clone, Copy, Default)]
pub(super) struct Weight {
    value: i16,
    depth: i8,
    bound: WeightBound,
    pub(super) best: Option<Move>,
}

#[derive(Clone, Copy, PartialEq, Eq, Default)]
enum WeightBound {
    #[default]
    Nothing,
    AtLeast,
    AtMost,
    Exactly,
}

impl Weight {
    /// What a search of `depth` with this window, `ply` plies from the start, says by its result.
    pub(super) fn new(value: i32, window: ValueWindow, depth: i32, ply: usize) -> Weight {
        let bound = if value >= window.beta {
            WeightBound::AtLeast
        } else if value <= window.alpha {
            WeightBound::AtMost
        } else {
            WeightBound::Exactly
        };
        // Values stay within 10,000 and depths within 127: they fit.
        let value = i16::try_from(value + mate_shift(value, ply)).unwrap_or(0);
        let depth = i8::try_from(depth).unwrap_or(i8::MAX);
        Weight { value, depth, bound, best: None }
    }

    /// The same with the best move.
    pub(super) fn with_best(self, best: Option<Move>) -> Weight {
        Weight { best, ..self }
    }

    /// The value, `ply` plies from the start, if what is known settles the question that the window asks.
    /// Only a search of the same depth counts, so that the result is that of plain minimax.
    pub(super) fn answer(&self, window: ValueWindow, depth: i32, ply: usize) -> Option<i32> {
        if i32::from(self.depth) != depth || !window.is_question() {
            return None;
        }
        let value = i32::from(self.value);
        let value = value - mate_shift(value, ply);
        let is_settled = match self.bound {
            WeightBound::Nothing => false,
            WeightBound::AtLeast => value >= window.beta,
            WeightBound::AtMost => value <= window.alpha,
            WeightBound::Exactly => true,
        };
        is_settled.then_some(value)
    }
}

/// The value of being mated `ply` plies from the start.
pub(super) fn mated_at(ply: usize) -> i32 {
    plies(ply) - MATE
}

/// Whether the value is a mate.
pub(super) const fn is_mate(value: i32) -> bool {
    value.abs() > LEAST_MATE
}

/// What turns the value of a mate seen from the start into one seen from a ply.
fn mate_shift(value: i32, ply: usize) -> i32 {
    if is_mate(value) { value.signum() * plies(ply) } else { 0 }
}

fn plies(ply: usize) -> i32 {
    i32::try_from(ply).unwrap_or(i32::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;

    const QUESTION: ValueWindow = ValueWindow { alpha: 2, beta: 3 };

    #[test]
    fn only_a_search_of_the_same_depth_answers() {
        let weight = Weight::new(5, QUESTION, 4, 0);
        assert_eq!(weight.answer(QUESTION, 4, 0), Some(5));
        assert_eq!(weight.answer(QUESTION, 3, 0), None);
        assert_eq!(weight.answer(QUESTION, 5, 0), None);
        assert_eq!(weight.answer(ValueWindow::FULL, 4, 0), None);
    }

    #[test]
    fn a_bound_answers_only_the_questions_it_settles() {
        let at_least_5 = Weight::new(5, QUESTION, 4, 0);
        assert_eq!(at_least_5.answer(ValueWindow { alpha: 4, beta: 5 }, 4, 0), Some(5));
        assert_eq!(at_least_5.answer(ValueWindow { alpha: 5, beta: 6 }, 4, 0), None);
        let at_most_1 = Weight::new(1, QUESTION, 4, 0);
        assert_eq!(at_most_1.answer(ValueWindow { alpha: 1, beta: 2 }, 4, 0), Some(1));
        assert_eq!(at_most_1.answer(ValueWindow { alpha: 0, beta: 1 }, 4, 0), None);
    }

    #[test]
    fn a_mate_is_as_far_from_a_position_wherever_that_is_met() {
        // Met two plies from the start and mated four plies on; met again six plies from the start.
        let mated = Weight::new(mated_at(6), QUESTION, 4, 2);
        assert_eq!(mated.answer(QUESTION, 4, 6), Some(mated_at(10)));
        let mates = Weight::new(-mated_at(5), QUESTION, 4, 2);
        assert_eq!(mates.answer(QUESTION, 4, 6), Some(-mated_at(9)));
    }
}
