//! The searches that prove the solution of an exercise, and that it is the only one.
//!
//! All is counted in pawns for the attacker, on the position before the offer. A move *wins* if it mates
//! or comes out [`CLEAR`] pawns up; it *falls short* if it comes out that much below the solution.
//!
//! Invariant: what is said of a candidate does not depend on those before it.

mod continuing;
mod defend;
mod find;
mod judge;
mod rivals;

use shakmaty::{Chess, Color, Move, Position};

use super::candidate::Candidate;
use super::flaw::Flaw;
use super::kind::ExerciseKind;
use super::moves::{is_to_mate, settled};
use super::short::ShortCase;
use super::solution::Solution;
use super::upshot::Upshot;
use super::worth::{CLEAR, MATE, worth};
use super::{AsideRole, Exercise};
use crate::board::balance;
use crate::hits::Verdict;
use crate::verdict::{
    Budget, Effort, Judge, Judgement, LEAST_DEPTH, LONGEST_MATE, Mate, Outcome, Prover,
    WeighedScore, Weigher, Weighing,
};

/// How many other correct moves may be listed; a position with more is left out.
const MOST_ALSO: usize = 2;

/// Proves exercises. Holds the tables of its searches, so keep one for many candidates.
pub struct Examiner {
    judge: Judge,
    prover: Prover,
    weigher: Weigher,
    effort: Effort,
}

impl Examiner {
    /// An examiner whose searches may spend this effort.
    #[must_use]
    pub fn new(effort: Effort) -> Examiner {
        const ENTRIES: usize = 1 << 16;
        Examiner {
            judge: Judge::new(effort),
            prover: Prover::with_entries(ENTRIES),
            weigher: Weigher::with_entries(ENTRIES),
            effort,
        }
    }

    /// A mate by the side to move that is proved.
    #[must_use]
    pub fn forced_mate(&mut self, pos: &Chess) -> Option<Mate> {
        self.prover.forget();
        self.prover.mate(pos, LONGEST_MATE, &mut Budget::of(self.effort.mate))
    }

    /// The exercises that a candidate makes: one, or for [`ExerciseKind::Continue`] one for each square of the
    /// king.
    ///
    /// # Errors
    ///
    /// Why it makes none.
    pub fn examine(
        &mut self,
        candidate: &Candidate,
        kind: ExerciseKind,
    ) -> Result<Vec<Exercise>, Flaw> {
        self.prover.forget();
        if kind.is_short() {
            let mut case = ShortCase::new(candidate, &mut self.prover, self.effort.mate);
            return Ok(vec![case.exercise(kind)?]);
        }
        self.weigher.forget();
        let mut case = Case::new(self, candidate);
        match kind {
            ExerciseKind::Find => Ok(vec![case.find()?]),
            ExerciseKind::Judge => Ok(vec![case.does_it_work()?]),
            ExerciseKind::Continue => case.go_on(),
            ExerciseKind::Defend => Ok(vec![case.defend()?]),
            _ => Err(Flaw::Otherwise),
        }
    }
}

/// One candidate before the examiner.
struct Case<'a> {
    examiner: &'a mut Examiner,
    candidate: &'a Candidate,
    attacker: Color,
    /// The attacker's balance before the offer.
    before: i32,
    nodes: u64,
}

impl<'a> Case<'a> {
    fn new(examiner: &'a mut Examiner, candidate: &'a Candidate) -> Case<'a> {
        let attacker = candidate.attacker();
        let before = balance(&candidate.before, attacker);
        Case { examiner, candidate, attacker, before, nodes: 0 }
    }

    /// The exercise of a solution. The nodes are those that were spent since `nodes_before`.
    fn exercise(&self, kind: ExerciseKind, solution: Solution, nodes_before: u64) -> Exercise {
        solution.of(self.candidate, kind, self.nodes - nodes_before)
    }

    /// What an outcome of a move in `pos` comes to on the position before the offer: the same, unless
    /// something was given up on the way there.
    fn on_before(&self, pos: &Chess, outcome: &Outcome) -> Verdict {
        let shift = balance(pos, self.attacker) - self.before;
        match outcome.verdict {
            Verdict::Gains(_) | Verdict::Level | Verdict::Down(_) => {
                Verdict::of_count(outcome.balance.unwrap_or(0) + shift)
            }
            other => other,
        }
    }

    /// The solution's line, the first move before best play: to the mate, or to where the count of
    /// material is settled. Nothing if a mate's line is not whole.
    fn line(&self, pos: &Chess, m: Move, outcome: &Outcome) -> Result<Vec<Move>, Flaw> {
        let line = [&[m], &outcome.line[..]].concat();
        match outcome.verdict {
            Verdict::Mates(_) | Verdict::Mated(_) => {
                if is_to_mate(pos, &line) {
                    Ok(line)
                } else {
                    Err(Flaw::Open)
                }
            }
            Verdict::Draws => Ok(line),
            _ => Ok(settled(pos, &line)),
        }
    }

    fn budget_for_mates(&self) -> Budget {
        Budget::of(self.examiner.effort.mate)
    }

    fn judge(&mut self, pos: &Chess, m: Move) -> Judgement {
        let judgement = self.examiner.judge.judge(pos, m);
        self.nodes += judgement.nodes;
        judgement
    }

    /// The shortest mate within `moves` moves, if one is found.
    fn mate(&mut self, pos: &Chess, moves: u8) -> Option<Mate> {
        let mut budget = self.budget_for_mates();
        let mate = self.examiner.prover.mate(pos, moves, &mut budget);
        self.nodes += budget.used();
        mate
    }

    fn weigh(&mut self, pos: &Chess, moves: &[Move]) -> Option<Weighing> {
        let Effort { material, depth, .. } = self.examiner.effort;
        let mut budget = Budget::of(material);
        let weighing = self.examiner.weigher.weigh(pos, moves, depth, &mut budget);
        self.nodes += budget.used();
        weighing
    }

    /// The least and the most that the last two depths of a count saw for the attacker; nothing if it was
    /// shallow.
    fn range(&self, pos: &Chess, weighing: &Weighing) -> Option<(i32, i32)> {
        let own = |score: WeighedScore| {
            let value = match score {
                WeighedScore::Mates(_) => MATE,
                WeighedScore::Mated(_) => -MATE,
                WeighedScore::Pawns(pawns) => pawns,
            };
            let value = if pos.turn() == self.attacker { value } else { -value };
            if value.abs() == MATE { value } else { value - self.before }
        };
        let last = own(weighing.score);
        if last.abs() == MATE {
            return Some((last, last));
        }
        let before = own(weighing.score_before?);
        (weighing.depth >= LEAST_DEPTH).then_some((last.min(before), last.max(before)))
    }
}
