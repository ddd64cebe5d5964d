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
        }
    }

    /// Whether an engine may make an exercise where our own searches make none.
    #[must_use]
    pub const fn may_rest_on_an_engine(self) -> bool {
        match self {
            ExerciseKind::Find
            | ExerciseKind::Judge
            | ExerciseKind::Continue
            | ExerciseKind::Defend => true,
        }
    }

    /// The title of a sheet of such exercises.
    #[must_use]
    pub const fn title(self) -> &'static str {
        match self {
            ExerciseKind::Find => "Find the offer",
            ExerciseKind::Judge => "Does it work?",
            ExerciseKind::Continue => "Accepted: what now?",
            ExerciseKind::Defend => "The best defence",
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
        }
    }
}
