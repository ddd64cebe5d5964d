//! The text of one source after the other, joined from its strands.

use std::collections::VecDeque;
use std::io::{self, BufReader, Read};
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use super::read_ahead::{Ahead, StrandTurn};
use super::waypoint::{Landmark, Waypoint};
use crate::collection::{Edge, Source};

/// Reads the sources of a run one after the other.
pub(super) struct SourceReader<'a> {
    ahead: &'a Ahead<'a>,
    stop: &'a AtomicBool,
    /// The strand that is being read.
    turn: Option<StrandTurn>,
    /// The first strand of the next source.
    next_source: Option<StrandTurn>,
    /// The first place in the run; only its own source is wound to it.
    from: Waypoint,
    /// Where the run ends, if it ends within a source.
    until: Option<Edge>,
    /// How many bytes of the source's uncompressed stream belong to the run, once that is known.
    limit: Option<u64>,
    source: usize,
    /// How many bytes of the source's uncompressed stream have been read.
    position: u64,
    /// Where strands of the source start.
    landmarks: VecDeque<Landmark>,
    /// Bytes consumed of the sources before it.
    consumed_before: u64,
    /// How long who reads has waited for bytes.
    pub(super) waited: Duration,
    /// How long reading and decompressing the strands before this one took.
    times_before: [Duration; 2],
}

impl<'a> SourceReader<'a> {
    pub(super) fn new(
        ahead: &'a Ahead<'a>,
        sources: &[Source],
        (from, until): (&Waypoint, Option<Edge>),
        stop: &'a AtomicBool,
    ) -> SourceReader<'a> {
        SourceReader {
            ahead,
            stop,
            turn: None,
            next_source: None,
            from: *from,
            until,
            limit: None,
            source: from.source,
            position: 0,
            landmarks: VecDeque::new(),
            consumed_before: sources[..from.source].iter().filter_map(|source| source.size).sum(),
            waited: Duration::ZERO,
            times_before: [Duration::ZERO; 2],
        }
    }

    /// Turns to the next source and gives its index; `None` after the last.
    pub(super) fn next_source(&mut self) -> Option<usize> {
        let is_first = self.turn.is_none();
        if !is_first {
            self.consumed_before = self.consumed();
        }
        let left = self.source;
        let mut turn = self.next_source.take().or_else(|| self.ahead.next_turn())?;
        while !is_first && turn.source == left {
            // The source ended early in an earlier strand.
            self.ahead.release(turn);
            turn = self.ahead.next_turn()?;
        }
        self.source = turn.source;
        let is_from = is_first && turn.source == self.from.source;
        self.position = if is_from { self.from.landmark.offset } else { 0 };
        self.landmarks.clear();
        self.begin(turn);
        Some(self.source)
    }

    /// Where the source is to be cut from: winds it there.
    ///
    /// # Errors
    ///
    /// What the system or the decompressor says; or that the source ends before.
    pub(super) fn wind(&mut self) -> io::Result<u64> {
        if self.source != self.from.source {
            return Ok(0);
        }
        let missing = self.from.offset - self.position;
        let passed = self.by_ref().take(missing);
        let wound = io::copy(&mut BufReader::with_capacity(1 << 17, passed), &mut io::sink())?;
        if wound < missing {
            return Err(io::Error::new(
                io::ErrorKind::UnexpectedEof,
                format!(
                    "it ends before byte {}, where the run was to be resumed",
                    self.from.offset
                ),
            ));
        }
        Ok(self.from.offset)
    }

    /// How many bytes of the source's text are those of strands that were read to their ends.
    pub(super) fn checked(&self) -> u64 {
        self.landmarks.back().map_or(0, |landmark| landmark.offset)
    }

    /// Where the run ends within the source that was read, if it does.
    pub(super) fn end_within(&self) -> Option<u64> {
        self.limit.filter(|limit| *limit == self.position)
    }

    fn begin(&mut self, turn: StrandTurn) {
        if let Some(until) = self.until.filter(|until| until.source == turn.source) {
            self.limit = match turn.is_plain {
                true => Some(until.offset),
                false if turn.start == until.start => Some(self.position + until.offset),
                false => None,
            };
        }
        self.landmarks.push_back(Landmark { start: turn.start, offset: self.position });
        self.leave_turn();
        self.turn = Some(turn);
    }

    fn leave_turn(&mut self) {
        self.times_before = self.times();
        if let Some(turn) = self.turn.take() {
            self.ahead.release(turn);
        }
    }

    /// The last known place at or before an offset of this source.
    pub(super) fn landmark(&mut self, offset: u64) -> Landmark {
        if self.turn.as_ref().is_some_and(|turn| turn.is_plain) {
            return Landmark { start: offset, offset };
        }
        while self.landmarks.get(1).is_some_and(|next| next.offset <= offset) {
            self.landmarks.pop_front();
        }
        self.landmarks.front().copied().unwrap_or_default()
    }

    /// Bytes consumed of all sources.
    pub(super) fn consumed(&self) -> u64 {
        let in_source = self.turn.as_ref().map_or(0, |turn| turn.start + turn.meter().consumed());
        self.consumed_before + in_source
    }

    /// How long reading and decompressing took.
    pub(super) fn times(&self) -> [Duration; 2] {
        let meter = self.turn.as_ref().map(StrandTurn::meter);
        let [reading, decompressing] = self.times_before;
        [
            reading + meter.map_or(Duration::ZERO, |meter| meter.reading()),
            decompressing + meter.map_or(Duration::ZERO, |meter| meter.decompressing()),
        ]
    }

    fn read_on(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        loop {
            let Some(turn) = &mut self.turn else { return Ok(0) };
            let left = self.limit.map_or(u64::MAX, |limit| limit.saturating_sub(self.position));
            let room = usize::try_from(left).unwrap_or(usize::MAX).min(buffer.len());
            if left == 0 {
                return Ok(0);
            }
            let length = turn.read(&mut buffer[..room])?;
            self.position += length as u64;
            if length > 0 || self.next_source.is_some() || buffer.is_empty() {
                return Ok(length);
            }
            match self.ahead.next_turn() {
                Some(next) if next.source == self.source => self.begin(next),
                Some(next) => {
                    self.next_source = Some(next);
                    return Ok(0);
                }
                None if self.until.is_some_and(|until| until.source == self.source) => {
                    let message = "it ends before the place where the part was to end";
                    return Err(io::Error::new(io::ErrorKind::UnexpectedEof, message));
                }
                None => return Ok(0),
            }
        }
    }
}

impl Read for SourceReader<'_> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        if self.stop.load(Ordering::Relaxed) {
            // A game without end would go on being read.
            return Err(io::Error::other("interrupted"));
        }
        let started = Instant::now();
        let read = self.read_on(buffer);
        self.waited += started.elapsed();
        read
    }
}

impl Drop for SourceReader<'_> {
    fn drop(&mut self) {
        self.ahead.close();
    }
}
