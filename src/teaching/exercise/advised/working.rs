//! *Judge* by an engine: whether the offer works, with the line that shows it.

use shakmaty::{Chess, Move, Position};

use super::Asked;
use crate::board::{accepting, played};
use crate::engine::{EngineEvaluation, Points};
use crate::hits::{LOSS, LOST_UNDER, SOUND_FROM};
use crate::teaching::exercise::flaw::Flaw;
use crate::teaching::exercise::hearing::{ExpectedLine, Look};
use crate::teaching::exercise::objection::Objection;
use crate::teaching::exercise::solution::Solution;
use crate::teaching::exercise::worth::MISTAKE;
use crate::teaching::exercise::{Aside, AsideRole};

impl<F, A> Asked<'_, A>
where
    A: FnMut(&Chess, &[Move], Look) -> Result<Option<EngineEvaluation>, F>,
{
    /// Whether the offer works, with the line that shows it.
    pub(super) fn does_it_work(&mut self) -> Result<Result<Solution, Flaw>, F> {
        let (pos, offer) = (&self.candidate.before, self.candidate.offer);
        let after = played(pos, offer);
        let worth = self.hearing.worth(&after)?;
        let other = self.hearing.best(pos, &[offer])?;
        let best = other.as_ref().map_or(Points::NONE, |other| other.points);
        let works = self.candidate.class.is_sound;
        let flaw = if works { flaw_of_sound(worth, best) } else { flaw_of_failing(worth, best) };
        if let Some(flaw) = flaw {
            return Ok(Err(flaw));
        }
        let better = other.as_ref().and_then(|other| other.best).filter(|_| !works);
        let instead = better.map(|m| self.instead(pos, m, best)).transpose()?.flatten();
        if better.is_some() && instead.is_none() {
            return Ok(Err(Flaw::Contradicted(Objection::Mistake)));
        }
        let right = if works { self.attacker } else { self.attacker.other() };
        let expected = self.expected(pos, offer, right)?;
        if !expected.shows(pos, right) {
            return Ok(Err(Flaw::Contradicted(Objection::Line)));
        }
        let ExpectedLine { moves: line, comes_to } = expected;
        let aside = if works { self.other_sort(&after, line[1])? } else { instead };
        let (lead, start, also) = (Vec::new(), pos.clone(), Vec::new());
        let asides = aside.into_iter().collect();
        Ok(Ok(Solution { lead, start, line, comes_to, also, asides }))
    }

    /// What is better than an offer that fails, and how it goes on; nothing if a closer look finds it worth something
    /// else.
    fn instead(&mut self, pos: &Chess, m: Move, best: Points) -> Result<Option<Aside>, F> {
        if !self.is_confirmed(pos, m, best)? {
            return Ok(None);
        }
        let expected = self.expected(pos, m, self.attacker)?;
        let is_shown = expected.shows(pos, self.attacker);
        let ExpectedLine { moves, comes_to } = expected;
        Ok(is_shown.then_some(Aside { at: 0, moves, comes_to, role: AsideRole::Better }))
    }

    /// The answer to the best reply of the other sort: taking what was offered, or not.
    pub(super) fn other_sort(&mut self, after: &Chess, reply: Move) -> Result<Option<Aside>, F> {
        let takers = accepting(&self.candidate.before, self.candidate.offer);
        let takes = takers.contains(&reply);
        let mut same = after.legal_moves();
        same.retain(|m| takers.contains(m) == takes);
        let other = self.hearing.best(after, &same)?.and_then(|other| other.best);
        let Some(other) = other else { return Ok(None) };
        let ExpectedLine { moves, comes_to } = self.expected(after, other, self.attacker)?;
        Ok((moves.len() > 1).then_some(Aside { at: 1, moves, comes_to, role: AsideRole::Reply }))
    }
}

/// Why an offer that is worth so much, where the best other move is worth so much, can't be said to work.
fn flaw_of_sound(worth: Points, best: Points) -> Option<Flaw> {
    if worth < SOUND_FROM {
        Some(Flaw::Otherwise)
    } else {
        (best.over(worth) >= LOSS).then_some(Flaw::Better)
    }
}

/// Why it can't be said to fail. Who is better all the same has not failed.
fn flaw_of_failing(worth: Points, best: Points) -> Option<Flaw> {
    if best < LOST_UNDER || worth >= Points::HALF {
        Some(Flaw::Otherwise)
    } else {
        (best.over(worth) < MISTAKE).then_some(Flaw::Close)
    }
}
