//! The options of `hecatomb exercises`.

use std::path::PathBuf;

use clap::{Args, ValueEnum};

use super::excluded;
use super::wishes::SheetWishes;
use crate::commands::shared_options::{LanguageOption, PiecesOption};
use crate::commands::teaching_options::TeachingOptions;
use crate::pages::ExerciseFormat;
use crate::plan::{Audience, Paper, PerPage, SheetLayout};
use crate::query::Chapter;
use crate::teaching::{ExerciseKind, GivenPositions, Levels, Quota, Sides};

/// Make a sheet of exercises, with their solutions
///
/// Takes positions from a run that `hecatomb verify` has judged, searches for each solution again, and leaves
/// out positions with too many correct moves and positions too much like another one. White and Black are
/// to move equally often, if there are enough positions of both. If there are fewer exercises than asked
/// for, it writes those and says why the others were left out. `hecatomb help sheets` says more.
#[derive(Args, Debug)]
#[command(
    after_help = "Example: hecatomb exercises hecatomb-out --kind find --count 12 -o find.html"
)]
pub(in crate::commands) struct ExercisesOptions {
    /// What the pupil is asked to do, on a sheet of one kind
    #[arg(long, value_name = "KIND", required_unless_present = "of")]
    kind: Option<ExerciseKind>,

    /// Number of exercises of that kind [default: 12]
    #[arg(
        long,
        value_name = "N",
        requires = "kind",
        value_parser = clap::value_parser!(u16).range(1..=i64::from(Quota::MOST))
    )]
    count: Option<u16>,

    /// So many exercises of a kind, such as find:6; repeat it for a sheet of several
    /// kinds
    #[arg(long, value_name = "KIND:N", conflicts_with_all = ["kind", "count"])]
    of: Vec<Quota>,

    /// Use only offers that this query found; may be repeated
    #[arg(long, value_name = "NAME", help_heading = "Which positions")]
    query: Vec<String>,

    /// Use only offers found by the queries of this chapter; may be repeated
    #[arg(long, value_name = "PIECE", help_heading = "Which positions")]
    chapter: Vec<Chapter>,

    /// Use only exercises of this level, from 1 (easy) to 5 (hard), or of a range, such
    /// as 1-3
    #[arg(long, value_name = "LEVEL", help_heading = "Which positions")]
    level: Option<Levels>,

    /// Use only exercises with this side to move
    #[arg(long, value_name = "SIDE", default_value = "both", help_heading = "Which positions")]
    side: Sides,

    /// Random seed; another number gives another sheet
    #[arg(long, value_name = "N", default_value_t = 1, help_heading = "Which positions")]
    seed: u64,

    /// Leave out the positions of this file (PGN, EPD or CSV) and their mirror images; may
    /// be repeated
    #[arg(long, value_name = "FILE", help_heading = "Which positions")]
    exclude: Vec<PathBuf>,

    /// Leave out what this class had, and note in the plan what it is given now
    #[arg(long, value_name = "NAME", requires = "plan", help_heading = "A class")]
    pub(super) class: Option<String>,

    /// The plan in which that stands; `hecatomb help plans` says what else it can hold
    #[arg(long, value_name = "FILE", requires = "class", help_heading = "A class")]
    pub(super) plan: Option<PathBuf>,

    #[command(flatten)]
    pub(super) teaching: TeachingOptions,

    /// Whom the sheet is for
    ///
    /// A pupil's sheet has no trace of a solution, whatever its format. A teacher's page shows each position
    /// in small with its solution beside it.
    #[arg(
        long = "for",
        value_name = "WHOM",
        default_value = "both",
        help_heading = "What to write"
    )]
    pub(super) audience: Audience,

    #[command(flatten)]
    pub(super) language: LanguageOption,

    #[command(flatten)]
    pub(super) pieces: PiecesOption,

    /// Diagrams on a printed page: 1, 2, 4, 6, 9 or 12 [default: as many as fit]
    #[arg(long, value_name = "N", help_heading = "What to write")]
    per_page: Option<PerPage>,

    /// Print large; two diagrams on a page, unless --per-page says otherwise
    #[arg(long, help_heading = "What to write")]
    large: bool,

    /// Paper of a PDF
    #[arg(long, value_name = "SIZE", default_value = "a4", help_heading = "What to write")]
    paper: Paper,

    /// Format of the sheet [default: by the ending of --out, or html]
    #[arg(long, value_name = "FORMAT", help_heading = "What to write")]
    format: Option<ExerciseFormat>,

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

    /// Write over a file that is there; a page or PDF that nobody edited is replaced
    /// unasked
    #[arg(long, help_heading = "What to write")]
    pub(super) replace: bool,
}

impl ExercisesOptions {
    /// What is wrong with the options taken together.
    pub(in crate::commands) fn contradiction(&self) -> Option<&'static str> {
        let is_told = self.format.is_some() || self.ending().is_some();
        let untold = (!is_told && self.out.extension().is_some()).then_some(
            "--out does not end in .html, .pdf, .pgn, .epd or .csv; name the format with --format",
        );
        untold.or_else(|| self.teaching.contradiction())
    }

    /// The format that the file's ending names.
    fn ending(&self) -> Option<ExerciseFormat> {
        ExerciseFormat::from_str(self.out.extension()?.to_str()?, true).ok()
    }

    /// The format that was asked for.
    pub(super) fn format(&self) -> ExerciseFormat {
        self.format.or_else(|| self.ending()).unwrap_or(ExerciseFormat::Html)
    }

    /// How its page is laid out.
    pub(super) fn layout(&self) -> SheetLayout {
        SheetLayout { per_page: self.per_page, is_large: self.large, paper: self.paper }
    }

    /// What the sheet is to be, without what was given.
    ///
    /// # Errors
    ///
    /// If a file of positions to be left out can't be read.
    pub(super) fn wishes(&self, given: &GivenPositions) -> anyhow::Result<SheetWishes> {
        Ok(SheetWishes {
            quotas: self.quotas(),
            levels: self.level.unwrap_or(Levels::ALL),
            queries: self.query.clone(),
            chapters: self.chapter.clone(),
            sides: self.side,
            seed: self.seed,
            given: excluded::given_positions(&self.exclude)?.and(given),
        })
    }

    /// How many of which kind, in the order in which the kinds were named first.
    fn quotas(&self) -> Vec<Quota> {
        let one = self.kind.map(|kind| Quota { kind, count: self.count.unwrap_or(12) });
        let mut quotas: Vec<Quota> = Vec::new();
        for quota in one.into_iter().chain(self.of.iter().copied()) {
            match quotas.iter_mut().find(|known| known.kind == quota.kind) {
                Some(known) => known.count = known.count.saturating_add(quota.count),
                None => quotas.push(quota),
            }
        }
        quotas
    }
}
