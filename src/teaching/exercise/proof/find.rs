//! *Find*: the offer wins, nothing is better, and few other moves win at all.

use shakmaty::{Chess, Move, Position};

use super::{AsideRole, CLEAR, Case, Solution, worth};
use crate::board::{cost, pawns, played};
use crate::hits::Verdict;
use crate::teaching::exercise::flaw::Flaw;
use crate::teaching::exercise::kind::ExerciseKind;
use crate::teaching::exercise::moves::is_to_mate;
use crate::teaching::exercise::{Aside, Exercise};
use crate::verdict::{Better, Judgement, Outcome};

/// How many of the defender's other replies are answered.
const MOST_ANSWERED: usize = 4;
/// Every reply is answered where the mate is no longer than this.
const SHORT_MATE: u8 = 4;

impl Case<'_> {
    pub(super) fn find(&mut self) -> Result<Exercise, Flaw> {
        let candidate = self.candidate;
        let solution = self.solve(&candidate.before, candidate.offer)?;
        let is_gift = |m: Move| {
            m.capture().is_some_and(|role| pawns(role) >= CLEAR) && cost(&candidate.before, m) == 0
        };
        if solution.also.iter().any(|&(m, _)| is_gift(m)) {
            return Err(Flaw::Plain);
        }
        Ok(self.exercise(ExerciseKind::Find, solution, 0))
    }

    /// Proves that a move of the attacker's is the solution of a position.
    pub(super) fn solve(&mut self, pos: &Chess, m: Move) -> Result<Solution, Flaw> {
        let judgement = self.judge(pos, m);
        let outcome = &judgement.overall;
        let verdict = self.on_before(pos, outcome);
        if worth(verdict).ok_or(Flaw::Open)? < CLEAR {
            return Err(Flaw::Otherwise);
        }
        match judgement.better {
            Better::No => {}
            Better::Yes { .. } => return Err(Flaw::Better),
            Better::AllMated | Better::Unknown => return Err(Flaw::Open),
        }
        let line = self.line(pos, m, outcome)?;
        let also = self.rivals(pos, m, verdict)?;
        let asides = self.other_replies(pos, m, &judgement);
        let (lead, start, comes_to) = (Vec::new(), pos.clone(), verdict.into());
        Ok(Solution { lead, start, line, comes_to, also, asides })
    }

    /// Answers to other replies: to each of them if the mate is short, else to the best of the other
    /// sort, taking or not taking.
    fn other_replies(&mut self, pos: &Chess, m: Move, judgement: &Judgement) -> Vec<Aside> {
        match judgement.overall.verdict {
            Verdict::Mates(moves @ 2..=SHORT_MATE) => {
                self.answers(pos, m, moves - 1, judgement.overall.reply)
            }
            _ => self.other_sort(pos, m, judgement).into_iter().collect(),
        }
    }

    fn answers(&mut self, pos: &Chess, m: Move, moves: u8, main: Option<Move>) -> Vec<Aside> {
        let after = played(pos, m);
        let mut replies = after.legal_moves();
        replies.retain(|reply| Some(*reply) != main);
        // What takes comes first: it is what a pupil thinks of first.
        replies.sort_by_key(|reply| !reply.is_capture());
        let mut asides = Vec::new();
        for reply in replies.into_iter().take(MOST_ANSWERED) {
            let replied = played(&after, reply);
            let mate = self.mate(&replied, moves);
            if let Some(mate) = mate.filter(|mate| is_to_mate(&replied, &mate.line)) {
                let moves = [&[reply], &mate.line[..]].concat();
                let comes_to = Verdict::Mates(mate.moves + 1).into();
                asides.push(Aside { at: 1, moves, comes_to, role: AsideRole::Reply });
            }
        }
        asides
    }

    /// The line against the best reply of the sort that the solution does not show.
    pub(super) fn other_sort(&self, pos: &Chess, m: Move, judgement: &Judgement) -> Option<Aside> {
        let main = judgement.overall.reply;
        let is_other = |outcome: &&Outcome| outcome.reply.is_some() && outcome.reply != main;
        let both = judgement.accepted.iter().chain(&judgement.declined);
        let other = both.into_iter().find(is_other)?;
        let verdict = self.on_before(pos, other);
        if verdict == Verdict::Open {
            return None;
        }
        let moves = self.line(pos, m, other).ok()?.split_off(1);
        let (comes_to, role) = (verdict.into(), AsideRole::Reply);
        (!moves.is_empty()).then_some(Aside { at: 1, moves, comes_to, role })
    }
}
