//! Where zstd frames end, read from the headers of their blocks without decompressing them.
//!
//! Source: RFC 8878, sections 3.1.1 (frames and blocks) and 3.1.2 (skippable frames).

use std::fs::File;
use std::io::{self, Read, Seek, SeekFrom};

/// Short frames are taken together up to about this many bytes of text.
const ENOUGH: usize = 4 << 20;

/// A frame of more text than this is long. It bounds the memory of a frame that is read ahead.
pub const MOST_OF_FRAME: usize = 16 << 20;

/// The most that a compressed block may hold.
const MOST_OF_BLOCK: usize = 128 << 10;

/// Whole frames that follow each other.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct FrameRun {
    /// Where they end in the file.
    pub(super) end: u64,
    /// They hold no more bytes of text than this.
    pub(super) bound: usize,
}

/// The frames from `start` on that are decompressed together; `None` if the first one is long, broken
/// or none.
pub(super) fn next_run(file: &mut File, length: u64, start: u64) -> io::Result<Option<FrameRun>> {
    let mut run = FrameRun { end: start, bound: 0 };
    while run.bound < ENOUGH
        && let Some(frame) = frame_at(file, run.end)?
        && frame.end <= length
        && run.bound + frame.bound <= MOST_OF_FRAME
    {
        run = FrameRun { end: frame.end, bound: run.bound + frame.bound };
    }
    Ok((run.end > start).then_some(run))
}

fn frame_at(file: &mut File, start: u64) -> io::Result<Option<FrameRun>> {
    // Magic, descriptor, window, dictionary and content size take 18 bytes at most.
    let header = bytes_at(file, start, 18)?;
    match header[..] {
        [0x50..=0x5F, 0x2A, 0x4D, 0x18, a, b, c, d, ..] => {
            let size = u32::from_le_bytes([a, b, c, d]);
            Ok(Some(FrameRun { end: start + 8 + u64::from(size), bound: 0 }))
        }
        [0x28, 0xB5, 0x2F, 0xFD, descriptor, ..] => blocks_from(file, start, descriptor),
        _ => Ok(None),
    }
}

/// Walks over the blocks of a frame with this descriptor.
fn blocks_from(file: &mut File, start: u64, descriptor: u8) -> io::Result<Option<FrameRun>> {
    let is_single_segment = descriptor & 0x20 != 0;
    let checksum = if descriptor & 0x04 != 0 { 4 } else { 0 };
    let mut at = start + 5 + header_rest(descriptor, is_single_segment);
    let mut bound = 0;
    loop {
        let [a, b, c] = bytes_at(file, at, 3)?[..] else { return Ok(None) };
        let header = u32::from_le_bytes([a, b, c, 0]);
        let size = header >> 3;
        let (taken, text) = match header >> 1 & 3 {
            0 => (size, size as usize),
            1 => (1, size as usize),
            2 => (size, MOST_OF_BLOCK),
            _ => return Ok(None),
        };
        at += 3 + u64::from(taken);
        bound += text;
        if bound > MOST_OF_FRAME {
            return Ok(None);
        }
        if header & 1 == 1 {
            return Ok(Some(FrameRun { end: at + checksum, bound }));
        }
    }
}

/// The length of a frame's header after its descriptor.
fn header_rest(descriptor: u8, is_single_segment: bool) -> u64 {
    let window = u64::from(!is_single_segment);
    let dictionary = [0, 1, 2, 4][usize::from(descriptor & 3)];
    let content_size = match descriptor >> 6 {
        0 => u64::from(is_single_segment),
        flag => 1 << flag,
    };
    window + dictionary + content_size
}

/// The bytes at a place, fewer at the end of the file.
fn bytes_at(file: &mut File, at: u64, count: u64) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    file.seek(SeekFrom::Start(at))?;
    file.take(count).read_to_end(&mut bytes)?;
    Ok(bytes)
}
