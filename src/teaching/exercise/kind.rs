//! What the pupil is asked to do.

/// What the pupil is asked to do.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, clap::ValueEnum)]
pub enum ExerciseKind {
    /// Find the offer.
    Find,
    /// Say whether the offer works: half of them do not.
    Judge,
    /// Find the move that justifies the offer once it is accepted.
    Continue,
    /// Find the one good reply, which may be to accept or not.
    Defend,
    /// Mate in one or two, at the end of an attack that followed an offer.
    Mate,
    /// Find the one reply to the offer that does not run into mate.
    Reply,
    /// Say which moves of the king that took run into mate.
    King,
    /// Say whether a check is mate: half of them are.
    Check,
    /// Count who attacks and who guards the square of the offer.
    Count,
}

impl ExerciseKind {
    /// The word for it in options and tables.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            ExerciseKind::Find => "find",
            ExerciseKind::Judge => "judge",
            ExerciseKind::Continue => "continue",
            ExerciseKind::Defend => "defend",
            ExerciseKind::Mate => "mate",
            ExerciseKind::Reply => "reply",
            ExerciseKind::King => "king",
            ExerciseKind::Check => "check",
            ExerciseKind::Count => "count",
        }
    }

    /// Whether it is a short one: proved by the rules or by a mate search that tries everything, so that no engine has
    /// a say in it.
    #[must_use]
    pub const fn is_short(self) -> bool {
        use ExerciseKind::{Check, Count, King, Mate, Reply};
        matches!(self, Mate | Reply | King | Check | Count)
    }

    /// Whether the answer is yes or no, and half of each.
    #[must_use]
    pub const fn has_halves(self) -> bool {
        matches!(self, ExerciseKind::Judge | ExerciseKind::Check)
    }

    /// Whether an engine may make an exercise where our own searches make none.
    #[must_use]
    pub const fn may_rest_on_an_engine(self) -> bool {
        !self.is_short()
    }
}
