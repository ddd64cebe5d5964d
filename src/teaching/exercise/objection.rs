//! What an engine may say against an exercise.
//!
//! A mate was proved against every defence and needs nobody's word. Whatever else is printed is put to the
//! engine: the solution, the other correct moves and that there are no more of them, what is called a
//! mistake, and every move of the lines.

use shakmaty::{Chess, Color, Move, Position};

use super::hearing::{ExpectedLine, Hearing, Look};
use super::kind::ExerciseKind;
use super::upshot::Upshot;
use super::worth::MISTAKE;
use super::{AsideRole, Exercise};
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

/// An exercise as it stands once it was heard, or what is said against it. What an engine expects is shown as far as it
/// holds; all else holds to its end, or there is an objection. The first moves and the lines are looked at for so long.
pub(super) fn unopposed<F, A>(
    exercise: &Exercise,
    hearing: &mut Hearing<A>,
    (moves, lines): (Look, Look),
) -> Result<Result<Exercise, Objection>, F>
where
    A: FnMut(&Chess, &[Move], Look) -> Result<Option<EngineEvaluation>, F>,
{
    let mut heard = OneHeard { exercise, hearing };
    heard.hearing.take(moves);
    if let Some(objection) = heard.on_first_moves()? {
        return Ok(Err(objection));
    }
    heard.hearing.take(lines);
    Ok(heard.as_far_as_it_holds()?.ok_or(Objection::Line))
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
            let is_mistake = |better: Points| {
                better >= LOST_UNDER && worth < Points::HALF && better.over(worth) >= MISTAKE
            };
            if !is_mistake(best) {
                return Ok(Some(Objection::Mistake));
            }
            let is_better = |better: Points| is_mistake(better) && best.over(better) < LOSS;
            return Ok((!self.are_better(is_better)?).then_some(Objection::Others));
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

    /// Whether the moves that are shown as better are so.
    fn are_better(&mut self, is_better: impl Fn(Points) -> bool) -> Result<bool, F> {
        let exercise = self.exercise;
        for aside in exercise.asides.iter().filter(|aside| aside.role == AsideRole::Better) {
            let Some(&better) = aside.moves.first() else { continue };
            if !is_better(self.worth_of(&exercise.start, better, aside.comes_to)?) {
                return Ok(false);
            }
        }
        Ok(true)
    }

    /// The exercise with its lines as far as they hold; nothing if one shows too little then.
    fn as_far_as_it_holds(&mut self) -> Result<Option<Exercise>, F> {
        let mut left = self.exercise.clone();
        let solver = left.side();
        let right = if left.is_first_right() { solver } else { solver.other() };
        if !self.cut(&left.start, &mut left.line, &mut left.comes_to, right)? {
            return Ok(None);
        }
        for aside in &mut left.asides {
            let right = match aside.role {
                AsideRole::Reply => right,
                AsideRole::Mistake => solver.other(),
                AsideRole::Better => solver,
            };
            let start = self.exercise.start_of(aside);
            if !self.cut(&start, &mut aside.moves, &mut aside.comes_to, right)? {
                return Ok(None);
            }
        }
        Ok(Some(left))
    }

    /// Cuts off what does not hold of a line, and takes over what it is worth by this look. Whether it still shows what it
    /// is to show.
    fn cut(
        &mut self,
        start: &Chess,
        line: &mut Vec<Move>,
        comes_to: &mut Upshot,
        right: Color,
    ) -> Result<bool, F> {
        let Some((holds, worth)) = self.hearing.how_much_holds(start, line, *comes_to, right)?
        else {
            return Ok(true);
        };
        let is_judged = matches!(comes_to, Upshot::Judged(_));
        if is_judged {
            let is_attackers = right == self.exercise.attacker;
            let points = if is_attackers { worth } else { worth.for_the_other_side() };
            *comes_to = Upshot::Judged(points);
        }
        if holds == line.len() {
            return Ok(true);
        }
        line.truncate(holds);
        // What the other side does last shows nothing.
        if (start.turn() == right) != (line.len() % 2 == 1) {
            line.pop();
        }
        let expected = ExpectedLine { moves: line.clone(), comes_to: *comes_to };
        Ok(is_judged && expected.shows(start, right))
    }
}
