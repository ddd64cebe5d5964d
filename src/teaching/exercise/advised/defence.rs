//! *Defend* by an engine: one reply is clearly better than all others, and what tempts is refuted.

use shakmaty::{Chess, Move, Position};

use super::Asked;
use crate::board::{accepting, cost, pawns, played};
use crate::engine::{EngineEvaluation, Points};
use crate::hits::LOST_UNDER;
use crate::teaching::exercise::flaw::Flaw;
use crate::teaching::exercise::hearing::{ExpectedLine, Look};
use crate::teaching::exercise::moves::taker;
use crate::teaching::exercise::objection::Objection;
use crate::teaching::exercise::solution::Solution;
use crate::teaching::exercise::worth::{CLEAR, MISTAKE};
use crate::teaching::exercise::{Aside, AsideRole};

/// How many mistakes of the defender are refuted.
const MOST_MISTAKES: usize = 3;

impl<F, A> Asked<'_, A>
where
    A: FnMut(&Chess, &[Move], Look) -> Result<Option<EngineEvaluation>, F>,
{
    /// The one good reply to the offer, or else the one good answer to the check after it was taken.
    pub(super) fn defence(&mut self) -> Result<Result<Solution, Flaw>, F> {
        let (pos, offer) = (&self.candidate.before, self.candidate.offer);
        let after = played(pos, offer);
        let takers = accepting(pos, offer);
        let first = self.only_reply(vec![offer], &after, &takers)?;
        let (Err(flaw), Some(taken_by)) = (&first, taker(pos, offer)) else { return Ok(first) };
        let accepted = played(&after, taken_by);
        let said = self.hearing.best(&accepted, &[])?;
        let Some(best) = said.and_then(|said| said.best) else { return Ok(Err(*flaw)) };
        let checked = played(&accepted, best);
        if !checked.is_check() {
            return Ok(Err(*flaw));
        }
        self.only_reply(vec![offer, taken_by, best], &checked, &[])
    }

    /// The one good reply of a position, with what refutes others. `takers` take what was just offered.
    fn only_reply(
        &mut self,
        lead: Vec<Move>,
        start: &Chess,
        takers: &[Move],
    ) -> Result<Result<Solution, Flaw>, F> {
        let Some(said) = self.hearing.best(start, &[])? else { return Ok(Err(Flaw::Open)) };
        let Some(reply) = said.best else { return Ok(Err(Flaw::Open)) };
        let Some(other) = self.hearing.best(start, &[reply])? else {
            return Ok(Err(Flaw::Plain));
        };
        if said.points < LOST_UNDER {
            return Ok(Err(Flaw::Otherwise));
        }
        if said.points.over(other.points) < MISTAKE {
            return Ok(Err(Flaw::Close));
        }
        let is_confirmed = self.is_confirmed(start, reply, said.points)?
            && match other.best {
                Some(m) => self.is_confirmed(start, m, other.points)?,
                None => true,
            };
        if !is_confirmed {
            return Ok(Err(Flaw::Contradicted(Objection::Others)));
        }
        let is_gift =
            reply.capture().is_some_and(|taken| pawns(taken) >= pawns(reply.role()) + CLEAR);
        if is_gift || takers == [reply] {
            return Ok(Err(Flaw::Plain));
        }
        let expected = self.expected(start, reply, start.turn())?;
        if !expected.shows(start, start.turn()) {
            return Ok(Err(Flaw::Contradicted(Objection::Line)));
        }
        let ExpectedLine { moves: line, comes_to } = expected;
        let tempting = tempting(start, reply, takers, other.best);
        let asides = self.mistakes(start, &tempting, said.points)?;
        if asides.is_empty() {
            return Ok(Err(Flaw::Open));
        }
        let (start, also) = (start.clone(), Vec::new());
        Ok(Ok(Solution { lead, start, line, comes_to, also, asides }))
    }

    /// What refutes some replies, where the best is worth so much.
    fn mistakes(
        &mut self,
        start: &Chess,
        tempting: &[Move],
        best: Points,
    ) -> Result<Vec<Aside>, F> {
        let mut asides = Vec::new();
        for &m in tempting {
            if asides.len() == MOST_MISTAKES {
                break;
            }
            let worth = self.hearing.worth(&played(start, m))?;
            if best.over(worth) < MISTAKE {
                continue;
            }
            let expected = self.expected(start, m, start.turn().other())?;
            let ExpectedLine { moves, comes_to } = expected;
            if moves.len() > 1 {
                asides.push(Aside { at: 0, moves, comes_to, role: AsideRole::Mistake });
            }
        }
        Ok(asides)
    }
}

/// The replies that a pupil may think of: what takes the man that was offered, what an engine finds second best, and
/// other captures and checks that give nothing up.
fn tempting(start: &Chess, reply: Move, takers: &[Move], second: Option<Move>) -> Vec<Move> {
    let mut others = start.legal_moves();
    others.retain(|m| (m.is_capture() || played(start, *m).is_check()) && cost(start, *m) == 0);
    let mut tempting: Vec<Move> = Vec::new();
    for m in takers.iter().copied().chain(second).chain(others) {
        if m != reply && !tempting.contains(&m) {
            tempting.push(m);
        }
    }
    tempting
}
