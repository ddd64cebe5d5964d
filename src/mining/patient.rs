//! Reads what may keep its reader waiting, such as standard input or a pipe, so that an interrupt is heard
//! all the same.
//!
//! A thread of its own opens and reads; when nobody wants its bytes any more it is left where it waits, and
//! ends with the program.

use std::io::{self, Cursor, Read};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, RecvTimeoutError, SyncSender, sync_channel};
use std::time::Duration;

/// How many bytes are read at a time.
const AT_A_TIME: usize = 128 << 10;

/// How many reads may be ahead of who wants their bytes.
const MOST_AHEAD: usize = 2;

/// How often an interrupt is listened for while nothing comes.
const PATIENCE: Duration = Duration::from_millis(100);

/// A stream that gives up when it is told to stop.
pub(super) struct Patient {
    reads: Receiver<io::Result<Vec<u8>>>,
    read: Cursor<Vec<u8>>,
    stop: &'static AtomicBool,
}

impl Patient {
    /// Starts to read what `open` gives.
    pub(super) fn start<R: Read>(
        open: impl FnOnce() -> io::Result<R> + Send + 'static,
        stop: &'static AtomicBool,
    ) -> io::Result<Patient> {
        let (sender, reads) = sync_channel(MOST_AHEAD);
        let pass_on = move || match open() {
            Ok(input) => read_all(input, &sender),
            // Nobody listens after an interrupt.
            Err(error) => drop(sender.send(Err(error))),
        };
        std::thread::Builder::new().spawn(pass_on)?;
        Ok(Patient { reads, read: Cursor::default(), stop })
    }
}

/// Passes on what is read until it ends or nobody listens.
fn read_all(mut input: impl Read, sender: &SyncSender<io::Result<Vec<u8>>>) {
    loop {
        let mut bytes = vec![0; AT_A_TIME];
        let read = match input.read(&mut bytes) {
            Ok(0) => return,
            Ok(length) => {
                bytes.truncate(length);
                Ok(bytes)
            }
            Err(error) if error.kind() == io::ErrorKind::Interrupted => continue,
            Err(error) => Err(error),
        };
        let is_over = read.is_err();
        if sender.send(read).is_err() || is_over {
            return;
        }
    }
}

impl Read for Patient {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        loop {
            let length = self.read.read(buffer)?;
            if length > 0 || buffer.is_empty() {
                return Ok(length);
            }
            match self.reads.recv_timeout(PATIENCE) {
                Ok(read) => self.read = Cursor::new(read?),
                Err(RecvTimeoutError::Disconnected) => return Ok(0),
                Err(RecvTimeoutError::Timeout) if self.stop.load(Ordering::Relaxed) => {
                    return Err(io::Error::other("interrupted"));
                }
                Err(RecvTimeoutError::Timeout) => {}
            }
        }
    }
}
