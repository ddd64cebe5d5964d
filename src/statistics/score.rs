//! What a score is worth: its spread, and the rating difference it stands for.

use super::counts::real;
use super::outcome::Outcomes;

impl Outcomes {
    /// The variance of one game's points around the mean score `s`: `w + d/4 - s^2` with the shares
    /// `w` of wins and `d` of draws, divided by the number of games and not by one less. `None`
    /// without games.
    #[must_use]
    pub fn variance(&self) -> Option<f64> {
        let games = real(self.decided());
        let square = (real(self.wins) + real(self.draws) / 4.0) / games;
        self.score().map(|score| (square - score.powi(2)).max(0.0))
    }

    /// The standard error of the mean score, in points; `None` without games.
    #[must_use]
    pub fn standard_error(&self) -> Option<f64> {
        self.variance().map(|variance| (variance / real(self.decided())).sqrt())
    }
}

/// The rating difference at which the logistic curve expects `score`: `400 log10(s / (1 - s))`, in
/// Elo points. `None` for the scores that no difference explains: 0, 1 and all beyond.
///
/// The curve is not FIDE's table, which is made from the normal distribution: they differ by up to 1.5
/// hundredths of a point between 0 and 400.
#[must_use]
pub fn elo_difference(score: f64) -> Option<f64> {
    let is_between = 0.0 < score && score < 1.0;
    is_between.then(|| 400.0 * (score / (1.0 - score)).log10())
}
