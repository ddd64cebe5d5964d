//! Cuts a byte stream into blocks of whole games.
//!
//! Runs on one thread and must keep up with the disk, so it looks for a place to cut from the end of
//! what it has read and leaves the rest of the block unread. Only where that is in doubt does it read
//! the games.
//!
//! Invariant: the blocks joined give back the stream, but for the tail of games that are too long.

use std::io::{self, Read};

use super::ByteOffset;
use super::games::{COMMENT_WINDOW, first_pair_line, last_start_by_reading, last_start_from_end};

/// The length from which a game is too long to be mined, in bytes. It bounds the memory of a run; the
/// longest annotated games are far below it.
pub const MAX_GAME_BYTES: usize = 8 << 20;

/// The length from which games are read to find a place to cut, in bytes. Without it a block of games
/// that are only tags, each of which is reported, would have hundreds of thousands of them.
const WORTH_READING: usize = 2 * COMMENT_WINDOW;

/// How much of a game that is too long is kept: enough for its tags.
const KEPT_OF_LONG_GAME: usize = 1 << 14;

/// A run of whole games cut from a source.
#[derive(Debug)]
pub struct Block {
    /// Where it starts in the source.
    pub offset: ByteOffset,
    /// Its text is the first `length` bytes of this buffer.
    pub buffer: Vec<u8>,
    /// The length of its text.
    pub length: usize,
    /// Whether its games are whole.
    pub integrity: Integrity,
}

/// Whether the games of a block are whole.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Integrity {
    /// All games are whole.
    Whole,
    /// All games are whole but perhaps the last, with which the source ends.
    Last,
    /// The block is the start of one game that is longer than [`MAX_GAME_BYTES`].
    TooLong,
    /// The block is the start of one game in which the source broke off.
    CutOff,
}

impl Block {
    /// The text of its games.
    #[must_use]
    pub fn text(&self) -> &[u8] {
        &self.buffer[..self.length]
    }
}

/// Cuts a stream into blocks.
#[derive(Debug)]
pub struct Cutter<R> {
    input: R,
    block_size: usize,
    /// Read, but not yet given out.
    carry: Vec<u8>,
    /// The last buffer, of which no block was made.
    spare: Vec<u8>,
    /// Where the carry starts in the stream.
    offset: u64,
    state: State,
    /// What the last block is.
    end: Integrity,
}

#[derive(Debug)]
enum State {
    Reading,
    /// In a game that is too long, up to the next line that starts with a tag pair.
    Skipping,
    /// The input failed; the error is given after the last block.
    Broken(Option<io::Error>),
    Ended,
}

impl<R: Read> Cutter<R> {
    /// Cuts `input` into blocks of about `block_size` bytes (at most half of [`MAX_GAME_BYTES`]). Its first
    /// byte is that of a source at an offset at which a game starts.
    pub fn from(offset: ByteOffset, input: R, block_size: usize) -> Cutter<R> {
        let (carry, state) = (Vec::new(), State::Reading);
        let spare = Vec::new();
        let (offset, end) = (offset.0, Integrity::Last);
        let mut cutter = Cutter { input, block_size: 0, carry, spare, offset, state, end };
        cutter.set_block_size(block_size);
        cutter
    }

    /// The same of an input that ends where a game starts, and so with a whole one.
    #[must_use]
    pub fn ending_whole(self) -> Cutter<R> {
        Cutter { end: Integrity::Whole, ..self }
    }

    /// Cuts the coming blocks into about `block_size` bytes (at most half of [`MAX_GAME_BYTES`]).
    pub fn set_block_size(&mut self, block_size: usize) {
        self.block_size = block_size.clamp(1, MAX_GAME_BYTES / 2);
    }

    /// What it cuts.
    pub fn input(&mut self) -> &mut R {
        &mut self.input
    }

    /// Gives back what it cuts, and the buffer of which no block was made at the end.
    pub fn into_parts(self) -> (R, Vec<u8>) {
        (self.input, self.spare)
    }

    /// The next block, made in `buffer`, whose content does not matter. `None` at the end.
    ///
    /// # Errors
    ///
    /// What the input says when it breaks off; the whole games before that have been given out, and
    /// the broken one as [`Integrity::CutOff`]. The next call answers `None`.
    pub fn next_block(&mut self, mut buffer: Vec<u8>) -> io::Result<Option<Block>> {
        if let State::Broken(error) = &mut self.state
            && self.carry.is_empty()
            && let Some(error) = error.take()
        {
            self.state = State::Ended;
            return Err(error);
        }
        if matches!(self.state, State::Skipping) {
            self.skip_long_game(&mut buffer)?;
        }
        let mut filled = self.carry.len();
        grow(&mut buffer, filled);
        buffer[..filled].copy_from_slice(&self.carry);
        self.carry.clear();
        let mut goal = self.block_size.max(filled);
        loop {
            let is_at_end = !self.fill(&mut buffer, &mut filled, goal);
            if filled == 0 {
                self.spare = buffer;
                return self.finish();
            }
            if is_at_end {
                return Ok(Some(self.last_block(buffer, filled)));
            }
            let text = &buffer[..filled];
            if let Some(cut) = last_start_from_end(text) {
                return Ok(Some(self.cut(buffer, cut, filled, Integrity::Whole)));
            }
            if filled >= WORTH_READING
                && let Some(cut) = last_start_by_reading(text)
            {
                return Ok(Some(self.cut(buffer, cut, filled, Integrity::Whole)));
            }
            if filled >= MAX_GAME_BYTES {
                return Ok(Some(self.start_of_long_game(buffer, filled)));
            }
            goal = (2 * filled).min(MAX_GAME_BYTES);
        }
    }

    fn finish(&mut self) -> io::Result<Option<Block>> {
        match std::mem::replace(&mut self.state, State::Ended) {
            State::Broken(Some(error)) => Err(error),
            _ => Ok(None),
        }
    }

    /// Reads until `goal` bytes are filled; false at the end of the input.
    fn fill(&mut self, buffer: &mut Vec<u8>, filled: &mut usize, goal: usize) -> bool {
        grow(buffer, goal);
        while *filled < goal && matches!(self.state, State::Reading) {
            match self.input.read(&mut buffer[*filled..goal]) {
                Ok(0) => self.state = State::Ended,
                Ok(length) => *filled += length,
                Err(error) if error.kind() == io::ErrorKind::Interrupted => {}
                Err(error) => self.state = State::Broken(Some(error)),
            }
        }
        matches!(self.state, State::Reading)
    }

    /// Gives out the first `cut` bytes and keeps the rest.
    fn cut(&mut self, buffer: Vec<u8>, cut: usize, filled: usize, integrity: Integrity) -> Block {
        self.carry.extend_from_slice(&buffer[cut..filled]);
        let offset = ByteOffset(self.offset);
        self.offset += cut as u64;
        Block { offset, buffer, length: cut, integrity }
    }

    /// What is left at the end. If the input failed, its last game is kept apart.
    fn last_block(&mut self, buffer: Vec<u8>, filled: usize) -> Block {
        if !matches!(self.state, State::Broken(_)) {
            return self.cut(buffer, filled, filled, self.end);
        }
        let last_start = super::Games::of(&buffer[..filled]).map(|game| game.start).last();
        match last_start {
            Some(start) if start > 0 => self.cut(buffer, start, filled, Integrity::Whole),
            _ => self.cut(buffer, filled, filled, Integrity::CutOff),
        }
    }

    fn start_of_long_game(&mut self, buffer: Vec<u8>, filled: usize) -> Block {
        self.state = State::Skipping;
        let offset = ByteOffset(self.offset);
        self.offset += filled as u64;
        Block {
            offset,
            buffer,
            length: KEPT_OF_LONG_GAME.min(filled),
            integrity: Integrity::TooLong,
        }
    }

    /// Passes over text up to the next line that starts with a tag pair; leaves that in the carry.
    fn skip_long_game(&mut self, buffer: &mut Vec<u8>) -> io::Result<()> {
        /// A tag pair's name and quote are within this many bytes of its bracket.
        const OVERLAP: usize = 512;
        self.state = State::Reading;
        let mut filled = 0;
        loop {
            let is_at_end = !self.fill(buffer, &mut filled, MAX_GAME_BYTES / 8);
            if let Some(start) = first_pair_line(&buffer[..filled]) {
                self.offset += start as u64;
                self.carry.extend_from_slice(&buffer[start..filled]);
                return Ok(());
            }
            let kept = filled.min(if is_at_end { 0 } else { OVERLAP });
            self.offset += (filled - kept) as u64;
            buffer.copy_within(filled - kept..filled, 0);
            filled = kept;
            if is_at_end {
                return Ok(());
            }
        }
    }
}

fn grow(buffer: &mut Vec<u8>, length: usize) {
    if buffer.len() < length {
        buffer.resize(length, 0);
    }
}
