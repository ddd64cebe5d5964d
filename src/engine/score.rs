//! What a position is worth to a program.

/// The greatest score in hundredths of a pawn that is believed. A board with nine queens against a bare
/// king is worth 8,100; programs count a won endgame from their tables as some hundreds of pawns.
const MOST_CENTIPAWNS: i32 = 1_000_000;

/// The longest mate in moves that is believed. The longest known, with seven men, takes 549 moves.
const LONGEST_MATE: i32 = 10_000;

/// What a position is worth for one side, by a program that speaks UCI.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Score {
    /// Hundredths of a pawn.
    Centipawns(i32),
    /// It mates in this many of its moves; 0 if it has mated.
    Mates(u32),
    /// It is mated in this many moves of the opponent; 0 if it is mated already.
    Mated(u32),
}

impl Score {
    /// The score of `score cp N`; `None` if it is beyond belief.
    #[must_use]
    pub fn from_centipawns(centipawns: i32) -> Option<Score> {
        let is_credible = (-MOST_CENTIPAWNS..=MOST_CENTIPAWNS).contains(&centipawns);
        is_credible.then_some(Score::Centipawns(centipawns))
    }

    /// The score of `score mate N`: negative if the side to move is mated, 0 if it is mated already;
    /// `None` if it is beyond belief.
    #[must_use]
    pub fn from_mate(moves: i32) -> Option<Score> {
        if !(-LONGEST_MATE..=LONGEST_MATE).contains(&moves) {
            return None;
        }
        let count = moves.unsigned_abs();
        Some(if moves > 0 { Score::Mates(count) } else { Score::Mated(count) })
    }

    /// Orders scores for the side they are for; the greater, the better.
    #[must_use]
    pub fn worth(self) -> i64 {
        const WON: i64 = 10 * MOST_CENTIPAWNS as i64;
        match self {
            Score::Centipawns(centipawns) => centipawns.into(),
            Score::Mates(moves) => WON - i64::from(moves),
            Score::Mated(moves) => i64::from(moves) - WON,
        }
    }

    /// The score of the position one move of this side earlier.
    #[must_use]
    pub fn a_move_earlier(self) -> Score {
        match self {
            Score::Mates(moves) => Score::Mates(moves.saturating_add(1)),
            score => score,
        }
    }

    /// The same score from the other side.
    #[must_use]
    pub fn for_the_other_side(self) -> Score {
        match self {
            Score::Centipawns(centipawns) => Score::Centipawns(-centipawns),
            Score::Mates(moves) => Score::Mated(moves),
            Score::Mated(moves) => Score::Mates(moves),
        }
    }
}

/// Whether a score is exact.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Bound {
    /// It is.
    Exact,
    /// The position is worth this or more.
    AtLeast,
    /// The position is worth this or less.
    AtMost,
}

impl Bound {
    /// The same bound from the other side.
    #[must_use]
    pub fn for_the_other_side(self) -> Bound {
        match self {
            Bound::Exact => Bound::Exact,
            Bound::AtLeast => Bound::AtMost,
            Bound::AtMost => Bound::AtLeast,
        }
    }
}
