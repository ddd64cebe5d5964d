//! The table of expected scores.

use super::assert_prints;
use hecatomb::mining::expected_score;

/// Lowest and highest rating difference, and the expected score of the higher rated player in
/// hundredths. Source: FIDE Handbook, B.02, Rating Regulations in force from 2022, table 8.1.2; above 391
/// from memory, consistent with table 8.1.1.
const TABLE_8_1_2: [(u16, u16, u8); 51] = [
    (0, 3, 50),
    (4, 10, 51),
    (11, 17, 52),
    (18, 25, 53),
    (26, 32, 54),
    (33, 39, 55),
    (40, 46, 56),
    (47, 53, 57),
    (54, 61, 58),
    (62, 68, 59),
    (69, 76, 60),
    (77, 83, 61),
    (84, 91, 62),
    (92, 98, 63),
    (99, 106, 64),
    (107, 113, 65),
    (114, 121, 66),
    (122, 129, 67),
    (130, 137, 68),
    (138, 145, 69),
    (146, 153, 70),
    (154, 162, 71),
    (163, 170, 72),
    (171, 179, 73),
    (180, 188, 74),
    (189, 197, 75),
    (198, 206, 76),
    (207, 215, 77),
    (216, 225, 78),
    (226, 235, 79),
    (236, 245, 80),
    (246, 256, 81),
    (257, 267, 82),
    (268, 278, 83),
    (279, 290, 84),
    (291, 302, 85),
    (303, 315, 86),
    (316, 328, 87),
    (329, 344, 88),
    (345, 357, 89),
    (358, 374, 90),
    (375, 391, 91),
    (392, 411, 92),
    (412, 432, 93),
    (433, 456, 94),
    (457, 484, 95),
    (485, 517, 96),
    (518, 559, 97),
    (560, 619, 98),
    (620, 735, 99),
    (736, 3999, 100),
];

#[test]
fn every_row_of_the_table_of_fide_holds_at_both_ends() {
    for (lowest, highest, expected) in TABLE_8_1_2 {
        for difference in [lowest, highest] {
            assert_eq!(expected_score(1 + difference, 1), expected, "{difference}");
            assert_eq!(expected_score(1, 1 + difference), 100 - expected, "{difference}");
        }
    }
}

/// The rating differences for the scores .99, .98, ... .50. Source: FIDE Rating Regulations, table
/// 8.1.1 (10.1a of older editions).
const TABLE_8_1_1: [u16; 50] = [
    677, 589, 538, 501, 470, 444, 422, 401, 383, 366, 351, 336, 322, 309, 296, 284, 273, 262, 251,
    240, 230, 220, 211, 202, 193, 184, 175, 166, 158, 149, 141, 133, 125, 117, 110, 102, 95, 87,
    80, 72, 65, 57, 50, 43, 36, 29, 21, 14, 7, 0,
];

#[test]
fn the_table_from_scores_to_differences_agrees() {
    for (score, difference) in (50..=99).rev().zip(TABLE_8_1_1) {
        assert_eq!(expected_score(1500 + difference, 1500), score, "{difference}");
        assert_eq!(expected_score(1500, 1500 + difference), 100 - score, "{difference}");
    }
    // Newer editions say 800 for a score of 1.
    assert_eq!(expected_score(2300, 1500), 100);
}

#[test]
fn no_difference_is_cut_to_400() {
    // Were it cut, .92 and .08 would be the extremes (chesselo.com, fide-rule-of-400-points), or with
    // the 350 points in force before 1 July 2009 .89 and .11.
    assert_eq!((expected_score(1900, 1500), expected_score(1500, 1900)), (92, 8));
    assert_eq!((expected_score(1850, 1500), expected_score(1500, 1850)), (89, 11));
    assert_eq!((expected_score(2650, 2000), expected_score(2000, 2650)), (99, 1));
}

#[test]
fn the_table_of_fide_is_not_the_logistic_curve() {
    // Computed: of the differences 0 to 400 the rounded curve has another value at 134; the largest gap
    // is 1.48 hundredths, at 392.
    let hundredths =
        |difference: u16| 100.0 / (1.0 + 10.0_f64.powf(-f64::from(difference) / 400.0));
    let table = |difference: u16| f64::from(expected_score(1500 + difference, 1500));
    let differing = (0..=400).filter(|&d| hundredths(d).round() != table(d)).count();
    assert_eq!(differing, 134);
    let gap = |difference: &u16| (hundredths(*difference) - table(*difference)).abs();
    let widest = (0..=400).max_by(|one, other| gap(one).total_cmp(&gap(other))).unwrap();
    assert_eq!(widest, 392);
    assert_prints(gap(&widest), 1.48, 2);
}
