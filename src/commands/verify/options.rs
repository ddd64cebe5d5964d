//! The options of `hecatomb verify`.

use std::path::{Path, PathBuf};

use clap::Args;

use super::selection::OfferSelection;
use crate::commands::engine_options::EngineOptions;
use crate::commands::shared_options::{EditedOption, NodesOption, ThreadsOption};
use crate::hits::Reading;
use crate::query::Chapter;
use crate::run::Found;
use crate::verdict::Effort;

/// Find out what offers are worth, and how that is known
///
/// Judges every hit of a run against best play: does the offer mate, or draw by perpetual check? That is proved. What no proof
/// decides is judged by an engine, if one is named, against the best other move; else only some counts of
/// material speak, and the rest stays open. Writes a table of verdicts for each query into the run's folder.
/// With --fen and --offer it judges one position and shows the proof.
#[derive(Args, Debug)]
#[command(after_help = "Example: hecatomb verify hecatomb-out --query smothered-mate")]
pub(in crate::commands) struct VerifyOptions {
    /// A folder that `mine --out` wrote, or `-` for hits on standard input
    ///
    /// With `-` each line is a hit, as `mine --table jsonl` writes it, and each is answered on standard output
    /// with a line of its verdict, in the same order. `hecatomb help clusters` says more.
    #[arg(value_name = "DIR|-", required_unless_present = "fen", conflicts_with = "fen")]
    pub(super) run: Option<PathBuf>,

    /// Only the hits of this query; may be repeated
    #[arg(
        long,
        value_name = "NAME",
        requires = "run",
        conflicts_with = "fen",
        help_heading = "Which hits"
    )]
    pub(super) query: Vec<String>,

    /// Only the hits of the queries of this chapter; may be repeated
    #[arg(
        long,
        value_name = "PIECE",
        requires = "run",
        conflicts_with = "fen",
        help_heading = "Which hits"
    )]
    pub(super) chapter: Vec<Chapter>,

    /// Judge the first N offers, in the order of judging
    ///
    /// Each position and move counts once, however many hits it is in. What was judged before counts as well:
    /// with --resume a larger N goes on.
    #[arg(
        long,
        value_name = "N",
        requires = "run",
        conflicts_with_all = ["fen", "sample"],
        value_parser = clap::value_parser!(u32).range(1..),
        help_heading = "Which hits"
    )]
    limit: Option<u32>,

    /// Judge the offers that could have been made and were not, the most promising first
    ///
    /// For runs of `mine --overlooked`. With an engine it looks at them for an instant first. `hecatomb help
    /// verdicts` says more.
    #[arg(long, requires = "run", conflicts_with = "fen", help_heading = "Which hits")]
    pub(super) overlooked: bool,

    /// Judge N offers drawn by lot among those that were made
    ///
    /// With --overlooked, among those that were not. Each position and move counts once. A larger N with the same
    /// seed draws the same and more.
    #[arg(
        long,
        value_name = "N",
        requires = "run",
        conflicts_with = "fen",
        value_parser = clap::value_parser!(u32).range(1..),
        help_heading = "Which hits"
    )]
    sample: Option<u32>,

    /// Random seed; another number draws other offers
    #[arg(
        long,
        value_name = "S",
        default_value_t = 1,
        requires = "sample",
        help_heading = "Which hits"
    )]
    seed: u64,

    /// Judge a move in this position
    #[arg(
        long,
        value_name = "FEN",
        requires = "offer",
        conflicts_with = "edited",
        help_heading = "One position"
    )]
    pub(super) fen: Option<String>,

    /// The move to judge, in SAN
    #[arg(long, value_name = "SAN", requires = "fen", help_heading = "One position")]
    pub(super) offer: Option<String>,

    #[command(flatten)]
    pub(super) proof: NodesOption,

    /// Count material at most PLIES plies after the offer [default: as deep as the positions allow]
    #[arg(
        long,
        value_name = "PLIES",
        value_parser = clap::value_parser!(u8).range(4..=64),
        help_heading = "How"
    )]
    pub(super) depth: Option<u8>,

    #[command(flatten)]
    pub(super) engine: EngineOptions,

    /// Print on what the verdicts depend, as a line of JSON, and read no hits; with `-`
    ///
    /// Wherever it prints the same, the verdicts are the same.
    #[arg(long, requires = "run", conflicts_with = "fen", help_heading = "How")]
    pub(super) terms: bool,

    #[command(flatten)]
    pub(super) threads: ThreadsOption,

    /// Judge on a cluster: the address of a Dask scheduler, or `local` for the cores of this machine
    ///
    /// Only this needs Python, with its package `distributed`. The tables are the same, byte by byte. `hecatomb
    /// help clusters` says more.
    #[arg(
        long,
        value_name = "ADDRESS",
        requires = "run",
        conflicts_with = "fen",
        help_heading = "A cluster"
    )]
    pub(super) cluster: Option<String>,

    /// This program as the workers find it [default: hecatomb, on their path]
    #[arg(long, value_name = "PROGRAM", requires = "cluster", help_heading = "A cluster")]
    pub(super) worker_program: Option<PathBuf>,

    /// The Python that has `distributed`
    #[arg(
        long,
        value_name = "PROGRAM",
        default_value = "python3",
        requires = "cluster",
        help_heading = "A cluster"
    )]
    pub(super) python: PathBuf,

    /// Continue an earlier run with the same options that was cut short
    #[arg(
        long,
        requires = "run",
        conflicts_with_all = ["fen", "replace"],
        help_heading = "How"
    )]
    resume: bool,

    /// Replace verdicts that were made with other options, or were cut short
    #[arg(long, requires = "run", conflicts_with = "fen", help_heading = "How")]
    replace: bool,

    #[command(flatten)]
    pub(super) edited: EditedOption,
}

/// What stands for standard input.
const STANDARD_INPUT: &str = "-";

/// What is said of an option that does not go with hits on standard input.
macro_rules! not_with_lines {
    ($option:literal) => {
        concat!("the argument '", $option, "' cannot be used with `-`")
    };
}

impl VerifyOptions {
    /// Whether hits come in on standard input.
    pub(super) fn is_piped(&self) -> bool {
        self.run.as_deref().is_some_and(|run| run == Path::new(STANDARD_INPUT))
    }

    /// What is wrong with the options taken together.
    pub(in crate::commands) fn contradiction(&self) -> Option<&'static str> {
        if self.is_piped() { self.refused_with_lines() } else { self.refused_with_run() }
    }

    /// The first option that goes only with a run's folder, where hits come in on standard input.
    fn refused_with_lines(&self) -> Option<&'static str> {
        let refused = [
            (!self.query.is_empty(), not_with_lines!("--query <NAME>")),
            (!self.chapter.is_empty(), not_with_lines!("--chapter <PIECE>")),
            (self.limit.is_some(), not_with_lines!("--limit <N>")),
            (self.overlooked, not_with_lines!("--overlooked")),
            (self.sample.is_some(), not_with_lines!("--sample <N>")),
            (self.cluster.is_some(), not_with_lines!("--cluster <ADDRESS>")),
            (self.resume, not_with_lines!("--resume")),
            (self.replace, not_with_lines!("--replace")),
            (self.edited.reading() == Reading::AsTheyAre, not_with_lines!("--edited")),
        ];
        refused.into_iter().find_map(|(is_given, message)| is_given.then_some(message))
    }

    /// The first option that does not go with the hits of a run, or with one position.
    fn refused_with_run(&self) -> Option<&'static str> {
        let is_remote = self.cluster.as_ref().is_some_and(|address| address != "local");
        if is_remote && self.threads.is_given() && !self.overlooked {
            return Some("--threads is for this machine: the workers of a cluster have their own");
        }
        self.terms.then_some("the argument '--terms' goes only with `-`")
    }

    /// What to do about verdicts that are there already.
    pub(super) fn found(&self) -> Found {
        Found::asked(self.replace, self.resume)
    }

    /// Which offers to judge.
    pub(super) fn selection(&self) -> OfferSelection {
        let most = |number: u32| usize::try_from(number).unwrap_or(usize::MAX);
        match self.sample.map(most) {
            Some(offers) => {
                OfferSelection::ByLot { offers, seed: self.seed, overlooked: self.overlooked }
            }
            None if self.overlooked => OfferSelection::Promising(self.limit.map(most)),
            None => OfferSelection::First(self.limit.map(most)),
        }
    }

    /// The arguments by which a worker judges as these options say.
    pub(super) fn for_a_worker(&self) -> anyhow::Result<Vec<String>> {
        let mut arguments: Vec<String> = ["verify", "-", "--threads=1"].map(str::to_owned).into();
        arguments.push(format!("--nodes={}", self.proof.nodes));
        arguments.extend(self.depth.map(|depth| format!("--depth={depth}")));
        arguments.extend(self.engine.arguments()?);
        Ok(arguments)
    }

    /// The budget of a judgement.
    pub(super) fn effort(&self) -> Effort {
        let effort = self.proof.effort();
        Effort { depth: self.depth.unwrap_or(effort.depth), ..effort }
    }
}
