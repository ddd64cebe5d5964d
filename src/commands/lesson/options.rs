//! The options of `hecatomb lesson`.

use std::path::PathBuf;

use clap::Args;

use crate::commands::engine_options::EngineOptions;
use crate::commands::shared_options::{EditedOption, NodesOption, SacrificeOption, ThreadsOption};

/// Write a lesson on a motif as one page of HTML
///
/// The page shows the motif in words and on a diagram, how often it occurs and how well it scores, what its
/// rules of thumb are worth, what was played, model games to step through on a board, and exercises. It
/// needs no network, prints on A4 and Letter, and works from the keyboard.
#[derive(Args, Debug)]
#[command(
    after_help = "Example: hecatomb lesson hecatomb-out --query bishop-takes-h7 -o lesson.html"
)]
pub(in crate::commands) struct LessonOptions {
    /// Folders that `mine --out` wrote
    #[arg(required = true, value_name = "DIR")]
    pub(super) runs: Vec<PathBuf>,

    /// The query that finds the motif, by name or file
    ///
    /// With --course it may be repeated; if it is left out, the course covers all motifs of the run.
    #[arg(long, value_name = "NAME|FILE", required_unless_present = "course")]
    pub(super) query: Vec<String>,

    /// Write a lesson for each motif with offers that give something up, and a page
    /// that lists them
    #[arg(long)]
    pub(super) course: bool,

    /// Write to this file or, with --course, to this folder; - is standard output
    ///
    /// [default: NAME.html, or the folder `course`]
    #[arg(short, long = "out", value_name = "PATH")]
    pub(super) out: Option<PathBuf>,

    /// Write over pages that somebody edited, and into a folder that holds other pages
    #[arg(long)]
    pub(super) replace: bool,

    #[command(flatten)]
    pub(super) proof: NodesOption,

    #[command(flatten)]
    pub(super) engine: EngineOptions,

    #[command(flatten)]
    pub(super) threads: ThreadsOption,

    #[command(flatten)]
    pub(super) sacrifices: SacrificeOption,

    #[command(flatten)]
    pub(super) edited: EditedOption,
}

impl LessonOptions {
    /// What is wrong with the options taken together.
    pub(in crate::commands) fn contradiction(&self) -> Option<&'static str> {
        (!self.course && self.query.len() > 1)
            .then_some("a lesson takes one --query; with --course there may be several")
            .or_else(|| self.sacrifices.contradiction())
    }
}
