//! What a program that speaks UCI says of offers, beside what was proved.

use std::ops::ControlFlow;
use std::sync::atomic::AtomicBool;

use anyhow::Context;
use serde::{Deserialize, Serialize};

use super::VerifyOptions;
use super::pool::Task;
use crate::board::{line_in_san, played};
use crate::engine::{self, Engine, Evaluated, Fault, OfferMade, Patience, Program, Score};
use crate::mining::Evaluation;
use crate::tables::{Cell, Column, Kind};

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

/// The columns that a program's judgement adds to a table of verdicts. Scores are the attacker's, in
/// pawns, mates as `#N`.
const COLUMNS: [(&str, Kind); 7] = [
    ("engine_before", Kind::Text),
    ("engine_after", Kind::Text),
    ("engine_reply", Kind::Text),
    ("engine_line", Kind::Text),
    ("engine_instead", Kind::Text),
    ("engine_instead_score", Kind::Text),
    ("engine_fault", Kind::Text),
];

/// The columns for a program's judgement.
pub(super) fn columns() -> impl Iterator<Item = Column> {
    COLUMNS.into_iter().map(|(name, kind)| Column { name: name.to_owned(), kind })
}

/// The cells for what a program answered about an offer.
pub(super) fn cells(task: &Task, answer: &Result<Evaluated, Fault>) -> Vec<Cell<'static>> {
    match answer {
        Err(fault) => {
            let mut cells = vec![Cell::Blank; COLUMNS.len() - 1];
            cells.push(fault.to_string().into());
            cells
        }
        Ok(Evaluated { before, after, alternative }) => {
            let then = played(&task.pos, task.offer);
            let (instead, instead_score) = match alternative {
                Some(alternative) => (
                    line_in_san(&task.pos, &[alternative.best]).into(),
                    score(alternative.evaluation.score),
                ),
                None => (Cell::Blank, Cell::Blank),
            };
            let reply = after.best.map(|reply| line_in_san(&then, &[reply]));
            vec![
                score(before.score),
                score(after.score),
                reply.into(),
                line_in_san(&then, &after.line).into(),
                instead,
                instead_score,
                Cell::Blank,
            ]
        }
    }
}

/// A score as the tables write evaluations.
fn score(score: Score) -> Cell<'static> {
    let moves = |moves: u32| i32::try_from(moves).unwrap_or(i32::MAX);
    let evaluation = match score {
        Score::Centipawns(value) => Evaluation::Centipawns(value),
        Score::Mates(count) => Evaluation::Mate(moves(count)),
        Score::Mated(count) => Evaluation::Mate(-moves(count)),
    };
    evaluation.into()
}
