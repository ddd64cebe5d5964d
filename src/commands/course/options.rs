//! The options of `hecatomb course`.

use std::path::{Path, PathBuf};

use clap::Args;

use crate::commands::shared_options::{LanguageOption, PiecesOption};
use crate::commands::teaching_options::TeachingOptions;

/// Write a course: a lesson for each motif
///
/// Writes the lessons and a page that lists them. Without a plan the course has a lesson for each motif with offers that give something up, with the games and
/// exercises that the program chooses. With one, it has what the plan says, and the words that stand in it; `hecatomb
/// plan` writes a first plan, and `hecatomb help plans` says what it can hold.
#[derive(Args, Debug)]
#[command(after_help = "Example: hecatomb course hecatomb-out --plan course.toml -o course")]
pub(in crate::commands) struct CourseOptions {
    /// Make what this plan says
    #[arg(long, value_name = "FILE")]
    pub(super) plan: Option<PathBuf>,

    /// Write lessons on these motifs only; may be repeated
    #[arg(long, value_name = "NAME|FILE", conflicts_with = "plan")]
    pub(super) query: Vec<String>,

    /// Write into this folder
    #[arg(short, long = "out", value_name = "FOLDER", default_value = "course")]
    out: PathBuf,

    #[command(flatten)]
    pub(super) language: LanguageOption,

    #[command(flatten)]
    pub(super) pieces: PiecesOption,

    /// Write over pages that somebody edited, and into a folder that holds other pages
    #[arg(long)]
    pub(super) replace: bool,

    #[command(flatten)]
    pub(super) teaching: TeachingOptions,
}

impl CourseOptions {
    /// What is wrong with the options taken together.
    pub(in crate::commands) fn contradiction(&self) -> Option<&'static str> {
        self.teaching.contradiction()
    }

    pub(super) fn folder(&self) -> &Path {
        &self.out
    }
}
