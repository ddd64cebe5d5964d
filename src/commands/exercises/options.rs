//! The options of `hecatomb exercises`.

use std::path::PathBuf;

use clap::{Args, ValueEnum};

use crate::commands::mine::ChapterWord;
use crate::commands::shared_options::{NodesOption, ThreadsOption};
use crate::pages::ExerciseFormat;
use crate::teaching::{Level, Sides, Task};

/// Make a sheet of exercises with proved solutions
///
/// Draws positions from a run that `hecatomb verify` has judged, proves each solution again, and leaves
/// out positions with too many correct moves and positions too much like another one. White and Black are
/// to move equally often, if there are enough positions of both. If there are fewer exercises than asked
/// for, it writes those and says why the others were left out. `hecatomb help sheets` says more.
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

    /// Number of exercises
    #[arg(
        long,
        value_name = "N",
        default_value_t = 12,
        value_parser = clap::value_parser!(u16).range(1..=1000)
    )]
    pub(super) count: u16,

    /// Use only offers that this query found; may be repeated
    #[arg(long, value_name = "NAME", help_heading = "Which positions")]
    pub(super) query: Vec<String>,

    /// Use only offers found by the queries of this chapter; may be repeated
    #[arg(long, value_name = "PIECE", help_heading = "Which positions")]
    pub(super) chapter: Vec<ChapterWord>,

    /// Use only exercises of this level, from 1 (easy) to 5 (hard)
    #[arg(
        long,
        value_name = "LEVEL",
        value_parser = clap::value_parser!(u8).range(1..=5),
        help_heading = "Which positions"
    )]
    level: Option<u8>,

    /// Use only exercises with this side to move
    #[arg(long, value_name = "SIDE", default_value = "both", help_heading = "Which positions")]
    pub(super) side: SideWord,

    /// Random seed; another number gives another sheet
    #[arg(long, value_name = "N", default_value_t = 1, help_heading = "Which positions")]
    pub(super) seed: u64,

    #[command(flatten)]
    pub(super) proof: NodesOption,

    #[command(flatten)]
    pub(super) threads: ThreadsOption,

    /// Format of the sheet [default: by the ending of --out, or html]
    #[arg(long, value_name = "FORMAT", help_heading = "What to write")]
    format: Option<FormatWord>,

    /// Title of the page
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
    /// Find the move that justifies the offer once it is accepted
    Continue,
    /// Find the best reply where accepting is a mistake
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
    /// A page to print
    Html,
    /// A game for each exercise
    Pgn,
    /// A line for each exercise
    Epd,
    /// Rows for flash cards
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
            "--out does not end in .html, .pgn, .epd or .csv; name the format with --format",
        )
    }

    /// The format that the file's ending names.
    fn ending(&self) -> Option<FormatWord> {
        FormatWord::from_str(self.out.extension()?.to_str()?, true).ok()
    }

    /// The format that was asked for.
    pub(super) fn format(&self) -> ExerciseFormat {
        match self.format.or_else(|| self.ending()) {
            Some(FormatWord::Html) | None => ExerciseFormat::Html,
            Some(FormatWord::Pgn) => ExerciseFormat::Pgn,
            Some(FormatWord::Epd) => ExerciseFormat::Epd,
            Some(FormatWord::Csv) => ExerciseFormat::Csv,
        }
    }

    /// The level that was asked for, if any.
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
