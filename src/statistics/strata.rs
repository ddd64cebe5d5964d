//! Several two by two tables taken together, one for each stratum: the same factor in each rating band, say,
//! so that bands with more games and better scores don't pass for the factor's work.

use super::odds::{OddsRatio, TwoByTwo};

/// The odds ratio common to all strata, by Mantel and Haenszel: `R / S` with `R` the sum of `ad / n`
/// and `S` the sum of `bc / n` over the strata. The variance of its logarithm is that of Robins,
/// Breslow and Greenland, which holds both for few large strata and for many small ones:
/// `sum(PR) / 2R^2 + sum(PS + QR) / 2RS + sum(QS) / 2S^2`, where `P = (a + d) / n`, `Q = (b + c) / n`.
///
/// Nothing is added to empty cells, and a stratum with an empty row or column adds nothing. `None` if
/// `R` or `S` is 0.
///
/// Sources: N. Mantel and W. Haenszel, "Statistical aspects of the analysis of data from retrospective
/// studies of disease", Journal of the National Cancer Institute 22 (1959), 719-748; J. Robins, N.
/// Breslow and S. Greenland, "Estimators of the Mantel-Haenszel variance consistent in both sparse data
/// and large-strata limiting models", Biometrics 42 (1986), 311-323.
#[must_use]
pub fn pooled_odds_ratio(strata: &[TwoByTwo]) -> Option<OddsRatio> {
    let mut sums = [0.0; 5];
    for table in strata.iter().filter(|table| !table.has_empty_margin()) {
        let [a, b, c, d] = table.cells();
        let n = a + b + c + d;
        let (p, q, r, s) = ((a + d) / n, (b + c) / n, a * d / n, b * c / n);
        let terms = [r, s, p * r, p * s + q * r, q * s];
        sums.iter_mut().zip(terms).for_each(|(sum, term)| *sum += term);
    }
    let [r, s, pr, mixed, qs] = sums;
    let variance = pr / (2.0 * r * r) + mixed / (2.0 * r * s) + qs / (2.0 * s * s);
    let is_defined = r > 0.0 && s > 0.0;
    is_defined.then(|| OddsRatio { log: (r / s).ln(), standard_error: variance.sqrt() })
}
