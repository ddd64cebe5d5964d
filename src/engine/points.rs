//! What a position is worth in expected points of a hundred.

use std::fmt;

use super::score::Score;
use crate::mining::Evaluation;

/// The points that are expected for one side, of a hundred games with one point each: 100 is won, 0 is lost.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Points {
    tenths: u16,
}

/// How often a program expects a win, a draw and a loss, in thousandths.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Chances {
    win: u16,
    draw: u16,
}

impl Chances {
    /// The figures of `wdl WIN DRAW LOSS`; `None` if they are not a thousand in all.
    #[must_use]
    pub fn of_thousand(win: u16, draw: u16, loss: u16) -> Option<Chances> {
        let all = [win, draw, loss].map(u32::from).iter().sum::<u32>();
        (all == 1_000).then_some(Chances { win, draw })
    }

    /// A point for a win, half of one for a draw.
    #[must_use]
    pub fn points(self) -> Points {
        Points { tenths: self.win + self.draw / 2 }
    }
}

impl Points {
    /// A lost game.
    pub const NONE: Points = Points { tenths: 0 };
    /// A won game.
    pub const ALL: Points = Points { tenths: 1_000 };
    /// A draw.
    pub const HALF: Points = Points { tenths: 500 };

    /// This many tenths of a point; `None` if that is more than a hundred points.
    #[must_use]
    pub fn of_tenths(tenths: u16) -> Option<Points> {
        (tenths <= 1_000).then_some(Points { tenths })
    }

    /// Whole points, a hundred at the most.
    #[must_use]
    pub const fn of(points: u8) -> Points {
        let points = if points < 100 { points } else { 100 };
        Points { tenths: points as u16 * 10 }
    }

    /// What a score promises: 1 / (1 + 10^(-pawns / 4)) of the points, and all or nothing for mates.
    ///
    /// Source: S. Fischer and P. Kannan, "Pawn advantage, win percentage, and Elo", 2007, from memory.
    #[must_use]
    pub fn of_score(score: Score) -> Points {
        match score {
            Score::Centipawns(centipawns) => {
                let share = 1.0 / (1.0 + 10_f64.powf(-f64::from(centipawns) / 400.0));
                #[expect(
                    clippy::cast_possible_truncation,
                    clippy::cast_sign_loss,
                    reason = "a share is from 0 to 1"
                )]
                Points { tenths: (share * 1_000.0).round() as u16 }
            }
            Score::Mates(_) => Points::ALL,
            Score::Mated(_) => Points::NONE,
        }
    }

    /// What an evaluation of a game's comments promises for the same side, by the same rule.
    #[must_use]
    pub fn of_evaluation(evaluation: Evaluation) -> Points {
        match evaluation {
            Evaluation::Centipawns(centipawns) => Points::of_score(Score::Centipawns(centipawns)),
            Evaluation::Mate(moves) if moves > 0 => Points::ALL,
            Evaluation::Mate(_) => Points::NONE,
        }
    }

    /// Whole points, rounded.
    #[must_use]
    pub fn rounded(self) -> u16 {
        (self.tenths + 5) / 10
    }

    /// The tenths of a point.
    #[must_use]
    pub fn tenths(self) -> u16 {
        self.tenths
    }

    /// The points of the other side.
    #[must_use]
    pub fn for_the_other_side(self) -> Points {
        Points { tenths: 1_000 - self.tenths }
    }

    /// By how much these are more than others; none if they are not.
    #[must_use]
    pub fn over(self, others: Points) -> Points {
        Points { tenths: self.tenths.saturating_sub(others.tenths) }
    }

    /// These and others together, a hundred at the most.
    #[must_use]
    pub fn and(self, others: Points) -> Points {
        Points { tenths: (self.tenths + others.tenths).min(1_000) }
    }
}

impl fmt::Display for Points {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}.{}", self.tenths / 10, self.tenths % 10)
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that can't go on has failed")]
mod tests {
    use super::*;

    #[test]
    fn pawns_promise_what_the_published_curve_says() {
        // 1 / (1 + 10^(-pawns / 4)), computed apart: four pawns are ten to one.
        for (centipawns, text) in [
            (0, "50.0"),
            (100, "64.0"),
            (-100, "36.0"),
            (400, "90.9"),
            (-400, "9.1"),
            (9_000, "100.0"),
        ] {
            assert_eq!(Points::of_score(Score::Centipawns(centipawns)).to_string(), text);
        }
        assert_eq!(Points::of_score(Score::Mates(40)), Points::ALL);
        assert_eq!(Points::of_score(Score::Mated(0)), Points::NONE);
        assert_eq!(Points::of_evaluation(Evaluation::Mate(-3)), Points::NONE);
        assert_eq!(Points::of_evaluation(Evaluation::Centipawns(100)).to_string(), "64.0");
    }

    #[test]
    fn chances_are_points_only_if_they_are_a_thousand() {
        assert_eq!(Chances::of_thousand(250, 500, 250).unwrap().points(), Points::HALF);
        assert_eq!(Chances::of_thousand(600, 301, 99).unwrap().points().to_string(), "75.0");
        for (win, draw, loss) in [(250, 500, 251), (0, 0, 0), (u16::MAX, u16::MAX, u16::MAX)] {
            assert_eq!(Chances::of_thousand(win, draw, loss), None);
        }
    }

    #[test]
    fn points_are_ordered_and_told_apart() {
        assert!(Points::of(61) > Points::of(60) && Points::of(200) == Points::ALL);
        assert_eq!(Points::of(61).for_the_other_side(), Points::of(39));
        assert_eq!(Points::of(61).over(Points::of(50)), Points::of(11));
        assert_eq!(Points::of(50).over(Points::of(61)), Points::NONE);
        assert_eq!(Points::of_tenths(1_001), None);
    }
}
