//! The options of `hecatomb exercises`.

use std::path::PathBuf;

use clap::{Args, ValueEnum};

use crate::commands::mine::ChapterWord;
use crate::commands::shared_options::{NodesOption, ThreadsOption};
use crate::pages::ExerciseFormat;
use crate::teaching::{Level, Sides, Task};

/// Make a sheet of exercises with proved solutions
///
/// Draws positions from a run that `hecatomb verify` has judged, proves each solution anew, and leaves out
/// what has too many correct moves and what is like another one. Both colours come equally often, as far as
/// there are enough of both. If there are fewer than asked for, it writes those there are and says what
/// became of the rest.
#[derive(Args, Debug)]
#[command(
    after_help = "Example: hecatomb exercises hecatomb-out --kind find --count 12 -o find.html"
)]
pub(in crate::commands) struct ExercisesOptions {
    /// Folders that `mine --out` wrote and `verify` judged
    #[arg(required = true, value_name = "DIR")]
    pub(super) runs: Vec<PathBuf>,

    /// What the pupil is asked to do
    #[arg(long, value_name = "KIND")]
    pub(super) kind: KindWord,

    /// Make so many
    #[arg(
        long,
        value_name = "N",
        default_value_t = 12,
        value_parser = clap::value_parser!(u16).range(1..=1000)
    )]
    pub(super) count: u16,

    /// Only offers that this query found; may be repeated
    #[arg(long, value_name = "NAME", help_heading = "Which positions")]
    pub(super) query: Vec<String>,

    /// Only offers of the queries of this chapter; may be repeated
    #[arg(long, value_name = "PIECE", help_heading = "Which positions")]
    pub(super) chapter: Vec<ChapterWord>,

    /// Only exercises of this level, from 1 (easy) to 5 (hard)
    #[arg(
        long,
        value_name = "LEVEL",
        value_parser = clap::value_parser!(u8).range(1..=5),
        help_heading = "Which positions"
    )]
    level: Option<u8>,

    /// Only exercises with this side to move
    #[arg(long, value_name = "SIDE", default_value = "both", help_heading = "Which positions")]
    pub(super) side: SideWord,

    /// Draw other positions with another number
    #[arg(long, value_name = "N", default_value_t = 1, help_heading = "Which positions")]
    pub(super) seed: u64,

    #[command(flatten)]
    pub(super) proof: NodesOption,

    #[command(flatten)]
    pub(super) threads: ThreadsOption,

    /// Write a page to print, PGN, EPD, or rows for flash cards [default: by the ending of --out, or html]
    #[arg(long, value_name = "FORMAT", help_heading = "What to write")]
    format: Option<FormatWord>,

    /// Put this title on the page
    #[arg(long, value_name = "TEXT", help_heading = "What to write")]
    pub(super) title: Option<String>,

    /// Write to this file; - is standard output
    #[arg(
        short,
        long = "out",
        value_name = "FILE",
        default_value = "-",
        help_heading = "What to write"
    )]
    pub(super) out: PathBuf,
}

/// A task as the option names it.
#[derive(ValueEnum, Clone, Copy, Debug)]
pub(super) enum KindWord {
    /// Find the offer
    Find,
    /// Does the offer work? Half of them do not
    Judge,
    /// Find what follows once the offer was accepted
    Continue,
    /// Find the best reply where taking is a mistake
    Defend,
}

#[derive(ValueEnum, Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum SideWord {
    White,
    Black,
    Both,
}

#[derive(ValueEnum, Clone, Copy, Debug)]
pub(super) enum FormatWord {
    Html,
    Pgn,
    Epd,
    Csv,
}

impl ExercisesOptions {
    /// What is asked.
    pub(super) fn task(&self) -> Task {
        match self.kind {
            KindWord::Find => Task::Find,
            KindWord::Judge => Task::Judge,
            KindWord::Continue => Task::Continue,
            KindWord::Defend => Task::Defend,
        }
    }

    /// What is wrong with the options taken together.
    pub(in crate::commands) fn contradiction(&self) -> Option<&'static str> {
        let is_told = self.format.is_some() || self.ending().is_some();
        (!is_told && self.out.extension().is_some()).then_some(
            "--out ends in none of .html, .pgn, .epd and .csv; name the format with --format",
        )
    }

    /// The format that the file's ending names.
    fn ending(&self) -> Option<FormatWord> {
        FormatWord::from_str(self.out.extension()?.to_str()?, true).ok()
    }

    /// In which format.
    pub(super) fn format(&self) -> ExerciseFormat {
        match self.format.or_else(|| self.ending()) {
            Some(FormatWord::Html) | None => ExerciseFormat::Html,
            Some(FormatWord::Pgn) => ExerciseFormat::Pgn,
            Some(FormatWord::Epd) => ExerciseFormat::Epd,
            Some(FormatWord::Csv) => ExerciseFormat::Csv,
        }
    }

    /// Of which level, if of one.
    pub(super) fn level(&self) -> Option<Level> {
        self.level.map(Level)
    }

    /// Which side is to move.
    pub(super) fn sides(&self) -> Sides {
        match self.side {
            SideWord::White => Sides::White,
            SideWord::Black => Sides::Black,
            SideWord::Both => Sides::Both,
        }
    }
}
