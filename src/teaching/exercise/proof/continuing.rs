//! *Continue*: once the offer was accepted, and at each square to which the king goes, one move wins.

use shakmaty::{Chess, Move, Position, Role};

use super::{Case, Solution};
use crate::board::played;
use crate::teaching::exercise::Exercise;
use crate::teaching::exercise::flaw::Flaw;
use crate::teaching::exercise::kind::ExerciseKind;
use crate::teaching::exercise::moves::{is_plain, taker};
use crate::verdict::LONGEST_MATE;

impl Case<'_> {
    /// An exercise for each square the king may go to after the best check and that wants an answer of its
    /// own, or else one of the position after the offer was taken.
    pub(super) fn go_on(&mut self) -> Result<Vec<Exercise>, Flaw> {
        let (pos, offer) = (&self.candidate.before, self.candidate.offer);
        let taken_by = taker(pos, offer).ok_or(Flaw::Otherwise)?;
        let accepted = played(&played(pos, offer), taken_by);
        let best = self.best(&accepted)?;
        let checked = played(&accepted, best);
        let mut squares = checked.legal_moves();
        squares.retain(|m| m.role() == Role::King && checked.is_check());
        let mut exercises = Vec::new();
        if squares.len() > 1 {
            for &square in &squares {
                let lead = vec![offer, taken_by, best, square];
                let asked = self.asked(lead, &played(&checked, square));
                exercises.extend(asked.ok());
            }
        }
        // Of squares with the same answer one is enough.
        let mut answers = Vec::new();
        exercises.retain(|exercise| {
            let is_new = !answers.contains(&exercise.line[0]);
            answers.push(exercise.line[0]);
            is_new
        });
        if exercises.is_empty() {
            exercises.push(self.asked(vec![offer, taken_by], &accepted)?);
        }
        Ok(exercises)
    }

    /// The exercise of a position after the offer.
    fn asked(&mut self, lead: Vec<Move>, pos: &Chess) -> Result<Exercise, Flaw> {
        let nodes_before = self.nodes;
        let best = self.best(pos)?;
        let solution = Solution { lead, ..self.solve(pos, best)? };
        if is_plain(&solution.lead, pos, best) && !solution.comes_to.is_mate() {
            return Err(Flaw::Plain);
        }
        Ok(self.exercise(ExerciseKind::Continue, solution, nodes_before))
    }

    /// The attacker's best move: the shortest mate that is found, or what comes to the most material.
    fn best(&mut self, pos: &Chess) -> Result<Move, Flaw> {
        let mate = self.mate(pos, LONGEST_MATE);
        if let Some(m) = mate.as_ref().and_then(|mate| mate.line.first()) {
            return Ok(*m);
        }
        let weighing = self.weigh(pos, &pos.legal_moves()).ok_or(Flaw::Open)?;
        weighing.line.first().copied().ok_or(Flaw::Open)
    }
}
