//! What every sentence is made of: a side, and a range of pawns' worth.

use std::fmt;

use shakmaty::Color;

/// The side a sentence speaks of.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Side {
    /// The side that offers.
    Attacker,
    /// The side that is offered to.
    Defender,
}

impl Side {
    /// The colour of this side when `attacker` attacks.
    #[must_use]
    pub fn color(self, attacker: Color) -> Color {
        match self {
            Side::Attacker => attacker,
            Side::Defender => attacker.other(),
        }
    }
}

/// A range of pawns' worth, both ends included.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct PawnRange {
    /// The least that is in it.
    pub least: i32,
    /// The most that is in it.
    pub most: i32,
}

impl PawnRange {
    /// This much or more.
    #[must_use]
    pub fn from(least: i32) -> PawnRange {
        PawnRange { least, most: i32::MAX }
    }

    /// Whether a number of pawns is in it.
    #[must_use]
    pub fn contains(self, pawns: i32) -> bool {
        (self.least..=self.most).contains(&pawns)
    }

    /// The same range counted from the other side.
    #[must_use]
    pub fn reversed(self) -> PawnRange {
        PawnRange { least: self.most.saturating_neg(), most: self.least.saturating_neg() }
    }
}

impl fmt::Display for PawnRange {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            PawnRange { least, most: i32::MAX } => write!(f, "{least} or more"),
            PawnRange { least, most } if least == most => write!(f, "{least}"),
            PawnRange { least: 0, most } => write!(f, "at most {most}"),
            PawnRange { least, most } => write!(f, "{least} to {most}"),
        }
    }
}
