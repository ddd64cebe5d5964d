//! Several two by two tables taken together, one a stratum: the same factor in each rating band, say,
//! so that bands with more games and better scores don't pass for the factor's work.

use super::odds::{OddsRatio, TwoByTwo};
use super::significance::ChiSquare;

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

/// Whether a distance between counts is made smaller by half a game before it is squared.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Continuity {
    /// Taken as it is.
    Plain,
    /// Made smaller by half a game, to 0 at the least; cautious.
    Corrected,
}

/// The Cochran-Mantel-Haenszel test that the odds ratio common to all strata is 1, with one degree of
/// freedom: the square of the sum of `a - E(a)` over the sum of the variances of `a`, both for fixed
/// margins: `E(a) = (a + b)(a + c) / n`, variance `(a + b)(c + d)(a + c)(b + d) / n^2(n - 1)`. A tally
/// uses it plain, as the interval it stands beside has no correction either. `None` if no stratum can
/// tell.
///
/// Sources: W. G. Cochran, "Some methods for strengthening the common chi-square tests", Biometrics 10
/// (1954), 417-451, and Mantel and Haenszel as above.
#[must_use]
pub fn association(strata: &[TwoByTwo], continuity: Continuity) -> Option<ChiSquare> {
    let (mut distance, mut variance) = (0.0, 0.0);
    for table in strata.iter().filter(|table| !table.has_empty_margin()) {
        let [a, b, c, d] = table.cells();
        let n = a + b + c + d;
        distance += (a * d - b * c) / n;
        variance += (a + b) / n * (c + d) / n * (a + c) * (b + d) / (n - 1.0);
    }
    let distance = match continuity {
        Continuity::Plain => distance,
        Continuity::Corrected => (distance.abs() - 0.5).max(0.0),
    };
    if variance > 0.0 { ChiSquare::new(distance.powi(2) / variance, 1) } else { None }
}

/// The test of Breslow and Day that the odds ratio is the same in all strata, without Tarone's
/// correction. If it is not, the common odds ratio hides something. The square of `a - A` over its
/// variance `1 / (1/A + 1/B + 1/C + 1/D)` is summed over the strata, where `A, B, C, D` are the cells
/// with the margins of the stratum and the common odds ratio ([`pooled_odds_ratio`]); there is one
/// degree of freedom less than there are strata. Strata with an empty row or column are left out.
/// `None` with fewer than two strata or without a common odds ratio.
///
/// Source: N. E. Breslow and N. E. Day, "Statistical methods in cancer research I: the analysis of
/// case-control studies" (1980), section 4.4.
#[must_use]
pub fn homogeneity(strata: &[TwoByTwo]) -> Option<ChiSquare> {
    let ratio = pooled_odds_ratio(strata)?.ratio();
    let able = strata.iter().filter(|table| !table.has_empty_margin());
    let statistic = able.clone().map(|table| distance_from(table, ratio)).sum();
    let freedom = u32::try_from(able.count()).ok()?.checked_sub(1)?;
    ChiSquare::new(statistic, freedom)
}

/// The squared distance of a table from the one with its margins and the odds ratio `ratio`, over the
/// variance.
fn distance_from(table: &TwoByTwo, ratio: f64) -> f64 {
    let [a, b, c, d] = table.cells();
    let expected = first_cell(a + b, a + c, a + b + c + d, ratio);
    let moved = expected - a;
    let variance =
        1.0 / (1.0 / expected + 1.0 / (b - moved) + 1.0 / (c - moved) + 1.0 / (d + moved));
    moved.powi(2) / variance
}

/// The first cell of the table of `n` games with the odds ratio `ratio` in which the first row adds up
/// to `row` and the first column to `column`: the root of `(1 - ratio) A^2 + q A - ratio row column`
/// within the table, where `q = n - (1 - ratio)(row + column)`. It is written so that a ratio of 1
/// divides nothing by 0.
fn first_cell(row: f64, column: f64, n: f64, ratio: f64) -> f64 {
    let q = n - (1.0 - ratio) * (row + column);
    let product = ratio * row * column;
    let root = (q * q + 4.0 * (1.0 - ratio) * product).sqrt();
    2.0 * product / (q + root)
}
