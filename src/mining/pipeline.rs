//! The pipeline: workers that take turns at reading and cutting and mine what they have cut, and the
//! caller's thread, which gets the reports in the order of the collection.
//!
//! A worker mines the block that it has just read, while it is still in its cache, and another reads
//! the next one. What can be decompressed before it is its turn (`read_ahead`) is, by as many readers.
//! The buffers that blocks are cut into are as many as may be in flight; who finds none waits. So memory
//! is bounded by their number, not by the input.
//!
//! Invariant: the reports and their order are the same for any number of threads.

use std::ops::ControlFlow;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Sender, channel};

use super::block::Miner;
use super::block_size::BlockSize;
use super::cutting::{Blocks, Fresh, NextCut, room_of};
use super::plan::{Plan, SourceFailure};
use super::read_ahead::Ahead;
use super::report::BlockReport;
use super::waypoint::{Landmark, Progress, Waypoint};
use crate::collection::{Block, ByteOffset, Integrity};
use crate::work::{ThreadsRefused, beside, in_order};

/// A block that was mined.
#[derive(Clone, Copy, Debug)]
pub struct MinedBlock<'r> {
    /// The index of its source.
    pub source: usize,
    /// Its report.
    pub report: &'r BlockReport,
    /// Whether its games are whole.
    pub integrity: Integrity,
    /// How far the run has come after it.
    pub progress: Progress,
    /// The place after it, if mining can be resumed there.
    pub end: Option<Waypoint>,
}

/// What receives the reports of a run, in the order of the collection.
pub trait Sink {
    /// What can go wrong in it; it ends the run.
    type Error;

    /// Takes the report of a block of a source.
    ///
    /// # Errors
    ///
    /// Whatever keeps it from taking more.
    fn block(&mut self, mined: MinedBlock<'_>) -> Result<(), Self::Error>;

    /// Hears of a source that could not be read to its end. What was read of it has been taken before.
    ///
    /// # Errors
    ///
    /// Whatever keeps it from taking more.
    fn failure(&mut self, failure: SourceFailure) -> Result<(), Self::Error>;

    /// Hears where the text ends that is mined of the last source, if the plan ends within it.
    ///
    /// # Errors
    ///
    /// Whatever keeps it from taking more.
    fn end_within(&mut self, _offset: ByteOffset) -> Result<(), Self::Error> {
        Ok(())
    }
}

/// Why a run ended.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Stopped {
    /// All sources were read.
    AtTheEnd,
    /// As many games as were asked for have been read.
    AtTheLimit,
    /// It was told to stop.
    Interrupted,
}

/// What the workers make of what was cut.
enum Event {
    Mined(Fresh, Box<BlockReport>),
    Failed(SourceFailure),
    EndsWithin(ByteOffset),
}

/// What broke off a run.
#[derive(thiserror::Error, Debug)]
pub enum RunError<E> {
    /// The sink takes no more.
    #[error("{0}")]
    Sink(E),
    /// The system starts no more threads.
    #[error(transparent)]
    Threads(#[from] ThreadsRefused),
}

/// Runs a plan until its end, until the limit of games, or until `stop` is set.
///
/// # Errors
///
/// What the sink says when it takes no more; or that the system starts too few threads.
pub fn run<S: Sink>(
    plan: &Plan<'_>,
    stop: &'static AtomicBool,
    sink: &mut S,
) -> Result<Stopped, RunError<S::Error>> {
    let threads = plan.threads.max(1);
    let miner = Miner::new(plan.patterns, &plan.selection, plan.scrutiny).timed(plan.is_timed);
    let (give_back, buffers) = channel::<Vec<u8>>();
    let in_flight = 2 * threads + 2;
    for _ in 0..in_flight {
        give_back.send(Vec::new()).expect("the receiver is alive");
    }
    let block_size = BlockSize::up_to(plan.block_size.min(room_of(in_flight)));
    let ahead = Ahead::of(plan.sources, &plan.from, plan.until, threads, stop);
    let mut writer = Writer { plan, miner: &miner, give_back, sink, at: plan.from };
    let mut end = None;
    let mine = |(): &mut (), cut| {
        ControlFlow::Continue(match cut {
            NextCut::Failed(failure) => Event::Failed(failure),
            NextCut::EndsWithin(offset) => Event::EndsWithin(offset),
            NextCut::Block(fresh) => {
                let report = miner.mine(&fresh.block, u64::MAX);
                block_size.learn(&report);
                Event::Mined(fresh, Box::new(report))
            }
        })
    };
    let body = || {
        // When they are gone, so are the readers.
        let blocks = Blocks::new(plan, &ahead, &block_size, stop, (buffers, in_flight));
        // It hears interrupts itself: what a stopped source still holds is no block.
        let never = AtomicBool::new(false);
        let end = &mut end;
        // It is gone with its buffers once it takes no more, so that nobody waits for one.
        let take = move |event| writer.take(event).map_break(|reason| *end = Some(reason));
        in_order(&mut vec![(); threads], blocks, &never, mine, take)
    };
    beside(ahead.readers, || ahead.read(), body)??;
    match end {
        Some(Ok(stopped)) => Ok(stopped),
        Some(Err(error)) => Err(RunError::Sink(error)),
        None if stop.load(Ordering::Relaxed) => Ok(Stopped::Interrupted),
        None => Ok(Stopped::AtTheEnd),
    }
}

/// Gives the reports to the sink, in order.
struct Writer<'r, S: Sink> {
    plan: &'r Plan<'r>,
    miner: &'r Miner<'r>,
    /// Where buffers go to be used again.
    give_back: Sender<Vec<u8>>,
    sink: &'r mut S,
    /// How far the run has come.
    at: Waypoint,
}

impl<S: Sink> Writer<'_, S> {
    /// Takes what comes next; breaks with the reason if it takes no more.
    fn take(&mut self, event: Event) -> ControlFlow<Result<Stopped, S::Error>> {
        let taken = match event {
            Event::Failed(failure) => {
                let _ = self.give_back.send(Vec::new());
                self.sink.failure(failure).map(|()| None)
            }
            Event::EndsWithin(offset) => {
                let _ = self.give_back.send(Vec::new());
                self.sink.end_within(offset).map(|()| None)
            }
            Event::Mined(fresh, report) => self.write(fresh, *report),
        };
        taken.transpose().map_or(ControlFlow::Continue(()), ControlFlow::Break)
    }

    /// Gives the report of a block to the sink; tells if it was the last.
    fn write(
        &mut self,
        fresh: Fresh,
        mut report: BlockReport,
    ) -> Result<Option<Stopped>, S::Error> {
        let Fresh { source, block, buffers, landmark, consumed, times } = fresh;
        let games_left = self.plan.most_games - self.at.progress.games;
        let is_last = report.games >= games_left;
        if report.games > games_left {
            report = self.miner.mine(&block, games_left);
        }
        report.times.merge(&times);
        report.renumber(if self.at.source == source { self.at.games } else { 0 });
        self.at = after(&self.at, source, &block, &report, landmark, consumed);
        let can_go_on = matches!(block.integrity, Integrity::Whole | Integrity::Last) && !is_last;
        self.sink.block(MinedBlock {
            source,
            report: &report,
            integrity: block.integrity,
            progress: self.at.progress,
            end: can_go_on.then_some(self.at),
        })?;
        // One that was long must not stay so.
        let buffer = if buffers > 1 { Vec::new() } else { block.buffer };
        let _ = self.give_back.send(buffer);
        (1..buffers).for_each(|_| drop(self.give_back.send(Vec::new())));
        Ok(is_last.then_some(Stopped::AtTheLimit))
    }
}

/// The place after a block, which comes next after another place.
fn after(
    before: &Waypoint,
    source: usize,
    block: &Block,
    report: &BlockReport,
    landmark: Landmark,
    consumed: u64,
) -> Waypoint {
    let games_before = if before.source == source { before.games } else { 0 };
    let Progress { games, bytes, .. } = before.progress;
    Waypoint {
        source,
        offset: block.offset.0 + block.length as u64,
        games: games_before + report.games,
        landmark,
        progress: Progress { consumed, bytes: bytes + report.bytes, games: games + report.games },
    }
}
