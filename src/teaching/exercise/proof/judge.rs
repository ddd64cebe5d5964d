//! *Judge*: the offer works, and nothing is better, or it fails, and there is a line that shows it.

use shakmaty::{Chess, Move, Position};

use super::{CLEAR, Case, Solution, worth};
use crate::board::played;
use crate::hits::Verdict;
use crate::teaching::exercise::Exercise;
use crate::teaching::exercise::flaw::Flaw;
use crate::teaching::exercise::kind::ExerciseKind;
use crate::verdict::{Better, Judgement, LONGEST_MATE};

impl Case<'_> {
    pub(super) fn does_it_work(&mut self) -> Result<Exercise, Flaw> {
        let (pos, offer) = (&self.candidate.before, self.candidate.offer);
        let judgement = self.judge(pos, offer);
        let verdict = judgement.overall.verdict;
        let pawns = worth(verdict).ok_or(Flaw::Open)?;
        if pawns.abs() < CLEAR || (pawns > 0) != self.candidate.class.is_sound {
            return Err(Flaw::Otherwise);
        }
        if pawns > 0 && judgement.better != Better::No {
            return Err(Flaw::Better);
        }
        if pawns < 0 && !self.is_worth_something(pos, offer, &judgement)? {
            return Err(Flaw::Otherwise);
        }
        let line = self.line(pos, offer, &judgement.overall)?;
        if line.len() < 2 {
            return Err(Flaw::Open);
        }
        let asides = self.other_sort(pos, offer, &judgement).into_iter().collect();
        let (lead, also, comes_to) = (Vec::new(), Vec::new(), verdict.into());
        let solution = Solution { lead, start: pos.clone(), line, comes_to, also, asides };
        Ok(self.exercise(ExerciseKind::Judge, solution, 0))
    }

    /// Whether something could be had instead of an offer that fails: another move mates, or draws by force, or keeps
    /// at least a level balance without being mated. Who is lost anyway has not failed.
    fn is_worth_something(
        &mut self,
        pos: &Chess,
        offer: Move,
        judgement: &Judgement,
    ) -> Result<bool, Flaw> {
        if let Better::Yes { verdict: Verdict::Mates(_) | Verdict::Draws, .. } = judgement.better {
            return Ok(true);
        }
        let mut others = pos.legal_moves();
        others.retain(|m| *m != offer);
        if others.is_empty() {
            return Ok(false);
        }
        let weighing = self.weigh(pos, &others).ok_or(Flaw::Open)?;
        let (low, _) = self.range(pos, &weighing).ok_or(Flaw::Open)?;
        let best = *weighing.line.first().ok_or(Flaw::Open)?;
        let is_mated = self.mate(&played(pos, best), LONGEST_MATE).is_some();
        Ok(self.before + low >= 0 && !is_mated)
    }
}
