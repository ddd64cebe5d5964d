//! Examiners at work on the candidates for exercises, one for each thread, and an engine that may object.

use std::ops::ControlFlow;
use std::sync::atomic::AtomicBool;

use anyhow::Context;

use crate::engine::{Engine, EngineFault, Program, Question, Team};
use crate::statistics::counted;
use crate::teaching::{
    Candidate, Examiner, Exercise, ExercisePool, Flaw, Objection, SheetChoice, objection,
};
use crate::terminal::Bar;
use crate::verdict::Effort;
use crate::visible::visible;
use crate::work::{ThreadsRefused, all_in_order};

/// Examiners, one for each thread; each is made when it has something to do.
pub(super) struct Examiners<'p> {
    each: Vec<Option<Examiner>>,
    effort: Effort,
    /// Engines that may object, one for each thread.
    engines: Option<Team<'p>>,
    /// What the solutions rest on, in words.
    rests_on: String,
}

/// What solutions rest on where no engine was asked.
const WITHOUT_ENGINE: &str = "Mates are proved against every defence. No engine was asked: other solutions \
                              win three pawns or more and leave the attacker ahead, in a count of material.";

/// What came of a candidate.
type Examined = Result<Vec<Exercise>, Flaw>;

impl<'p> Examiners<'p> {
    /// Examiners, one for each of `threads`, and as many engines if a program is named.
    ///
    /// # Errors
    ///
    /// If the program does not start.
    pub(super) fn new(
        threads: usize,
        effort: Effort,
        program: Option<&'p Program>,
    ) -> anyhow::Result<Examiners<'p>> {
        static NEVER: AtomicBool = AtomicBool::new(false);
        let each = (0..threads).map(|_| None).collect();
        let Some(program) = program else {
            let rests_on = WITHOUT_ENGINE.to_owned();
            return Ok(Examiners { each, effort, engines: None, rests_on });
        };
        let mut engines = Team::new(program, threads, &NEVER);
        let failed = || format!("`{}` can't be asked", program.path.display());
        let name = engines.name().with_context(failed)?;
        let rests_on = format!(
            "Mates are proved against every defence; whatever else is shown was put to {}, which agrees \
             ({} for each answer).",
            visible(&name),
            counted(program.nodes, "position"),
        );
        Ok(Examiners { each, effort, engines: Some(engines), rests_on })
    }

    /// What the solutions rest on, in a sentence.
    pub(super) fn rests_on(&self) -> &str {
        &self.rests_on
    }

    /// Proves candidates of a pool until it has enough, and lets it choose.
    pub(super) fn choose(
        &mut self,
        mut pool: ExercisePool,
        bar: &Bar,
    ) -> Result<SheetChoice, ThreadsRefused> {
        let (kind, never) = (pool.kind(), AtomicBool::new(false));
        let effort = self.effort;
        let examine = |examiner: &mut Option<Examiner>, candidate: &Candidate| {
            examiner.get_or_insert_with(|| Examiner::new(effort)).examine(candidate, kind)
        };
        loop {
            let batch = pool.next_batch();
            if batch.is_empty() {
                return Ok(pool.choose());
            }
            let proved_before = pool.proved();
            let examined = all_in_order(&mut self.each, &batch, &never, examine, || ())?;
            let heard = match &mut self.engines {
                Some(engines) => heard(engines, examined)?,
                None => examined.into_iter().map(standing).collect(),
            };
            for (candidate, examined) in batch.iter().zip(heard) {
                pool.add(candidate, examined);
            }
            bar.advance((pool.proved() - proved_before) as u64);
        }
    }
}

/// What stands without an engine's word.
fn standing(examined: Examined) -> Examined {
    let mut exercises = examined?;
    exercises.retain(Exercise::stands_alone);
    if exercises.is_empty() { Err(Flaw::Unasked) } else { Ok(exercises) }
}

/// What is left once the engines were heard on every exercise.
fn heard(engines: &mut Team<'_>, examined: Vec<Examined>) -> Result<Vec<Examined>, ThreadsRefused> {
    let counts: Vec<Result<usize, Flaw>> =
        examined.iter().map(|one| one.as_ref().map(Vec::len).map_err(|flaw| *flaw)).collect();
    let mut answers = Vec::new();
    let take = |exercise, answer| {
        answers.push((exercise, answer));
        ControlFlow::Continue(())
    };
    engines.ask(examined.into_iter().flatten().flatten(), object, take)?;
    let mut answers = answers.into_iter();
    let of = |count: Result<usize, Flaw>| {
        let (mut sound, mut flaw) = (Vec::new(), Flaw::Contradicted);
        for (exercise, answer) in answers.by_ref().take(count?) {
            match answer {
                Ok(None) => sound.push(exercise),
                Ok(Some(_)) => {}
                Err(_) => flaw = Flaw::Unanswered,
            }
        }
        if sound.is_empty() { Err(flaw) } else { Ok(sound) }
    };
    Ok(counts.into_iter().map(of).collect())
}

/// What an engine says against an exercise.
fn object(engine: &mut Engine<'_>, exercise: &Exercise) -> Result<Option<Objection>, EngineFault> {
    objection(exercise, |pos, without| {
        let question = Question::new(pos.clone()).without(without);
        let points = |question| engine.evaluate(&question).map(|said| said.points);
        question.map(points).transpose()
    })
}
