//! An engine that a command asks: started and named, and its failures told, in one place.

use std::collections::BTreeMap;
use std::ops::ControlFlow;
use std::sync::atomic::AtomicBool;

use anyhow::Context;

use crate::advice::WithHint;
use crate::engine::{Engine, EngineFault, Program, Team};
use crate::terminal::{Terminal, counted, grouped};
use crate::work::ThreadsRefused;

/// An engine that runs and is asked, and how often that failed.
pub(super) struct Consultation<'p> {
    team: Team<'p>,
    program: &'p Program,
    /// The name the engine gives itself.
    pub(super) name: String,
    asked: u64,
    answered: u64,
    /// How many answers failed by the kind of fault.
    failed: BTreeMap<&'static str, u64>,
    first_fault: Option<EngineFault>,
}

/// What a command asks about, and what to do where the engine had no answer.
pub(super) struct Matter {
    /// The word for one.
    pub(super) one: &'static str,
    /// What to do once the engine answers.
    pub(super) hint: &'static str,
}

/// An item with the answer about it.
pub(super) type Answered<Q, A> = (Q, Result<A, EngineFault>);

impl<'p> Consultation<'p> {
    /// Starts a program, which `threads` threads will ask until `stop` is set.
    ///
    /// # Errors
    ///
    /// If it does not start.
    pub(super) fn begin(
        program: &'p Program,
        threads: usize,
        stop: &'p AtomicBool,
    ) -> anyhow::Result<Consultation<'p>> {
        let mut team = Team::new(program, threads, stop);
        let name = team.name().with_context(|| unanswered(program))?;
        let (asked, answered, failed, first_fault) = (0, 0, BTreeMap::new(), None);
        Ok(Consultation { team, program, name, asked, answered, failed, first_fault })
    }

    /// How many positions the engine may search for each answer.
    pub(super) fn nodes(&self) -> u64 {
        self.program.nodes
    }

    /// Asks about each item until it is interrupted; the answers come in order.
    pub(super) fn ask<Q: Send, A: Send>(
        &mut self,
        items: impl Iterator<Item = Q> + Send,
        ask: impl Fn(&mut Engine<'_>, &Q) -> Result<A, EngineFault> + Sync,
    ) -> Result<Vec<Answered<Q, A>>, ThreadsRefused> {
        let answers = self.ask_aside(items, ask)?;
        for (_, answer) in &answers {
            self.note(answer.as_ref().err());
        }
        Ok(answers)
    }

    /// The same of items that can do without an answer, and so are not counted.
    pub(super) fn ask_aside<Q: Send, A: Send>(
        &mut self,
        items: impl Iterator<Item = Q> + Send,
        ask: impl Fn(&mut Engine<'_>, &Q) -> Result<A, EngineFault> + Sync,
    ) -> Result<Vec<Answered<Q, A>>, ThreadsRefused> {
        let mut answers = Vec::new();
        let take = |item, answer| {
            answers.push((item, answer));
            ControlFlow::Continue(())
        };
        self.team.ask(items, ask, take)?;
        Ok(answers)
    }

    /// Asks about one item.
    ///
    /// # Errors
    ///
    /// If there is no answer.
    pub(super) fn ask_once<A: Send>(
        mut self,
        ask: impl Fn(&mut Engine<'_>) -> Result<A, EngineFault> + Sync,
    ) -> anyhow::Result<A> {
        let mut answers = self.ask(std::iter::once(()), |engine, ()| ask(engine))?;
        let (program, answer) = (self.program, answers.pop().map(|(_, answer)| answer));
        self.team.end();
        answer.unwrap_or(Err(EngineFault::Interrupted)).with_context(|| unanswered(program))
    }

    fn note(&mut self, fault: Option<&EngineFault>) {
        self.asked += 1;
        let Some(fault) = fault else {
            self.answered += 1;
            return;
        };
        *self.failed.entry(fault.kind()).or_default() += 1;
        self.first_fault.get_or_insert_with(|| fault.clone());
    }

    /// Ends the program, and tells how many answers failed.
    ///
    /// # Errors
    ///
    /// If it answered about nothing, or was given up because it kept everybody waiting.
    pub(super) fn end(self, matter: &Matter, terminal: Terminal) -> anyhow::Result<()> {
        let given_up = self.team.given_up().cloned();
        self.team.end();
        let Some(first) = self.first_fault else { return Ok(()) };
        let (path, all) = (self.program.path.display(), counted(self.asked, matter.one));
        let failed = in_words(&self.failed);
        let left = grouped(self.asked - self.answered);
        if let Some(fault) = given_up {
            let left = format!("{left} of {all} have no answer ({failed})");
            let error = anyhow::anyhow!("`{path}` was given up, since it {fault}; {left}");
            return Err(error
                .hint("give it longer with --engine-patience, or ask for fewer --engine-nodes"));
        }
        if self.answered == 0 {
            let error = anyhow::anyhow!("`{path}` answered none of {all} ({failed}): it {first}");
            return Err(error.hint(matter.hint));
        }
        terminal.note(format!(
            "`{path}` gave no answer on {left} of {all} ({failed}); the first time, it {first}"
        ));
        Ok(())
    }
}

/// What is said first if a program has no answer.
fn unanswered(program: &Program) -> String {
    format!("`{}` can't be asked", program.path.display())
}

/// Kinds of faults with how often each came: `2 out of time, 1 ended`.
fn in_words(failed: &BTreeMap<&'static str, u64>) -> String {
    let kinds = failed.iter().map(|(kind, times)| format!("{} {kind}", grouped(*times)));
    kinds.collect::<Vec<_>>().join(", ")
}
