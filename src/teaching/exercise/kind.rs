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

    /// The title of a sheet of such exercises.
    #[must_use]
    pub const fn title(self) -> &'static str {
        match self {
            ExerciseKind::Find => "Find the offer",
            ExerciseKind::Judge => "Does it work?",
            ExerciseKind::Continue => "Accepted: what now?",
            ExerciseKind::Defend => "The best defence",
            ExerciseKind::Mate => "Mate in one or two",
            ExerciseKind::Reply => "The one reply",
            ExerciseKind::King => "Where the king must not go",
            ExerciseKind::Check => "Is it mate?",
            ExerciseKind::Count => "Count the men",
        }
    }

    /// What is to be kept in mind about the solutions.
    #[must_use]
    pub const fn caution(self) -> &'static str {
        match self {
            ExerciseKind::Judge => {
                "Here an offer works if it leaves its side better, and no other move leaves that side clearly more; \
                 it does not work if it runs into mate, or throws away what another move keeps."
            }
            _ => "",
        }
    }

    /// What a sheet of such exercises asks for.
    #[must_use]
    pub const fn instruction(self) -> &'static str {
        match self {
            ExerciseKind::Find => {
                "The side to move can give something up and come out ahead. Find the offer, and what \
                 follows if it is accepted and if it is declined."
            }
            ExerciseKind::Judge => {
                "The line in each diagram is an offer. Does it work? Give a reason: the moves that make \
                 it work, or the reply that makes it fail. About half of these fail."
            }
            ExerciseKind::Continue => {
                "The offer was accepted. Find the move that justifies it, and what follows."
            }
            ExerciseKind::Defend => {
                "Something is offered, or was just taken. One reply is clearly better than all others. Find it: \
                 is the offer to be taken, and with which man? Where does the king go? Say what is wrong with the \
                 others."
            }
            ExerciseKind::Mate => {
                "The attack is nearly over. Find the mate in the stated number of moves, against every defence."
            }
            ExerciseKind::Reply => {
                "The line is an offer that was just made. All replies but one run into mate in the stated number of \
                 moves or fewer. Find the one that does not, and say how the others are mated."
            }
            ExerciseKind::King => {
                "The offer was taken, and the attack goes on. Which moves of the king run into mate in the stated number \
                 of moves or fewer? Name them all, and the mates."
            }
            ExerciseKind::Check => {
                "The line in each diagram is a check. Is it mate? If it is not, name a way out. About half of these are."
            }
            ExerciseKind::Count => {
                "How many men attack the ringed square, and how many guard it? The king counts, and so does a pinned man. \
                 A man behind another on the same line does not."
            }
        }
    }
}
