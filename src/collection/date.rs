//! Dates as PGN writes them, `YYYY.MM.DD` with `?` for what is unknown (PGN standard 8.1.1.3).

use std::str::FromStr;

/// A day given by the user as a bound: `2024`, `2024-05` or `2024-05-17`, with hyphens or full stops.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct DateBound {
    year: u16,
    month: Option<u8>,
    day: Option<u8>,
}

impl DateBound {
    /// The first day it can mean, as the number `YYYYMMDD`.
    fn first(self) -> u32 {
        number(self.year, self.month.unwrap_or(1), self.day.unwrap_or(1))
    }

    /// Whether it starts after the other has ended.
    #[must_use]
    pub fn is_after(self, other: DateBound) -> bool {
        self.first() > other.last()
    }

    /// The last day it can mean, as the number `YYYYMMDD`.
    fn last(self) -> u32 {
        number(self.year, self.month.unwrap_or(12), self.day.unwrap_or(31))
    }
}

fn number(year: u16, month: u8, day: u8) -> u32 {
    u32::from(year) * 10_000 + u32::from(month) * 100 + u32::from(day)
}

impl std::fmt::Display for DateBound {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:04}", self.year)?;
        for part in [self.month, self.day].into_iter().flatten() {
            write!(f, "-{part:02}")?;
        }
        Ok(())
    }
}

impl FromStr for DateBound {
    type Err = String;

    fn from_str(text: &str) -> Result<DateBound, String> {
        let wrong = || format!("`{text}` is not a date like 2024, 2024-05 or 2024-05-17");
        let mut parts = text.split(['-', '.']);
        let year = parts.next().filter(|year| year.len() == 4 && is_number(year));
        let year: u16 = year.and_then(|year| year.parse().ok()).ok_or_else(wrong)?;
        let mut part = |most: u8| match parts.next() {
            None => Ok(None),
            Some(part) => match part.parse::<u8>() {
                Ok(number) if is_number(part) && (1..=most).contains(&number) => Ok(Some(number)),
                _ => Err(wrong()),
            },
        };
        let month = part(12)?;
        let day = part(month.map_or(31, |month| days_of(year, month)))?;
        match parts.next() {
            Some(_) => Err(wrong()),
            None => Ok(DateBound { year, month, day }),
        }
    }
}

/// Whether a text is digits alone.
fn is_number(text: &str) -> bool {
    text.bytes().all(|byte| byte.is_ascii_digit())
}

/// How many days a month has by the Gregorian calendar (Inter gravissimas, 1582): every fourth year is a leap
/// year, but of the full centuries only every fourth.
fn days_of(year: u16, month: u8) -> u8 {
    let is_leap = year.is_multiple_of(4) && !year.is_multiple_of(100) || year.is_multiple_of(400);
    match month {
        2 if is_leap => 29,
        2 => 28,
        4 | 6 | 9 | 11 => 30,
        _ => 31,
    }
}

/// The year of a Date tag: its first four characters, if they are digits.
#[must_use]
pub fn year_of(date: &[u8]) -> Option<u16> {
    let digits = date.first_chunk::<4>()?;
    let is_year = digits.iter().all(u8::is_ascii_digit);
    is_year.then(|| digits.iter().fold(0, |year, &digit| 10 * year + u16::from(digit - b'0')))
}

/// Whether a game with this Date tag may have been played between the bounds, both included. A date
/// known in part counts if one of the days it can mean does; without a year none does.
#[must_use]
pub fn may_lie_between(date: &[u8], from: Option<DateBound>, to: Option<DateBound>) -> bool {
    let Some((first, last)) = possible_days(date) else {
        return false;
    };
    from.is_none_or(|from| last >= from.first()) && to.is_none_or(|to| first <= to.last())
}

/// The first and the last day that a Date tag can mean.
fn possible_days(date: &[u8]) -> Option<(u32, u32)> {
    let year = year_of(date)?;
    // Some programs write hyphens or strokes (common practice, no source).
    let text = std::str::from_utf8(date).ok()?;
    let mut parts = text[4..].split(['.', '-', '/']).skip(1);
    let month: Option<u8> = parts.next().and_then(|month| month.parse().ok());
    let day: Option<u8> = parts.next().and_then(|day| day.parse().ok()).filter(|_| month.is_some());
    let date = DateBound { year, month, day };
    Some((date.first(), date.last()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn date_known_in_part_counts_when_it_may_lie_within() {
        let from = DateBound::from_str("2024-05").ok();
        assert!(may_lie_between(b"2024.??.??", from, None));
        assert!(may_lie_between(b"2024.05.31", from, from));
        assert!(!may_lie_between(b"2024.04.30", from, None));
        assert!(!may_lie_between(b"2024.06.01", None, from));
        assert!(!may_lie_between(b"????.??.??", from, None));
        assert!(may_lie_between(b"2024-05-31", from, from));
        assert!(!may_lie_between(b"2024-04-30", from, None));
    }

    #[test]
    fn bounds_are_read_with_hyphens_or_stops_only() {
        assert!(
            "2024.02.29".parse::<DateBound>().is_ok_and(|date| date.to_string() == "2024-02-29")
        );
        assert!("2024.05".parse::<DateBound>().is_ok());
        for wrong in ["24", "2024-13", "2024-00", "2024-05-17-1", "May 2024", "", "+024", "2024-+5"]
        {
            assert!(wrong.parse::<DateBound>().is_err(), "{wrong}");
        }
    }

    #[test]
    fn day_that_its_month_does_not_have_is_no_date() {
        for wrong in
            ["2031-02-30", "2031.02.30", "2031-02-29", "2100-02-29", "2031-04-31", "2031-06-31"]
        {
            assert!(wrong.parse::<DateBound>().is_err(), "{wrong}");
        }
        for right in ["2031-02-28", "2032-02-29", "2000-02-29", "2031-12-31", "2031-04-30"] {
            assert!(right.parse::<DateBound>().is_ok(), "{right}");
        }
        // What a game says may be wrong; it still lies in its month.
        let february = DateBound::from_str("2031-02").ok();
        assert!(may_lie_between(b"2031.02.30", february, february));
    }
}
