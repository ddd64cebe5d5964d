//! What the pupil is asked to do.

/// What the pupil is asked to do.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Task {
    /// Find the offer.
    Find,
    /// Say whether a given offer works.
    Judge,
    /// Find what follows once the offer was accepted.
    Continue,
    /// Find the best reply to an offer, where taking is not it.
    Defend,
}

impl Task {
    /// Every task.
    pub const ALL: [Task; 4] = [Task::Find, Task::Judge, Task::Continue, Task::Defend];

    /// The word for it in options and tables.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Task::Find => "find",
            Task::Judge => "judge",
            Task::Continue => "continue",
            Task::Defend => "defend",
        }
    }

    /// The title of a sheet of such exercises.
    #[must_use]
    pub const fn title(self) -> &'static str {
        match self {
            Task::Find => "Find the offer",
            Task::Judge => "Does it work?",
            Task::Continue => "Taken: what now?",
            Task::Defend => "Do not take it",
        }
    }

    /// What is to be kept in mind about the solutions.
    #[must_use]
    pub const fn caution(self) -> &'static str {
        match self {
            Task::Judge => {
                "An offer does not work here if it costs two pawns or more by count and no threat of \
                 mate is left; what a position is worth beyond that is not counted."
            }
            _ => "",
        }
    }

    /// What a sheet of such exercises asks for.
    #[must_use]
    pub const fn instruction(self) -> &'static str {
        match self {
            Task::Find => {
                "The side to move can give something up and come out ahead. Find the offer, and what \
                 follows if it is taken and if it is not."
            }
            Task::Judge => {
                "The line in each diagram is an offer. Does it work? Give a reason: the moves that make \
                 it work, or the reply that makes it fail. About half of these fail."
            }
            Task::Continue => {
                "The offer was made and taken. Find the move that justifies it, and what follows."
            }
            Task::Defend => {
                "Something was just offered. Taking it is the natural reply, and a mistake. Find the \
                 best one."
            }
        }
    }
}
