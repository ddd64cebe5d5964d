//! *Defend*: whoever takes comes off clearly worse than with the best reply, and few other replies are as
//! good.

use shakmaty::{Chess, Move, Position};

use super::{AsideRole, CLEAR, Case, MOST_ALSO, Solution, Upshot, worth};
use crate::board::{accepting, played};
use crate::hits::Verdict;
use crate::teaching::exercise::flaw::Flaw;
use crate::teaching::exercise::kind::ExerciseKind;
use crate::teaching::exercise::{Aside, Exercise};
use crate::verdict::LONGEST_MATE;

/// A reply that leaves the attacker more than this, in pawns, is not a defence worth finding.
const MOST_LEFT: i32 = 1;
/// How many replies are examined one by one.
const MOST_ROUNDS: usize = 6;

impl Case<'_> {
    pub(super) fn defend(&mut self) -> Result<Exercise, Flaw> {
        let (pos, offer) = (&self.candidate.before, self.candidate.offer);
        let judgement = self.judge(pos, offer);
        let (Some(natural), Some(best)) = (&judgement.accepted, &judgement.declined) else {
            return Err(Flaw::Otherwise);
        };
        let taken = worth(natural.verdict).ok_or(Flaw::Open)?;
        // Where nobody can count what is left, an engine has to vouch for the reply.
        let left = worth(best.verdict).unwrap_or(0);
        if left > MOST_LEFT || taken < CLEAR {
            return Err(Flaw::Otherwise);
        }
        if taken - left < CLEAR {
            return Err(Flaw::Close);
        }
        let after = played(pos, offer);
        let reply = best.reply.ok_or(Flaw::Open)?;
        let also = self.other_defences(&after, &accepting(pos, offer), reply, left)?;
        let line = self.line(pos, offer, best)?.split_off(1);
        let taking = self.line(pos, offer, natural)?.split_off(1);
        if line.is_empty() || taking.is_empty() {
            return Err(Flaw::Open);
        }
        // A mate is counted from what is shown, and the offer was made before that.
        let comes_to = match natural.verdict {
            Verdict::Mates(moves) => Verdict::Mates(moves - 1),
            other => other,
        };
        let (comes_to, role) = (comes_to.into(), AsideRole::Mistake);
        let asides = vec![Aside { at: 0, moves: taking, comes_to, role }];
        let (lead, comes_to) = (vec![offer], best.verdict.into());
        let solution = Solution { lead, start: after, line, comes_to, also, asides };
        Ok(self.exercise(ExerciseKind::Defend, solution, 0))
    }

    /// The other replies that leave the attacker about as little, or clearly down. All others, none of
    /// which takes what was offered, leave the attacker clearly more, or are mated.
    fn other_defences(
        &mut self,
        after: &Chess,
        takers: &[Move],
        reply: Move,
        left: i32,
    ) -> Result<Vec<(Move, Upshot)>, Flaw> {
        let mut others = after.legal_moves();
        others.retain(|m| *m != reply && !takers.contains(m));
        // Whatever leaves the attacker clearly down is good enough.
        let too_much = left.max(-CLEAR) + CLEAR;
        let mut also = Vec::new();
        for _ in 0..MOST_ROUNDS {
            if others.is_empty() {
                return Ok(also);
            }
            let weighing = self.weigh(after, &others).ok_or(Flaw::Open)?;
            let (low, high) = self.range(after, &weighing).ok_or(Flaw::Open)?;
            if low >= too_much {
                return Ok(also);
            }
            let m = *weighing.line.first().ok_or(Flaw::Open)?;
            others.retain(|other| *other != m);
            if self.is_mated_after(after, m) {
                continue;
            }
            if high >= too_much {
                return Err(Flaw::Close);
            }
            also.push((m, Verdict::of_count(high).into()));
            if also.len() > MOST_ALSO {
                return Err(Flaw::Several);
            }
        }
        Err(Flaw::Several)
    }

    fn is_mated_after(&mut self, after: &Chess, reply: Move) -> bool {
        self.mate(&played(after, reply), LONGEST_MATE).is_some()
    }
}
