//! Running programs for a whole run, one for each thread.
//!
//! A program is started when its thread has something to ask, and kept from then on, whoever asks next. If
//! it does not answer, it is restarted and asked once more; then the item is handed on with the reason, and
//! the run continues. A thread gives its program up for good if that fails to start three times in a
//! row, or is started far more often than it answers. It leaves the rest to the others then; if it is the
//! last one, it marks the rest without trying.
//!
//! Waiting costs the most, so all threads together count the items in a row on which the time ran out: after
//! the first, an item gets no second try; after three, all give the program up.
//!
//! Invariant: how often programs are started is bounded by what they answer; when a [`Team`] is gone, none
//! runs.

use std::ops::ControlFlow;
use std::sync::OnceLock;
use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};

use super::dialogue::Engine;
use super::fault::EngineFault;
use super::program::Program;
use crate::work::{ThreadsRefused, WorkEnd, in_order};

/// How many starts of a thread may fail in a row.
const STARTS: u32 = 3;

/// On how many items in a row, of all threads together, the time may run out.
const OVERDUE: u32 = 3;

/// By how many its starts may outnumber the items it answered.
const SPARE_STARTS: u32 = 10;

/// Programs for a whole run, one for each thread. Dropped, they are killed.
#[derive(Debug)]
pub struct Team<'p> {
    seats: Vec<Seat<'p>>,
    silence: Silence,
    interrupt: &'p AtomicBool,
}

/// How long the programs of a team have said nothing.
#[derive(Debug, Default)]
struct Silence {
    /// On how many items in a row the time ran out.
    items: AtomicU32,
    /// Why all were given up.
    given_up: OnceLock<EngineFault>,
}

impl Silence {
    fn is_on(&self) -> bool {
        self.items.load(Ordering::Relaxed) > 0
    }

    fn is_broken(&self) {
        self.items.store(0, Ordering::Relaxed);
    }

    /// Takes note of an item on which the time ran out.
    fn goes_on(&self, fault: &EngineFault) {
        if self.items.fetch_add(1, Ordering::Relaxed) + 1 >= OVERDUE {
            // Whoever was first has said why.
            let _ = self.given_up.set(fault.clone());
        }
    }
}

impl<'p> Team<'p> {
    /// A team of `engines`, at least one; none is started yet. All waiting ends soon after `interrupt` is
    /// set.
    #[must_use]
    pub fn new(program: &'p Program, engines: usize, interrupt: &'p AtomicBool) -> Team<'p> {
        let seats = (0..engines.max(1)).map(|_| Seat::new(program, interrupt)).collect();
        Team { seats, silence: Silence::default(), interrupt }
    }

    /// Why all programs were given up, if they kept everybody waiting.
    #[must_use]
    pub fn given_up(&self) -> Option<&EngineFault> {
        self.silence.given_up.get()
    }

    /// What the program calls itself; starts the first one.
    ///
    /// # Errors
    ///
    /// If it does not start.
    pub fn name(&mut self) -> Result<String, EngineFault> {
        let Some(first) = self.seats.first_mut() else { return Ok(String::new()) };
        let engine = first.running(&self.silence)?;
        let name = engine.name().to_owned();
        first.engine = Some(engine);
        Ok(name)
    }

    /// Asks `ask` about each item with one of the programs, and hands the items on in order with their
    /// answers, until the end, until `take` breaks off, or until it is interrupted.
    ///
    /// What `ask` answers with a program must depend on the item alone.
    ///
    /// # Errors
    ///
    /// If the system starts no thread for each.
    ///
    /// # Panics
    ///
    /// If `items`, `ask` or `take` does.
    pub fn ask<Q: Send, A: Send>(
        &mut self,
        items: impl Iterator<Item = Q> + Send,
        ask: impl Fn(&mut Engine<'_>, &Q) -> Result<A, EngineFault> + Sync,
        mut take: impl FnMut(Q, Result<A, EngineFault>) -> ControlFlow<()>,
    ) -> Result<WorkEnd, ThreadsRefused> {
        let silence = &self.silence;
        let are_all_given_up = self.seats.iter().all(|seat| seat.is_given_up(silence));
        let seats = self.seats.iter_mut();
        let seats = seats.filter(|seat| are_all_given_up || !seat.is_given_up(silence));
        let mut seats: Vec<&mut Seat<'p>> = seats.collect();
        let work = |seat: &mut &mut Seat<'p>, item: Q| {
            let answer = seat.answer(&item, &ask, silence);
            let is_given_up = seat.is_given_up(silence);
            let go_on = if is_given_up { ControlFlow::Break } else { ControlFlow::Continue };
            go_on((item, answer))
        };
        let mut is_interrupted = false;
        let take = |(item, answer)| {
            is_interrupted = matches!(answer, Err(EngineFault::Interrupted));
            if is_interrupted { ControlFlow::Break(()) } else { take(item, answer) }
        };
        let end = in_order(&mut seats, items, self.interrupt, work, take)?;
        Ok(if is_interrupted { WorkEnd::Interrupted } else { end })
    }

    /// Tells all to end, and kills those that do not.
    pub fn end(self) {
        let engines: Vec<Engine<'p>> =
            self.seats.into_iter().filter_map(|seat| seat.engine).collect();
        let end = |(): &mut (), engine: Engine<'p>| {
            engine.end();
            ControlFlow::Continue(())
        };
        let never = AtomicBool::new(false);
        let mut workers = vec![(); engines.len()];
        // Without threads they are dropped, and so killed.
        let _ =
            in_order(
                &mut workers,
                engines.into_iter(),
                &never,
                end,
                |()| ControlFlow::Continue(()),
            );
    }
}

/// What a thread keeps: its program, and what is known of it.
#[derive(Debug)]
struct Seat<'p> {
    program: &'p Program,
    interrupt: &'p AtomicBool,
    engine: Option<Engine<'p>>,
    starts: u32,
    answered: u32,
    failed_starts: u32,
    /// Why this one was given up.
    given_up: Option<EngineFault>,
}

impl<'p> Seat<'p> {
    fn new(program: &'p Program, interrupt: &'p AtomicBool) -> Seat<'p> {
        Seat {
            program,
            interrupt,
            engine: None,
            starts: 0,
            answered: 0,
            failed_starts: 0,
            given_up: None,
        }
    }

    fn is_given_up(&self, silence: &Silence) -> bool {
        self.given_up.is_some() || silence.given_up.get().is_some()
    }

    /// Asks once, and once more if that may help.
    fn answer<Q, A>(
        &mut self,
        item: &Q,
        ask: &impl Fn(&mut Engine<'_>, &Q) -> Result<A, EngineFault>,
        silence: &Silence,
    ) -> Result<A, EngineFault> {
        let is_hopeless = |fault: &EngineFault| fault.is_out_of_time() && silence.is_on();
        let answer = match self.try_once(item, ask, silence) {
            Err(fault) if fault.may_pass() && !is_hopeless(&fault) => {
                self.try_once(item, ask, silence)
            }
            answer => answer,
        };
        match &answer {
            Ok(_) => {
                self.answered = self.answered.saturating_add(1);
                silence.is_broken();
            }
            Err(fault) => self.note_failure(fault, silence),
        }
        answer
    }

    /// Takes note that an item has no answer.
    fn note_failure(&mut self, fault: &EngineFault, silence: &Silence) {
        if fault.is_out_of_time() {
            silence.goes_on(fault);
        } else if !matches!(fault, EngineFault::GivenUp(_) | EngineFault::Interrupted) {
            silence.is_broken();
        }
        let is_restless = self.starts > self.answered.saturating_add(SPARE_STARTS);
        if is_restless && self.given_up.is_none() {
            self.given_up = Some(fault.clone());
        }
        if self.is_given_up(silence) {
            self.engine = None;
        }
    }

    fn try_once<Q, A>(
        &mut self,
        item: &Q,
        ask: &impl Fn(&mut Engine<'_>, &Q) -> Result<A, EngineFault>,
        silence: &Silence,
    ) -> Result<A, EngineFault> {
        let mut engine = self.running(silence)?;
        let answer = ask(&mut engine, item);
        // Otherwise it is dropped, and so killed.
        if answer.as_ref().err().is_none_or(EngineFault::leaves_it_sound) {
            self.engine = Some(engine);
        }
        answer
    }

    /// The program that runs, or else one that is started.
    fn running(&mut self, silence: &Silence) -> Result<Engine<'p>, EngineFault> {
        if let Some(reason) = self.given_up.as_ref().or(silence.given_up.get()) {
            return Err(EngineFault::GivenUp(Box::new(reason.clone())));
        }
        if let Some(engine) = self.engine.take() {
            return Ok(engine);
        }
        self.starts = self.starts.saturating_add(1);
        let started = Engine::start(self.program, self.interrupt);
        match &started {
            Ok(_) => self.failed_starts = 0,
            Err(fault) => {
                self.failed_starts += 1;
                if self.failed_starts == STARTS || fault.is_wrong_setting() {
                    self.given_up = Some(fault.clone());
                }
            }
        }
        started
    }
}
