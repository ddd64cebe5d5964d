//! Lines as they come in on a pipe, so that an interrupt is heard while none comes.
//!
//! A thread of its own reads; when nobody wants its lines any more it is left where it waits, and ends with the
//! program. What it holds is bounded, whatever comes.

use std::io::{self, BufRead, BufReader, Read};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, RecvTimeoutError, SyncSender, sync_channel};
use std::time::Duration;

use crate::hits::LineTrouble;

/// The longest line, in bytes. That of a hit takes one or two thousand.
const LONGEST: usize = 1 << 18;
/// How many lines may wait.
const WAITING: usize = 64;
/// How often an interrupt is listened for while nothing comes.
const PATIENCE: Duration = Duration::from_millis(100);
/// Lines that come after each other within this time are taken together.
const TOGETHER: Duration = Duration::from_millis(3);

/// A line, or what is wrong with it.
pub(super) type LineRead = Result<String, LineTrouble>;

/// Lines that come in.
pub(super) struct Inflow {
    lines: Receiver<io::Result<LineRead>>,
    stop: &'static AtomicBool,
}

impl Inflow {
    /// Starts to read.
    pub(super) fn start(
        input: impl Read + Send + 'static,
        stop: &'static AtomicBool,
    ) -> io::Result<Inflow> {
        let (sender, lines) = sync_channel(WAITING);
        std::thread::Builder::new().spawn(move || pass_on(input, &sender))?;
        Ok(Inflow { lines, stop })
    }

    /// The next lines: at least one, for which it waits, and those that come with it, at most this many. None at the
    /// end, or if it is interrupted.
    pub(super) fn next(&self, most: usize) -> io::Result<Vec<LineRead>> {
        let mut lines = Vec::new();
        while lines.len() < most {
            let patience = if lines.is_empty() { PATIENCE } else { TOGETHER };
            match self.lines.recv_timeout(patience) {
                Ok(line) => lines.push(line?),
                Err(RecvTimeoutError::Disconnected) => break,
                Err(RecvTimeoutError::Timeout) if !lines.is_empty() => break,
                Err(RecvTimeoutError::Timeout) => {}
            }
            if self.stop.load(Ordering::Relaxed) {
                break;
            }
        }
        Ok(lines)
    }
}

/// Passes on lines until they end or nobody listens.
fn pass_on(input: impl Read, sender: &SyncSender<io::Result<LineRead>>) {
    let mut input = BufReader::new(input);
    while let Some(line) = read_line(&mut input).transpose() {
        let is_over = line.is_err();
        if sender.send(line).is_err() || is_over {
            return;
        }
    }
}

/// The next line without its end; nothing at the end.
fn read_line(input: &mut impl BufRead) -> io::Result<Option<LineRead>> {
    let mut line = Vec::new();
    if input.take(LONGEST as u64).read_until(b'\n', &mut line)? == 0 {
        return Ok(None);
    }
    if line.last() != Some(&b'\n') && line.len() == LONGEST && !skip_line(input)? {
        let message = format!("the line is longer than {LONGEST} bytes");
        return Ok(Some(Err(LineTrouble::of_line(message))));
    }
    let text = String::from_utf8(line).map_err(|error| {
        let byte = error.utf8_error().valid_up_to() + 1;
        LineTrouble::of_line(format!("the line is not UTF-8 at byte {byte}"))
    });
    let blank = || LineTrouble::of_line("the line is blank");
    Ok(Some(text.and_then(|text| if text.trim().is_empty() { Err(blank()) } else { Ok(text) })))
}

/// Passes over what is left of a line; whether that is nothing.
fn skip_line(input: &mut impl BufRead) -> io::Result<bool> {
    let mut passed = 0;
    loop {
        let mut part = Vec::new();
        let length = input.take(LONGEST as u64).read_until(b'\n', &mut part)?;
        passed += part.iter().filter(|&&byte| byte != b'\n').count();
        if length == 0 || part.last() == Some(&b'\n') {
            return Ok(passed == 0);
        }
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that can't go on has failed")]
mod tests {
    use super::*;

    fn read(text: &[u8]) -> Vec<Result<usize, String>> {
        let mut input = BufReader::with_capacity(100, text);
        let mut lines = Vec::new();
        while let Some(line) = read_line(&mut input).unwrap() {
            lines.push(line.map(|it| it.len()).map_err(|trouble| trouble.to_string()));
        }
        lines
    }

    #[test]
    fn each_line_is_read_or_told_to_be_broken() {
        let long = "x".repeat(3 * LONGEST);
        let text = format!("ab\n\n{long}\ncd");
        let too_long = format!("the line is longer than {LONGEST} bytes");
        let blank = "the line is blank".to_owned();
        assert_eq!(read(text.as_bytes()), [Ok(3), Err(blank), Err(too_long), Ok(2)]);
        assert_eq!(read(b"a\xff\n"), [Err("the line is not UTF-8 at byte 2".to_owned())]);
        assert_eq!(read(format!("{}\nab", &long[..LONGEST]).as_bytes()), [Ok(LONGEST), Ok(2)]);
        assert!(read(b"").is_empty());
    }
}
