//! Reads and decompresses strands before it is their turn, several at a time.
//!
//! Readers take the strands in order and read each into memory until it ends, until the memory that all
//! share is used up, or until its turn comes: then it is handed over as it is, and whoever has it reads
//! on. So a source in one long strand costs no memory, and nobody waits for a reader who could read alone.
//!
//! Invariant: strands are handed over in order, and say the same as if nobody had read them before.

use std::collections::BTreeMap;
use std::io::{self, Read};
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};

use super::patient::Patient;
use super::waypoint::Waypoint;
use crate::collection::{
    Archive, Edge, MOST_OF_FRAME, Meter, Origin, Source, Strand, Strands, Stream,
};

/// How many bytes of text all strands that were read ahead hold at most. One frame fits in twice.
const MOST_AHEAD: usize = 2 * MOST_OF_FRAME;

/// How many heads are kept to be used again.
const MOST_SPARE: usize = 2;

/// How many bytes are read ahead of a strand that may be longer.
const HEAD: usize = 8 << 20;

/// How many bytes of a strand are read ahead.
fn head_of(strand: &Strand<'_>) -> usize {
    strand.bound.unwrap_or(HEAD)
}

/// A strand whose turn has come.
pub(super) struct StrandTurn {
    /// The index of its source.
    pub(super) source: usize,
    /// Where it starts in the file.
    pub(super) start: u64,
    /// Whether its text is the bytes of the file.
    pub(super) is_plain: bool,
    head: Vec<u8>,
    /// How much of the head has been read.
    at: usize,
    rest: Option<Archive>,
    trouble: Option<io::Error>,
    meter: Arc<Meter>,
    /// How much of the shared memory it takes.
    share: usize,
}

impl StrandTurn {
    fn open(strand: &Strand<'_>, mut head: Vec<u8>, stop: &'static AtomicBool) -> StrandTurn {
        head.clear();
        let patiently = |origin: &Origin| {
            let origin = origin.clone();
            let stream = Patient::start(move || origin.open(), stop)?;
            Ok(Box::new(stream) as Stream)
        };
        let (rest, trouble) = match strand.open(patiently) {
            Ok(archive) => (Some(archive), None),
            Err(error) => (None, Some(error)),
        };
        StrandTurn {
            source: strand.source,
            start: strand.start,
            is_plain: strand.is_plain(),
            head,
            at: 0,
            meter: rest.as_ref().map(|archive| Arc::clone(archive.meter())).unwrap_or_default(),
            rest,
            trouble,
            share: 0,
        }
    }

    /// Reads into the head as long as it may.
    fn read_ahead(&mut self, most: usize, may_go_on: impl Fn() -> bool) {
        while self.head.len() + Archive::AT_A_TIME <= most
            && may_go_on()
            && let Some(rest) = &mut self.rest
        {
            let filled = self.head.len();
            self.head.reserve_exact(most - filled);
            self.head.resize(filled + Archive::AT_A_TIME, 0);
            let read = rest.read(&mut self.head[filled..]);
            self.head.truncate(filled + *read.as_ref().unwrap_or(&0));
            match read {
                Ok(0) => self.rest = None,
                Ok(_) => {}
                Err(error) if error.kind() == io::ErrorKind::Interrupted => {}
                Err(error) => {
                    self.trouble = Some(error);
                    self.rest = None;
                }
            }
        }
    }

    /// What it took to read it so far.
    pub(super) fn meter(&self) -> &Meter {
        &self.meter
    }
}

impl Read for StrandTurn {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        if self.at < self.head.len() {
            let length = (&self.head[self.at..]).read(buffer)?;
            self.at += length;
            return Ok(length);
        }
        if let Some(error) = self.trouble.take() {
            return Err(error);
        }
        let Some(rest) = &mut self.rest else { return Ok(0) };
        let length = rest.read(buffer)?;
        if length == 0 && !buffer.is_empty() {
            // What it took to decompress must not be held until the next strand is there.
            self.rest = None;
        }
        Ok(length)
    }
}

/// What readers and the one they read for share.
pub(super) struct Ahead<'s> {
    state: Mutex<AheadState<'s>>,
    changed: Condvar,
    /// The number of the strand that is waited for.
    awaited: AtomicU64,
    stop: &'static AtomicBool,
    /// How many readers there are. Without any, strands are opened when it is their turn.
    pub(super) readers: usize,
}

struct AheadState<'s> {
    strands: std::iter::Peekable<Strands<'s>>,
    /// How many strands readers have taken.
    taken: u64,
    /// The number of the strand whose turn is next.
    next: u64,
    ready: BTreeMap<u64, StrandTurn>,
    /// How much memory they take, and those in work.
    held: usize,
    /// Heads that were read, to be used again.
    spare: Vec<Vec<u8>>,
    is_closed: bool,
}

const NONE_AWAITED: u64 = u64::MAX;

impl<'s> Ahead<'s> {
    /// Strands to be read ahead, from a place on to another, until it is told to stop. One worker reads for
    /// itself.
    pub(super) fn of(
        sources: &'s [Source],
        from: &Waypoint,
        until: Option<Edge>,
        workers: usize,
        stop: &'static AtomicBool,
    ) -> Ahead<'s> {
        let strands = Strands::of(sources, from.source, from.landmark.start).until(until);
        let strands = strands.peekable();
        let state = AheadState {
            strands,
            taken: 0,
            next: 0,
            ready: BTreeMap::new(),
            held: 0,
            spare: Vec::new(),
            is_closed: false,
        };
        Ahead {
            state: Mutex::new(state),
            changed: Condvar::new(),
            awaited: AtomicU64::new(NONE_AWAITED),
            stop,
            readers: if workers > 1 { workers } else { 0 },
        }
    }

    /// What each reader does until there is nothing left to read.
    pub(super) fn read(&self) {
        while let Some((number, strand, share)) = self.take() {
            let head = self.lock().spare.pop().unwrap_or_default();
            let mut turn = StrandTurn::open(&strand, head, self.stop);
            turn.share = share;
            if strand.may_be_read_ahead() {
                let head = head_of(&strand);
                turn.read_ahead(head, || self.awaited.load(Ordering::Relaxed) != number);
            }
            self.lock().ready.insert(number, turn);
            self.changed.notify_all();
        }
    }

    /// The next strand, once there is memory for it, or somebody waits for it.
    fn take(&self) -> Option<(u64, Strand<'s>, usize)> {
        let mut state = self.lock();
        loop {
            if state.is_closed {
                return None;
            }
            let strand = state.strands.peek()?;
            let share = head_of(strand) + strand.window;
            let is_awaited = self.awaited.load(Ordering::Relaxed) == state.taken;
            if is_awaited || state.held + share <= MOST_AHEAD {
                state.held += share;
                state.taken += 1;
                return Some((state.taken - 1, state.strands.next()?, share));
            }
            state = self.wait(state);
        }
    }

    /// The strand whose turn it is; `None` after the last.
    pub(super) fn next_turn(&self) -> Option<StrandTurn> {
        let mut state = self.lock();
        if self.readers == 0 {
            return state
                .strands
                .next()
                .map(|strand| StrandTurn::open(&strand, Vec::new(), self.stop));
        }
        let number = state.next;
        self.awaited.store(number, Ordering::Relaxed);
        self.changed.notify_all();
        let turn = loop {
            if let Some(turn) = state.ready.remove(&number) {
                break Some(turn);
            }
            if state.taken == number && state.strands.peek().is_none() {
                break None;
            }
            state = self.wait(state);
        };
        self.awaited.store(NONE_AWAITED, Ordering::Relaxed);
        state.next += u64::from(turn.is_some());
        turn
    }

    /// Takes note that a strand needs its memory no more.
    pub(super) fn release(&self, turn: StrandTurn) {
        let mut state = self.lock();
        state.held -= turn.share;
        if turn.head.capacity() > 0 && state.spare.len() < MOST_SPARE {
            state.spare.push(turn.head);
        }
        drop(state);
        self.changed.notify_all();
    }

    /// Lets the readers go.
    pub(super) fn close(&self) {
        self.lock().is_closed = true;
        self.changed.notify_all();
    }

    fn lock(&self) -> MutexGuard<'_, AheadState<'s>> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn wait<'g>(&self, state: MutexGuard<'g, AheadState<'s>>) -> MutexGuard<'g, AheadState<'s>> {
        self.changed.wait(state).unwrap_or_else(PoisonError::into_inner)
    }
}
