//! What an engine may say against an exercise.
//!
//! A mate was proved against every defence and needs nobody's word. Whatever else is printed is put to the
//! engine: the solution, the other correct moves and that there are no more of them, what is called a
//! mistake, and every move of the lines.

use shakmaty::{Chess, Color, Move, Position};

use super::hearing::{Hearing, Look};
use super::kind::ExerciseKind;
use super::upshot::Upshot;
use super::worth::MISTAKE;
use super::{Aside, AsideRole, Exercise};
use crate::board::played;
use crate::engine::{EngineEvaluation, Points};
use crate::hits::{LOSS, LOST_UNDER, SOUND_FROM, Verdict};

/// What an engine says against an exercise.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Objection {
    /// The solution is worth less than is said.
    Solution,
    /// A move that is not among the correct ones is as good, or one that is among them is not.
    Others,
    /// What is called a mistake is none, or all was lost before.
    Mistake,
    /// A move of a line throws away what the line is to show, or is not the best reply.
    Line,
}

impl Objection {
    /// The objection in words, after a number of exercises.
    #[must_use]
    pub const fn in_words(self) -> &'static str {
        match self {
            Objection::Solution => "whose solution the engine contradicts",
            Objection::Others => "where the engine finds other moves as good",
            Objection::Mistake => "whose mistake is none to the engine",
            Objection::Line => "with a line that the engine contradicts",
        }
    }
}

/// What is said against an exercise.
pub(super) fn objection<F, A>(
    exercise: &Exercise,
    hearing: &mut Hearing<A>,
) -> Result<Option<Objection>, F>
where
    A: FnMut(&Chess, &[Move], Look) -> Result<Option<EngineEvaluation>, F>,
{
    let mut hearing = OneHeard { exercise, hearing };
    if let Some(objection) = hearing.on_first_moves()? {
        return Ok(Some(objection));
    }
    Ok((!hearing.do_lines_hold()?).then_some(Objection::Line))
}

/// The same of the first moves alone, without the lines.
pub(super) fn objection_to_moves<F, A>(
    exercise: &Exercise,
    hearing: &mut Hearing<A>,
) -> Result<Option<Objection>, F>
where
    A: FnMut(&Chess, &[Move], Look) -> Result<Option<EngineEvaluation>, F>,
{
    OneHeard { exercise, hearing }.on_first_moves()
}

/// An exercise before an engine.
struct OneHeard<'e, A> {
    exercise: &'e Exercise,
    hearing: &'e mut Hearing<A>,
}

impl<F, A> OneHeard<'_, A>
where
    A: FnMut(&Chess, &[Move], Look) -> Result<Option<EngineEvaluation>, F>,
{
    /// What a move is worth to the side that plays it: all if it mates by proof.
    fn worth_of(&mut self, pos: &Chess, m: Move, comes_to: Upshot) -> Result<Points, F> {
        match (comes_to, pos.turn() == self.exercise.attacker) {
            (Upshot::Found(Verdict::Mates(_)), true)
            | (Upshot::Found(Verdict::Mated(_)), false) => Ok(Points::ALL),
            (Upshot::Found(Verdict::Mates(_)), false)
            | (Upshot::Found(Verdict::Mated(_)), true) => Ok(Points::NONE),
            _ => self.hearing.worth(&played(pos, m)),
        }
    }

    /// What the best move is worth, some excepted.
    fn best(&mut self, without: &[Move]) -> Result<Option<Points>, F> {
        let best = self.hearing.best(&self.exercise.start, without)?;
        Ok(best.map(|best| best.points))
    }

    fn on_first_moves(&mut self) -> Result<Option<Objection>, F> {
        let exercise = self.exercise;
        let start = &exercise.start;
        let Some(&first) = exercise.line.first() else { return Ok(Some(Objection::Line)) };
        let worth = self.worth_of(start, first, exercise.comes_to)?;
        if !exercise.is_first_right() {
            let best = self.best(&[first])?.unwrap_or(Points::NONE);
            let is_mistake =
                best >= LOST_UNDER && worth < Points::HALF && best.over(worth) >= MISTAKE;
            return Ok((!is_mistake).then_some(Objection::Mistake));
        }
        let least = match exercise.kind {
            ExerciseKind::Defend => LOST_UNDER,
            _ => SOUND_FROM,
        };
        if worth < least {
            return Ok(Some(Objection::Solution));
        }
        let mut named = vec![first];
        for &(also, comes_to) in &exercise.also {
            if worth.over(self.worth_of(start, also, comes_to)?) >= LOSS {
                return Ok(Some(Objection::Others));
            }
            named.push(also);
        }
        let is_judged = matches!(exercise.comes_to, Upshot::Judged(_));
        let is_other_as_good = |other: Points| match exercise.kind {
            // Whether it works is asked, and whether anything is better, not which move is the only one.
            ExerciseKind::Judge => other.over(worth) >= LOSS,
            _ if is_judged => worth.over(other) < MISTAKE,
            _ => worth.over(other) < LOSS,
        };
        if self.best(&named)?.is_some_and(is_other_as_good) {
            return Ok(Some(Objection::Others));
        }
        for aside in exercise.asides.iter().filter(|aside| aside.role == AsideRole::Mistake) {
            let pos = exercise.start_of(aside);
            let Some(&mistake) = aside.moves.first() else { continue };
            if worth.over(self.worth_of(&pos, mistake, aside.comes_to)?) < MISTAKE {
                return Ok(Some(Objection::Mistake));
            }
        }
        Ok(None)
    }

    fn do_lines_hold(&mut self) -> Result<bool, F> {
        let exercise = self.exercise;
        let solver = exercise.side();
        let right = if exercise.is_first_right() { solver } else { solver.other() };
        if !self.does_line_hold(&exercise.start, &exercise.line, right, exercise.comes_to)? {
            return Ok(false);
        }
        for aside in &exercise.asides {
            let right = match aside.role {
                AsideRole::Reply => right,
                AsideRole::Mistake => solver.other(),
                AsideRole::Better => solver,
            };
            if !self.does_aside_hold(aside, right)? {
                return Ok(false);
            }
        }
        Ok(true)
    }

    fn does_aside_hold(&mut self, aside: &Aside, right: Color) -> Result<bool, F> {
        let pos = self.exercise.start_of(aside);
        self.does_line_hold(&pos, &aside.moves, right, aside.comes_to)
    }

    /// Whether a line keeps for one side what that side has after the first move, and whether the other
    /// side loses no more by its replies than it must.
    fn does_line_hold(
        &mut self,
        start: &Chess,
        line: &[Move],
        right: Color,
        comes_to: Upshot,
    ) -> Result<bool, F> {
        if comes_to.is_mate() {
            return Ok(true);
        }
        let mut pos = start.clone();
        let mut before: Option<Points> = None;
        for &m in line {
            let is_right = pos.turn() == right;
            pos.play_unchecked(m);
            let worth = self.hearing.worth(&pos)?;
            let worth = if is_right { worth } else { worth.for_the_other_side() };
            let has_changed = before.is_some_and(|before| {
                let (more, less) = if is_right { (before, worth) } else { (worth, before) };
                more.over(less) >= LOSS
            });
            if has_changed {
                return Ok(false);
            }
            // What is lost in small steps is lost all the same.
            before = before.or(Some(worth));
        }
        Ok(true)
    }
}
