//! Ratings: reading and grouping them.

/// An Elo rating.
pub type Rating = u16;

/// Reads a rating; anything but a number from 1 to 4000 is none.
pub(super) fn parse(text: &[u8]) -> Option<Rating> {
    let digits = text.trim_ascii();
    if digits.is_empty() || digits.len() > 4 || !digits.iter().all(u8::is_ascii_digit) {
        return None;
    }
    let number = digits.iter().fold(0, |number, &digit| 10 * number + Rating::from(digit - b'0'));
    (1..=4000).contains(&number).then_some(number)
}

/// The band of 200 points in which the mean of both ratings lies, named by its lower end.
#[must_use]
pub fn band(white: Option<Rating>, black: Option<Rating>) -> Option<Rating> {
    Some((white? + black?) / 2 / 200 * 200)
}
