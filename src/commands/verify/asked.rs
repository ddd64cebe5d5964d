//! What an engine that speaks UCI says about offers that no proof decides.

use std::collections::BTreeMap;
use std::ops::ControlFlow;
use std::path::Path;
use std::sync::atomic::AtomicBool;

use anyhow::Context;
use serde::{Deserialize, Serialize};
use shakmaty::{Chess, Move};

use super::judges::OfferTask;
use crate::advice::WithHint;
use crate::board::{line_in_san, played};
use crate::engine::{
    Engine, EngineFault, EngineOption, Evaluated, OfferMade, Points, Program, Question, Score, Team,
};
use crate::hits::{Advice, Judged, Opinion};
use crate::mining::Evaluation;
use crate::terminal::{Terminal, counted, grouped};
use crate::work::ThreadsRefused;

/// Which engine was asked, and how: what must be the same for a run to be resumed.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub(super) struct EngineTerms {
    /// The name it gives itself.
    name: String,
    nodes: u64,
    options: Vec<String>,
}

/// A program that is asked in the whole run.
pub(super) struct Adviser<'p> {
    team: Team<'p>,
    path: &'p Path,
    pub(super) terms: EngineTerms,
    /// How many offers it was asked about, and about how many it answered.
    asked: u64,
    answered: u64,
    /// How many answers failed by the kind of fault.
    failed: BTreeMap<&'static str, u64>,
    first_fault: Option<EngineFault>,
}

impl<'p> Adviser<'p> {
    /// Checks whether a program can be asked, by `threads` threads.
    pub(super) fn new(
        program: &'p Program,
        threads: usize,
        stop: &'p AtomicBool,
    ) -> anyhow::Result<Adviser<'p>> {
        let mut team = Team::new(program, threads, stop);
        let failed = || format!("`{}` can't be asked", program.path.display());
        let name = team.name().with_context(failed)?;
        let written = |option: &EngineOption| match &option.value {
            Some(value) => format!("{}={value}", option.name),
            None => option.name.clone(),
        };
        let options = program.options.iter().map(written).collect();
        let terms = EngineTerms { name, nodes: program.nodes, options };
        let (path, failed) = (&*program.path, BTreeMap::new());
        Ok(Adviser { team, path, terms, asked: 0, answered: 0, failed, first_fault: None })
    }

    /// Asks about offers until it is interrupted; the answers come in order.
    pub(super) fn ask(
        &mut self,
        tasks: &[&OfferTask],
    ) -> Result<Vec<Result<Evaluated, EngineFault>>, ThreadsRefused> {
        let ask = |engine: &mut Engine<'_>, task: &&&OfferTask| {
            let offer =
                OfferMade::new(task.pos.clone(), task.offer).expect("a task holds a legal move");
            offer.evaluate(engine)
        };
        let mut answers = Vec::with_capacity(tasks.len());
        let take = |_: &&OfferTask, answer| {
            answers.push(answer);
            ControlFlow::Continue(())
        };
        self.team.ask(tasks.iter(), ask, take)?;
        self.asked += answers.len() as u64;
        for answer in &answers {
            match answer {
                Ok(_) => self.answered += 1,
                Err(fault) => {
                    *self.failed.entry(fault.kind()).or_default() += 1;
                    self.first_fault.get_or_insert_with(|| fault.clone());
                }
            }
        }
        Ok(answers)
    }

    /// What it expects of positions for the side that moved last, if it answers; of the first of them if it is
    /// interrupted.
    pub(super) fn expects_after<'q>(
        &mut self,
        questions: impl Iterator<Item = &'q Question> + Send,
    ) -> Result<Vec<Option<Points>>, ThreadsRefused> {
        let ask = |engine: &mut Engine<'_>, question: &&Question| {
            Ok(engine.evaluate(question)?.for_the_other_side().points)
        };
        let mut points = Vec::new();
        self.team.ask(questions, ask, |_, answer| {
            points.push(answer.ok());
            ControlFlow::Continue(())
        })?;
        Ok(points)
    }

    /// Ends the program, and tells how many answers failed.
    ///
    /// # Errors
    ///
    /// If it answered about no offer, or was given up because it kept everybody waiting.
    pub(super) fn end(self, terminal: Terminal) -> anyhow::Result<()> {
        let given_up = self.team.given_up().cloned();
        self.team.end();
        let Some(first) = self.first_fault else { return Ok(()) };
        let (path, offers) = (self.path.display(), counted(self.asked, "offer"));
        let failed = in_words(&self.failed);
        if let Some(fault) = given_up {
            let left = self.asked - self.answered;
            let left = format!("{} of {offers} have no answer ({failed})", grouped(left));
            let error = anyhow::anyhow!("`{path}` was given up, since it {fault}; {left}");
            return Err(error
                .hint("give it longer with --engine-patience, or ask for fewer --engine-nodes"));
        }
        if self.answered == 0 {
            let error =
                anyhow::anyhow!("`{path}` answered none of {offers} ({failed}): it {first}");
            return Err(error.hint("once it answers, ask it again with --replace"));
        }
        let left = grouped(self.asked - self.answered);
        terminal.note(format!(
            "`{path}` gave no answer on {left} of {offers} ({failed}); the first time, it {first}"
        ));
        Ok(())
    }
}

/// Kinds of faults with how often each came: `2 out of time, 1 ended`.
fn in_words(failed: &BTreeMap<&'static str, u64>) -> String {
    let kinds = failed.iter().map(|(kind, times)| format!("{} {kind}", grouped(*times)));
    kinds.collect::<Vec<_>>().join(", ")
}

/// What a program answered about an offer, in the words of tables.
pub(super) fn opinion(
    pos: &Chess,
    offer: Move,
    answer: &Result<Evaluated, EngineFault>,
) -> Opinion {
    let evaluated = answer.as_ref().map_err(EngineFault::to_string)?;
    let Evaluated { after, other } = evaluated;
    let then = played(pos, offer);
    let instead = other.as_ref().and_then(|other| {
        let san = line_in_san(pos, &[other.best?]);
        Some((san, evaluation(other.score)))
    });
    Ok(Advice {
        before: evaluation(evaluated.before()),
        after: evaluation(after.score),
        reply: line_in_san(&then, after.best.as_slice()),
        line: line_in_san(&then, &after.line),
        instead,
    })
}

/// What a program expects of an offer.
pub(super) fn judged(evaluated: &Evaluated) -> Judged {
    let best = evaluated.other.as_ref().map(|other| other.points);
    Judged { after: evaluated.after.points, best }
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
