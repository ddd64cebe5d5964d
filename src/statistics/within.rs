//! Scores with a factor and without it, compared within strata only.

use super::counts::real;
use super::outcome::{Outcomes, SMALLEST_SAMPLE};
use super::significance::two_sided;

/// Games with a factor and games without it.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct WithAndWithout {
    /// The games with it.
    pub with: Outcomes,
    /// The games without it.
    pub without: Outcomes,
}

impl WithAndWithout {
    /// These games and others together.
    #[must_use]
    pub fn and(&self, other: &WithAndWithout) -> WithAndWithout {
        WithAndWithout {
            with: self.with.and(&other.with),
            without: self.without.and(&other.without),
        }
    }

    /// Whether there are games with a result of both kinds.
    fn can_compare(&self) -> bool {
        self.with.decided() > 0 && self.without.decided() > 0
    }

    /// Whether there are enough games of both kinds for a rate.
    pub(super) fn is_enough(&self) -> bool {
        self.with.decided().min(self.without.decided()) >= SMALLEST_SAMPLE
    }
}

/// A difference of scores within strata, in points for each game.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct WithinStrata {
    /// The mean over the strata of the score with the factor less the score without it.
    pub value: f64,
    /// The two-sided p-value: how often chance alone makes as much of a factor that makes no difference
    /// in any stratum.
    pub p: f64,
}

/// The score with the factor less the score without it, within strata. `None` unless the strata with
/// games of both kinds have [`SMALLEST_SAMPLE`] games of each; others can't compare.
///
/// With `n1` games with the factor and `n0` without it, `n = n1 + n0`, a stratum has the weight
/// `w = n1 n0 / n`, that of Mantel and Haenszel: it says most where both kinds are many. This is also the
/// coefficient of the factor in a least squares regression on the factor and the strata.
///
/// The p-value is of a z test of the sum of `w` times the difference. In Mantel's extension of the test
/// of Mantel and Haenszel to more than two results a stratum adds the variance `w s^2`, with `s^2` that of
/// its games, divided by `n - 1`; without draws this is the test of Mantel and Haenszel without
/// continuity correction. It holds however few games a stratum has, if a factor that makes no difference
/// to the score makes none to the draws either. With other shares of draws `d1` and `d0`, but one mean `m`,
/// the variance is `w^2 (v1 / n1 + v0 / n0)`, `v = m(1 - m) - d/4`; the estimate of `m(1 - m)` that is
/// right on average is that of the stratum's games less `d / 4n`, times `n / (n - 1)`. The greater of
/// the two sums is taken.
///
/// Of 40,000 simulated factors without effect in five strata, 30 games with it and no draws, 300 without it and
/// 60 % draws, Mantel's variance found an effect at 5 % in 18.0 %, this one in 4.9 %. With as many draws on
/// both sides it was 4.3 % of 15 and 60 games and 4.6 % of 60 and 300.
///
/// Sources: N. Mantel, "Chi-square tests with one degree of freedom; extensions of the Mantel-Haenszel
/// procedure", Journal of the American Statistical Association 58 (1963), 690-700; for the weights also W. G.
/// Cochran, "Some methods for strengthening the common chi-square tests", Biometrics 10 (1954), 417-451.
#[must_use]
pub fn difference_within(strata: &[WithAndWithout]) -> Option<WithinStrata> {
    let able: Vec<&WithAndWithout> = strata.iter().filter(|games| games.can_compare()).collect();
    let all = able.iter().fold(WithAndWithout::default(), |all, games| all.and(games));
    if !all.is_enough() {
        return None;
    }
    let mut sums = [0.0; 4];
    for games in able {
        let terms = terms(games)?;
        sums.iter_mut().zip(terms).for_each(|(sum, term)| *sum += term);
    }
    let [weight, weighted, alike, apart] = sums;
    let standard_error = alike.max(apart).max(0.0).sqrt();
    Some(WithinStrata { value: weighted / weight, p: two_sided(weighted, standard_error) })
}

/// What a stratum with games of both kinds adds: its weight, the weighted difference, and the variance of
/// that if both kinds have one share of draws, and if they have two.
fn terms(games: &WithAndWithout) -> Option<[f64; 4]> {
    let WithAndWithout { with, without } = games;
    let (n1, n0) = (real(with.decided()), real(without.decided()));
    let n = n1 + n0;
    let weight = n1 * n0 / n;
    let difference = with.score()? - without.score()?;
    let mean = with.and(without).score()?;
    let (draws1, draws0) = (real(with.draws), real(without.draws));
    let draws = (draws1 + draws0) / n;
    let unbiased = n / (n - 1.0);
    let alike = weight * (mean * (1.0 - mean) - draws / 4.0) * unbiased;
    let spread = (mean * (1.0 - mean) - draws / (4.0 * n)) * unbiased;
    let of_draws = (n0.powi(2) * draws1 + n1.powi(2) * draws0) / (4.0 * n.powi(2));
    Some([weight, weight * difference, alike, weight * spread - of_draws])
}
