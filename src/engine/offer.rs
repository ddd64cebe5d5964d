//! An offer as a program sees it: the position after it, and the best other move.

use shakmaty::{Chess, Move};

use super::dialogue::Engine;
use super::evaluation::EngineEvaluation;
use super::fault::EngineFault;
use super::points::Points;
use super::question::Question;
use super::score::Score;

/// A legal move to evaluate, and the position before it.
#[derive(Clone, Debug)]
pub struct OfferMade {
    /// The position before, without the offer; `None` if there is no other move.
    otherwise: Option<Question>,
    after: Question,
}

impl OfferMade {
    /// An offer in a position; `None` if it is illegal.
    #[must_use]
    pub fn new(before: Chess, offer: Move) -> Option<OfferMade> {
        let before = Question::new(before);
        let after = before.clone().then(offer)?;
        Some(OfferMade { otherwise: before.without(&[offer]), after })
    }

    /// Asks about it within this many positions for each answer.
    #[must_use]
    pub fn within(self, nodes: u64) -> OfferMade {
        let otherwise = self.otherwise.map(|others| others.within(nodes));
        OfferMade { otherwise, after: self.after.within(nodes) }
    }

    /// Asks about it with this many times as many positions as usual for each answer.
    #[must_use]
    pub fn searched_longer(self, times: u32) -> OfferMade {
        let otherwise = self.otherwise.map(|others| others.searched_longer(times));
        OfferMade { otherwise, after: self.after.searched_longer(times) }
    }

    /// Asks a program about it.
    ///
    /// # Errors
    ///
    /// If one of the positions could not be evaluated.
    pub fn evaluate(&self, engine: &mut Engine<'_>) -> Result<Evaluated, EngineFault> {
        let after = engine.evaluate(&self.after)?.for_the_other_side();
        let other = self.otherwise.as_ref().map(|others| engine.evaluate(others)).transpose()?;
        Ok(Evaluated { after, other })
    }
}

/// What a program made of an offer. All scores and points are the attacker's.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Evaluated {
    /// Of the position after it; its best move and line are the defender's reply and what follows.
    pub after: EngineEvaluation,
    /// Of the position before it if the offer could not be made: its best move is the best other one. `None`
    /// if there is no other.
    pub other: Option<EngineEvaluation>,
}

impl Evaluated {
    /// The score of the position before the offer: the better of the offer's and of the best other move's.
    #[must_use]
    pub fn before(&self) -> Score {
        let offered = self.after.score.a_move_earlier();
        let other = self.other.as_ref().map(|other| other.score);
        other.filter(|other| other.worth() > offered.worth()).unwrap_or(offered)
    }

    /// The points of the position before the offer, likewise.
    #[must_use]
    pub fn points_before(&self) -> Points {
        self.other.as_ref().map_or(self.after.points, |other| other.points.max(self.after.points))
    }
}
