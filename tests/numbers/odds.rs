//! Odds ratios, pooled ones, and p-values of many tests.

use super::assert_prints;
use hecatomb::statistics::{OddsRatio, Trials, TwoByTwo, adjusted, pooled_odds_ratio};

/// The normal quantile for 90 %.
const Z_90: f64 = 1.644_853_626_951_472;

fn table([a, b, c, d]: [u64; 4]) -> TwoByTwo {
    TwoByTwo {
        with: Trials { successes: a, failures: b },
        without: Trials { successes: c, failures: d },
    }
}

/// The odds ratio of one table.
fn odds_ratio(table: &TwoByTwo) -> Option<OddsRatio> {
    pooled_odds_ratio(&[*table])
}

fn tables<const N: usize>(strata: [[u64; 4]; N]) -> [TwoByTwo; N] {
    strata.map(table)
}

/// All strata as one table.
fn crude(strata: &[[u64; 4]]) -> TwoByTwo {
    table([0, 1, 2, 3].map(|cell| strata.iter().map(|stratum| stratum[cell]).sum()))
}

#[track_caller]
fn assert_interval(odds: &OddsRatio, lower: f64, upper: f64, digits: i32) {
    assert_prints(odds.interval().lower, lower, digits);
    assert_prints(odds.interval().upper, upper, digits);
}

#[test]
fn odds_ratio_of_hay_fever_and_eczema_is_as_published() {
    // J. M. Bland and D. G. Altman, "The odds ratio", BMJ 320 (2000), 1468: OR 4.89, log 1.588, SE
    // 0.103, interval of the log 1.386 to 1.790 and of the ratio 4.00 to 5.99. More digits computed,
    // those of the interval with 1.96 for z.
    let odds = odds_ratio(&table([141, 420, 928, 13_525])).unwrap();
    assert_prints(odds.ratio(), 4.892_818_7, 7);
    assert_prints(odds.log, 1.587_768_6, 7);
    assert_prints(odds.standard_error, 0.103_076_1, 7);
    assert_prints((odds.log - 1.96 * odds.standard_error).exp(), 3.997_781_1, 7);
    assert_prints((odds.log + 1.96 * odds.standard_error).exp(), 5.988_240_5, 7);
    assert_prints(odds.ratio(), 4.89, 2);
    assert_prints(odds.log, 1.588, 3);
    assert_prints(odds.standard_error, 0.103, 3);
    assert_prints(odds.interval().lower.ln(), 1.386, 3);
    assert_prints(odds.interval().upper.ln(), 1.790, 3);
    assert_interval(&odds, 4.00, 5.99, 2);
}

#[test]
fn odds_ratios_of_textbooks_are_as_published() {
    // Our counts; digits computed.
    let odds = odds_ratio(&table([14, 7, 12, 27])).unwrap();
    assert_prints(odds.ratio(), 4.5, 10);
    assert_prints(odds.standard_error, 0.578_494_7, 7);
    assert_interval(&odds, 1.448_094_7, 13.983_892_3, 7);
    assert_interval(&odds, 1.448_095, 13.983_89, 5);
    // The example of `oddsratio` in the manual of the R package fmsb; digits computed.
    let odds = odds_ratio(&table([5, 10, 85, 80])).unwrap();
    assert_prints(odds.ratio(), 0.470_588_2, 7);
    assert_prints(odds.standard_error, 0.569_442_5, 7);
    assert_interval(&odds, 0.154_145_5, 1.436_651_3, 7);
}

#[test]
fn a_table_with_an_empty_row_or_column_compares_nothing() {
    for cells in [[0, 0, 5, 5], [5, 5, 0, 0], [0, 5, 0, 5], [5, 0, 5, 0], [0, 0, 0, 0]] {
        assert_eq!(odds_ratio(&table(cells)), None, "{cells:?}");
    }
    assert_eq!(pooled_odds_ratio(&[]), None);
}

/// Admissions to six departments at Berkeley, 1973: men admitted and rejected, women admitted and
/// rejected. Source: P. J. Bickel, E. A. Hammel and J. W. O'Connell, "Sex bias in graduate
/// admissions", Science 187 (1975), 398-404; the counts are those of R's data set UCBAdmissions, from
/// memory.
const ADMISSIONS: [[u64; 4]; 6] = [
    [512, 313, 89, 19],
    [353, 207, 17, 8],
    [120, 205, 202, 391],
    [138, 279, 131, 244],
    [53, 138, 94, 299],
    [22, 351, 24, 317],
];

#[test]
fn pooled_odds_ratio_of_the_admissions_is_as_computed_by_others() {
    // R's output from memory, reproduced with statsmodels.
    let strata = tables(ADMISSIONS);
    for (stratum, ratio) in strata.iter().zip([0.3492, 0.8025, 1.1331, 0.9213, 1.2216, 0.8279]) {
        assert_prints(odds_ratio(stratum).unwrap().ratio(), ratio, 4);
    }
    assert_eq!(crude(&ADMISSIONS), table([1198, 1493, 557, 1278]));
    assert_prints(odds_ratio(&crude(&ADMISSIONS)).unwrap().ratio(), 1.841_080_0, 7);
    let pooled = pooled_odds_ratio(&strata).unwrap();
    assert_prints(pooled.ratio(), 0.904_696_8, 7);
    assert_prints(pooled.standard_error, 0.080_988_9, 7);
    assert_interval(&pooled, 0.771_907_4, 1.060_329_8, 7);
}

/// Smoking and lung cancer in eight Chinese cities, the example of statsmodels' notebook on
/// contingency tables.
const CITIES: [[u64; 4]; 8] = [
    [126, 100, 35, 61],
    [908, 688, 497, 807],
    [913, 747, 336, 598],
    [235, 172, 58, 121],
    [402, 308, 121, 215],
    [182, 156, 72, 98],
    [60, 99, 11, 43],
    [104, 89, 21, 36],
];

#[test]
fn pooled_odds_ratio_of_the_cities_is_that_of_statsmodels() {
    // The notebook prints 2.174, 1.984 and 2.383, from memory; reproduced.
    let strata = tables(CITIES);
    let pooled = pooled_odds_ratio(&strata).unwrap();
    assert_prints(pooled.ratio(), 2.174_481_9, 7);
    assert_prints(pooled.standard_error, 0.046_773_5, 7);
    assert_interval(&pooled, 1.984_002_0, 2.383_249_5, 7);
    assert_interval(&pooled, 1.984, 2.383, 3);
    assert_prints(pooled.ratio(), 2.174, 3);
}

#[test]
fn pooled_odds_ratio_of_rothmans_table_is_that_of_fmsb() {
    // K. J. Rothman's table 10-6, the example of ORMH in the R package fmsb (its manual);
    // digits computed.
    let pooled = pooled_odds_ratio(&tables([[3, 9, 104, 1059], [1, 3, 5, 86]])).unwrap();
    assert_prints(pooled.ratio(), 3.781_172, 6);
    assert_prints(pooled.standard_error, 0.590_990, 6);
    assert_prints((pooled.log - Z_90 * pooled.standard_error).exp(), 1.430_384, 6);
    assert_prints((pooled.log + Z_90 * pooled.standard_error).exp(), 9.995_405, 6);
    assert_interval(&pooled, 1.187_340, 12.041_421, 6);
}

#[test]
fn pooling_by_stratum_undoes_a_reversal() {
    // Kidney stones, open surgery against keyhole, small stones and large: C. R. Charig and others, BMJ
    // 292 (1986), 879-882; the counts from memory, digits computed.
    let stones = [[81, 6, 234, 36], [192, 71, 55, 25]];
    let ratios = stones.map(|stratum| odds_ratio(&table(stratum)).unwrap().ratio());
    assert_prints(ratios[0], 2.0769, 4);
    assert_prints(ratios[1], 1.2292, 4);
    assert_prints(odds_ratio(&crude(&stones)).unwrap().ratio(), 0.748_348_5, 7);
    assert_prints(pooled_odds_ratio(&tables(stones)).unwrap().ratio(), 1.446_847, 6);
}

#[test]
fn strata_that_cannot_compare_change_nothing() {
    let mut strata = tables(ADMISSIONS).to_vec();
    strata.extend(tables([[9, 4, 0, 0], [0, 3, 0, 2], [0, 0, 0, 0]]));
    let [with, without] = [strata.as_slice(), &tables(ADMISSIONS)];
    assert_eq!(pooled_odds_ratio(with), pooled_odds_ratio(without));
}

/// The example of the paper of Y. Benjamini and Y. Hochberg, Journal of the Royal Statistical Society
/// B 57 (1995), 289-300, and its adjusted values as in the documentation of
/// scipy.stats.false_discovery_control (1.17.1).
const PAPER: [(f64, f64); 15] = [
    (0.0001, 0.0015),
    (0.0004, 0.003),
    (0.0019, 0.0095),
    (0.0095, 0.035_625),
    (0.0201, 0.0603),
    (0.0278, 0.063_857_14),
    (0.0298, 0.063_857_14),
    (0.0344, 0.0645),
    (0.0459, 0.0765),
    (0.3240, 0.486),
    (0.4262, 0.581_181_82),
    (0.5719, 0.714_875),
    (0.6528, 0.753_230_77),
    (0.7590, 0.813_214_29),
    (1.000, 1.0),
];

#[test]
fn adjusted_p_values_are_those_of_the_paper() {
    let (raw, expected): (Vec<f64>, Vec<f64>) = PAPER.into_iter().unzip();
    let seen = adjusted(&raw);
    seen.iter().zip(expected).for_each(|(seen, expected)| assert_prints(*seen, expected, 8));
    // At 5 % it rejects the first four; Bonferroni's rule only three.
    assert_eq!(seen.iter().filter(|&&p| p <= 0.05).count(), 4);
    assert_eq!(raw.iter().filter(|&&p| 15.0 * p <= 0.05).count(), 3);
}

#[test]
fn adjusted_p_values_keep_the_order_given() {
    let seen = adjusted(&[0.5, 0.6, 0.1, 0.001]);
    seen.iter()
        .zip([0.6, 0.6, 0.2, 0.004])
        .for_each(|(p, expected)| assert_prints(*p, expected, 12));
    assert_eq!(adjusted(&[]), [0.0; 0]);
    assert_eq!(adjusted(&[0.3]), [0.3]);
}
