//! Intervals for proportions and scores, at 95 % confidence.

use statrs::distribution::{ContinuousCDF, Normal};

/// The lower and upper end of an interval.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Interval {
    /// The lower end.
    pub lower: f64,
    /// The upper end.
    pub upper: f64,
}

/// The confidence of every interval.
const CONFIDENCE: f64 = 0.95;

/// The standard normal quantile for [`CONFIDENCE`], about 1.96.
fn z() -> f64 {
    Normal::standard().inverse_cdf(f64::midpoint(1.0, CONFIDENCE))
}

/// Wilson's score interval for `successes` out of `trials`; `None` without trials.
///
/// Source: E. B. Wilson, "Probable inference, the law of succession, and statistical inference",
/// Journal of the American Statistical Association 22 (1927), 209-212.
#[must_use]
pub fn wilson(successes: u64, trials: u64) -> Option<Interval> {
    with_draws_held(successes, 0, trials)
}

/// The interval for a score of `wins` and `draws` in `games`: Wilson's interval with the share of draws
/// held at what was seen. `None` without games.
///
/// A draw is half a point whose variance is smaller than that of a win or loss: with a share `d` of
/// draws a mean score `m` has the variance `m(1 - m) - d/4`. As Wilson does, the means are taken from
/// which the score seen is at most `z` standard errors away. Without draws this is Wilson's interval.
/// With nothing but draws it would have no width, so then the draws are not held, which is cautious.
pub(super) fn with_draws_held(wins: u64, draws: u64, games: u64) -> Option<Interval> {
    if games == 0 {
        return None;
    }
    #[expect(clippy::cast_precision_loss, reason = "counts of games are far below 2^52")]
    let [wins, draws, n] = [wins, draws, games].map(|count| count as f64);
    let score = (wins + draws / 2.0) / n;
    let held = if wins == 0.0 && draws == n { 0.0 } else { draws / n };
    let a = z().powi(2) / n;
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
