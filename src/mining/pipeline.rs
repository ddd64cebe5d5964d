//! The pipeline: workers that take turns at reading and cutting and mine what they have cut, and the
//! caller's thread, which gets the reports in the order of the collection.
//!
//! A worker mines the block that it has just read, while it is still in its cache, and another reads
//! the next one. What can be decompressed before it is its turn (`read_ahead`) is, by as many readers.
//! The buffers that blocks are cut into are as many as may be in flight; who finds none waits. So memory
//! is bounded by their number, not by the input.
//!
//! Invariant: the reports and their order are the same for any number of threads.

use std::collections::BTreeMap;
use std::io;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, Sender, channel};

use rayon::iter::{ParallelBridge, ParallelIterator};
use serde::{Deserialize, Serialize};

use super::block::{Miner, Scrutiny};
use super::cutting::{Blocks, Cut, Fresh};
use super::pace::Pace;
use super::read_ahead::Ahead;
use super::report::BlockReport;
use super::selection::Selection;
use super::waypoint::{Landmark, Waypoint};
use crate::collection::{Block, Integrity, Source};
use crate::query::Pattern;

/// What to mine, and how.
#[derive(Debug)]
pub struct Plan<'p> {
    /// The sources, in order.
    pub sources: &'p [Source],
    /// What to look for.
    pub patterns: &'p [Pattern],
    /// Which games to look at.
    pub selection: Selection,
    /// How many workers mine.
    pub threads: usize,
    /// About how many bytes a block has at most.
    pub block_size: usize,
    /// How thoroughly games are looked at.
    pub scrutiny: Scrutiny,
    /// How many games are read at most.
    pub most_games: u64,
    /// Where to begin; by default at the start of the first source.
    pub from: Waypoint,
    /// Whether it is measured how long each stage takes with each game.
    pub is_timed: bool,
}

/// How far a run has come.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Serialize, Deserialize)]
pub struct Progress {
    /// Bytes read from the sources, before decompression.
    pub consumed: u64,
    /// Bytes mined, after decompression.
    pub bytes: u64,
    /// Games read.
    pub games: u64,
}

/// A source that could not be read to its end.
#[derive(Debug)]
pub struct SourceFailure {
    /// Its index among the sources.
    pub source: usize,
    /// What the system or the decompressor says.
    pub cause: io::Error,
}

/// A block that was mined.
#[derive(Clone, Copy, Debug)]
pub struct MinedBlock<'r> {
    /// The index of its source.
    pub source: usize,
    /// What it came to.
    pub report: &'r BlockReport,
    /// Whether its games are whole.
    pub integrity: Integrity,
    /// How far the run has come behind it.
    pub progress: Progress,
    /// The place behind it, if mining can go on from there.
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

    /// Hears of a source that broke off. What was read of it has been taken before.
    ///
    /// # Errors
    ///
    /// Whatever keeps it from taking more.
    fn failure(&mut self, failure: SourceFailure) -> Result<(), Self::Error>;
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

/// What the workers send to the caller's thread, with its number in order.
enum Event {
    Mined(Fresh, Box<BlockReport>),
    Failed(SourceFailure),
}

type Numbered = (u64, Event);

/// Runs a plan until its end, until the limit of games, or until `stop` is set.
///
/// # Errors
///
/// What the sink says when it takes no more.
///
/// # Panics
///
/// If the system grants no threads.
pub fn run<S: Sink>(plan: &Plan<'_>, stop: &AtomicBool, sink: &mut S) -> Result<Stopped, S::Error> {
    let threads = plan.threads.max(1);
    let pool = rayon::ThreadPoolBuilder::new()
        .num_threads(threads)
        .build()
        .expect("the system grants the threads that a run needs");
    let miner = Miner::new(plan.patterns, &plan.selection, plan.scrutiny).timed(plan.is_timed);
    let (events, inbox) = channel::<Numbered>();
    let (give_back, buffers) = channel::<Vec<u8>>();
    for _ in 0..2 * threads + 2 {
        give_back.send(Vec::new()).expect("the receiver is alive");
    }
    let pace = Pace::up_to(plan.block_size);
    let ahead = Ahead::of(plan.sources, &plan.from, threads);
    std::thread::scope(|scope| {
        let (miner, ahead, pace) = (&miner, &ahead, &pace);
        for _ in 0..ahead.readers {
            scope.spawn(|| ahead.read());
        }
        let blocks = Blocks::new(plan, ahead, pace, stop, buffers);
        scope.spawn(move || {
            pool.install(|| {
                blocks.par_bridge().for_each_with(events, |events, (number, cut)| {
                    let event = match cut {
                        Cut::Failed(failure) => Event::Failed(failure),
                        Cut::Block(fresh) => {
                            let report = miner.mine(&fresh.block, u64::MAX);
                            pace.learn(&report);
                            Event::Mined(fresh, Box::new(report))
                        }
                    };
                    // The caller hears no more once the sink has failed or the limit is reached.
                    let _ = events.send((number, event));
                });
            });
        });
        write_in_order(plan, stop, miner, &inbox, give_back, sink)
    })
}

/// Takes the events back in order and gives the reports to the sink.
fn write_in_order<S: Sink>(
    plan: &Plan<'_>,
    stop: &AtomicBool,
    miner: &Miner<'_>,
    inbox: &Receiver<Numbered>,
    give_back: Sender<Vec<u8>>,
    sink: &mut S,
) -> Result<Stopped, S::Error> {
    let mut early: BTreeMap<u64, Event> = BTreeMap::new();
    let mut due = 0;
    let mut at = plan.from;
    while let Ok((number, event)) = inbox.recv() {
        early.insert(number, event);
        while let Some(event) = early.remove(&due) {
            due += 1;
            let (fresh, mut report) = match event {
                Event::Failed(failure) => {
                    let _ = give_back.send(Vec::new());
                    sink.failure(failure)?;
                    continue;
                }
                Event::Mined(fresh, report) => (fresh, report),
            };
            let Fresh { source, block, landmark, consumed, times } = fresh;
            let games_left = plan.most_games - at.progress.games;
            let is_last = report.games >= games_left;
            if report.games > games_left {
                *report = miner.mine(&block, games_left);
            }
            report.times.merge(&times);
            report.renumber(if at.source == source { at.games } else { 0 });
            at = behind(&at, source, &block, &report, landmark, consumed);
            let can_go_on = block.integrity == Integrity::Whole && !is_last;
            sink.block(MinedBlock {
                source,
                report: &report,
                integrity: block.integrity,
                progress: at.progress,
                end: can_go_on.then_some(at),
            })?;
            if is_last {
                return Ok(Stopped::AtTheLimit);
            }
            let _ = give_back.send(block.buffer);
        }
    }
    Ok(if stop.load(Ordering::Relaxed) { Stopped::Interrupted } else { Stopped::AtTheEnd })
}

/// The place behind a block, which comes next after another place.
fn behind(
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
