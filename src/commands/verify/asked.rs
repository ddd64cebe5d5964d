//! What an engine that speaks UCI says about offers that no proof decides.

use std::sync::atomic::AtomicBool;

use serde::{Deserialize, Serialize};
use shakmaty::{Chess, Move};

use super::judges::OfferTask;
use crate::board::{line_in_san, played};
use crate::commands::consultation::{Consultation, Matter};
use crate::commands::second_look::{self, looked_at};
use crate::engine::{
    Engine, EngineFault, EngineOption, Evaluated, OfferMade, Points, Program, Question, Score,
};
use crate::hits::{Advice, Judged, Opinion};
use crate::mining::Evaluation;
use crate::terminal::Terminal;
use crate::work::ThreadsRefused;

/// Which engine was asked, and how: what must be the same for a run to be resumed.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub(super) struct EngineTerms {
    /// The name it gives itself.
    pub(super) name: String,
    nodes: u64,
    /// How many times as many positions a second look has; none in what was judged before there was one.
    #[serde(default)]
    second_look: u32,
    options: Vec<String>,
}

/// A program that is asked in the whole run.
pub(super) struct Adviser<'p> {
    consultation: Consultation<'p>,
    pub(super) terms: EngineTerms,
}

impl<'p> Adviser<'p> {
    /// Checks whether a program can be asked, by `threads` threads.
    pub(super) fn new(
        program: &'p Program,
        threads: usize,
        stop: &'p AtomicBool,
    ) -> anyhow::Result<Adviser<'p>> {
        let consultation = Consultation::begin(program, threads, stop)?;
        let name = consultation.name.clone();
        let options = program.options.iter().map(EngineOption::to_string).collect();
        let terms =
            EngineTerms { name, nodes: program.nodes, second_look: second_look::TIMES, options };
        Ok(Adviser { consultation, terms })
    }

    /// Asks about offers until it is interrupted; the answers come in order.
    pub(super) fn ask(
        &mut self,
        tasks: &[&OfferTask],
    ) -> Result<Vec<Result<Evaluated, EngineFault>>, ThreadsRefused> {
        let ask = |engine: &mut Engine<'_>, task: &&&OfferTask| {
            let offer =
                OfferMade::new(task.pos.clone(), task.offer).expect("a task holds a legal move");
            looked_at(&offer, engine)
        };
        let answers = self.consultation.ask(tasks.iter(), ask)?;
        Ok(answers.into_iter().map(|(_, answer)| answer).collect())
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
        let answers = self.consultation.ask_aside(questions, ask)?;
        Ok(answers.into_iter().map(|(_, answer)| answer.ok()).collect())
    }

    /// Ends the program, and tells how many answers failed.
    ///
    /// # Errors
    ///
    /// If it answered about no offer, or was given up because it kept everybody waiting.
    pub(super) fn end(self, terminal: Terminal) -> anyhow::Result<()> {
        let hint = "once it answers, ask it again with --replace";
        self.consultation.end(&Matter { one: "offer", hint }, terminal)
    }
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
