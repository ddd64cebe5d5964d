//! The options of `hecatomb mine`.

use std::path::{Path, PathBuf};
use std::time::Duration;

use clap::Args;

use crate::collection::{DateBound, PartOf, Rating, STANDARD_INPUT, TimeControl};
use crate::commands::shared_options::ThreadsOption;
use crate::mining::{Scrutiny, Selection};
use crate::query::{Chapter, Finds, Library};
use crate::run::{Found, RunOptions};
use crate::tables::{OVERLOOKED_OPTION, OptionsFile, PART_OPTION, TableFormat};

/// Mine a collection for offers and write tables of hits
///
/// Reads PGN from files, folders and standard input (`-`), plain or compressed with zstd, gzip or bzip2.
/// Writes a table for each query; without --query and --chapter, every built-in query runs. `hecatomb help
/// mining` says more.
#[derive(Args, Debug)]
#[command(after_help = "Example: hecatomb mine games.pgn.zst league/ --min-rating 2000 --out hits")]
pub(in crate::commands) struct MineOptions {
    /// Files, folders (every .pgn, .pgn.zst, .pgn.gz and .pgn.bz2 in them), or - for standard input
    #[arg(required = true, value_name = "COLLECTION")]
    pub(super) collection: Vec<PathBuf>,

    /// Run this built-in query or query file; may be repeated
    #[arg(long, value_name = "NAME|FILE", help_heading = "What to look for")]
    query: Vec<String>,

    /// Run the built-in queries of this chapter; may be repeated
    #[arg(long, value_name = "PIECE", help_heading = "What to look for")]
    chapter: Vec<Chapter>,

    /// Find every sacrifice as well, whatever the motif
    ///
    /// Adds six queries: bishop-sacrifice, knight-sacrifice, rook-sacrifice, exchange-sacrifice,
    /// queen-sacrifice and pawn-sacrifice. They look at every move of every game, which takes longer.
    /// `hecatomb tally --unnamed` shows what no motif names.
    #[arg(long, help_heading = "What to look for")]
    every_sacrifice: bool,

    /// Mine only games in which both players are rated at least ELO
    #[arg(long, value_name = "ELO", help_heading = "Which games")]
    min_rating: Option<Rating>,

    /// Mine only games in which both players are rated at most ELO
    #[arg(long, value_name = "ELO", help_heading = "Which games")]
    max_rating: Option<Rating>,

    /// Mine only games played on or after this date: a year, a month or a day, such as 2031-03
    #[arg(long, value_name = "DATE", help_heading = "Which games")]
    played_from: Option<DateBound>,

    /// Mine only games played on or before this date
    ///
    /// A date known only in part counts if it may be in range. A game without a year is left out.
    #[arg(long, value_name = "DATE", help_heading = "Which games")]
    played_to: Option<DateBound>,

    /// Mine only games with a time control of this category; may be repeated
    ///
    /// By the FIDE Laws of Chess, for the time that a player has for 60 moves: standard is an hour or
    /// more, rapid more than 10 minutes, blitz 10 minutes or less. Bullet (less than 3 minutes) is not in
    /// the Laws, but common practice.
    #[arg(long, value_name = "CATEGORY", help_heading = "Which games")]
    time_control: Vec<TimeControl>,

    /// Stop after N games
    #[arg(long, value_name = "N", help_heading = "Which games")]
    pub(super) limit: Option<u64>,

    /// Mine only the Ith of N shares of the collection, such as 2/7, to be joined later
    ///
    /// N machines with the same files share the work so: each mines one part, and `hecatomb join` makes of all
    /// parts the run that one machine would have made. Plain files are cut between games, zstd files between
    /// frames; gzip, bzip2 and long frames are left whole. See `hecatomb help parts`.
    #[arg(long, value_name = "I/N", conflicts_with = "limit", help_heading = "Which games")]
    pub(super) part: Option<PartOf>,

    /// Keep every copy of a game that occurs more than once
    ///
    /// Otherwise only the first copy's hits are kept. Two games are the same if their moves are, and
    /// players, date and round do not contradict each other.
    #[arg(long, help_heading = "What to write")]
    pub(super) keep_duplicates: bool,

    /// Write the tables to this folder
    #[arg(
        long,
        value_name = "DIR",
        default_value = "hecatomb-out",
        help_heading = "What to write"
    )]
    pub(super) out: PathBuf,

    /// Write the tables in this format
    #[arg(long, value_name = "FORMAT", default_value = "csv", help_heading = "What to write")]
    pub(super) table: TableFormat,

    /// Write even if the folder holds another run or other files
    #[arg(long, help_heading = "What to write")]
    pub(super) replace: bool,

    /// Continue a run of the same sources, queries and options that was cut short
    ///
    /// The tables come out as if nothing had happened. Runs over standard input or pipes and runs that write
    /// Parquet can't be resumed.
    #[arg(long, conflicts_with = "replace", help_heading = "What to write")]
    pub(super) resume: bool,

    /// Save a checkpoint every N seconds [default: 5, or less often where saving takes long]
    #[arg(
        long,
        value_name = "N",
        value_parser = clap::value_parser!(u32).range(0..=86_400),
        help_heading = "How"
    )]
    checkpoint_every: Option<u32>,

    /// Show how long each stage took and how many games passed each gate
    #[arg(long, conflicts_with = "quiet", help_heading = "How")]
    pub(super) verbose: bool,

    /// Also report offers that could have been made and were not
    ///
    /// For every query whose offer names squares: the first position of a game in which the move was
    /// legal, met the conditions and gave something up, with the move that was played instead.
    #[arg(long, help_heading = "What to look for")]
    pub(super) overlooked: bool,

    /// Replay every game to its end, so that every illegal game is listed
    #[arg(long, help_heading = "How")]
    pub(super) audit: bool,

    #[command(flatten)]
    pub(super) threads: ThreadsOption,

    /// Hand KIB kibibytes of games to a thread at a time; for tests, since the tables never depend on it
    #[arg(
        long,
        hide = true,
        value_name = "KIB",
        default_value_t = 2048,
        value_parser = clap::value_parser!(u32).range(1..=4096)
    )]
    pub(super) block_size: u32,
}

impl MineOptions {
    /// What is wrong with the options taken together.
    pub(in crate::commands) fn contradiction(&self) -> Option<&'static str> {
        if self.min_rating.zip(self.max_rating).is_some_and(|(min, max)| min > max) {
            return Some("--min-rating is greater than --max-rating: no game is left");
        }
        if self.played_from.zip(self.played_to).is_some_and(|(from, to)| from.is_after(to)) {
            return Some("--played-from is later than --played-to: no game is left");
        }
        if self.resume && !self.table.can_grow() {
            return Some("--resume can't continue Parquet tables: they are written in one piece");
        }
        if self.resume && self.collection.iter().any(|path| path == Path::new(STANDARD_INPUT)) {
            return Some("--resume needs sources that can be read again; standard input can't be");
        }
        if self.part.is_some()
            && self.collection.iter().any(|path| path == Path::new(STANDARD_INPUT))
        {
            return Some(
                "--part needs files that every machine can read; standard input can't be parted",
            );
        }
        None
    }

    /// Which games are mined.
    pub(super) fn selection(&self) -> Selection {
        Selection {
            min_rating: self.min_rating,
            max_rating: self.max_rating,
            played_from: self.played_from,
            played_to: self.played_to,
            time_controls: self.time_control.clone(),
        }
    }

    /// How the run is to be written.
    pub(super) fn run_options(&self) -> RunOptions {
        RunOptions {
            out: self.out.clone(),
            format: self.table,
            found: Found::asked(self.replace, self.resume),
            keep_duplicates: self.keep_duplicates,
            checkpoint_every: self.checkpoint_every.map(|it| Duration::from_secs(it.into())),
            recorded: self.recorded(),
        }
    }

    pub(super) fn scrutiny(&self) -> Scrutiny {
        Scrutiny { audit: self.audit, overlooked: self.overlooked }
    }

    /// Whether no query was named.
    pub(super) fn names_no_query(&self) -> bool {
        self.query.is_empty()
    }

    /// The queries that were asked for.
    pub(super) fn library(&self) -> Library {
        let mut library = Library::new();
        for &chapter in &self.chapter {
            library.add_finding(Finds::Motif, Some(chapter));
        }
        for name in &self.query {
            library.add(name);
        }
        if self.query.is_empty() && self.chapter.is_empty() {
            library.add_finding(Finds::Motif, None);
        }
        if self.every_sacrifice {
            library.add_finding(Finds::EverySacrifice, None);
        }
        library
    }

    /// The options that shape the tables, for the manifest.
    fn recorded(&self) -> OptionsFile {
        let categories = self.time_control.iter().map(|category| category.word());
        let categories: Vec<&str> = categories.collect();
        let given = [
            ("min_rating", self.min_rating.map(|rating| rating.to_string())),
            ("max_rating", self.max_rating.map(|rating| rating.to_string())),
            ("played_from", self.played_from.map(|date| date.to_string())),
            ("played_to", self.played_to.map(|date| date.to_string())),
            ("time_control", (!categories.is_empty()).then(|| categories.join(","))),
            ("limit", self.limit.map(|limit| limit.to_string())),
            (PART_OPTION, self.part.map(|part| part.to_string())),
            (OVERLOOKED_OPTION, self.overlooked.then(|| "true".to_owned())),
            ("keep_duplicates", self.keep_duplicates.then(|| "true".to_owned())),
            ("audit", self.audit.then(|| "true".to_owned())),
            ("table", Some(self.table.ending().to_owned())),
        ];
        let given = given.into_iter().filter_map(|(key, value)| Some((key.to_owned(), value?)));
        OptionsFile(given.collect())
    }
}
