//! A running program and its pipes.
//!
//! One thread writes what it is told and one reads what it says, so that nobody waits for a program
//! that neither reads nor writes. What it says is bounded: a line in length, the lines not yet heard in
//! number, and an answer in bytes.
//!
//! Invariant: when a [`Process`] is gone, so is the program and all that it started in its group.

use std::io::{BufRead, BufReader, Read, Write};
use std::path::Path;
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, SyncSender, channel, sync_channel};
use std::thread;
use std::time::{Duration, Instant};

use super::fault::EngineFault;
use super::group;

/// The longest line that is read, in bytes. An expected line of 600 moves takes 3,600.
pub const LONGEST_LINE: usize = 1 << 16;

/// The most that is read for one answer, in bytes: a hundred times the 36 kB that a program was seen to
/// write in a search of ten million positions.
pub const MOST_OUTPUT: usize = 1 << 22;

/// How many lines wait to be heard.
const LINES_WAITING: usize = 64;

/// How long a program that closed its output may take to end, to learn its exit status.
const LAST_BREATH: Duration = Duration::from_millis(500);

/// How long a program that was killed may take to be gone. It takes longer only if the system does.
const BURIAL: Duration = Duration::from_secs(5);

/// How often the system is asked whether a program has ended.
const GLANCE: Duration = Duration::from_millis(2);

/// What the reading thread hands on.
enum Heard {
    Line(Vec<u8>),
    LineTooLong,
}

/// Why no line was heard.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum NoLine {
    /// Nothing came by then.
    InTime,
    /// The output is closed.
    Closed,
    /// An endless line.
    LineTooLong,
    /// Endless output.
    TooMuchOutput,
}

/// A running program. Dropped, it is killed.
#[derive(Debug)]
pub(super) struct Process {
    child: Child,
    /// Whether the system has been asked how it ended, after which its number may be another's.
    is_buried: bool,
    input: Option<Sender<String>>,
    output: Receiver<Heard>,
    /// How many bytes it may still write for this answer.
    allowance: usize,
}

impl Process {
    /// Starts a program, without a shell and without arguments. What it writes to standard error is
    /// thrown away.
    pub(super) fn start(program: &Path) -> std::io::Result<Process> {
        let mut command = Command::new(program);
        command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::null());
        group::lead_a_group(&mut command);
        let mut child = command.spawn()?;
        let pipes = child.stdin.take().zip(child.stdout.take());
        let (input, told) = channel();
        let (heard, output) = sync_channel(LINES_WAITING);
        let process =
            Process { child, is_buried: false, input: Some(input), output, allowance: MOST_OUTPUT };
        let (stdin, stdout) = pipes.expect("both were asked to be piped");
        let name = program.file_name().unwrap_or_default().to_string_lossy().replace('\0', "");
        let named = || thread::Builder::new().name(name.clone());
        named().spawn(move || write_all(stdin, &told))?;
        named().spawn(move || read_lines(stdout, &heard))?;
        Ok(process)
    }

    /// Tells it a line. If it has ended or closed its input, that shows when it is listened to.
    pub(super) fn say(&self, line: impl std::fmt::Display) {
        if let Some(input) = &self.input {
            let _ = input.send(format!("{line}\n"));
        }
    }

    /// Lets it write [`MOST_OUTPUT`] for the next answer.
    pub(super) fn allow_an_answer(&mut self) {
        self.allowance = MOST_OUTPUT;
    }

    /// The next line that it says, with its end.
    pub(super) fn hear(&mut self, patience: Duration) -> Result<Vec<u8>, NoLine> {
        match self.output.recv_timeout(patience) {
            Ok(Heard::Line(line)) => {
                let rest = self.allowance.checked_sub(line.len());
                self.allowance = rest.ok_or(NoLine::TooMuchOutput)?;
                Ok(line)
            }
            Ok(Heard::LineTooLong) => Err(NoLine::LineTooLong),
            Err(RecvTimeoutError::Timeout) => Err(NoLine::InTime),
            Err(RecvTimeoutError::Disconnected) => Err(NoLine::Closed),
        }
    }

    /// How a program that has closed its output ended. Kills it if it goes on.
    pub(super) fn last_words(&mut self) -> EngineFault {
        let has_ended = self.ends_by(Instant::now() + LAST_BREATH);
        let status = self.bury();
        match status {
            Some(status) if has_ended => EngineFault::Ended(status),
            _ => EngineFault::ClosedOutput,
        }
    }

    /// Says goodbye, waits for it to end, and kills it if it does not.
    pub(super) fn end(mut self, patience: Duration) {
        let deadline = Instant::now() + patience;
        self.say(super::command::EngineCommand::Quit);
        // Its input is closed once this is written.
        self.input = None;
        // It may have to get rid of what it has to say.
        while let Some(left) = time_left(deadline)
            && !matches!(self.output.recv_timeout(left), Err(RecvTimeoutError::Disconnected))
        {
        }
        self.ends_by(deadline);
    }

    fn ends_by(&mut self, deadline: Instant) -> bool {
        while !group::has_ended(&mut self.child) {
            if time_left(deadline).is_none() {
                return false;
            }
            thread::sleep(GLANCE);
        }
        true
    }

    /// Kills it, and all it started, and asks the system how it ended.
    fn bury(&mut self) -> Option<String> {
        if self.is_buried {
            return None;
        }
        group::kill(&mut self.child);
        self.ends_by(Instant::now() + BURIAL);
        self.is_buried = true;
        self.child.try_wait().ok().flatten().map(|status| status.to_string())
    }
}

impl Drop for Process {
    fn drop(&mut self) {
        self.bury();
    }
}

/// The time until then; `None` if it has passed.
pub(super) fn time_left(deadline: Instant) -> Option<Duration> {
    Some(deadline.saturating_duration_since(Instant::now())).filter(|left| !left.is_zero())
}

fn write_all(mut stdin: ChildStdin, told: &Receiver<String>) {
    for line in told {
        if stdin.write_all(line.as_bytes()).is_err() {
            break;
        }
    }
}

fn read_lines(stdout: ChildStdout, heard: &SyncSender<Heard>) {
    let mut stdout = BufReader::new(stdout);
    while let Some(next) = read_line(&mut stdout) {
        let is_last = matches!(next, Heard::LineTooLong);
        if heard.send(next).is_err() || is_last {
            break;
        }
    }
}

/// The next line; `None` at the end.
fn read_line(stdout: &mut impl BufRead) -> Option<Heard> {
    let mut line = Vec::new();
    let most = LONGEST_LINE as u64 + 1;
    let read = stdout.take(most).read_until(b'\n', &mut line);
    if line.len() > LONGEST_LINE {
        return Some(Heard::LineTooLong);
    }
    match read {
        Ok(0) | Err(_) => None,
        Ok(_) => Some(Heard::Line(line)),
    }
}
