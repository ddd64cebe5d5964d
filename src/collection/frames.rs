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

/// The bytes of text that a decompressor of the frame at `start` keeps, if one starts there: its window (RFC
/// 8878 section 3.1.1.1.2), or all of its text if it is in one segment.
pub(super) fn window_at(file: &mut File, start: u64) -> Option<u64> {
    let header = bytes_at(file, start, 18).ok()?;
    let [0x28, 0xB5, 0x2F, 0xFD, descriptor, rest @ ..] = &header[..] else { return None };
    if descriptor & 0x20 == 0 {
        let base = 1_u64 << (10 + (rest.first()? >> 3));
        return Some(base + base / 8 * u64::from(rest.first()? & 7));
    }
    let dictionary = [0, 1, 2, 4][usize::from(descriptor & 3)];
    let size = rest.get(dictionary..)?;
    let bytes = |count: usize| {
        let read = size.get(..count)?.iter().rev();
        Some(read.fold(0, |value, &byte| value << 8 | u64::from(byte)))
    };
    match descriptor >> 6 {
        0 => bytes(1),
        1 => bytes(2).map(|size| size + 256),
        2 => bytes(4),
        _ => bytes(8),
    }
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

#[cfg(test)]
mod tests {
    use std::io::Write;

    use super::*;

    /// The windows are those that the library was asked for; it takes the next power of two.
    #[test]
    fn window_of_a_frame_is_told_by_its_header() -> io::Result<()> {
        let window = |log: u32, pledged: Option<u64>| {
            let mut encoder = zstd::stream::write::Encoder::new(Vec::new(), 3)?;
            encoder.window_log(log)?;
            encoder.set_pledged_src_size(pledged)?;
            encoder.write_all(&[b'x'; 70_000])?;
            let mut file = tempfile::tempfile()?;
            file.write_all(&encoder.finish()?)?;
            io::Result::Ok(window_at(&mut file, 0))
        };
        assert_eq!(window(20, None)?, Some(1 << 20));
        assert_eq!(window(27, None)?, Some(128 << 20));
        // A text that is shorter than the window is in one segment.
        assert_eq!(window(20, Some(70_000))?, Some(70_000));
        let mut file = tempfile::tempfile()?;
        assert_eq!(window_at(&mut file, 0), None);
        file.write_all(b"no frame at all, but long enough")?;
        assert_eq!(window_at(&mut file, 0), None);
        Ok(())
    }
}
