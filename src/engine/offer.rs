//! An offer as a program sees it: the position before, after, and after the move it would have played.

use shakmaty::{Chess, Move};

use super::dialogue::Engine;
use super::evaluation::EngineEvaluation;
use super::fault::EngineFault;
use super::question::Question;

/// A legal move to evaluate, and the position before it.
#[derive(Clone, Debug)]
pub struct OfferMade {
    before: Question,
    after: Question,
    offer: Move,
}

impl OfferMade {
    /// An offer in a position; `None` if it is illegal.
    #[must_use]
    pub fn new(before: Chess, offer: Move) -> Option<OfferMade> {
        let before = Question::new(before);
        let after = before.clone().then(offer)?;
        Some(OfferMade { before, after, offer })
    }

    /// Asks a program about it.
    ///
    /// # Errors
    ///
    /// If one of the positions could not be evaluated.
    pub fn evaluate(&self, engine: &mut Engine<'_>) -> Result<Evaluated, EngineFault> {
        let before = engine.evaluate(&self.before)?;
        let after = engine.evaluate(&self.after)?.for_the_other_side();
        let better = before.best.filter(|&best| best != self.offer);
        let alternative = better
            .and_then(|best| Some((best, self.before.clone().then(best)?)))
            .map(|(best, question)| {
                let evaluation = engine.evaluate(&question)?.for_the_other_side();
                Ok(Alternative { best, evaluation })
            })
            .transpose()?;
        Ok(Evaluated { before, after, alternative })
    }
}

/// What a program made of an offer. All scores are the attacker's.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Evaluated {
    /// Of the position before the offer.
    pub before: EngineEvaluation,
    /// Of the position after it; its best move and line are the defender's reply and what follows.
    pub after: EngineEvaluation,
    /// What it would have played instead; `None` if just that.
    pub alternative: Option<Alternative>,
}

/// The move that a program would have played instead of the offer.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Alternative {
    /// The move.
    pub best: Move,
    /// Of the position after it, searched like the one after the offer, so that the two compare.
    pub evaluation: EngineEvaluation,
}
