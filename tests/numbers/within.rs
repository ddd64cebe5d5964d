//! Scores compared within strata.

use super::{assert_prints, outcomes};
use hecatomb::statistics::{WithAndWithout, WithinStrata, difference_of_scores, difference_within};

/// A stratum by wins, draws and losses with the factor and without it.
fn stratum([w1, d1, l1, w0, d0, l0]: [u64; 6]) -> WithAndWithout {
    WithAndWithout { with: outcomes(w1, d1, l1), without: outcomes(w0, d0, l0) }
}

fn within(strata: &[[u64; 6]]) -> WithinStrata {
    difference_within(&strata.iter().copied().map(stratum).collect::<Vec<_>>()).unwrap()
}

/// The admissions to Berkeley (see `odds.rs`) as games without draws.
const ADMISSIONS: [[u64; 6]; 6] = [
    [512, 0, 313, 89, 0, 19],
    [353, 0, 207, 17, 0, 8],
    [120, 0, 205, 202, 0, 391],
    [138, 0, 279, 131, 0, 244],
    [53, 0, 138, 94, 0, 299],
    [22, 0, 351, 24, 0, 317],
];

#[test]
fn difference_without_draws_is_that_of_the_test_of_mantel_and_haenszel() {
    // The p-value of `mantelhaen.test(UCBAdmissions, correct = FALSE)` in R is 0.2169, from memory; more
    // digits by statsmodels' StratifiedTable.test_null_odds. The value is the coefficient of a
    // regression on sex and departments by statsmodels' OLS.
    let WithinStrata { value, p } = within(&ADMISSIONS);
    assert_prints(p, 0.216_923_697_1, 10);
    assert_prints(value, -0.018_425_196_190_9, 13);
}

#[test]
fn difference_with_draws_has_the_greater_of_two_variances() {
    // Values by statsmodels' OLS. The variances by numpy: of all ways to deal out the factor within a
    // stratum, and with each kind's own draws.
    let apart = within(&[[9, 4, 3, 5, 8, 9], [12, 2, 6, 20, 15, 25], [1, 0, 0, 0, 1, 2]]);
    assert_prints(apart.value, 0.243_029_984_219, 12);
    assert_prints(apart.p, 0.007_313_845_1, 10);
    let alike = within(&[[4, 10, 2, 30, 2, 38], [3, 9, 1, 40, 5, 20]]);
    assert_prints(alike.value, 0.030_381_803_412, 12);
    assert_prints(alike.p, 0.742_099_344_0, 10);
}

#[test]
fn difference_that_the_strata_explain_is_none_within_them() {
    // Ahead, three of four are won with it and without it, level one of four; it holds more often ahead.
    let strata = [[30, 0, 10, 6, 0, 2], [2, 0, 6, 10, 0, 30]].map(stratum);
    let all = strata[0].and(&strata[1]);
    let crude = difference_of_scores(&all.with, &all.without).unwrap();
    assert!(crude.value > 0.3 && crude.p < 0.002, "{crude:?}");
    assert_eq!(difference_within(&strata), Some(WithinStrata { value: 0.0, p: 1.0 }));
    assert_eq!(within(&[[0, 20, 0, 0, 30, 0]]), WithinStrata { value: 0.0, p: 1.0 });
}

#[test]
fn strata_with_games_of_one_kind_only_compare_nothing() {
    let with_more = [&ADMISSIONS[..], &[[40, 0, 2, 0, 0, 0], [0, 0, 0, 9, 9, 9]]].concat();
    assert_eq!(within(&with_more), within(&ADMISSIONS));
    // Twenty games with it, but only nine that can be compared.
    let strata = [[5, 0, 4, 30, 0, 30], [6, 0, 5, 0, 0, 0]].map(stratum);
    assert_eq!(difference_within(&strata), None);
    assert_eq!(difference_within(&[]), None);
}
