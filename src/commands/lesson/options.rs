//! The options of `hecatomb lesson`.

use std::path::PathBuf;

use clap::Args;

use crate::commands::shared_options::{LanguageOption, PiecesOption};
use crate::commands::teaching_options::TeachingOptions;

/// Write a lesson on a motif as one page of HTML
///
/// The page shows the motif in words and on a diagram, how often it occurs and how well it scores, what its
/// rules of thumb are worth, what was played, model games to step through on a board, and exercises. It
/// needs no network, prints on A4 and Letter, and works from the keyboard. `hecatomb course` writes many.
#[derive(Args, Debug)]
#[command(
    after_help = "Example: hecatomb lesson hecatomb-out --query bishop-takes-h7 -o lesson.html"
)]
pub(in crate::commands) struct LessonOptions {
    /// The query that finds the motif, by name or file
    #[arg(long, value_name = "NAME|FILE")]
    pub(super) query: String,

    /// Write to this file; - is standard output [default: NAME.html]
    #[arg(short, long = "out", value_name = "FILE")]
    pub(super) out: Option<PathBuf>,

    #[command(flatten)]
    pub(super) language: LanguageOption,

    #[command(flatten)]
    pub(super) pieces: PiecesOption,

    /// Write over a page that somebody edited
    #[arg(long)]
    pub(super) replace: bool,

    #[command(flatten)]
    pub(super) teaching: TeachingOptions,
}

impl LessonOptions {
    /// What is wrong with the options taken together.
    pub(in crate::commands) fn contradiction(&self) -> Option<&'static str> {
        self.teaching.contradiction()
    }
}
