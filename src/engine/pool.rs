//! Several running programs at work on a row of items, one a thread.
//!
//! Each thread takes the next item when it is free; the caller's thread gets the answers in the order
//! of the items. An item that was not answered is asked once more of a program started anew, and then
//! handed on with the reason; the run goes on. A thread whose program fails to start three times in a
//! row, or lets the time run out over three items in a row, leaves the rest to the others; if it is the last
//! one, it marks the rest without trying.
//!
//! Invariant: items in flight are bounded; when [`run`] returns, no program runs and no worker is left.

use std::collections::BTreeMap;
use std::iter::Enumerate;
use std::ops::ControlFlow;
use std::sync::Mutex;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::time::Duration;

use super::dialogue::Engine;
use super::fault::Fault;
use super::program::Program;

/// How many starts of a thread may fail in a row.
const STARTS: u32 = 3;

/// Over how many items in a row a program may let the time run out.
const OVERDUE: u32 = 3;

/// How many items for each thread may have been taken and not yet been handed on, so that one slow item
/// does not stop the others.
const IN_FLIGHT: usize = 16;

/// How often an interrupt is looked for.
const GLANCE: Duration = Duration::from_millis(50);

/// Why a run ended.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum RunEnd {
    /// All items were handed on.
    AllDone,
    /// The taker of the answers wanted no more.
    Declined,
    /// It was told to stop.
    Interrupted,
}

/// Asks `ask` about each item with one of `engines` running programs, and hands the items on in order
/// with their answers, until the end, until `take` breaks off, or until `stop` is set.
///
/// What `ask` answers with a program must depend on the item alone.
///
/// # Panics
///
/// If the system grants no threads, or if `items`, `ask` or `take` does.
pub fn run<Q: Send, A: Send>(
    program: &Program,
    engines: usize,
    items: impl Iterator<Item = Q> + Send,
    ask: impl Fn(&mut Engine<'_>, &Q) -> Result<A, Fault> + Sync,
    stop: &AtomicBool,
    take: impl FnMut(Q, Result<A, Fault>) -> ControlFlow<()>,
) -> RunEnd {
    let engines = engines.max(1);
    let (permits, permitted) = channel();
    for _ in 0..IN_FLIGHT * engines {
        permits.send(()).expect("the receiver is alive");
    }
    let queue = Queue(Mutex::new((items.enumerate(), permitted)));
    let (alive, interrupt) = (AtomicUsize::new(engines), AtomicBool::new(false));
    let (answers, inbox) = channel();
    std::thread::scope(|scope| {
        for _ in 0..engines {
            let worker = Worker {
                program,
                interrupt: &interrupt,
                alive: &alive,
                engine: None,
                failed_starts: 0,
                overdue: 0,
                given_up: None,
            };
            let (queue, ask, answers) = (&queue, &ask, answers.clone());
            scope.spawn(move || worker.work(queue, ask, &answers));
        }
        drop(answers);
        let _interrupts = AtTheEnd(&interrupt);
        hand_on(&inbox, permits, [stop, &interrupt], take)
    })
}

/// Sets a flag when it goes, be it by panic: nobody shall wait for what will not come.
struct AtTheEnd<'f>(&'f AtomicBool);

impl Drop for AtTheEnd<'_> {
    fn drop(&mut self) {
        self.0.store(true, Ordering::Relaxed);
    }
}

type Answered<Q, A> = (usize, Q, Result<A, Fault>);

/// Hands the answers on in order; lets another item be taken for each.
fn hand_on<Q, A>(
    inbox: &Receiver<Answered<Q, A>>,
    permits: Sender<()>,
    stop: [&AtomicBool; 2],
    mut take: impl FnMut(Q, Result<A, Fault>) -> ControlFlow<()>,
) -> RunEnd {
    let mut early = BTreeMap::new();
    let mut due = 0;
    while !stop.iter().any(|stop| stop.load(Ordering::Relaxed)) {
        match inbox.recv_timeout(GLANCE) {
            Ok((number, item, answer)) => {
                early.insert(number, (item, answer));
            }
            Err(RecvTimeoutError::Timeout) => {}
            Err(RecvTimeoutError::Disconnected) => return RunEnd::AllDone,
        }
        while let Some((item, answer)) = early.remove(&due) {
            due += 1;
            if take(item, answer).is_break() {
                return RunEnd::Declined;
            }
            // Nobody takes permits once the items are all taken.
            let _ = permits.send(());
        }
    }
    RunEnd::Interrupted
}

/// The items that nobody has taken yet, and the permits to take one.
struct Queue<I>(Mutex<(Enumerate<I>, Receiver<()>)>);

impl<I: Iterator> Queue<I> {
    /// The next item and its number; waits for a permit. `None` if there are no more of either.
    fn next(&self) -> Option<(usize, I::Item)> {
        // A lock is poisoned only by items that panic; then there are no more.
        let mut queue = self.0.lock().ok()?;
        queue.1.recv().ok()?;
        queue.0.next()
    }
}

/// A thread of the pool and its program.
struct Worker<'p> {
    program: &'p Program,
    interrupt: &'p AtomicBool,
    /// How many workers have not given up.
    alive: &'p AtomicUsize,
    engine: Option<Engine<'p>>,
    failed_starts: u32,
    /// Over how many items in a row the time ran out.
    overdue: u32,
    /// Why it gave up.
    given_up: Option<Fault>,
}

impl<'p> Worker<'p> {
    fn work<I: Iterator, A>(
        mut self,
        queue: &Queue<I>,
        ask: &impl Fn(&mut Engine<'_>, &I::Item) -> Result<A, Fault>,
        answers: &Sender<Answered<I::Item, A>>,
    ) {
        while let Some((number, item)) = queue.next() {
            let had_given_up = self.given_up.is_some();
            let answer = self.answer(&item, ask);
            if self.interrupt.load(Ordering::Relaxed) {
                break;
            }
            // The caller hears no more once it has what it wants.
            if answers.send((number, item, answer)).is_err() {
                break;
            }
            let gives_up = self.given_up.is_some() && !had_given_up;
            if gives_up && self.alive.fetch_sub(1, Ordering::Relaxed) > 1 {
                break;
            }
        }
        if let Some(engine) = self.engine.take() {
            engine.end();
        }
    }

    /// Asks once, and once more if that may help.
    fn answer<Q, A>(
        &mut self,
        item: &Q,
        ask: &impl Fn(&mut Engine<'_>, &Q) -> Result<A, Fault>,
    ) -> Result<A, Fault> {
        let answer = match self.try_once(item, ask) {
            Err(fault) if fault.may_pass() => self.try_once(item, ask),
            answer => answer,
        };
        match &answer {
            Err(fault) if fault.is_out_of_time() => {
                self.overdue += 1;
                if self.overdue == OVERDUE {
                    self.given_up = Some(fault.clone());
                }
            }
            _ => self.overdue = 0,
        }
        answer
    }

    fn try_once<Q, A>(
        &mut self,
        item: &Q,
        ask: &impl Fn(&mut Engine<'_>, &Q) -> Result<A, Fault>,
    ) -> Result<A, Fault> {
        let mut engine = match self.engine.take() {
            Some(engine) => engine,
            None => self.start()?,
        };
        let answer = ask(&mut engine, item);
        // Otherwise it is dropped, and so killed.
        if answer.as_ref().err().is_none_or(Fault::leaves_it_sound) {
            self.engine = Some(engine);
        }
        answer
    }

    fn start(&mut self) -> Result<Engine<'p>, Fault> {
        if let Some(reason) = &self.given_up {
            return Err(Fault::GivenUp(Box::new(reason.clone())));
        }
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

impl Drop for Worker<'_> {
    fn drop(&mut self) {
        if std::thread::panicking() {
            self.interrupt.store(true, Ordering::Relaxed);
        }
    }
}
