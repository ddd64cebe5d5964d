//! *Judge*: the offer works, and nothing is better, or it fails, and there is a line that shows it.

use super::{CLEAR, Case, Solution, worth};
use crate::teaching::exercise::Exercise;
use crate::teaching::exercise::flaw::Flaw;
use crate::teaching::exercise::kind::ExerciseKind;
use crate::verdict::Better;

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
        let line = self.line(pos, offer, &judgement.overall)?;
        if line.len() < 2 {
            return Err(Flaw::Open);
        }
        let asides = self.other_sort(pos, offer, &judgement).into_iter().collect();
        let (lead, also, comes_to) = (Vec::new(), Vec::new(), verdict.into());
        let solution = Solution { lead, start: pos.clone(), line, comes_to, also, asides };
        Ok(self.exercise(ExerciseKind::Judge, solution, 0))
    }
}
