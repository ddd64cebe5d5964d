//! Time controls by the categories of the FIDE Laws of Chess.
//!
//! Rapid is more than 10 but less than 60 minutes for each player, blitz 10 minutes or less, each counted as
//! the time for the game plus 60 times the increment; more is standard (FIDE Laws of Chess, in force
//! from 1 January 2023, Appendix A.1 and B.1; from memory). Bullet is less than 3 minutes by the same
//! count (common practice, no source).

/// A category of time controls.
#[derive(Clone, Copy, PartialEq, Eq, Debug, clap::ValueEnum)]
pub enum TimeControl {
    /// An hour or more.
    Standard,
    /// More than 10 minutes, less than an hour.
    Rapid,
    /// From 3 to 10 minutes.
    Blitz,
    /// Less than 3 minutes.
    Bullet,
}

impl TimeControl {
    /// The word for it in options and tables.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            TimeControl::Standard => "standard",
            TimeControl::Rapid => "rapid",
            TimeControl::Blitz => "blitz",
            TimeControl::Bullet => "bullet",
        }
    }

    /// The category of a TimeControl tag (PGN standard 9.6.1), if it can be told.
    #[must_use]
    pub fn of_tag(tag: &[u8]) -> Option<TimeControl> {
        let seconds = seconds_for_60_moves(std::str::from_utf8(tag).ok()?)?;
        Some(match seconds {
            0..180 => TimeControl::Bullet,
            180..=600 => TimeControl::Blitz,
            601..3600 => TimeControl::Rapid,
            _ => TimeControl::Standard,
        })
    }
}

/// The seconds a player has for 60 moves. Sandclocks, which depend on the opponent, have none.
fn seconds_for_60_moves(tag: &str) -> Option<u32> {
    let mut moves_left: u32 = 60;
    let mut total: u32 = 0;
    for period in tag.trim().split(':') {
        let (moves, time) = match period.split_once('/') {
            Some((moves, time)) => (moves.parse::<u32>().ok()?.min(moves_left), time),
            None => (moves_left, period),
        };
        let (base, increment) = match time.split_once('+') {
            Some((base, increment)) => (base.parse::<u32>().ok()?, increment.parse::<u32>().ok()?),
            None => (time.parse::<u32>().ok()?, 0),
        };
        total = total.checked_add(base)?.checked_add(increment.checked_mul(moves)?)?;
        moves_left -= moves;
    }
    Some(total)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn categories_follow_the_laws() {
        let cases: [(&str, Option<TimeControl>); 14] = [
            ("40/5400+30:1800+30", Some(TimeControl::Standard)),
            ("3600", Some(TimeControl::Standard)),
            ("3599", Some(TimeControl::Rapid)),
            ("900+10", Some(TimeControl::Rapid)),
            ("601", Some(TimeControl::Rapid)),
            ("600", Some(TimeControl::Blitz)),
            ("300+5", Some(TimeControl::Blitz)),
            ("300+6", Some(TimeControl::Rapid)),
            ("180", Some(TimeControl::Blitz)),
            ("60+1", Some(TimeControl::Bullet)),
            ("179", Some(TimeControl::Bullet)),
            ("?", None),
            ("-", None),
            ("*180", None),
        ];
        for (tag, category) in cases {
            assert_eq!(TimeControl::of_tag(tag.as_bytes()), category, "{tag}");
        }
    }
}
