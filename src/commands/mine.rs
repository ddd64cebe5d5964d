//! `hecatomb mine`: queries over a collection, tables out.

use std::path::PathBuf;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Instant;

use anyhow::Context;
use clap::{Args, ValueEnum};

use super::{Ending, show_problems};
use crate::collection::{CollectionError, DateBound, Rating, Source, TimeControl, find_sources};
use crate::mining::{
    BaseRates, BlockReport, Plan, Progress, Selection, Sink, SourceFailure, Stopped, run,
};
use crate::query::{Chapter, Library, Pattern};
use crate::statistics::{SMALLEST_SAMPLE, Summary};
use crate::tables::{
    Counts, FolderError, OptionsFile, OutputFolder, QueryRun, RunFile, SourceRun, Staging,
    TableFormat, TableWriter, collection_columns, collection_row, hash_of, hit_columns, hit_row,
    reject_columns, reject_row,
};
use crate::terminal::{Align, Bar, Terminal, grouped, in_columns, percent};

/// Mine a collection for offers and write a table of hits a query
///
/// Reads PGN, plain or compressed with zstd, gzip or bzip2 (told by content), from files, folders and
/// standard input (`-`). Without --query and --chapter every built-in query runs.
#[derive(Args, Debug)]
#[command(after_help = "Example: hecatomb mine games.pgn.zst league/ --min-rating 2000 --out hits")]
pub(super) struct MineOptions {
    /// Files, folders (all .pgn, .pgn.zst, .pgn.gz, .pgn.bz2 in them), or -
    #[arg(required = true, value_name = "COLLECTION")]
    collection: Vec<String>,

    /// Run this built-in query or query file; may be repeated
    #[arg(long, value_name = "NAME|FILE", help_heading = "What to look for")]
    query: Vec<String>,

    /// Run the built-in queries of this chapter; may be repeated
    #[arg(long, value_name = "PIECE", help_heading = "What to look for")]
    chapter: Vec<ChapterWord>,

    /// Mine only games in which both players are rated so much or more
    #[arg(long, value_name = "ELO", help_heading = "Which games")]
    min_rating: Option<Rating>,

    /// Mine only games in which both players are rated so much or less
    #[arg(long, value_name = "ELO", help_heading = "Which games")]
    max_rating: Option<Rating>,

    /// Mine only games played on this day (or in this month, year) or later
    #[arg(long, value_name = "DATE", help_heading = "Which games")]
    played_from: Option<DateBound>,

    /// Mine only games played on this day (or in this month, year) or earlier
    ///
    /// A date known in part counts if it may lie within; a game without a year is left out.
    #[arg(long, value_name = "DATE", help_heading = "Which games")]
    played_to: Option<DateBound>,

    /// Mine only games with a time control of this category; may be repeated
    ///
    /// By the FIDE Laws of Chess, for the time for 60 moves: standard is an hour or more, rapid more
    /// than 10 minutes, blitz 10 minutes or less; and, by common practice, bullet less than 3.
    #[arg(long, value_name = "CATEGORY", help_heading = "Which games")]
    time_control: Vec<TimeControlWord>,

    /// Stop after so many games
    #[arg(long, value_name = "N", help_heading = "Which games")]
    limit: Option<u64>,

    /// Write the tables to this folder
    #[arg(
        long,
        value_name = "DIR",
        default_value = "hecatomb-out",
        help_heading = "What to write"
    )]
    out: PathBuf,

    /// Write the tables in this format
    #[arg(long, value_name = "FORMAT", default_value = "csv", help_heading = "What to write")]
    table: TableWord,

    /// Write even if the folder holds another run or other files
    #[arg(long, help_heading = "What to write")]
    replace: bool,

    /// Replay every game to its end, so that every illegal game is listed
    #[arg(long, help_heading = "How")]
    audit: bool,

    /// Mine with so many threads [default: one a core]
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=1024), help_heading = "How")]
    threads: Option<u16>,

    /// Hand so many KiB of games to a thread at a time
    #[arg(
        long,
        value_name = "KIB",
        default_value_t = 1024,
        value_parser = clap::value_parser!(u32).range(1..=4096),
        help_heading = "How"
    )]
    block_size: u32,
}

#[derive(ValueEnum, Clone, Copy, Debug)]
enum ChapterWord {
    Bishop,
    Knight,
    Rook,
    Queen,
    Pawn,
    Any,
}

impl From<ChapterWord> for Chapter {
    fn from(word: ChapterWord) -> Chapter {
        match word {
            ChapterWord::Bishop => Chapter::Bishop,
            ChapterWord::Knight => Chapter::Knight,
            ChapterWord::Rook => Chapter::Rook,
            ChapterWord::Queen => Chapter::Queen,
            ChapterWord::Pawn => Chapter::Pawn,
            ChapterWord::Any => Chapter::Any,
        }
    }
}

#[derive(ValueEnum, Clone, Copy, PartialEq, Eq, Debug)]
enum TimeControlWord {
    Standard,
    Rapid,
    Blitz,
    Bullet,
}

impl From<TimeControlWord> for TimeControl {
    fn from(word: TimeControlWord) -> TimeControl {
        match word {
            TimeControlWord::Standard => TimeControl::Standard,
            TimeControlWord::Rapid => TimeControl::Rapid,
            TimeControlWord::Blitz => TimeControl::Blitz,
            TimeControlWord::Bullet => TimeControl::Bullet,
        }
    }
}

#[derive(ValueEnum, Clone, Copy, Debug)]
enum TableWord {
    /// Comma-separated values
    Csv,
    /// A JSON object a line
    Jsonl,
}

impl From<TableWord> for TableFormat {
    fn from(word: TableWord) -> TableFormat {
        match word {
            TableWord::Csv => TableFormat::Csv,
            TableWord::Jsonl => TableFormat::Jsonl,
        }
    }
}

impl MineOptions {
    /// What is wrong with the options taken together.
    pub(super) fn contradiction(&self) -> Option<&'static str> {
        if self.min_rating.zip(self.max_rating).is_some_and(|(min, max)| min > max) {
            return Some("--min-rating is greater than --max-rating: no game is left");
        }
        if self.played_from.zip(self.played_to).is_some_and(|(from, to)| from.is_after(to)) {
            return Some("--played-from is later than --played-to: no game is left");
        }
        None
    }

    fn selection(&self) -> Selection {
        Selection {
            min_rating: self.min_rating,
            max_rating: self.max_rating,
            played_from: self.played_from,
            played_to: self.played_to,
            time_controls: self.time_control.iter().map(|&word| word.into()).collect(),
        }
    }

    fn threads(&self) -> usize {
        let cores = || std::thread::available_parallelism().map_or(1, usize::from);
        self.threads.map_or_else(cores, usize::from)
    }

    fn library(&self) -> Library {
        let mut library = Library::new();
        for &chapter in &self.chapter {
            library.add_chapter(chapter.into());
        }
        for name in &self.query {
            library.add(name);
        }
        if self.query.is_empty() && self.chapter.is_empty() {
            library.add_built_in();
        }
        library
    }

    /// The options that shape the tables, for the manifest.
    fn recorded(&self) -> OptionsFile {
        let categories = self.time_control.iter().map(|word| format!("{word:?}").to_lowercase());
        let categories: Vec<String> = categories.collect();
        let given = [
            ("min_rating", self.min_rating.map(|rating| rating.to_string())),
            ("max_rating", self.max_rating.map(|rating| rating.to_string())),
            ("played_from", self.played_from.map(|date| date.to_string())),
            ("played_to", self.played_to.map(|date| date.to_string())),
            ("time_control", (!categories.is_empty()).then(|| categories.join(","))),
            ("limit", self.limit.map(|limit| limit.to_string())),
            ("audit", self.audit.then(|| "true".to_owned())),
            ("table", Some(TableFormat::from(self.table).ending().to_owned())),
        ];
        let given = given.into_iter().filter_map(|(key, value)| Some((key.to_owned(), value?)));
        OptionsFile(given.collect())
    }
}

/// Runs the command.
pub(super) fn mine(options: &MineOptions, terminal: Terminal) -> anyhow::Result<Ending> {
    let started = Instant::now();
    let queries = match options.library().queries() {
        Ok(queries) => queries,
        Err(troubles) => {
            show_problems(terminal, &troubles);
            return Ok(Ending::Failed);
        }
    };
    let patterns: Vec<Pattern> = queries.into_iter().map(Pattern::new).collect();
    anyhow::ensure!(!patterns.is_empty(), "there is no query to run");
    let (sources, errors) = find_sources(&options.collection);
    tell_collection_errors(terminal, &errors);
    if sources.is_empty() {
        return Ok(Ending::Failed);
    }
    let manifest = new_manifest(options, &sources, &patterns);
    let folder =
        OutputFolder::open(&options.out, &manifest, options.replace).map_err(with_advice)?;
    let staging = folder.stage(options.table.into())?;
    let stop = stop_on_interrupt()?;
    let plan = Plan {
        sources: &sources,
        patterns: &patterns,
        selection: options.selection(),
        threads: options.threads(),
        block_size: options.block_size as usize * 1024,
        audit: options.audit,
        most_games: options.limit.unwrap_or(u64::MAX),
    };
    let bytes = sources.iter().map(|source| source.size).sum::<Option<u64>>();
    let mut desk =
        Desk::open(&staging, &sources, &patterns, manifest, terminal, Bar::new(terminal, bytes))?;
    let stopped = run(&plan, stop, &mut desk);
    desk.bar.end();
    let stopped = stopped?;
    let (manifest, summaries) = desk.close(stopped, started)?;
    staging.publish(&manifest)?;
    terminal.print(&summary(options, &manifest, &patterns, &summaries))?;
    let has_failed =
        !errors.is_empty() || manifest.sources.iter().any(|source| source.failure.is_some());
    Ok(match stopped {
        Stopped::Interrupted => Ending::Interrupted,
        _ if has_failed => Ending::Failed,
        _ => Ending::Done,
    })
}

fn tell_collection_errors(terminal: Terminal, errors: &[CollectionError]) {
    for error in errors {
        terminal.error(error);
    }
}

/// Adds to an error what the user can do.
fn with_advice(error: FolderError) -> anyhow::Error {
    let advice = match &error {
        FolderError::HoldsAnotherRun(_) | FolderError::NotEmpty(_) => {
            "\nhint: name another folder with --out, or write to this one with --replace"
        }
        FolderError::Unwritable { .. } => "",
    };
    anyhow::anyhow!("{error}{advice}")
}

/// A flag that an interrupt sets; a second interrupt ends the program at once.
fn stop_on_interrupt() -> anyhow::Result<&'static AtomicBool> {
    static STOP: AtomicBool = AtomicBool::new(false);
    let handler = || {
        if STOP.swap(true, Ordering::Relaxed) {
            #[expect(
                clippy::exit,
                reason = "the user asked twice, and the first way out is blocked"
            )]
            std::process::exit(130);
        }
    };
    ctrlc::set_handler(handler).context("can't listen for interrupts")?;
    Ok(&STOP)
}

fn new_manifest(options: &MineOptions, sources: &[Source], patterns: &[Pattern]) -> RunFile {
    let source_run = |source: &Source| SourceRun {
        name: source.name.clone(),
        size: source.size,
        games: 0,
        failure: None,
    };
    let query_run = |pattern: &Pattern| QueryRun {
        name: pattern.query.name.clone(),
        sha256: hash_of(&pattern.query.source),
        hits: 0,
    };
    RunFile {
        hecatomb: env!("CARGO_PKG_VERSION").to_owned(),
        ended: String::new(),
        sources: sources.iter().map(source_run).collect(),
        queries: patterns.iter().map(query_run).collect(),
        options: options.recorded(),
        counts: Counts::default(),
        seconds: 0.0,
    }
}

/// Where the reports of a run are written up.
struct Desk<'r> {
    staging: &'r Staging<'r>,
    sources: &'r [Source],
    patterns: &'r [Pattern],
    hits: Vec<Box<dyn TableWriter>>,
    collection: Box<dyn TableWriter>,
    rejects: Box<dyn TableWriter>,
    /// The base rates of the source that is being read.
    base: (usize, BaseRates),
    manifest: RunFile,
    summaries: Vec<Summary>,
    terminal: Terminal,
    bar: Bar,
}

impl<'r> Desk<'r> {
    fn open(
        staging: &'r Staging<'r>,
        sources: &'r [Source],
        patterns: &'r [Pattern],
        manifest: RunFile,
        terminal: Terminal,
        bar: Bar,
    ) -> Result<Desk<'r>, FolderError> {
        let open_hits =
            |pattern: &Pattern| staging.hits(&pattern.query.name, &hit_columns(&pattern.query));
        Ok(Desk {
            staging,
            sources,
            patterns,
            hits: patterns.iter().map(open_hits).collect::<Result<_, _>>()?,
            collection: staging.collection(&collection_columns())?,
            rejects: staging.rejects(&reject_columns())?,
            base: (0, BaseRates::default()),
            manifest,
            summaries: vec![Summary::default(); patterns.len()],
            terminal,
            bar,
        })
    }

    fn write_block(&mut self, source: usize, report: &BlockReport) -> std::io::Result<()> {
        if self.base.0 != source {
            self.write_base()?;
            self.base = (source, BaseRates::default());
        }
        self.base.1.merge(&report.base);
        let name = &self.sources[source].name;
        for reject in &report.rejects {
            self.rejects.row(&reject_row(name, reject))?;
        }
        for game in &report.mined {
            for hit in &game.hits {
                let query = &self.patterns[hit.query].query;
                self.hits[hit.query].row(&hit_row(name, &game.info, query, hit))?;
                let half_points = hit.half_points(game.info.result);
                self.summaries[hit.query].add(
                    hit.offer.cost,
                    hit.offer.accepted == Some(true),
                    half_points,
                );
            }
        }
        Ok(())
    }

    /// Writes the base rates of the source that has been read.
    fn write_base(&mut self) -> std::io::Result<()> {
        let (source, base) = &self.base;
        let name = &self.sources[*source].name;
        for (band, result, count) in base.iter() {
            self.collection.row(&collection_row(name, band, result, count))?;
        }
        Ok(())
    }

    /// Finishes the tables and fills the manifest.
    fn close(
        mut self,
        stopped: Stopped,
        started: Instant,
    ) -> Result<(RunFile, Vec<Summary>), FolderError> {
        self.finish_tables().map_err(|cause| self.staging.unwritable(cause))?;
        for (query, summary) in self.manifest.queries.iter_mut().zip(&self.summaries) {
            query.hits = summary.hits;
        }
        self.manifest.ended = match stopped {
            Stopped::AtTheEnd => "at the end",
            Stopped::AtTheLimit => "at the limit",
            Stopped::Interrupted => "interrupted",
        }
        .to_owned();
        self.manifest.seconds = (started.elapsed().as_secs_f64() * 1000.0).round() / 1000.0;
        Ok((self.manifest, self.summaries))
    }

    fn finish_tables(&mut self) -> std::io::Result<()> {
        self.write_base()?;
        for table in &mut self.hits {
            table.finish()?;
        }
        self.collection.finish()?;
        self.rejects.finish()
    }
}

impl Sink for Desk<'_> {
    type Error = FolderError;

    fn block(
        &mut self,
        source: usize,
        report: &BlockReport,
        progress: Progress,
    ) -> Result<(), FolderError> {
        self.write_block(source, report).map_err(|cause| self.staging.unwritable(cause))?;
        let counts = &mut self.manifest.counts;
        counts.games += report.games;
        counts.left_out += report.left_out;
        counts.rejected += report.rejects.len() as u64;
        counts.passed_text += report.passed_text;
        counts.replayed += report.replayed;
        counts.bytes = progress.bytes;
        self.manifest.sources[source].games += report.games;
        let hits = self.summaries.iter().map(|summary| summary.hits).sum();
        self.bar.show(progress.consumed, progress.bytes, progress.games, hits);
        Ok(())
    }

    fn failure(&mut self, failure: SourceFailure) {
        let source = &mut self.manifest.sources[failure.source];
        source.failure = Some(failure.cause.to_string());
        let message = format!(
            "can't read `{}` to its end: {}; {} games before that are kept",
            source.name,
            failure.cause,
            grouped(source.games)
        );
        self.bar.aside(|| self.terminal.error(message));
    }
}

/// The end of a run in a few lines.
fn summary(
    options: &MineOptions,
    manifest: &RunFile,
    patterns: &[Pattern],
    summaries: &[Summary],
) -> String {
    let counts = &manifest.counts;
    let mut parts = vec![format!("{} games read", grouped(counts.games))];
    match manifest.ended.as_str() {
        "interrupted" => parts.push("then interrupted".to_owned()),
        "at the limit" => parts.push("which is the limit".to_owned()),
        _ => {}
    }
    if counts.left_out > 0 {
        parts.push(format!("{} left out by the options", grouped(counts.left_out)));
    }
    parts.push(format!("{} rejected", grouped(counts.rejected)));
    let heading = ["query", "hits", "real", "accepted", "won-drawn-lost", "score %", "interval"];
    let mut rows = vec![heading.map(str::to_owned).to_vec()];
    let names = patterns.iter().map(|pattern| &pattern.query.name);
    rows.extend(names.zip(summaries).map(|(name, summary)| summary_row(name, summary)));
    let mut align = [Align::Right; 7];
    align[0] = Align::Left;
    format!(
        "{}; tables in {}\n\n{}\n{LEGEND}",
        parts.join(", "),
        options.out.display(),
        in_columns(&align, &rows)
    )
}

/// What the columns of the summary mean.
const LEGEND: &str = "\
real: hits that give something up (cost over 0); accepted, won-drawn-lost and the
attacker's score with its 95 % interval are of these, games without a result
aside. With fewer than 10 games no score is given.
";

fn summary_row(name: &str, summary: &Summary) -> Vec<String> {
    let outcomes = &summary.outcomes;
    let is_enough = outcomes.decided() >= SMALLEST_SAMPLE;
    let score = outcomes.score().filter(|_| is_enough).map(percent);
    let interval = outcomes.interval().filter(|_| is_enough);
    let interval = interval.map(|ends| format!("{}-{}", percent(ends.lower), percent(ends.upper)));
    let results = [outcomes.wins, outcomes.draws, outcomes.losses].map(grouped).join("-");
    vec![
        name.to_owned(),
        grouped(summary.hits),
        grouped(summary.real_offers),
        grouped(summary.accepted),
        results,
        score.unwrap_or_else(|| "-".to_owned()),
        interval.unwrap_or_else(|| "-".to_owned()),
    ]
}
