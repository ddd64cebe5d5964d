//! The Python side: a running program and its pipes.
//!
//! A thread of its own serves each pipe, so that nobody waits for anybody: what it is told waits in a queue, what it
//! says waits in another, and of what it writes to standard error the last lines are kept.
//!
//! Invariant: when a [`PythonSide`] is gone, so is the program and all that it started on this machine.

use std::collections::VecDeque;
use std::io::{self, BufRead, BufReader, Read, Write};
use std::path::Path;
use std::process::{Child, ChildStdin, Command, Stdio};
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::sync::{Arc, Mutex};
use std::thread;
use std::time::{Duration, Instant};

use anyhow::Context;
use serde::Serialize;

use super::messages::Report;
use crate::advice::WithHint;
use crate::engine::group;

/// What runs.
const SCRIPT: &str = include_str!("dask_side.py");

/// How many lines of standard error are kept, and how much of each.
const KEPT: usize = 8;
const KEPT_OF_EACH: usize = 300;

/// How long it may take to end once its input is closed.
const FAREWELL: Duration = Duration::from_secs(10);
/// How long it is waited, once it has ended, for what it wrote last.
const LAST_BREATH: Duration = Duration::from_secs(1);
/// How often it is looked whether it has.
const GLANCE: Duration = Duration::from_millis(10);

/// The last lines that it wrote to standard error.
type LastLines = Arc<Mutex<VecDeque<String>>>;

/// The running program. Dropped, it is ended.
pub(super) struct PythonSide {
    program: String,
    child: Child,
    /// Whether the system has been asked how it ended, after which its number may be another's.
    is_buried: bool,
    input: Option<Sender<String>>,
    output: Receiver<String>,
    talk: LastLines,
    /// Closed once standard error is.
    talk_ends: Receiver<()>,
}

impl PythonSide {
    /// Starts it.
    ///
    /// # Errors
    ///
    /// If there is no such program.
    pub(super) fn start(python: &Path) -> anyhow::Result<PythonSide> {
        let program = python.display().to_string();
        let mut command = Command::new(python);
        command.arg("-c").arg(SCRIPT);
        command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
        group::lead_a_group(&mut command);
        let mut child = command.spawn().map_err(|error| {
            let error = anyhow::anyhow!("can't start `{program}`, which a cluster needs: {error}");
            error.hint("install Python 3, or name it with --python PROGRAM")
        })?;
        let pipes = (child.stdin.take(), child.stdout.take(), child.stderr.take());
        let (input, told) = channel();
        let (said, output) = channel();
        let talk = LastLines::default();
        let (ended, talk_ends) = channel();
        let kept = talk.clone();
        let (input, is_buried) = (Some(input), false);
        let side = PythonSide { program, child, is_buried, input, output, talk, talk_ends };
        let (Some(stdin), Some(stdout), Some(stderr)) = pipes else {
            anyhow::bail!("`{}` has no pipes", side.program);
        };
        let spawn = |job: Box<dyn FnOnce() + Send>| thread::Builder::new().spawn(job);
        spawn(Box::new(move || write_all(stdin, &told)))?;
        spawn(Box::new(move || read_all(stdout, &said)))?;
        spawn(Box::new(move || {
            keep_last(stderr, &kept);
            drop(ended);
        }))?;
        Ok(side)
    }

    /// Tells it something. If it has ended, that shows when it is listened to.
    pub(super) fn tell(&self, message: &impl Serialize) -> anyhow::Result<()> {
        let line = serde_json::to_string(message)? + "\n";
        if let Some(input) = &self.input {
            let _ = input.send(line);
        }
        Ok(())
    }

    /// What it says next; nothing if it says nothing for so long.
    ///
    /// # Errors
    ///
    /// If it has ended, can't go on, or says what nobody understands.
    pub(super) fn hear(&mut self, patience: Duration) -> anyhow::Result<Option<Report>> {
        let line = match self.output.recv_timeout(patience) {
            Ok(line) => line,
            Err(RecvTimeoutError::Timeout) => return Ok(None),
            Err(RecvTimeoutError::Disconnected) => return Err(self.last_words()),
        };
        let report = serde_json::from_str(&line);
        match report.with_context(|| format!("`{}` says what nobody understands", self.program))? {
            Report::Missing { module } => Err(self.lacks(&module)),
            Report::Fault { message, hint } => Err(anyhow::anyhow!(message).hint_if(hint)),
            report => Ok(Some(report)),
        }
    }

    /// What is said if a module is missing.
    fn lacks(&self, module: &str) -> anyhow::Error {
        let program = &self.program;
        let error = anyhow::anyhow!("`{program}` has no module `{module}`, which a cluster needs");
        error.hint(format!("{program} -m pip install distributed"))
    }

    /// How it ended, though nobody asked it to.
    fn last_words(&mut self) -> anyhow::Error {
        let has_ended = self.ends_within(FAREWELL);
        // What it started would hold its pipe open, and has nobody to work for.
        let status = self.bury().filter(|_| has_ended);
        let _ = self.talk_ends.recv_timeout(LAST_BREATH);
        let status = status.unwrap_or_else(|| "its output is closed".to_owned());
        let talk = self.talk.lock().map(|lines| lines.iter().cloned().collect::<Vec<_>>());
        let last = talk.ok().and_then(|lines| lines.last().cloned());
        let last = last.map_or_else(String::new, |line| format!(": {line}"));
        anyhow::anyhow!("`{}`, which moves the hits, has ended ({status}){last}", self.program)
    }

    /// Kills it, if it has not ended, and all that it started; tells how it ended.
    fn bury(&mut self) -> Option<String> {
        if self.is_buried {
            return None;
        }
        self.is_buried = true;
        group::kill(&mut self.child);
        self.child.wait().ok().map(|status| status.to_string())
    }

    fn ends_within(&mut self, patience: Duration) -> bool {
        let deadline = Instant::now() + patience;
        while !group::has_ended(&mut self.child) {
            if Instant::now() > deadline {
                return false;
            }
            thread::sleep(GLANCE);
        }
        true
    }
}

impl Drop for PythonSide {
    /// Closes its input, and kills what has not ended after a while.
    fn drop(&mut self) {
        self.input = None;
        if !self.is_buried {
            self.ends_within(FAREWELL);
        }
        self.bury();
    }
}

fn write_all(mut stdin: ChildStdin, told: &Receiver<String>) {
    for line in told {
        if stdin.write_all(line.as_bytes()).is_err() {
            break;
        }
    }
}

fn read_all(stdout: impl Read, said: &Sender<String>) {
    for line in BufReader::new(stdout).lines().map_while(io::Result::ok) {
        if said.send(line).is_err() {
            break;
        }
    }
}

/// Reads to the end and keeps the last lines; of a line without an end as much as is kept anyway.
fn keep_last(stderr: impl Read, talk: &LastLines) {
    let mut stderr = BufReader::new(stderr);
    loop {
        let mut line = Vec::new();
        match stderr.by_ref().take(1 << 16).read_until(b'\n', &mut line) {
            Ok(0) | Err(_) => return,
            Ok(_) => {}
        }
        let text = String::from_utf8_lossy(&line);
        let text: String = text.trim_end().chars().take(KEPT_OF_EACH).collect();
        if let Ok(mut lines) = talk.lock()
            && !text.trim().is_empty()
        {
            lines.push_back(text);
            if lines.len() > KEPT {
                lines.pop_front();
            }
        }
    }
}
