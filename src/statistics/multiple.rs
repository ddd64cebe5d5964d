//! Many tests at a time: of twenty factors without any effect one is "significant" at 5 %.

use super::counts::real;

/// The p-values (0 to 1) of several tests adjusted for their number, by Benjamini and Hochberg, in
/// the order given. Calling every factor found whose adjusted value is at most `q` keeps the expected
/// share of false ones among them at `q` or below, if the tests are independent or positively
/// dependent.
///
/// Of `m` values the k-th smallest is multiplied by `m / k`; then each is lowered to the least that
/// a greater value has.
///
/// Source: Y. Benjamini and Y. Hochberg, "Controlling the false discovery rate: a practical and
/// powerful approach to multiple testing", Journal of the Royal Statistical Society B 57 (1995),
/// 289-300.
#[must_use]
pub fn adjusted(p_values: &[f64]) -> Vec<f64> {
    let mut ranks: Vec<usize> = (0..p_values.len()).collect();
    ranks.sort_by(|&one, &other| p_values[one].total_cmp(&p_values[other]));
    let mut adjusted = vec![0.0; p_values.len()];
    let mut least = 1.0_f64;
    let tests = real(p_values.len() as u64);
    for (rank, &test) in ranks.iter().enumerate().rev() {
        least = least.min(p_values[test] * tests / real(rank as u64 + 1));
        adjusted[test] = least;
    }
    adjusted
}
