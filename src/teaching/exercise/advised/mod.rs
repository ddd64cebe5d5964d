//! What is left of a candidate once an engine was heard, and exercises that rest on the engine: whether an offer
//! works, the best defence, and the one move that works where no count decides.
//!
//! Our searches prove mates. Whether an offer without one works is a question of what it is worth, which no count of
//! material answers; so the engine and its line do.

mod defence;
mod winning;
mod working;

use shakmaty::{Chess, Color, Move};

use super::Exercise;
use super::candidate::Candidate;
use super::flaw::Flaw;
use super::hearing::{ExpectedLine, Hearing, Look, Parties};
use super::kind::ExerciseKind;
use super::objection::{Objection, unopposed};
use crate::board::played;
use crate::engine::{EngineEvaluation, Points};
use crate::hits::LOSS;

/// How long moves and lines are looked at, at first.
const AT_FIRST: (Look, Look) = (Look::Plain, Look::Plain);

/// What came of a candidate.
type Made = Result<Vec<Exercise>, Flaw>;

/// What is left of a candidate's exercises once an engine was heard on them; or, if nothing is, what it makes of the
/// candidate itself. `ask` tells what a position is worth to its
/// side to move if some first moves may not be played; nothing if no other is left.
///
/// # Errors
///
/// What `ask` says.
pub fn advised<F>(
    candidate: &Candidate,
    kind: ExerciseKind,
    made: &Result<Vec<Exercise>, Flaw>,
    ask: impl FnMut(&Chess, &[Move], Look) -> Result<Option<EngineEvaluation>, F>,
) -> Result<Result<Vec<Exercise>, Flaw>, F> {
    let mut hearing = Hearing::new(ask);
    match heard(candidate, kind, made, &mut hearing)? {
        // Whatever is to be printed is looked at once more, for longer.
        Ok(left) => all_unopposed(&left, &mut hearing, (Look::Closest, Look::Closer)),
        Err(flaw) => Ok(Err(flaw)),
    }
}

/// What is left of a candidate's exercises, or what an engine makes of it, at first sight.
fn heard<F, A>(
    candidate: &Candidate,
    kind: ExerciseKind,
    made: &Made,
    hearing: &mut Hearing<A>,
) -> Result<Made, F>
where
    A: FnMut(&Chess, &[Move], Look) -> Result<Option<EngineEvaluation>, F>,
{
    // A count is never asked whether an offer works.
    let is_of_use = |one: &Exercise| kind != ExerciseKind::Judge || one.comes_to.is_mate();
    let left = match made {
        Ok(exercises) if exercises.iter().all(is_of_use) => {
            all_unopposed(exercises, hearing, AT_FIRST)?
        }
        Ok(_) => Err(Flaw::Otherwise),
        Err(flaw) => Err(*flaw),
    };
    let mut asked = Asked { candidate, attacker: candidate.attacker(), hearing };
    let own = match (kind, &left) {
        (_, Ok(_)) => return Ok(left),
        // What is too easy stays so.
        (ExerciseKind::Find | ExerciseKind::Continue, Err(Flaw::Plain)) => return Ok(left),
        (ExerciseKind::Find, _) => asked.offer()?,
        (ExerciseKind::Continue, _) => asked.justification()?,
        // It was lost anyway, or is not known not to be.
        (ExerciseKind::Judge, Err(Flaw::Contradicted(_))) => return Ok(left),
        (ExerciseKind::Judge, _) => asked.does_it_work()?,
        (ExerciseKind::Defend, _) => asked.defence()?,
        // Short ones are proved.
        _ => return Ok(left),
    };
    let nodes = asked.hearing.nodes;
    let own = own.map(|solution| vec![solution.of(candidate, kind, nodes)]);
    own.map_or_else(|flaw| Ok(Err(flaw)), |own| all_unopposed(&own, asked.hearing, AT_FIRST))
}

/// The exercises to which there is no objection, or else the first one.
fn all_unopposed<F, A>(
    exercises: &[Exercise],
    hearing: &mut Hearing<A>,
    looks: (Look, Look),
) -> Result<Made, F>
where
    A: FnMut(&Chess, &[Move], Look) -> Result<Option<EngineEvaluation>, F>,
{
    let (mut left, mut first): (Vec<Exercise>, Option<Objection>) = (Vec::new(), None);
    for exercise in exercises {
        match unopposed(exercise, hearing, looks)? {
            Ok(exercise) => left.push(exercise),
            Err(objection) => first = first.or(Some(objection)),
        }
    }
    let flaw = first.filter(|_| left.is_empty()).map(Flaw::Contradicted);
    Ok(flaw.map_or(Ok(left), Err))
}

/// A candidate of which an engine is asked to make an exercise.
struct Asked<'c, A> {
    candidate: &'c Candidate,
    attacker: Color,
    hearing: &'c mut Hearing<A>,
}

impl<F, A> Asked<'_, A>
where
    A: FnMut(&Chess, &[Move], Look) -> Result<Option<EngineEvaluation>, F>,
{
    /// A move and what is expected after it, to show that a side is right.
    fn expected(&mut self, start: &Chess, m: Move, right: Color) -> Result<ExpectedLine, F> {
        self.hearing.expected(start, m, Parties { attacker: self.attacker, right })
    }

    /// Whether a move is worth about what it was said to be once the position after it is looked at by itself.
    fn is_confirmed(&mut self, pos: &Chess, m: Move, said: Points) -> Result<bool, F> {
        let worth = self.hearing.worth(&played(pos, m))?;
        Ok(worth.over(said).max(said.over(worth)) < LOSS)
    }
}
