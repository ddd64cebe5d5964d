//! The options of `hecatomb tally`.

use std::path::PathBuf;

use clap::Args;

use crate::commands::shared_options::{EditedOption, SacrificeOption};
use crate::terminal::SheetFormat;

/// Show how often a motif occurs and how well it scores
///
/// Reads the tables that `mine` wrote, and counts several runs together if several are named. Without
/// --by, --factors or --continuations it shows for each query how often it occurs, and how well it
/// scores compared with the ratings and with all games of the collection. `hecatomb help statistics`
/// says more.
#[derive(Args, Debug)]
#[command(
    after_help = "Example: hecatomb tally hecatomb-out --query knight-follow-up --by rating,side"
)]
pub(in crate::commands) struct TallyOptions {
    /// Folders that `mine --out` wrote
    #[arg(required = true, value_name = "DIR")]
    pub(super) runs: Vec<PathBuf>,

    /// Only the hits of this query; may be repeated
    #[arg(long, value_name = "NAME")]
    pub(super) query: Vec<String>,

    /// Count by the values of these columns, separated by commas
    ///
    /// Any column of the table of hits; a follow-up (whether it came) or a factor by its name; `rating`
    /// (bands of 200 points, by the mean of both ratings), `balance` (bands of the material before), `year`, `eco-letter` and `time-category`; and,
    /// once the hits are verified, `verdict`, `sound` and `evidence`.
    #[arg(long, value_name = "COLUMN", value_delimiter = ',', help_heading = "What to count")]
    pub(super) by: Vec<String>,

    /// Show what each factor is worth: the score with it and without it
    ///
    /// With --by, group by group: `--by sound` shows what it is worth where the offer is sound. p-values are
    /// corrected for the factors of all queries and groups that are shown.
    #[arg(long, help_heading = "What to count")]
    pub(super) factors: bool,

    /// Show the tree of what was played after the offer, in the attacker's view
    #[arg(long, help_heading = "What to count", conflicts_with_all = ["by", "factors"])]
    pub(super) continuations: bool,

    /// Show what is given up and no motif names, the most frequent first
    ///
    /// For runs of `mine --every-sacrifice`: by the man that is given up, its square in the attacker's view
    /// and the kind of sacrifice, with up to three games each.
    #[arg(
        long,
        help_heading = "What to count",
        conflicts_with_all = ["by", "factors", "continuations", "query", "plot"]
    )]
    pub(super) unnamed: bool,

    /// Show the chances that nobody took: overlooked offers that work and beat the move played instead
    ///
    /// For runs of `mine --overlooked` that were verified. A position and offer is one row, with all queries
    /// that it fits.
    #[arg(
        long,
        help_heading = "What to count",
        conflicts_with_all = ["by", "factors", "continuations", "unnamed", "plot"]
    )]
    pub(super) overlooked: bool,

    /// Follow the tree for N plies after the offer, at most 19
    #[arg(
        long,
        value_name = "N",
        default_value_t = 5,
        value_parser = clap::value_parser!(u8).range(1..=19),
        requires = "continuations",
        help_heading = "What to count"
    )]
    pub(super) depth: u8,

    /// Fold moves played in fewer than N games into one line
    #[arg(
        long,
        value_name = "N",
        default_value_t = 3,
        requires = "continuations",
        help_heading = "What to count"
    )]
    pub(super) least: u64,

    /// The format of the output
    #[arg(long, value_name = "FORMAT", default_value = "text", help_heading = "What to write")]
    pub(super) format: SheetFormat,

    /// Draw one query's scores by rating, factors and frequency by year to this SVG file
    #[arg(long, value_name = "FILE.svg", help_heading = "What to write")]
    pub(super) plot: Option<PathBuf>,

    #[command(flatten)]
    pub(super) sacrifices: SacrificeOption,

    #[command(flatten)]
    pub(super) edited: EditedOption,
}

impl TallyOptions {
    /// What is wrong with the options taken together.
    pub(in crate::commands) fn contradiction(&self) -> Option<&'static str> {
        self.sacrifices.contradiction()
    }
}
