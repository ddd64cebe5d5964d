//! The balance before an offer, in bands: who is ahead scores better, whatever is offered.

/// A band of the attacker's material less the defender's before the offer, in pawns.
///
/// The bands are our choice: a pawn or two, or a piece and more.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum BalanceBand {
    /// Behind by three or more.
    FarBehind,
    /// Behind by one or two.
    Behind,
    /// Level.
    Level,
    /// Ahead by one or two.
    Ahead,
    /// Ahead by three or more.
    FarAhead,
}

impl BalanceBand {
    /// The band of a balance in pawns.
    #[must_use]
    pub fn of(balance: i32) -> BalanceBand {
        match balance {
            ..=-3 => BalanceBand::FarBehind,
            -2..=-1 => BalanceBand::Behind,
            0 => BalanceBand::Level,
            1..=2 => BalanceBand::Ahead,
            3.. => BalanceBand::FarAhead,
        }
    }

    /// What it is called.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            BalanceBand::FarBehind => "3+ behind",
            BalanceBand::Behind => "1-2 behind",
            BalanceBand::Level => "level",
            BalanceBand::Ahead => "1-2 ahead",
            BalanceBand::FarAhead => "3+ ahead",
        }
    }
}
