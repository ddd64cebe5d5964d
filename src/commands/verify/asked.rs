//! What a program that speaks UCI says of offers, beside what was proved.

use std::ops::ControlFlow;
use std::sync::atomic::AtomicBool;

use anyhow::Context;
use serde::{Deserialize, Serialize};

use super::VerifyOptions;
use super::pool::Task;
use crate::engine::{self, Engine, Evaluated, Fault, OfferMade, Patience, Program, Score};
use crate::hits::{Advice, Opinion};
use crate::mining::Evaluation;
use crate::verdict::{line_in_san, played};

/// Which program was asked, and how: what must be the same for a run to be gone on with.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub(super) struct EngineTerms {
    /// The name it gives itself.
    name: String,
    nodes: u64,
    options: Vec<String>,
}

/// A program to ask, if the user named one.
pub(super) struct Adviser {
    program: Program,
    pub(super) terms: EngineTerms,
}

impl Adviser {
    /// Sees whether the program that the user named can be asked.
    pub(super) fn new(
        options: &VerifyOptions,
        stop: &AtomicBool,
    ) -> anyhow::Result<Option<Adviser>> {
        let Some(path) = &options.engine else { return Ok(None) };
        let program = Program {
            path: path.clone(),
            options: options.engine_option.clone(),
            nodes: options.engine_nodes,
            patience: Patience::default(),
        };
        let failed = || format!("`{}` can't be asked", path.display());
        let engine = Engine::start(&program, stop).with_context(failed)?;
        let name = engine.name().to_owned();
        engine.end();
        let written = |option: &engine::EngineOption| match &option.value {
            Some(value) => format!("{}={value}", option.name),
            None => option.name.clone(),
        };
        let terms = EngineTerms {
            name,
            nodes: options.engine_nodes,
            options: options.engine_option.iter().map(written).collect(),
        };
        Ok(Some(Adviser { program, terms }))
    }

    /// Asks about offers, so many at a time, until `stop` is set; the answers come in their order.
    pub(super) fn ask(
        &self,
        tasks: &[Task],
        at_a_time: usize,
        stop: &AtomicBool,
    ) -> Vec<Result<Evaluated, Fault>> {
        let ask = |engine: &mut Engine<'_>, task: &&Task| {
            let offer =
                OfferMade::new(task.pos.clone(), task.offer).expect("a task holds a legal move");
            offer.evaluate(engine)
        };
        let mut answers = Vec::with_capacity(tasks.len());
        let take = |_: &Task, answer| {
            answers.push(answer);
            ControlFlow::Continue(())
        };
        engine::run(&self.program, at_a_time, tasks.iter(), ask, stop, take);
        answers
    }
}

/// What a program answered about an offer, in the words of tables.
pub(super) fn opinion(task: &Task, answer: &Result<Evaluated, Fault>) -> Opinion {
    let Evaluated { before, after, alternative } = answer.as_ref().map_err(Fault::to_string)?;
    let then = played(&task.pos, task.offer);
    let instead = alternative.as_ref().map(|alternative| {
        let san = line_in_san(&task.pos, &[alternative.best]);
        (san, evaluation(alternative.evaluation.score))
    });
    Ok(Advice {
        before: evaluation(before.score),
        after: evaluation(after.score),
        reply: line_in_san(&then, after.best.as_slice()),
        line: line_in_san(&then, &after.line),
        instead,
    })
}

/// A score as tables write evaluations.
fn evaluation(score: Score) -> Evaluation {
    let moves = |moves: u32| i32::try_from(moves).unwrap_or(i32::MAX);
    match score {
        Score::Centipawns(value) => Evaluation::Centipawns(value),
        Score::Mates(count) => Evaluation::Mate(moves(count)),
        Score::Mated(count) => Evaluation::Mate(-moves(count)),
    }
}
