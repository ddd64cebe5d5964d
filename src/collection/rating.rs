//! Ratings: reading them, grouping them, and the score they predict.

/// An Elo rating.
pub type Rating = u16;

/// The upper ends of the rating differences for which FIDE expects .50, .51, ... .99 of the higher
/// rated player. Source: FIDE Rating Regulations, table 8.1.2 (handbook B02, in force from 2022); the
/// entries above 391 from memory, consistent with table 8.1.1.
const UPPER_DIFFERENCES: [u16; 50] = [
    3, 10, 17, 25, 32, 39, 46, 53, 61, 68, 76, 83, 91, 98, 106, 113, 121, 129, 137, 145, 153, 162,
    170, 179, 188, 197, 206, 215, 225, 235, 245, 256, 267, 278, 290, 302, 315, 328, 344, 357, 374,
    391, 411, 432, 456, 484, 517, 559, 619, 735,
];

/// The score in hundredths of a point that the ratings predict for `own` against `other`, by FIDE's
/// table. Its rule that a large difference counts as 400 is one for calculating ratings and is not
/// applied here.
#[must_use]
pub fn expected_score(own: Rating, other: Rating) -> u8 {
    let difference = own.abs_diff(other);
    let row = UPPER_DIFFERENCES.partition_point(|&upper| upper < difference);
    let higher = 50 + u8::try_from(row).unwrap_or(50);
    if own >= other { higher } else { 100 - higher }
}

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
