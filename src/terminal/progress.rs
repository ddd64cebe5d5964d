//! The progress of a run on standard error, when that is a terminal.

use std::fmt::Write;

use indicatif::{
    HumanBytes, HumanDuration, ProgressBar, ProgressDrawTarget, ProgressState, ProgressStyle,
};

use super::Terminal;
use crate::statistics::grouped;

/// How long something takes, in words: `3 hours`.
#[must_use]
pub fn duration(time: std::time::Duration) -> String {
    HumanDuration(time).to_string()
}

/// A line that shows how far a run has come.
#[derive(Debug)]
pub struct Bar {
    bar: ProgressBar,
}

impl Bar {
    /// A bar for `bytes` bytes; without a number, one that shows no share and no time left.
    #[must_use]
    pub fn new(terminal: Terminal, bytes: Option<u64>) -> Bar {
        let target = if terminal.is_quiet() {
            ProgressDrawTarget::hidden()
        } else {
            ProgressDrawTarget::stderr()
        };
        let bar = ProgressBar::with_draw_target(bytes, target);
        let template = match bytes {
            Some(_) => "{wide_bar} {percent:>3} %  {msg}  {eta} left",
            None => "{spinner} {msg}  {elapsed}",
        };
        if let Ok(style) = ProgressStyle::with_template(template) {
            bar.set_style(style.progress_chars("█▌░"));
        }
        Bar { bar }
    }

    /// A bar for a number of things, which [`Bar::advance`] counts.
    #[must_use]
    pub fn counting(terminal: Terminal, things: u64) -> Bar {
        let bar = Bar::new(terminal, Some(things));
        if let Ok(style) = ProgressStyle::with_template("{wide_bar} {pos} of {len}  {rate}  {left}")
        {
            let style = style
                .with_key("rate", |state: &ProgressState, out: &mut dyn Write| {
                    let _ = write!(out, "{:.1}/s", state.per_sec());
                })
                .with_key("left", |state: &ProgressState, out: &mut dyn Write| {
                    // Before the first is done nobody knows.
                    let left = HumanDuration(state.eta());
                    let _ = match state.pos() {
                        0 => Ok(()),
                        _ => write!(out, "{left:#} left"),
                    };
                });
            bar.bar.set_style(style.progress_chars("█▌░"));
        }
        bar
    }

    /// A bar that nobody sees.
    #[must_use]
    pub fn hidden() -> Bar {
        Bar { bar: ProgressBar::hidden() }
    }

    /// Shows that `things` more things are done.
    pub fn advance(&self, things: u64) {
        self.bar.inc(things);
    }

    /// Shows how far the run has come: bytes of the sources, bytes and games mined, hits found.
    pub fn show(&self, consumed: u64, bytes: u64, games: u64, hits: u64) {
        if self.bar.is_hidden() {
            return;
        }
        let seconds = self.bar.elapsed().as_secs_f64().max(0.001);
        #[expect(
            clippy::cast_precision_loss,
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a rate for people to look at"
        )]
        let per_second = |count: u64| (count as f64 / seconds) as u64;
        self.bar.set_position(consumed);
        self.bar.set_message(format!(
            "{} games/s  {}/s  {} hits",
            grouped(per_second(games)),
            HumanBytes(per_second(bytes)),
            grouped(hits)
        ));
    }

    /// Takes the bar away while something else is shown.
    pub fn aside<T>(&self, show: impl FnOnce() -> T) -> T {
        self.bar.suspend(show)
    }

    /// Takes the bar away for good.
    pub fn end(&self) {
        self.bar.finish_and_clear();
    }
}
