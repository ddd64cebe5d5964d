//! The pipeline: workers that take turns at reading and cutting and mine what they have cut, and the
//! caller's thread, which gets the reports in the order of the collection.
//!
//! A worker mines the block that it has just read, while it is still in its cache, and another reads
//! the next one; no thread does nothing but read, so no more threads run than there are workers. The
//! buffers that blocks are cut into are as many as may be in flight; who finds none waits. So memory is
//! bounded by their number, not by the input.
//!
//! Invariant: the reports and their order are the same for any number of threads.

use std::collections::BTreeMap;
use std::io;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::mpsc::{Receiver, Sender, channel};

use rayon::iter::{ParallelBridge, ParallelIterator};

use super::block::{BlockReport, Miner, Scrutiny};
use super::pace::Pace;
use super::selection::Selection;
use crate::collection::{Archive, Block, Cutter, Source, open};
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

/// What the workers send to the caller's thread, with its number in order.
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
    let threads = plan.threads.max(1);
    let pool = rayon::ThreadPoolBuilder::new()
        .num_threads(threads)
        .build()
        .expect("the system grants the threads that a run needs");
    let miner = Miner::new(plan.patterns, &plan.selection, plan.scrutiny);
    let (events, inbox) = channel::<Numbered>();
    let (give_back, buffers) = channel::<Vec<u8>>();
    for _ in 0..2 * threads + 2 {
        give_back.send(Vec::new()).expect("the receiver is alive");
    }
    let pace = Pace::up_to(plan.block_size);
    std::thread::scope(|scope| {
        let (miner, pace) = (&miner, &pace);
        let blocks = Blocks::new(plan.sources, pace, stop, buffers);
        scope.spawn(move || {
            pool.install(|| {
                blocks.par_bridge().for_each_with(events, |events, (number, cut)| {
                    let event = match cut {
                        Cut::Failed(failure) => Event::Failed(failure),
                        Cut::Block { source, block, consumed } => {
                            let report = miner.mine(&block, u64::MAX);
                            pace.learn(&report);
                            Event::Mined { source, block, report, consumed }
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

/// What comes next in the sources.
enum Cut {
    Block { source: usize, block: Block, consumed: u64 },
    Failed(SourceFailure),
}

/// The blocks of all sources, numbered in order. Ends early when it is told to stop or when no buffer
/// will come back any more.
struct Blocks<'p> {
    sources: std::iter::Enumerate<std::slice::Iter<'p, Source>>,
    pace: &'p Pace,
    stop: &'p AtomicBool,
    buffers: Receiver<Vec<u8>>,
    /// The source that is being read.
    open: Option<OpenSource>,
    /// Bytes consumed of the sources before it.
    consumed_before: u64,
    number: u64,
}

struct OpenSource {
    index: usize,
    cutter: Cutter<Archive>,
    consumed: Arc<AtomicU64>,
}

impl<'p> Blocks<'p> {
    fn new(
        sources: &'p [Source],
        pace: &'p Pace,
        stop: &'p AtomicBool,
        buffers: Receiver<Vec<u8>>,
    ) -> Blocks<'p> {
        let sources = sources.iter().enumerate();
        Blocks { sources, pace, stop, buffers, open: None, consumed_before: 0, number: 0 }
    }

    /// The source that is being read, or else the next one; `None` behind the last.
    fn source(&mut self) -> Option<Result<&mut OpenSource, SourceFailure>> {
        if self.open.is_none() {
            let (index, source) = self.sources.next()?;
            match open(source) {
                Err(cause) => return Some(Err(SourceFailure { source: index, cause })),
                Ok(archive) => {
                    let consumed = archive.consumed();
                    let cutter = Cutter::new(archive, self.pace.block_size());
                    self.open = Some(OpenSource { index, cutter, consumed });
                }
            }
        }
        self.open.as_mut().map(Ok)
    }

    fn close_source(&mut self) {
        if let Some(source) = self.open.take() {
            self.consumed_before += source.consumed.load(Ordering::Relaxed);
        }
    }

    fn cut(&mut self) -> Option<Cut> {
        let mut buffer = self.buffers.recv().ok()?;
        while !self.stop.load(Ordering::Relaxed) {
            let (consumed_before, block_size) = (self.consumed_before, self.pace.block_size());
            let source = match self.source()? {
                Ok(source) => source,
                Err(failure) => return Some(Cut::Failed(failure)),
            };
            source.cutter.set_block_size(block_size);
            match source.cutter.next_block(buffer) {
                Ok(Some(block)) => {
                    let consumed = consumed_before + source.consumed.load(Ordering::Relaxed);
                    return Some(Cut::Block { source: source.index, block, consumed });
                }
                Ok(None) => self.close_source(),
                Err(cause) => {
                    let failure = SourceFailure { source: source.index, cause };
                    self.close_source();
                    return Some(Cut::Failed(failure));
                }
            }
            buffer = Vec::new();
        }
        None
    }
}

impl Iterator for Blocks<'_> {
    type Item = (u64, Cut);

    fn next(&mut self) -> Option<(u64, Cut)> {
        let cut = self.cut()?;
        self.number += 1;
        Some((self.number - 1, cut))
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
                    let _ = give_back.send(Vec::new());
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
