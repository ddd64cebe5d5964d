//! Where the reports of a run are written up: rows into tables, counts into the manifest and the summary.

use std::time::Instant;

use super::options::MineOptions;
use crate::collection::Source;
use crate::mining::{
    BaseRates, BlockReport, Plan, Progress, SeenGames, Sink, SourceFailure, Stopped,
};
use crate::query::Pattern;
use crate::statistics::Summary;
use crate::tables::{
    Counts, FolderError, QueryRun, RunFile, SourceRun, Staging, TableWriter, collection_columns,
    collection_row, hash_of, hit_columns, hit_row, reject_columns, reject_row,
};
use crate::terminal::{Bar, Terminal, counted};

/// The manifest of a run that is about to start.
pub(super) fn new_manifest(
    options: &MineOptions,
    sources: &[Source],
    patterns: &[Pattern],
) -> RunFile {
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
        overlooked: 0,
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
pub(super) struct Desk<'r> {
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
    /// The games with hits so far; `None` if duplicates are kept.
    seen: Option<SeenGames>,
    terminal: Terminal,
    pub(super) bar: Bar,
}

impl<'r> Desk<'r> {
    /// Starts all tables of a run.
    pub(super) fn open(
        staging: &'r Staging<'r>,
        plan: &Plan<'r>,
        options: &MineOptions,
        manifest: RunFile,
        terminal: Terminal,
        bar: Bar,
    ) -> Result<Desk<'r>, FolderError> {
        let open_hits =
            |pattern: &Pattern| staging.hits(&pattern.query.name, &hit_columns(&pattern.query));
        Ok(Desk {
            staging,
            sources: plan.sources,
            patterns: plan.patterns,
            hits: plan.patterns.iter().map(open_hits).collect::<Result<_, _>>()?,
            collection: staging.collection(&collection_columns())?,
            rejects: staging.rejects(&reject_columns())?,
            base: (0, BaseRates::default()),
            manifest,
            summaries: vec![Summary::default(); plan.patterns.len()],
            seen: (!options.keep_duplicates).then(SeenGames::default),
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
            if let Some(seen) = &mut self.seen
                && !seen.is_new(&game.info, game.moves)
            {
                self.manifest.counts.duplicates += 1;
                continue;
            }
            for hit in &game.hits {
                let query = &self.patterns[hit.query].query;
                self.hits[hit.query].row(&hit_row(name, &game.info, query, hit))?;
                let half_points = hit.half_points(game.info.result);
                let summary = &mut self.summaries[hit.query];
                match hit.offer.played() {
                    Some(played) => {
                        let is_accepted = played.accepted == Some(true);
                        summary.add(hit.offer.cost, is_accepted, half_points);
                    }
                    None => summary.overlooked += 1,
                }
            }
        }
        Ok(())
    }

    /// Writes the base rates of the source that has been read.
    fn write_base(&mut self) -> std::io::Result<()> {
        let (source, base) = &self.base;
        let name = &self.sources[*source].name;
        for (kind, count) in base.iter() {
            self.collection.row(&collection_row(name, kind, count))?;
        }
        Ok(())
    }

    /// Finishes the tables and fills the manifest.
    pub(super) fn close(
        mut self,
        stopped: Stopped,
        started: Instant,
    ) -> Result<(RunFile, Vec<Summary>), FolderError> {
        self.finish_tables().map_err(|cause| self.staging.unwritable(cause))?;
        for (query, summary) in self.manifest.queries.iter_mut().zip(&self.summaries) {
            query.hits = summary.hits;
            query.overlooked = summary.overlooked;
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
            "can't read `{}` to its end: {}; {} before that kept",
            source.name,
            failure.cause,
            counted(source.games, "game")
        );
        self.bar.aside(|| self.terminal.error(message));
    }
}
