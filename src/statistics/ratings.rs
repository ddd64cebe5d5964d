//! Scores against what the ratings predict, game by game.

use super::counts::real;
use super::difference::{Difference, variance_of_mean};
use super::interval::{Interval, student_quantile};
use super::outcome::Outcomes;
use super::significance::{two_sided, two_sided_of};
use statrs::distribution::StudentsT;

/// Games with a result of which both ratings are known. Sums are whole numbers, so they come out the
/// same in any order.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct AgainstRatings {
    outcomes: Outcomes,
    /// The sum of the expected scores, in hundredths of a point.
    expected: u64,
    /// The sum of the squares of score less expected score, in hundredths of a point.
    squares: u64,
}

impl AgainstRatings {
    /// Adds a game by its half points (0, 1 or 2) and its expected score in hundredths of a point.
    pub fn add(&mut self, half_points: u8, expected: u8) {
        self.outcomes.add(Some(half_points));
        self.expected += u64::from(expected);
        let score = 50 * u64::from(half_points.min(2));
        self.squares += score.abs_diff(u64::from(expected)).pow(2);
    }

    /// How the games ended.
    #[must_use]
    pub fn outcomes(&self) -> &Outcomes {
        &self.outcomes
    }

    /// The mean expected score, 0 to 1; `None` without games.
    #[must_use]
    pub fn expected_score(&self) -> Option<f64> {
        let games = self.outcomes.decided();
        (games > 0).then(|| real(self.expected) / 100.0 / real(games))
    }

    /// The mean of score less expected score, in points a game; `None` with fewer than two games.
    ///
    /// The differences are paired: each game has its own expected score, so what the ratings explain
    /// is taken out of the spread before it is measured. The interval and the p-value are Student's,
    /// with the variance divided by `n - 1` and `n - 1` degrees of freedom: the variance is estimated
    /// from the same few games, which the normal interval would pass over in silence. With many games
    /// the two are one.
    ///
    /// When all games ended alike, or all differences are the same, their spread is only that of the
    /// ratings and says nothing of the results: ten wins would have an interval of next to no width.
    /// Then it is the interval of the score ([`Outcomes::interval`]) less the mean expected score, and
    /// the p-value that of the z test which belongs to it.
    ///
    /// Source: "Student" (W. S. Gosset), "The probable error of a mean", Biometrika 6 (1908), 1-25.
    #[must_use]
    pub fn difference(&self) -> Option<Difference> {
        let games = self.outcomes.decided();
        if games < 2 {
            return None;
        }
        let spread = self.spread();
        if spread == 0 || self.ended_alike() {
            return self.by_score_interval();
        }
        let value = self.outcomes.score()? - self.expected_score()?;
        let (n, freedom) = (real(games), real(games - 1));
        #[expect(clippy::cast_precision_loss, reason = "rounded once, by less than 1e-15 of it")]
        let standard_error = (spread as f64 / freedom).sqrt() / n / 100.0;
        let student = StudentsT::new(0.0, 1.0, freedom).ok()?;
        let interval = Interval::around(value, student_quantile(&student) * standard_error);
        Some(Difference { value, interval, p: two_sided_of(&student, value, standard_error) })
    }

    /// The number of games times the sum of the squared deviations from the mean difference, in
    /// hundredths of a point squared; exact.
    fn spread(&self) -> u128 {
        let points = 50 * (2 * self.outcomes.wins + self.outcomes.draws);
        let sum = u128::from(points.abs_diff(self.expected));
        // By Cauchy and Schwarz the first is never the smaller.
        u128::from(self.outcomes.decided()) * u128::from(self.squares) - sum.pow(2)
    }

    fn ended_alike(&self) -> bool {
        let Outcomes { wins, draws, losses, .. } = self.outcomes;
        [wins, draws, losses].contains(&self.outcomes.decided())
    }

    fn by_score_interval(&self) -> Option<Difference> {
        let expected = self.expected_score()?;
        let value = self.outcomes.score()? - expected;
        let ends = self.outcomes.interval()?;
        let interval = Interval { lower: ends.lower - expected, upper: ends.upper - expected };
        let standard_error = variance_of_mean(&self.outcomes, expected).sqrt();
        Some(Difference { value, interval, p: two_sided(value, standard_error) })
    }
}
