//! Intervals of a share, of a score, and of differences.

use super::assert_prints;
use hecatomb::statistics::{
    AgainstRatings, Difference, Interval, Outcomes, Spread, difference_of_scores,
};

/// The normal quantile for 95 %.
const Z: f64 = 1.959_963_984_540_054;

/// Wilson's interval, which is that of a score without draws.
fn wilson(successes: u64, trials: u64) -> Option<Interval> {
    of(successes, trials).interval()
}

/// Wilson's interval at 95 %, computed.
const WILSON: [(u64, u64, f64, f64); 15] = [
    (81, 263, 0.255_288_519_9, 0.366_209_577_0),
    (15, 148, 0.062_386_399_5, 0.160_487_241_7),
    (0, 20, 0.0, 0.161_125_158_1),
    (1, 29, 0.006_113_214_3, 0.171_755_218_8),
    (7, 50, 0.069_508_334_3, 0.261_861_937_1),
    (23, 60, 0.270_882_723_7, 0.509_824_041_8),
    (18, 72, 0.164_390_512_3, 0.360_935_074_0),
    (0, 1, 0.0, 0.793_450_685_6),
    (1, 1, 0.206_549_314_4, 1.0),
    (1, 2, 0.094_531_205_7, 0.905_468_794_3),
    (0, 10, 0.0, 0.277_532_799_9),
    (10, 10, 0.722_467_200_1, 1.0),
    (5, 10, 0.236_593_090_5, 0.763_406_909_5),
    (50, 100, 0.403_831_530_4, 0.596_168_469_6),
    (999_999, 1_000_000, 0.999_994_335_1, 0.999_999_823_5),
];

#[test]
fn wilson_interval_has_the_computed_values() {
    for (successes, trials, lower, upper) in WILSON {
        let ends = wilson(successes, trials).unwrap();
        assert_prints(ends.lower, lower, 10);
        assert_prints(ends.upper, upper, 10);
    }
    assert_eq!(wilson(0, 20).unwrap().lower, 0.0);
    assert_eq!(wilson(10, 10).unwrap().upper, 1.0);
    assert_eq!(wilson(0, 0), None);
}

/// Successes, trials, method 3 (Wilson's) and method 4 (the same with continuity correction). Source:
/// R. G. Newcombe, Statistics in Medicine 17 (1998), 857-872, table I.
const NEWCOMBE_TABLE_1: [(u64, u64, [f64; 2], [f64; 2]); 4] = [
    (81, 263, [0.2553, 0.3662], [0.2535, 0.3682]),
    (15, 148, [0.0624, 0.1605], [0.0598, 0.1644]),
    (0, 20, [0.0, 0.1611], [0.0, 0.2005]),
    (1, 29, [0.0061, 0.1718], [0.0018, 0.1963]),
];

#[test]
fn wilson_interval_has_the_published_values_and_is_inside_the_corrected_one() {
    for (successes, trials, [lower, upper], corrected) in NEWCOMBE_TABLE_1 {
        let ends = wilson(successes, trials).unwrap();
        assert_prints(ends.lower, lower, 4);
        assert_prints(ends.upper, upper, 4);
        assert!(corrected[0] <= ends.lower && ends.upper < corrected[1]);
    }
}

/// A share: a score without draws.
fn of(successes: u64, trials: u64) -> Outcomes {
    outcomes(successes, 0, trials - successes)
}

/// Newcombe's method 10: successes and trials of the first and the second sample, difference and
/// interval, computed. The counts of the first four are of R. G. Newcombe, Statistics in Medicine 17
/// (1998), 873-890, table II; the others are ours.
const NEWCOMBE_METHOD_10: [([u64; 4], [f64; 3]); 9] = [
    ([56, 70, 48, 80], [0.200_000, 0.052_431, 0.333_873]),
    ([9, 10, 3, 10], [0.600_000, 0.170_523, 0.809_018]),
    ([6, 7, 2, 7], [0.571_429, 0.058_228, 0.806_250]),
    ([5, 56, 0, 29], [0.089_286, -0.038_137, 0.192_560]),
    ([0, 10, 0, 20], [0.0, -0.161_125, 0.277_533]),
    ([0, 10, 0, 10], [0.0, -0.277_533, 0.277_533]),
    ([10, 10, 0, 20], [1.0, 0.679_086, 1.0]),
    ([10, 10, 0, 10], [1.0, 0.607_509, 1.0]),
    ([23, 60, 18, 72], [0.133_333, -0.024_628, 0.286_071]),
];

/// The intervals of the first four as the paper's table II prints them.
const NEWCOMBE_TABLE_2: [[f64; 2]; 4] =
    [[0.0524, 0.3339], [0.1705, 0.8090], [0.0582, 0.8062], [-0.0381, 0.1926]];

#[test]
fn difference_of_shares_has_the_published_interval() {
    for ([a, m, b, n], [value, lower, upper]) in NEWCOMBE_METHOD_10 {
        let difference = difference_of_scores(&of(a, m), &of(b, n)).unwrap();
        assert_prints(difference.value, value, 6);
        assert_prints(difference.interval.lower, lower, 6);
        assert_prints(difference.interval.upper, upper, 6);
    }
    for (([a, m, b, n], _), [lower, upper]) in NEWCOMBE_METHOD_10.iter().zip(NEWCOMBE_TABLE_2) {
        let ends = difference_of_scores(&of(*a, *m), &of(*b, *n)).unwrap().interval;
        assert_prints(ends.lower, lower, 4);
        assert_prints(ends.upper, upper, 4);
    }
    // With continuity correction the paper has .0428 to .3422 for the first.
    let first = difference_of_scores(&of(56, 70), &of(48, 80)).unwrap().interval;
    assert!(0.0428 < first.lower && first.upper < 0.3422);
    assert_eq!(difference_of_scores(&of(0, 0), &of(1, 2)), None);
}

/// Successes and trials of two samples, and the p-value of statsmodels' proportions_ztest.
const SHARES: [([u64; 4], f64, i32); 6] = [
    ([56, 70, 48, 80], 0.008_045_081_4, 10),
    ([9, 10, 3, 10], 0.006_169_899_3, 10),
    ([6, 7, 2, 7], 0.030_753_561_3, 10),
    ([5, 56, 0, 29], 0.097_186_568_2, 10),
    ([23, 60, 18, 72], 0.099_276_574_3, 10),
    ([10, 10, 0, 20], 4.320_463_1e-8, 15),
];

#[test]
fn p_value_of_two_shares_is_that_of_the_pooled_z_test() {
    for ([a, m, b, n], p, digits) in SHARES {
        assert_prints(difference_of_scores(&of(a, m), &of(b, n)).unwrap().p, p, digits);
    }
    assert_eq!(difference_of_scores(&of(0, 10), &of(0, 20)).unwrap().p, 1.0);
}

fn outcomes(wins: u64, draws: u64, losses: u64) -> Outcomes {
    Outcomes { wins, draws, losses, open: 0 }
}

/// Wins, draws, losses; mean score, and its standard error with the variance of a game divided by n - 1.
/// Computed.
const SCORES: [([u64; 3], f64, f64); 6] = [
    ([40, 30, 30], 0.55, 0.041_742_4),
    ([55, 25, 20], 0.675, 0.039_807_0),
    ([1, 1, 1], 0.5, 0.288_675_1),
    ([3, 4, 3], 0.5, 0.129_099_4),
    ([413, 373, 324], 0.540_090_1, 0.012_174_9),
    ([204, 19, 215], 0.487_442_9, 0.023_386_0),
];

#[test]
fn scores_without_spread_have_intervals_none_the_less() {
    // With nothing but wins Wilson's interval of 10/10, with nothing but draws that of 5/10.
    assert_eq!(outcomes(10, 0, 0).interval(), wilson(10, 10));
    assert_eq!(outcomes(0, 10, 0).interval(), wilson(5, 10));
}

fn against(expected: u8, [wins, draws, losses]: [u64; 3]) -> AgainstRatings {
    let mut games = AgainstRatings::default();
    for (half_points, count) in [(2, wins), (1, draws), (0, losses)] {
        (0..count).for_each(|_| games.add(half_points, expected));
    }
    games
}

/// Student's quantile that leaves 2.5 % above it, for the numbers of games in [`SCORES`] less one:
/// computed; the first three as in any printed table (4.303, 2.262, 1.984).
const STUDENT: [(u64, f64); 5] = [
    (3, 4.302_652_729_7),
    (10, 2.262_157_162_8),
    (100, 1.984_216_951_6),
    (438, 1.965_407_333_4),
    (1110, 1.962_105_389_8),
];

#[test]
fn difference_from_equal_expected_scores_has_the_standard_error_of_n_less_one() {
    for (counts, score, error) in SCORES {
        let games: u64 = counts.iter().sum();
        let (_, quantile) = STUDENT.into_iter().find(|(n, _)| *n == games).unwrap();
        for expected in [0, 37, 50, 92] {
            let Difference { value, interval, .. } =
                against(expected, counts).difference().unwrap();
            assert_prints(value, score - f64::from(expected) / 100.0, 7);
            assert_prints((interval.upper - interval.lower) / 2.0 / quantile, error, 7);
            assert_prints(f64::midpoint(interval.lower, interval.upper), value, 10);
        }
    }
}

#[test]
fn paired_differences_are_those_of_students_test() {
    // Half points and expected scores of six games; scipy.stats.ttest_1samp of their differences.
    let mut games = AgainstRatings::default();
    for (half_points, expected) in [(2, 64), (1, 50), (0, 36), (2, 91), (2, 57), (1, 24)] {
        games.add(half_points, expected);
    }
    let Difference { value, interval, p } = games.difference().unwrap();
    assert_prints(games.expected_score().unwrap(), 0.536_666_67, 8);
    assert_prints(value, 0.13, 10);
    assert_prints(interval.lower, STUDENT_INTERVAL[0], 8);
    assert_prints(interval.upper, STUDENT_INTERVAL[1], 8);
    assert_prints(p, STUDENT_INTERVAL[2], 8);
}

/// Interval and p-value of the test above, computed.
const STUDENT_INTERVAL: [f64; 3] = [-0.173_575_448_2, 0.433_575_448_2, 0.321_134_214_2];

#[test]
fn games_that_all_ended_alike_are_judged_by_the_score_interval() {
    let mut wins = against(64, [5, 0, 0]);
    (0..5).for_each(|_| wins.add(2, 66));
    let Difference { value, interval, p } = wins.difference().unwrap();
    assert_prints(value, 0.35, 10);
    // Wilson's 10/10 is 0.7224672001 to 1.
    assert_prints(interval.lower, 0.722_467_200_1 - 0.65, 10);
    assert_prints(interval.upper, 0.35, 10);
    // z = 0.35 / sqrt(0.65 * 0.35 / 10) = 2.3204775; both tails computed.
    assert_prints(p, 0.020_315_065_9, 10);
    assert_eq!(against(50, [1, 0, 0]).difference(), None);
    assert_eq!(against(100, [10, 0, 0]).difference().unwrap().p, 1.0);
}

#[test]
fn equal_differences_are_judged_by_the_score_interval() {
    // Two wins where .64 was expected and two draws where .14 was: each .36 better. The score interval
    // by scipy.optimize.brentq, less the mean of .39; z = 0.36 / sqrt((.39 * .61 - .5/4) / 4).
    let mut games = against(64, [2, 0, 0]);
    (0..2).for_each(|_| games.add(1, 14));
    let Difference { value, interval, p } = games.difference().unwrap();
    assert_prints(value, 0.36, 10);
    assert_prints(interval.lower, 0.023_944_188_2, 10);
    assert_prints(interval.upper, 0.451_110_393_6, 10);
    assert_prints(p, 0.032_127_620_4, 10);
}

#[test]
fn difference_of_scores_squares_and_adds_the_score_intervals() {
    let (first, second) = (outcomes(55, 25, 20), outcomes(413, 373, 324));
    let difference = difference_of_scores(&first, &second).unwrap();
    let (s1, s2): (f64, f64) = (0.675, 599.5 / 1110.0);
    // The means m that solve (s - m)^2 = z^2 (m(1 - m) - d/4) / n, by scipy.optimize.brentq.
    let [l1, u1, l2, u2] = SCORE_ENDS;
    assert_prints(difference.value, s1 - s2, 10);
    let below = ((s1 - l1).powi(2) + (u2 - s2).powi(2)).sqrt();
    let above = ((u1 - s1).powi(2) + (s2 - l2).powi(2)).sqrt();
    assert_prints(difference.interval.lower, s1 - s2 - below, 9);
    assert_prints(difference.interval.upper, s1 - s2 + above, 9);
    // Near the normal interval of this many games: both variances of the table added.
    let normal = Z * (0.156_875_f64 / 100.0 + 0.164_383_8 / 1110.0).sqrt();
    assert!((difference.interval.lower - (s1 - s2 - normal)).abs() < 0.01);
    assert!((difference.interval.upper - (s1 - s2 + normal)).abs() < 0.01);
    // Wider than if each half point were a trial of its own: the halves of a game go together.
    let narrow = difference_of_scores(&of(135, 200), &of(1199, 2220)).unwrap();
    assert!(
        narrow.interval.upper - narrow.interval.lower
            < difference.interval.upper - difference.interval.lower
    );
    assert_eq!(difference_of_scores(&first, &outcomes(0, 0, 0)), None);
}

/// The ends of both score intervals in the test above, computed.
const SCORE_ENDS: [f64; 4] =
    [0.592_071_799_004, 0.744_980_476_623, 0.516_141_069_056, 0.563_762_582_667];

#[test]
fn swapping_the_samples_turns_the_difference_round() {
    let (first, second) = (outcomes(7, 3, 2), outcomes(20, 31, 22));
    let there = difference_of_scores(&first, &second).unwrap();
    let back = difference_of_scores(&second, &first).unwrap();
    let turned = Interval { lower: -back.interval.upper, upper: -back.interval.lower };
    assert!((there.value + back.value).abs() < 1e-15 && (there.p - back.p).abs() < 1e-15);
    assert_prints(there.interval.lower, turned.lower, 14);
    assert_prints(there.interval.upper, turned.upper, 14);
}

#[test]
fn p_value_of_two_scores_is_of_the_variance_with_draws() {
    // Equal sample sizes: the variance of all games together, w + d/4 - s^2, over both sizes.
    let p = difference_of_scores(&outcomes(55, 25, 20), &outcomes(40, 30, 30)).unwrap().p;
    assert_prints(p, 0.031_345_862_0, 10);
    // Unequal ones, each with its own draws: m = 201/330, m(1 - m)/30 + (m(1 - m) - 0.6/4)/300.
    let p = difference_of_scores(&outcomes(21, 0, 9), &outcomes(90, 180, 30)).unwrap().p;
    assert_prints(p, 0.270_339_785_5, 10);
    // A mean of 0.868 allows no 90 % of draws, but 26.4 %.
    let p = difference_of_scores(&outcomes(1, 9, 0), &outcomes(90, 0, 10)).unwrap().p;
    assert_prints(p, 0.000_006_203_37, 11);
    // Nothing but draws on both sides, or the same games twice: no difference.
    assert_eq!(difference_of_scores(&outcomes(0, 9, 0), &outcomes(0, 4, 0)).unwrap().p, 1.0);
    assert_eq!(difference_of_scores(&outcomes(9, 0, 0), &outcomes(4, 0, 0)).unwrap().p, 1.0);
}

#[test]
fn median_of_an_even_number_of_counts_is_halfway() {
    let median = |numbers: &[u64]| numbers.iter().copied().collect::<Spread>().median();
    assert_eq!(median(&[]), None);
    assert_eq!(median(&[7]), Some(7.0));
    assert_eq!(median(&[9, 1, 4]), Some(4.0));
    assert_eq!(median(&[9, 1, 4, 5]), Some(4.5));
    assert_eq!(median(&[2, 2, 2, 40]), Some(2.0));
}
