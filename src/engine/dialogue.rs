//! The dialogue with a running program: it says who it is, is set up, and is asked about positions.
//!
//! Invariant: every wait ends, by an answer, by a limit or by an interrupt.

use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use super::command::EngineCommand;
use super::evaluation::{EngineEvaluation, HeardSearch};
use super::fault::EngineFault;
use super::options::{EngineOption, OfferedOption, OptionKind, find};
use super::process::{LONGEST_LINE, MOST_OUTPUT, NoLine, Process, time_left};
use super::program::Program;
use super::protocol::{Said, excerpt, read};
use super::question::Question;

/// How often an interrupt is looked for.
const GLANCE: Duration = Duration::from_millis(50);

/// The option of the standard that turns Chess960 on.
const SHUFFLED: &str = "UCI_Chess960";

/// The option of the standard that makes a program tell how often it expects a win, a draw and a loss.
const CHANCES: &str = "UCI_ShowWDL";

/// A running program that has said what it offers and is ready. Dropped, it is killed.
#[derive(Debug)]
pub struct Engine<'p> {
    program: &'p Program,
    /// Whether to stop waiting.
    interrupt: &'p AtomicBool,
    process: Process,
    name: String,
    offered: Vec<OfferedOption>,
    /// Whether it has been told to play Chess960.
    is_shuffled: bool,
}

impl<'p> Engine<'p> {
    /// Starts the program and sets its options. All waiting ends soon after `interrupt` is set.
    ///
    /// # Errors
    ///
    /// If it does not start, does not speak UCI, or does not take an option.
    pub fn start(
        program: &'p Program,
        interrupt: &'p AtomicBool,
    ) -> Result<Engine<'p>, EngineFault> {
        let process = Process::start(&program.path)
            .map_err(|cause| EngineFault::NotStarted(cause.to_string()))?;
        let (name, offered, is_shuffled) = (String::new(), Vec::new(), false);
        let mut engine = Engine { program, interrupt, process, name, offered, is_shuffled };
        engine.introduce()?;
        // The user's options come later, and so may turn it off again.
        if engine.can_be_turned_on(CHANCES) {
            engine.turn(CHANCES, true);
        }
        for option in &program.options {
            let option = checked(&engine.offered, option)?;
            engine.process.say(EngineCommand::SetOption(&option));
        }
        engine.be_ready()?;
        Ok(engine)
    }

    /// What it calls itself; empty if it did not say.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Evaluates a position, for its side to move. Earlier questions do not matter, if the program does as
    /// it is told. A position without legal moves is not asked about.
    ///
    /// # Errors
    ///
    /// If the program does not answer as it should; it must then be dropped.
    pub fn evaluate(&mut self, question: &Question) -> Result<EngineEvaluation, EngineFault> {
        if let Some(end) = EngineEvaluation::of_the_end(question.now()) {
            return Ok(end);
        }
        self.shuffle(question.is_shuffled())?;
        self.process.say(EngineCommand::NewGame);
        self.be_ready()?;
        self.process.say(EngineCommand::Position(question));
        let nodes = self.program.nodes.saturating_mul(question.times().into());
        self.process.say(EngineCommand::Go { nodes, question });
        self.search(question)
    }

    /// Tells it to end, and kills it if it does not.
    pub fn end(self) {
        self.process.end(self.program.patience.end);
    }

    fn introduce(&mut self) -> Result<(), EngineFault> {
        self.process.say(EngineCommand::Uci);
        let patience = self.program.patience.ready;
        let (mut name, mut offered) = (String::new(), Vec::new());
        self.listen(patience, EngineFault::NoHandshake(patience), |said| match said {
            Said::Name(said) => {
                name = excerpt(said.as_bytes());
                None
            }
            Said::Offers(option) => {
                offered.push(option);
                None
            }
            Said::UciOk => Some(()),
            _ => None,
        })?;
        (self.name, self.offered) = (name, offered);
        Ok(())
    }

    /// Waits until it is ready. What it still has to say about an earlier search is ignored.
    fn be_ready(&mut self) -> Result<(), EngineFault> {
        self.process.say(EngineCommand::IsReady);
        let patience = self.program.patience.ready;
        self.listen(patience, EngineFault::NotReady(patience), |said| {
            (said == Said::ReadyOk).then_some(())
        })
    }

    fn shuffle(&mut self, is_shuffled: bool) -> Result<(), EngineFault> {
        if is_shuffled == self.is_shuffled {
            return Ok(());
        }
        if !self.can_be_turned_on(SHUFFLED) {
            return Err(EngineFault::NoShuffledChess);
        }
        self.turn(SHUFFLED, is_shuffled);
        self.is_shuffled = is_shuffled;
        Ok(())
    }

    /// Whether it offers an option that is on or off.
    fn can_be_turned_on(&self, name: &str) -> bool {
        find(&self.offered, name).is_some_and(|offered| offered.kind == OptionKind::Check)
    }

    fn turn(&mut self, name: &str, is_on: bool) {
        let (name, value) = (name.to_owned(), Some(is_on.to_string()));
        self.process.say(EngineCommand::SetOption(&EngineOption { name, value }));
    }

    fn search(&mut self, question: &Question) -> Result<EngineEvaluation, EngineFault> {
        let patience = self.program.patience.search.saturating_mul(question.times());
        let mut search = HeardSearch::default();
        let answer =
            self.listen(patience, EngineFault::NoMoveInTime(patience), |said| match said {
                Said::Info(info) => {
                    search.hear(info);
                    None
                }
                Said::BestMove(answer) => Some(answer),
                _ => None,
            })?;
        search.end(question, answer)
    }

    /// Listens until `take` has what it waits for.
    fn listen<T>(
        &mut self,
        patience: Duration,
        too_late: EngineFault,
        mut take: impl FnMut(Said) -> Option<T>,
    ) -> Result<T, EngineFault> {
        let deadline = Instant::now() + patience;
        self.process.allow_an_answer();
        loop {
            if self.interrupt.load(Ordering::Relaxed) {
                return Err(EngineFault::Interrupted);
            }
            let Some(left) = time_left(deadline) else {
                return Err(too_late);
            };
            match self.process.hear(left.min(GLANCE)) {
                Ok(line) => {
                    if let Some(taken) = take(read(&line)) {
                        return Ok(taken);
                    }
                }
                Err(NoLine::InTime) => {}
                Err(NoLine::Closed) => return Err(self.process.last_words()),
                Err(NoLine::LineTooLong) => return Err(EngineFault::LineTooLong(LONGEST_LINE)),
                Err(NoLine::TooMuchOutput) => return Err(EngineFault::TooMuchOutput(MOST_OUTPUT)),
            }
        }
    }
}

/// The option as the program spells it. Programs silently ignore options that they don't know, so a
/// typing mistake would go unnoticed.
fn checked(offered: &[OfferedOption], option: &EngineOption) -> Result<EngineOption, EngineFault> {
    let found = find(offered, &option.name)
        .ok_or_else(|| EngineFault::NoSuchOption(option.name.clone()))?;
    let (name, value) = (found.name.clone(), option.value.clone());
    if found.kind.allows(value.as_deref()) {
        return Ok(EngineOption { name, value });
    }
    Err(EngineFault::BadValue { name, value: value.unwrap_or_default() })
}
