//! The blocks of all sources, one after the other, as workers ask for them.
//!
//! Invariant: the blocks joined are the text of the sources, as far as nobody told to stop.

use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::Receiver;
use std::time::Instant;

use super::block_size::BlockSize;
use super::plan::{Plan, SourceFailure};
use super::read_ahead::Ahead;
use super::source_reader::SourceReader;
use super::stages::{Stage, Times};
use super::waypoint::Landmark;
use crate::collection::{Block, ByteOffset, Cutter, Edge};

/// What comes next in the sources.
pub(super) enum NextCut {
    Block(Fresh),
    Failed(SourceFailure),
    /// The plan ends within the source that was read, before this byte of its text.
    EndsWithin(ByteOffset),
}

/// A block that was just cut.
pub(super) struct Fresh {
    pub(super) source: usize,
    pub(super) block: Block,
    /// How many buffers it takes of those that may be in flight.
    pub(super) buffers: usize,
    /// A known place at or before its end.
    pub(super) landmark: Landmark,
    /// Bytes consumed of all sources.
    pub(super) consumed: u64,
    /// What it took to get it.
    pub(super) times: Times,
}

/// How many bytes all blocks in flight should hold at most.
const MOST_IN_FLIGHT: usize = 24 << 20;

/// How many bytes a buffer holds of those that may be in flight, whose number this is. A block that is longer,
/// because a game of it is, takes several.
pub(super) fn room_of(in_flight: usize) -> usize {
    /// Shorter blocks would cost more to hand over than to mine.
    const LEAST: usize = 1 << 16;
    (MOST_IN_FLIGHT / in_flight).max(LEAST)
}

/// The blocks of all sources, in order. Ends early when it is told to stop or when no buffer
/// will come back any more.
pub(super) struct Blocks<'a> {
    block_size: &'a BlockSize,
    stop: &'a AtomicBool,
    /// Where the plan ends, if it ends within a source.
    until: Option<Edge>,
    buffers: Receiver<Vec<u8>>,
    /// How many buffers there are.
    in_flight: usize,
    /// How many bytes a buffer may hold before it counts as several.
    room: usize,
    reading: CuttingState<'a>,
    /// How long reading and decompressing took until the last block.
    times: Times,
}

/// Where the reader of the sources is.
enum CuttingState<'a> {
    Between(SourceReader<'a>),
    In { source: usize, cutter: Cutter<SourceReader<'a>> },
    Ended,
}

impl<'a> Blocks<'a> {
    pub(super) fn new(
        plan: &Plan<'_>,
        ahead: &'a Ahead<'a>,
        block_size: &'a BlockSize,
        stop: &'a AtomicBool,
        (buffers, in_flight): (Receiver<Vec<u8>>, usize),
    ) -> Blocks<'a> {
        let until = plan.until.filter(Edge::is_inside);
        let reader = SourceReader::new(ahead, plan.sources, (&plan.from, until), stop);
        let reading = CuttingState::Between(reader);
        let times = Times::default();
        let room = room_of(in_flight);
        Blocks { block_size, stop, until, buffers, in_flight, room, reading, times }
    }

    /// Takes as many buffers as a block needs besides its own, for its text and for a report that may be as
    /// many times as long as the block is longer than asked for; how many it has then. Blocks before it give
    /// theirs back in any case, so this only waits for them.
    fn take_room(&self, block: &Block) -> Option<usize> {
        let for_text = block.buffer.len() / self.room;
        let for_report = block.length / self.block_size.bytes();
        let needed = for_text.max(for_report).clamp(1, self.in_flight);
        (1..needed).try_for_each(|_| self.buffers.recv().ok().map(drop))?;
        Some(needed)
    }

    /// The cutter of the source that is being read, or else of the next one; `None` after the last.
    fn cutter(&mut self) -> Option<Result<(usize, &mut Cutter<SourceReader<'a>>), SourceFailure>> {
        if let CuttingState::Between(_) = self.reading
            && let CuttingState::Between(mut reader) =
                std::mem::replace(&mut self.reading, CuttingState::Ended)
        {
            let source = reader.next_source()?;
            match reader.wind() {
                Err(cause) => {
                    let checked = reader.checked();
                    self.reading = CuttingState::Between(reader);
                    return Some(Err(SourceFailure { source, cause, checked }));
                }
                Ok(offset) => {
                    let cutter = Cutter::from(ByteOffset(offset), reader, self.block_size.bytes());
                    let ends_within = self.until.is_some_and(|until| until.source == source);
                    let cutter = if ends_within { cutter.ending_whole() } else { cutter };
                    self.reading = CuttingState::In { source, cutter };
                }
            }
        }
        match &mut self.reading {
            CuttingState::In { source, cutter } => Some(Ok((*source, cutter))),
            _ => None,
        }
    }

    /// Closes the source that was read. Gives back the buffer that was not used up: making one takes far
    /// longer than to read a small source.
    fn close_source(&mut self) -> Vec<u8> {
        let CuttingState::In { cutter, .. } =
            std::mem::replace(&mut self.reading, CuttingState::Ended)
        else {
            return Vec::new();
        };
        let (reader, buffer) = cutter.into_parts();
        self.reading = CuttingState::Between(reader);
        buffer
    }

    fn cut(&mut self) -> Option<NextCut> {
        let mut buffer = self.buffers.recv().ok()?;
        while !self.stop.load(Ordering::Relaxed) {
            let bytes = self.block_size.bytes();
            let (source, cutter) = match self.cutter()? {
                Ok(found) => found,
                Err(failure) => return Some(NextCut::Failed(failure)),
            };
            let (started, waited) = (Instant::now(), cutter.input().waited);
            cutter.set_block_size(bytes);
            match cutter.next_block(buffer) {
                Ok(Some(block)) => {
                    let cutting = started.elapsed();
                    let reader = cutter.input();
                    let cutting = cutting.saturating_sub(reader.waited - waited);
                    let [read, decompressed] = reader.times();
                    let consumed = reader.consumed();
                    let landmark = reader.landmark(block.offset.0 + block.length as u64);
                    let mut now = self.times;
                    now.set(Stage::Read, read);
                    now.set(Stage::Decompress, decompressed);
                    now.add(Stage::Cut, cutting);
                    let times = now.since(&self.times);
                    self.times = now;
                    let buffers = self.take_room(&block)?;
                    return Some(NextCut::Block(Fresh {
                        source,
                        block,
                        buffers,
                        landmark,
                        consumed,
                        times,
                    }));
                }
                Ok(None) => {
                    let end = cutter.input().end_within();
                    buffer = self.close_source();
                    if let Some(end) = end {
                        return Some(NextCut::EndsWithin(ByteOffset(end)));
                    }
                }
                Err(cause) => {
                    let checked = cutter.input().checked();
                    self.close_source();
                    return Some(NextCut::Failed(SourceFailure { source, cause, checked }));
                }
            }
        }
        None
    }
}

impl Iterator for Blocks<'_> {
    type Item = NextCut;

    fn next(&mut self) -> Option<NextCut> {
        // No buffer may be left to wait for: those of a block that was let go do not come back.
        if self.stop.load(Ordering::Relaxed) {
            return None;
        }
        // What was read when it was told to stop may be a part of a game.
        self.cut().filter(|_| !self.stop.load(Ordering::Relaxed))
    }
}

#[cfg(test)]
mod tests {
    use std::sync::mpsc::channel;
    use std::time::Duration;

    use super::*;
    use crate::mining::{Scrutiny, Selection, Waypoint};

    #[test]
    fn nobody_waits_for_a_buffer_once_it_is_told_to_stop() {
        static STOP: AtomicBool = AtomicBool::new(true);
        let (done, is_done) = channel();
        std::thread::spawn(move || {
            let plan = Plan {
                sources: &[],
                patterns: &[],
                selection: Selection::default(),
                threads: 1,
                block_size: 1 << 16,
                scrutiny: Scrutiny::default(),
                most_games: u64::MAX,
                from: Waypoint::default(),
                until: None,
                is_timed: false,
            };
            let ahead = Ahead::of(plan.sources, &plan.from, None, 1, &STOP);
            let block_size = BlockSize::up_to(plan.block_size);
            // All were let go, and somebody may still give one back.
            let (_give_back, buffers) = channel();
            let next = Blocks::new(&plan, &ahead, &block_size, &STOP, (buffers, 1)).next();
            let _ = done.send(next.is_none());
        });
        assert_eq!(is_done.recv_timeout(Duration::from_secs(20)), Ok(true));
    }
}
