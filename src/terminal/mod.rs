//! The only door to standard output and standard error: results, messages, progress, number formats.
//!
//! Results go to standard output, talk to standard error. A reader that closes standard output early
//! has what it wanted: that is no failure. Nor is talk that can't be said a reason to stop.
//!
//! Invariant: what a message or a table of text quotes does nothing to a terminal (`visible.rs`).

mod columns;
mod figure;
mod progress;
mod sheet;

use std::fmt::Display;
use std::io::{self, IsTerminal, Write};

use crate::advice::hint_of;
use crate::visible::{visible, visible_lines};

pub use crate::statistics::{counted, grouped, percent};
pub use columns::{Align, in_columns};
pub use figure::Figure;
pub use progress::{Bar, duration};
pub use sheet::{Sheet, SheetColumn, SheetFormat, written};

/// Standard output was closed by its reader.
#[derive(thiserror::Error, Clone, Copy, PartialEq, Eq, Debug)]
#[error("standard output was closed")]
pub struct OutputClosed;

/// What a command speaks through.
#[derive(Clone, Copy, Debug)]
pub struct Terminal {
    is_quiet: bool,
}

impl Terminal {
    /// A terminal; a quiet one shows nothing but results and errors.
    #[must_use]
    pub fn new(is_quiet: bool) -> Terminal {
        Terminal { is_quiet }
    }

    /// Whether only results and errors are to be shown.
    #[must_use]
    pub fn is_quiet(&self) -> bool {
        self.is_quiet
    }

    /// How many columns results may take: those of the terminal, at least 40 and at most 120; 80 where
    /// standard output is not a terminal.
    #[must_use]
    pub fn width(&self) -> usize {
        if io::stdout().is_terminal() { textwrap::termwidth().clamp(40, 120) } else { 80 }
    }

    /// Writes results to standard output.
    ///
    /// # Errors
    ///
    /// [`OutputClosed`] if nobody reads any more, or what the system says.
    pub fn print(&self, text: &str) -> anyhow::Result<()> {
        self.print_bytes(text.as_bytes())
    }

    /// Writes what may be no text to standard output.
    ///
    /// # Errors
    ///
    /// As [`print`](Self::print).
    pub fn print_bytes(&self, bytes: &[u8]) -> anyhow::Result<()> {
        let mut out = io::stdout().lock();
        match out.write_all(bytes).and_then(|()| out.flush()) {
            Err(error) if error.kind() == io::ErrorKind::BrokenPipe => Err(OutputClosed.into()),
            Err(error) => Err(anyhow::Error::new(error).context("can't write to standard output")),
            Ok(()) => Ok(()),
        }
    }

    /// Reports something that went wrong, on one line.
    pub fn error(&self, message: impl Display) {
        say(&format!("error: {}", visible(&message.to_string())));
    }

    /// Reports an error that ended a command, with the advice that comes with it.
    pub fn failure(&self, error: &anyhow::Error) {
        self.error(format!("{error:#}"));
        if let Some(hint) = hint_of(error) {
            self.hint(hint);
        }
    }

    /// Reports something that went wrong, with advice.
    pub fn error_with_hint(&self, message: impl Display, hint: impl Display) {
        self.error(message);
        self.hint(hint);
    }

    /// Shows a text that is complete in itself, such as a report of problems. It may be coloured, so whoever
    /// wrote it sees to what it quotes.
    pub fn report(&self, text: impl Display) {
        say(&text.to_string());
    }

    fn hint(&self, message: impl Display) {
        say(&format!("hint: {}", visible(&message.to_string())));
    }

    /// Says something useful, unless it is to be quiet.
    pub fn note(&self, message: impl Display) {
        if !self.is_quiet {
            say(&visible_lines(&message.to_string()));
        }
    }

    /// Says something useful, with advice, unless it is to be quiet.
    pub fn note_with_hint(&self, message: impl Display, hint: impl Display) {
        if !self.is_quiet {
            self.note(message);
            self.hint(hint);
        }
    }

    /// Whether reports on standard error may be coloured.
    #[must_use]
    pub fn has_colour(&self) -> bool {
        io::stderr().is_terminal()
            && std::env::var_os("NO_COLOR").is_none_or(|value| value.is_empty())
    }
}

/// Says a line, or several, on standard error. Nobody can be told if that fails.
fn say(text: &str) {
    let line = format!("{text}\n");
    let _ = io::stderr().lock().write_all(line.as_bytes());
}
