//! *Find* and *continue* by an engine, where no count of ours decides: one move works, and none comes near it.

use shakmaty::{Chess, Move, Position};

use super::Asked;
use crate::board::played;
use crate::engine::EngineEvaluation;
use crate::hits::SOUND_FROM;
use crate::teaching::exercise::flaw::Flaw;
use crate::teaching::exercise::hearing::{ExpectedLine, Look};
use crate::teaching::exercise::moves::{is_plain, taker};
use crate::teaching::exercise::objection::Objection;
use crate::teaching::exercise::solution::Solution;
use crate::teaching::exercise::worth::MISTAKE;

impl<F, A> Asked<'_, A>
where
    A: FnMut(&Chess, &[Move], Look) -> Result<Option<EngineEvaluation>, F>,
{
    /// The offer, if it is the one move that works, with the answer to a reply of the other sort.
    pub(super) fn offer(&mut self) -> Result<Result<Solution, Flaw>, F> {
        let (pos, offer) = (&self.candidate.before, self.candidate.offer);
        let mut solution = match self.only_move(Vec::new(), pos, offer)? {
            Ok(solution) => solution,
            Err(flaw) => return Ok(Err(flaw)),
        };
        if let Some(&reply) = solution.line.get(1) {
            let aside = self.other_sort(&played(pos, offer), reply)?;
            solution.asides.extend(aside);
        }
        Ok(Ok(solution))
    }

    /// The one move that works after the offer was taken.
    pub(super) fn justification(&mut self) -> Result<Result<Solution, Flaw>, F> {
        let (pos, offer) = (&self.candidate.before, self.candidate.offer);
        let Some(taken_by) = taker(pos, offer) else { return Ok(Err(Flaw::Otherwise)) };
        let accepted = played(&played(pos, offer), taken_by);
        let said = self.hearing.best(&accepted, &[])?;
        let Some(best) = said.and_then(|said| said.best) else { return Ok(Err(Flaw::Open)) };
        let lead = vec![offer, taken_by];
        let solution = self.only_move(lead, &accepted, best)?;
        let is_too_easy =
            |one: &Solution| is_plain(&one.lead, &accepted, best) && !one.comes_to.is_mate();
        Ok(solution.and_then(|one| if is_too_easy(&one) { Err(Flaw::Plain) } else { Ok(one) }))
    }

    /// A move as the solution of a position, if it works and any other is a mistake.
    fn only_move(
        &mut self,
        lead: Vec<Move>,
        start: &Chess,
        m: Move,
    ) -> Result<Result<Solution, Flaw>, F> {
        let worth = self.hearing.worth(&played(start, m))?;
        if worth < SOUND_FROM {
            return Ok(Err(Flaw::Otherwise));
        }
        let Some(other) = self.hearing.best(start, &[m])? else { return Ok(Err(Flaw::Plain)) };
        if worth.over(other.points) < MISTAKE {
            return Ok(Err(Flaw::Close));
        }
        // What looks like a mistake among all others may not when it is looked at by itself.
        if let Some(second) = other.best
            && worth.over(self.hearing.worth(&played(start, second))?) < MISTAKE
        {
            return Ok(Err(Flaw::Close));
        }
        let expected = self.expected(start, m, start.turn())?;
        if !expected.shows(start, start.turn()) {
            return Ok(Err(Flaw::Contradicted(Objection::Line)));
        }
        let ExpectedLine { moves: line, comes_to } = expected;
        let (start, also, asides) = (start.clone(), Vec::new(), Vec::new());
        Ok(Ok(Solution { lead, start, line, comes_to, also, asides }))
    }
}
