//! The score that ratings predict, to compare with that of a [`super::Hit`].

use crate::collection::Rating;

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
