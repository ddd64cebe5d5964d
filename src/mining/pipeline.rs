//! The pipeline: a thread that reads and cuts, workers that mine, and the caller's thread, which gets
//! the reports in the order of the collection.
//!
//! The buffers that blocks are cut into are as many as may be in flight; whoever has none waits. So
//! memory is bounded by their number, not by the input.
//!
//! Invariant: the reports and their order are the same for any number of threads.

use std::collections::BTreeMap;
use std::io;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::mpsc::{Receiver, Sender, channel};

use super::block::{BlockReport, Miner};
use super::selection::Selection;
use crate::collection::{Block, Cutter, Source, open};
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
    /// About how many bytes a block has.
    pub block_size: usize,
    /// Whether every game is replayed to its end.
    pub audit: bool,
    /// How many games are read at most.
    pub most_games: u64,
}

/// How far a run has come.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
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

/// What receives the reports of a run, in the order of the collection.
pub trait Sink {
    /// What can go wrong in it; it ends the run.
    type Error;

    /// Takes the report of a block of a source.
    ///
    /// # Errors
    ///
    /// Whatever keeps it from taking more.
    fn block(
        &mut self,
        source: usize,
        report: &BlockReport,
        progress: Progress,
    ) -> Result<(), Self::Error>;

    /// Hears of a source that broke off. What was read of it has been taken before.
    fn failure(&mut self, failure: SourceFailure);
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

/// What the reader and the workers send to the caller's thread, with its number in order.
enum Event {
    Mined { source: usize, block: Block, report: BlockReport, consumed: u64 },
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
    let pool = rayon::ThreadPoolBuilder::new()
        .num_threads(plan.threads.max(1))
        .build()
        .expect("the system grants the threads that a run needs");
    let miner = Miner::new(plan.patterns, &plan.selection, plan.audit);
    let (events, inbox) = channel::<Numbered>();
    let (give_back, buffers) = channel::<Vec<u8>>();
    for _ in 0..2 * plan.threads.max(1) + 2 {
        give_back.send(Vec::new()).expect("the receiver is alive");
    }
    std::thread::scope(|threads| {
        let miner = &miner;
        threads.spawn(move || {
            pool.in_place_scope(|workers| {
                read_sources(plan, stop, &buffers, &events, miner, workers)
            });
        });
        write_in_order(plan, stop, miner, &inbox, give_back, sink)
    })
}

/// Reads the sources block by block and hands each to a worker.
fn read_sources<'s>(
    plan: &Plan<'_>,
    stop: &AtomicBool,
    buffers: &Receiver<Vec<u8>>,
    events: &Sender<Numbered>,
    miner: &'s Miner<'s>,
    workers: &rayon::Scope<'s>,
) {
    let mut number = 0;
    let mut consumed_before = 0;
    let mut spare = None;
    for (index, source) in plan.sources.iter().enumerate() {
        let archive = match open(source) {
            Ok(archive) => archive,
            Err(cause) => {
                let _ =
                    events.send((number, Event::Failed(SourceFailure { source: index, cause })));
                number += 1;
                continue;
            }
        };
        let consumed: Arc<AtomicU64> = archive.consumed();
        let mut cutter = Cutter::new(archive, plan.block_size);
        loop {
            let Some(buffer) = spare.take().or_else(|| buffers.recv().ok()) else {
                return;
            };
            if stop.load(Ordering::Relaxed) {
                return;
            }
            let consumed = consumed_before + consumed.load(Ordering::Relaxed);
            match cutter.next_block(buffer) {
                Ok(None) => {
                    spare = Some(Vec::new());
                    break;
                }
                Ok(Some(block)) => {
                    let events = events.clone();
                    workers.spawn(move |_| {
                        let report = miner.mine(&block, u64::MAX);
                        let _ = events.send((
                            number,
                            Event::Mined { source: index, block, report, consumed },
                        ));
                    });
                }
                Err(cause) => {
                    let _ = events
                        .send((number, Event::Failed(SourceFailure { source: index, cause })));
                    number += 1;
                    spare = Some(Vec::new());
                    break;
                }
            }
            number += 1;
        }
        consumed_before += consumed.load(Ordering::Relaxed);
    }
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
    let mut progress = Progress::default();
    let mut in_source = (0, 0);
    while let Ok((number, event)) = inbox.recv() {
        early.insert(number, event);
        while let Some(event) = early.remove(&due) {
            due += 1;
            let (source, block, mut report, consumed) = match event {
                Event::Failed(failure) => {
                    sink.failure(failure);
                    continue;
                }
                Event::Mined { source, block, report, consumed } => {
                    (source, block, report, consumed)
                }
            };
            let games_left = plan.most_games - progress.games;
            if report.games > games_left {
                report = miner.mine(&block, games_left);
            }
            if in_source.0 != source {
                in_source = (source, 0);
            }
            report.renumber(in_source.1);
            in_source.1 += report.games;
            progress.games += report.games;
            progress.bytes += block.length as u64;
            progress.consumed = consumed;
            sink.block(source, &report, progress)?;
            if progress.games == plan.most_games {
                return Ok(Stopped::AtTheLimit);
            }
            let _ = give_back.send(block.buffer);
        }
    }
    Ok(if stop.load(Ordering::Relaxed) { Stopped::Interrupted } else { Stopped::AtTheEnd })
}
