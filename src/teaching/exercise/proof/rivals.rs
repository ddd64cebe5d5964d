//! The other moves of the side that attacks: which are as correct as the solution, and whether the rest
//! falls short.

use shakmaty::{Chess, Move, Position};

use super::{CLEAR, Case, Flaw, MOST_ALSO, Upshot, worth};
use crate::hits::Verdict;
use crate::verdict::{MateAnswer, WeighedScore, Width};

impl Case<'_> {
    /// The other moves that win. Every one not among them falls short of the solution: it does not mate
    /// within as many moves, and the material after best play stays clearly below it.
    pub(super) fn rivals(
        &mut self,
        pos: &Chess,
        solution: Move,
        verdict: Verdict,
    ) -> Result<Vec<(Move, Upshot)>, Flaw> {
        let mut also = match verdict {
            Verdict::Mates(moves) => self.other_keys(pos, solution, moves)?,
            _ => Vec::new(),
        };
        let mut others = pos.legal_moves();
        others.retain(|m| *m != solution && also.iter().all(|(known, _)| known != m));
        let most = worth(verdict).ok_or(Flaw::Open)? - CLEAR;
        while !others.is_empty() {
            if also.len() > MOST_ALSO {
                return Err(Flaw::Several);
            }
            let weighing = self.weigh(pos, &others).ok_or(Flaw::Open)?;
            let (low, high) = self.range(pos, &weighing).ok_or(Flaw::Open)?;
            if high < CLEAR && high <= most {
                return Ok(also);
            }
            let m = *weighing.line.first().filter(|_| low >= CLEAR).ok_or(Flaw::Close)?;
            let comes_to = match weighing.score {
                WeighedScore::Mates(_) => self.proved_mate(pos, m)?,
                _ => Verdict::Gains(low),
            };
            also.push((m, comes_to.into()));
            others.retain(|other| *other != m);
        }
        if also.len() > MOST_ALSO { Err(Flaw::Several) } else { Ok(also) }
    }

    /// A mate that a count of material met, proved.
    fn proved_mate(&mut self, pos: &Chess, m: Move) -> Result<Verdict, Flaw> {
        match self.judge(pos, m).overall.verdict {
            mates @ Verdict::Mates(_) => Ok(mates),
            _ => Err(Flaw::Close),
        }
    }

    /// The other moves that mate within as many moves; that there is no shorter mate is proved too.
    fn other_keys(
        &mut self,
        pos: &Chess,
        solution: Move,
        moves: u8,
    ) -> Result<Vec<(Move, Upshot)>, Flaw> {
        let mut budget = self.budget_for_mates();
        let prover = &mut self.examiner.prover;
        let shorter = prover.within(pos, moves - 1, Width::All, &mut budget);
        let keys = prover.keys(pos, moves, &mut budget);
        self.nodes += budget.used();
        match shorter {
            MateAnswer::Disproved => {}
            MateAnswer::Proved => return Err(Flaw::Better),
            MateAnswer::Unknown => return Err(Flaw::Open),
        }
        let keys = keys.ok_or(Flaw::Open)?;
        if !keys.contains(&solution) {
            return Err(Flaw::Open);
        }
        let others = keys.into_iter().filter(|key| *key != solution);
        Ok(others.map(|key| (key, Verdict::Mates(moves).into())).collect())
    }
}
