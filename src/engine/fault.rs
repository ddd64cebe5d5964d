//! What can go wrong with a program that speaks UCI.

use std::time::Duration;

/// Why a position could not be evaluated.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
pub enum EngineFault {
    /// The system could not run it.
    #[error("can't be started: {0}")]
    NotStarted(String),
    /// It ended, with this exit status or signal.
    #[error("ended with {0}")]
    Ended(String),
    /// It closed its output and went on running.
    #[error("closed its output")]
    ClosedOutput,
    /// It did not answer `uci` in time: it may not speak UCI.
    #[error("did not answer `uci` within {} s", .0.as_secs_f64())]
    NoHandshake(Duration),
    /// It did not answer `isready` in time.
    #[error("did not answer `isready` within {} s", .0.as_secs_f64())]
    NotReady(Duration),
    /// It did not name a move in time.
    #[error("did not name a move within {} s", .0.as_secs_f64())]
    NoMoveInTime(Duration),
    /// It wrote an endless line.
    #[error("wrote a line of more than {0} bytes")]
    LineTooLong(usize),
    /// Its output was endless.
    #[error("wrote more than {0} bytes for one answer")]
    TooMuchOutput(usize),
    /// What it named is not a move.
    #[error("named `{0}`, which is not a move")]
    Unreadable(String),
    /// What it named is not a legal move.
    #[error("named `{0}`, which is not legal")]
    Illegal(String),
    /// What it named is a move that it was told not to search.
    #[error("named `{0}`, which it was told to leave out")]
    Excluded(String),
    /// It did not name a move where there are legal ones.
    #[error("did not name a move in a position that has legal moves")]
    NoMove,
    /// It named a move but gave no score.
    #[error("gave no score")]
    NoScore,
    /// It has no such option.
    #[error("has no option `{0}`")]
    NoSuchOption(String),
    /// It does not allow this value.
    #[error("does not allow option `{name}` to be `{value}`")]
    BadValue {
        /// The option.
        name: String,
        /// The value; empty if there is none.
        value: String,
    },
    /// The position needs Chess960, which it does not play.
    #[error("does not play Chess960")]
    NoShuffledChess,
    /// It failed to start or ran out of time again and again, the last time for this reason, and was not
    /// asked any more.
    #[error("was not asked any more: {0}")]
    GivenUp(Box<EngineFault>),
    /// The run was stopped.
    #[error("was interrupted")]
    Interrupted,
}

impl EngineFault {
    /// Whether a restarted program might do better.
    #[must_use]
    pub fn may_pass(&self) -> bool {
        !self.is_wrong_setting()
            && !matches!(
                self,
                EngineFault::NoShuffledChess | EngineFault::GivenUp(_) | EngineFault::Interrupted
            )
    }

    /// Whether what the user asks for is at fault, so that no start will do better.
    #[must_use]
    pub fn is_wrong_setting(&self) -> bool {
        matches!(self, EngineFault::NoSuchOption(_) | EngineFault::BadValue { .. })
    }

    /// What kind of fault it is, in a few words.
    #[must_use]
    pub fn kind(&self) -> &'static str {
        match self {
            EngineFault::NotStarted(_) => "not started",
            EngineFault::Ended(_) | EngineFault::ClosedOutput => "ended",
            EngineFault::NoHandshake(_)
            | EngineFault::NotReady(_)
            | EngineFault::NoMoveInTime(_) => "out of time",
            EngineFault::LineTooLong(_) | EngineFault::TooMuchOutput(_) => "endless output",
            EngineFault::Unreadable(_) | EngineFault::Illegal(_) | EngineFault::NoMove => {
                "no legal move named"
            }
            EngineFault::Excluded(_) => "excluded move named",
            EngineFault::NoScore => "no score",
            EngineFault::NoSuchOption(_) | EngineFault::BadValue { .. } => "wrong option",
            EngineFault::NoShuffledChess => "no Chess960",
            EngineFault::GivenUp(_) => "not asked any more",
            EngineFault::Interrupted => "interrupted",
        }
    }

    /// Whether it was waited for in vain.
    pub(super) fn is_out_of_time(&self) -> bool {
        matches!(self, EngineFault::NotReady(_) | EngineFault::NoMoveInTime(_))
    }

    /// Whether the program can be asked about other positions after it.
    pub(super) fn leaves_it_sound(&self) -> bool {
        matches!(self, EngineFault::NoShuffledChess)
    }
}
