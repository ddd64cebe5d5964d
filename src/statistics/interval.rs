//! Intervals for proportions and scores, at 95 % confidence.

use super::counts::real;
use statrs::distribution::{ContinuousCDF, Normal, StudentsT};

/// The lower and upper end of an interval.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Interval {
    /// The lower end.
    pub lower: f64,
    /// The upper end.
    pub upper: f64,
}

impl Interval {
    /// The interval from `half` below to `half` above `centre`.
    pub(super) fn around(centre: f64, half: f64) -> Interval {
        Interval { lower: centre - half, upper: centre + half }
    }
}

/// The confidence of every interval.
const CONFIDENCE: f64 = 0.95;

/// The standard normal quantile for [`CONFIDENCE`], about 1.96.
pub(super) fn z() -> f64 {
    Normal::standard().inverse_cdf(f64::midpoint(1.0, CONFIDENCE))
}

/// From this many degrees of freedom on, Student's quantile is taken from its expansion. The one of the
/// library goes wrong in the sixth digit at 100 000, is less than the normal one at a million and takes
/// minutes at a hundred million.
const MANY_DEGREES: f64 = 10_000.0;

/// The quantile of Student's distribution for [`CONFIDENCE`]; about 2.26 for 9 degrees of freedom.
///
/// Source of the expansion, of which the first two terms are good to 1e-11 here: M. Abramowitz and I.
/// A. Stegun, "Handbook of mathematical functions" (1964), 26.7.5.
pub(super) fn student_quantile(student: &StudentsT) -> f64 {
    let freedom = student.freedom();
    if freedom < MANY_DEGREES {
        return student.inverse_cdf(f64::midpoint(1.0, CONFIDENCE));
    }
    let z = z();
    let first = (z.powi(3) + z) / 4.0;
    let second = (5.0 * z.powi(5) + 16.0 * z.powi(3) + 3.0 * z) / 96.0;
    z + first / freedom + second / freedom.powi(2)
}

/// The interval for a score of `wins` and `draws` in `games`: Wilson's interval with the share of draws
/// held at what was seen. `None` without games.
///
/// A draw is half a point whose variance is smaller than that of a win or loss: with a share `d` of
/// draws a mean score `m` has the variance `m(1 - m) - d/4`. As Wilson does, the means are taken from
/// which the score seen is at most `z` standard errors away. Without draws this is Wilson's interval.
/// With nothing but draws it would have no width, so then the draws are not held, which is cautious.
///
/// Source: E. B. Wilson, "Probable inference, the law of succession, and statistical inference",
/// Journal of the American Statistical Association 22 (1927), 209-212.
pub(super) fn with_draws_held(wins: u64, draws: u64, games: u64) -> Option<Interval> {
    within(z(), wins, draws, games)
}

/// The share of draws that is held: the one seen, or none if there is nothing but draws.
pub(super) fn held_share(draws: u64, games: u64) -> f64 {
    if draws == games { 0.0 } else { real(draws) / real(games) }
}

/// The means from which the score seen is at most `z` standard errors away.
fn within(z: f64, wins: u64, draws: u64, games: u64) -> Option<Interval> {
    if games == 0 {
        return None;
    }
    let n = real(games);
    let score = (real(wins) + real(draws) / 2.0) / n;
    let held = held_share(draws, games);
    let a = z.powi(2) / n;
    let centre = (score + a / 2.0) / (1.0 + a);
    let spread = a * (4.0 * score * (1.0 - score) - held + a * (1.0 - held));
    let half = spread.max(0.0).sqrt() / 2.0 / (1.0 + a);
    let is_lowest = score == 0.0;
    let is_highest = score == 1.0;
    Some(Interval {
        lower: if is_lowest { 0.0 } else { (centre - half).max(0.0) },
        upper: if is_highest { 1.0 } else { (centre + half).min(1.0) },
    })
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that can't go on has failed")]
mod tests {
    use super::*;

    #[test]
    fn other_confidences_differ_by_the_quantile_only() {
        // 4 out of 20 at 90 %, the case of NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.4.2;
        // digits computed with scipy 1.17.1.
        let ends = within(1.644_853_626_951_472, 4, 0, 20).unwrap();
        assert!((ends.lower - 0.093_118).abs() < 5e-7, "{ends:?}");
        assert!((ends.upper - 0.378_377).abs() < 5e-7, "{ends:?}");
        // The exact interval of Clopper and Pearson for the same case is wider at both ends.
        assert!(0.071_354 < ends.lower && ends.upper < 0.401_028);
    }

    #[test]
    fn quantile_of_student_is_that_of_the_tables_for_any_number_of_games() {
        // Computed with scipy.stats.t.ppf; the first three as in any printed table.
        for (freedom, expected) in STUDENT {
            let student = StudentsT::new(0.0, 1.0, freedom).unwrap();
            assert!((student_quantile(&student) - expected).abs() < 1e-10, "{freedom}");
        }
    }

    const STUDENT: [(f64, f64); 10] = [
        (1.0, 12.706_204_736_175),
        (9.0, 2.262_157_162_798),
        (99.0, 1.984_216_951_586),
        (999.0, 1.962_341_461_133),
        (9_999.0, 1.960_201_263_621),
        (10_000.0, 1.960_201_239_891),
        (100_000.0, 1.959_987_707_535),
        (1e6, 1.959_966_356_814),
        (1e7, 1.959_964_221_767),
        (1e8, 1.959_964_008_263),
    ];

    #[test]
    fn quantile_of_the_normal_distribution_is_that_of_the_tables() {
        assert!((z() - 1.959_963_984_540_054).abs() < 1e-14);
    }
}
