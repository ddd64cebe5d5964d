//! How a page names the state of a plan that it was made from.

use std::fmt;
use std::str::FromStr;

/// The name of a state of a plan: its number, and the start of the hash of its text, so that a number that was given
/// twice, because somebody removed the kept states, names no other.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct StateName {
    number: u64,
    hash: String,
}

/// It is not the name of a state.
#[derive(Clone, Copy, PartialEq, Eq, Debug, thiserror::Error)]
#[error("it is not the name of a state")]
pub struct NoStateName;

impl StateName {
    /// How much of a hash stands in a name.
    const LETTERS: usize = 16;

    pub(super) fn of(number: u64, hash: &str) -> StateName {
        StateName { number, hash: hash.chars().take(StateName::LETTERS).collect() }
    }

    /// The number of the state.
    #[must_use]
    pub const fn number(&self) -> u64 {
        self.number
    }

    pub(super) fn is(&self, number: u64, hash: &str) -> bool {
        *self == StateName::of(number, hash)
    }
}

impl fmt::Display for StateName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}-{}", self.number, self.hash)
    }
}

impl FromStr for StateName {
    type Err = NoStateName;

    fn from_str(text: &str) -> Result<StateName, NoStateName> {
        let (number, hash) = text.split_once('-').ok_or(NoStateName)?;
        let number = number.parse().map_err(|_| NoStateName)?;
        Ok(StateName { number, hash: hash.to_owned() })
    }
}
