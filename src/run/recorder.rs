//! Where the reports of a run are written up: rows into tables, counts into the manifest and the summary,
//! and all of it into checkpoints.

use std::io;
use std::time::Instant;

use super::RunOptions;
use super::checkpoint::Checkpoint;
use super::keeper::{Keeper, written_down};
use super::run_tables::RunTables;
use crate::collection::{ByteOffset, Integrity, Source};
use crate::hits::{HitRow, collection_cells, duplicate_cells, game_cells, reject_cells};
use crate::mining::{
    BaseRates, BlockReport, Hit, MinedBlock, MinedGame, Plan, SeenBefore, SeenGames, Sink,
    SourceFailure, Stage, Stopped, Times, Waypoint,
};
use crate::query::Pattern;
use crate::statistics::Summary;
use crate::tables::{
    Counts, EndOfRun, FolderError, GAMES_TABLE, RunFile, SourceRun, Staging, hits_table,
};

/// Where the reports of a run are written up.
pub struct Recorder<'r> {
    staging: &'r Staging<'r>,
    sources: &'r [Source],
    patterns: &'r [Pattern],
    tables: RunTables,
    /// The base rates of the source that is being read.
    base: (usize, BaseRates),
    manifest: RunFile,
    summaries: Vec<Summary>,
    /// The games with hits so far; `None` if duplicates are kept.
    seen: Option<SeenGames>,
    /// What checkpoints need; `None` if the run can't be resumed.
    keeper: Option<Keeper>,
    /// The place after the last block, if the run can be resumed there.
    reached: Option<Waypoint>,
    /// The games of the last block that were cut off.
    cut_off: u64,
    /// Where this run began.
    from: Waypoint,
    times: Times,
    started: Instant,
    /// The seconds that the run took before it was resumed.
    seconds_before: f64,
    tell: &'r dyn Fn(News<'_>),
}

/// News of a run while it goes on.
#[derive(Clone, Copy, Debug)]
pub enum News<'n> {
    /// How far it has come.
    Progress {
        /// The bytes of the sources that were read, before decompression.
        consumed: u64,
        /// The bytes mined since this run began, after decompression.
        bytes: u64,
        /// The games mined since this run began.
        games: u64,
        /// The hits found.
        hits: u64,
    },
    /// A source could not be read to its end.
    Failure {
        /// Its name.
        source: &'n str,
        /// What the system or the archive says.
        cause: &'n io::Error,
        /// The games that were read from it.
        kept: u64,
        /// The first byte of its text that no check has vouched for, if games were read from a damaged archive.
        unchecked_from: Option<u64>,
    },
}

impl News<'_> {
    /// The same of a run that leaves out the first bytes of the sources, as many as these.
    #[must_use]
    pub fn after(self, left_out: u64) -> Self {
        match self {
            News::Progress { consumed, bytes, games, hits } => {
                let consumed = consumed.saturating_sub(left_out);
                News::Progress { consumed, bytes, games, hits }
            }
            News::Failure { .. } => self,
        }
    }
}

/// The result of a run.
#[derive(Debug)]
pub struct Recorded {
    /// The manifest.
    pub manifest: RunFile,
    /// The summary of each query.
    pub summaries: Vec<Summary>,
    /// How long each stage took.
    pub times: Times,
    /// The checkpoint that stays, if the run can be resumed.
    pub checkpoint: Option<Vec<u8>>,
}

impl<'r> Recorder<'r> {
    /// Starts all tables of a run, or continues those of an earlier one.
    ///
    /// # Errors
    ///
    /// If nothing can be written to its folder.
    pub fn open(
        staging: &'r Staging<'r>,
        plan: &Plan<'r>,
        options: &RunOptions,
        (manifest, earlier): (RunFile, Option<Checkpoint>),
        tell: &'r dyn Fn(News<'_>),
    ) -> Result<Recorder<'r>, FolderError> {
        let lengths = earlier.as_ref().map(|earlier| &earlier.lengths);
        let tables = RunTables::open(staging, plan.patterns, lengths)?;
        let memory_length = lengths.map_or(0, |lengths| lengths.memory);
        let seen = match options.keep_duplicates {
            true => None,
            false => Some(written_down(staging, memory_length)?),
        };
        let keeper = Keeper::of(options, plan.sources, staging, memory_length)?;
        let (manifest, summaries, base) = match earlier {
            Some(Checkpoint { manifest, summaries, base: (source, base), .. }) => {
                (manifest, summaries, (source, BaseRates::of(base)))
            }
            None => {
                let summaries = vec![Summary::default(); plan.patterns.len()];
                (manifest, summaries, (0, BaseRates::default()))
            }
        };
        Ok(Recorder {
            staging,
            sources: plan.sources,
            patterns: plan.patterns,
            tables,
            base,
            seconds_before: manifest.seconds,
            manifest,
            summaries,
            seen,
            keeper,
            reached: Some(plan.from),
            cut_off: 0,
            from: plan.from,
            times: Times::default(),
            started: Instant::now(),
            tell,
        })
    }

    fn write_block(&mut self, source: usize, report: &BlockReport) -> io::Result<()> {
        if self.base.0 != source {
            self.write_base()?;
            self.base = (source, BaseRates::default());
        }
        self.base.1.merge(&report.base);
        let name = &self.sources[source].name;
        for reject in &report.rejects {
            self.tables.rejects.row(&reject_cells(name, reject))?;
        }
        for game in &report.mined {
            if self.is_new(game)? {
                self.tables.games.row(&game_cells(name, game))?;
                self.write_hits(name, game)?;
            } else {
                self.write_duplicate(name, game)?;
            }
        }
        Ok(())
    }

    /// Whether a game with hits is to be written: it was not seen before, or duplicates are kept.
    fn is_new(&mut self, game: &MinedGame) -> io::Result<bool> {
        match self.seen.as_mut().map(|seen| seen.see(game.remembered())) {
            Some(SeenBefore::Before) => {
                self.manifest.counts.duplicates += 1;
                return Ok(false);
            }
            Some(SeenBefore::First(remembered)) => {
                if let Some(keeper) = &mut self.keeper {
                    keeper.write_down(remembered)?;
                }
            }
            Some(SeenBefore::Forgotten) | None => {}
        }
        Ok(true)
    }

    /// Keeps a game that is left out, with its hits, for whoever joins this run with others.
    fn write_duplicate(&mut self, source: &str, game: &MinedGame) -> io::Result<()> {
        let number = game.info.number.0;
        let row = game_cells(source, game);
        let table = &mut self.tables.duplicates;
        table.row(&duplicate_cells(source, number, GAMES_TABLE, &row))?;
        // As they would come from the tables of hits.
        let mut hits: Vec<&Hit> = game.hits.iter().collect();
        hits.sort_by_key(|hit| hit.query);
        for hit in hits {
            let query = &self.patterns[hit.query].query.name;
            let row = HitRow::of_mined(source, &game.info, query, hit);
            let row = self.tables.hits[hit.query].0.hit_cells(&row);
            table.row(&duplicate_cells(source, number, &hits_table(query), &row))?;
        }
        Ok(())
    }

    fn write_hits(&mut self, source: &str, game: &MinedGame) -> io::Result<()> {
        for hit in &game.hits {
            let row =
                HitRow::of_mined(source, &game.info, &self.patterns[hit.query].query.name, hit);
            let (layout, table) = &mut self.tables.hits[hit.query];
            table.row(&layout.hit_cells(&row))?;
            let summary = &mut self.summaries[hit.query];
            match hit.offer.played() {
                Some(_) => {
                    let half_points = game.info.result.half_points(hit.view.attacker);
                    summary.add(&hit.offer, half_points);
                }
                None => summary.overlooked += 1,
            }
        }
        Ok(())
    }

    /// Writes the base rates of the source that has been read.
    fn write_base(&mut self) -> io::Result<()> {
        let (source, base) = &self.base;
        let name = &self.sources[*source].name;
        for (kind, count) in base.iter() {
            self.tables.collection.row(&collection_cells(name, kind, count))?;
        }
        Ok(())
    }

    fn count(&mut self, mined: &MinedBlock<'_>) {
        let MinedBlock { source, report, progress, .. } = *mined;
        add(&mut self.manifest.counts, report);
        if let Some(part) = self.manifest.part.as_mut().filter(|part| part.from.source == source) {
            add(&mut part.first, report);
        }
        self.manifest.sources[source].games += report.games;
        self.times.merge(&report.times);
        let hits = self.summaries.iter().map(|summary| summary.hits).sum();
        let before = self.from.progress;
        let (bytes, games) = (progress.bytes - before.bytes, progress.games - before.games);
        (self.tell)(News::Progress { consumed: progress.consumed, bytes, games, hits });
    }

    /// Writes a checkpoint, if the run can be resumed where it is and is not to be resumed earlier.
    fn save(&mut self) -> io::Result<()> {
        let Some(place) = self.reached else { return Ok(()) };
        let Some(keeper) = self.keeper.as_mut().filter(|keeper| !keeper.stays) else {
            return Ok(());
        };
        let begun = Instant::now();
        let seconds = self.seconds_before + self.started.elapsed().as_secs_f64();
        let memory = keeper.make_safe()?;
        let lengths = self.tables.make_safe(memory)?;
        let checkpoint = Checkpoint {
            is_over: false,
            manifest: RunFile { seconds, ..self.manifest.clone() },
            changed: keeper.changed.clone(),
            place,
            lengths,
            summaries: self.summaries.clone(),
            base: (self.base.0, self.base.1.iter().collect()),
        };
        self.staging.save(&serde_json::to_vec(&checkpoint)?)?;
        keeper.schedule.done(begun);
        Ok(())
    }

    /// Finishes the tables and fills the manifest.
    ///
    /// # Errors
    ///
    /// What the system says when they can't be written.
    pub fn close(mut self, stopped: Stopped) -> Result<Recorded, FolderError> {
        let begun = Instant::now();
        let checkpoint = self.finish(stopped).map_err(|cause| self.staging.unwritable(cause))?;
        self.times.add(Stage::Write, begun.elapsed());
        for (query, summary) in self.manifest.queries.iter_mut().zip(&self.summaries) {
            query.hits = summary.hits;
            query.overlooked = summary.overlooked;
        }
        self.manifest.ended = match stopped {
            Stopped::AtTheEnd => EndOfRun::AtTheEnd,
            Stopped::AtTheLimit => EndOfRun::AtTheLimit,
            Stopped::Interrupted => EndOfRun::Interrupted,
        };
        let seconds = self.seconds_before + self.started.elapsed().as_secs_f64();
        self.manifest.seconds = (seconds * 1000.0).round() / 1000.0;
        let Recorder { manifest, summaries, times, .. } = self;
        Ok(Recorded { manifest, summaries, times, checkpoint })
    }

    /// Finishes the tables. Gives the checkpoint that stays, if the run can be resumed.
    fn finish(&mut self, stopped: Stopped) -> io::Result<Option<Vec<u8>>> {
        let is_interrupted = stopped == Stopped::Interrupted;
        if is_interrupted {
            self.save()?;
        }
        let stays = is_interrupted || self.keeper.as_ref().is_some_and(|keeper| keeper.stays);
        self.write_base()?;
        // What is to be continued must stay as it was written.
        let is_damaged = |source: &&SourceRun| source.unchecked_from.is_some() && !stays;
        let damaged: Vec<_> = self.manifest.sources.iter().filter(is_damaged).cloned().collect();
        self.manifest.tables = self.tables.finish(self.staging, self.patterns, &damaged)?;
        if !stays {
            return Ok(None);
        }
        let Some(bytes) = self.staging.checkpoint()? else { return Ok(None) };
        let checkpoint: Checkpoint = serde_json::from_slice(&bytes)?;
        let checkpoint = Checkpoint { is_over: !is_interrupted, ..checkpoint };
        Ok(Some(serde_json::to_vec(&checkpoint)?))
    }

    fn take(&mut self, mined: &MinedBlock<'_>) -> io::Result<()> {
        if mined.integrity == Integrity::CutOff {
            // What was cut off may be whole when the run is resumed.
            self.save()?;
        }
        self.write_block(mined.source, mined.report)?;
        self.count(mined);
        let is_cut_off = mined.integrity == Integrity::CutOff;
        self.cut_off = if is_cut_off { mined.report.games } else { 0 };
        self.reached = mined.end;
        if self.keeper.as_ref().is_some_and(|keeper| keeper.schedule.is_due()) {
            self.save()?;
        }
        Ok(())
    }
}

/// Adds what was counted in a block.
fn add(counts: &mut Counts, report: &BlockReport) {
    counts.games += report.games;
    counts.left_out += report.left_out;
    counts.rejected += report.rejects.len() as u64;
    counts.passed_text += report.passed_text;
    counts.replayed += report.replayed;
    counts.bytes += report.bytes;
}

impl Sink for Recorder<'_> {
    type Error = FolderError;

    fn block(&mut self, mined: MinedBlock<'_>) -> Result<(), FolderError> {
        let begun = Instant::now();
        self.take(&mined).map_err(|cause| self.staging.unwritable(cause))?;
        self.times.add(Stage::Write, begun.elapsed());
        Ok(())
    }

    fn failure(&mut self, failure: SourceFailure) -> Result<(), FolderError> {
        if failure.cause.raw_os_error().is_some() {
            // A file that the system can't read now may be there again when the run is resumed.
            self.save().map_err(|cause| self.staging.unwritable(cause))?;
            if let Some(keeper) = &mut self.keeper {
                keeper.stays = true;
            }
        }
        let is_archive = failure.cause.raw_os_error().is_none();
        let source = &mut self.manifest.sources[failure.source];
        source.failure = Some(failure.cause.to_string());
        // What was cut off is of this source, if anything was: the next may fail before its first game.
        let kept = source.games - std::mem::take(&mut self.cut_off);
        source.unchecked_from = (is_archive && kept > 0).then_some(failure.checked);
        let (source, cause, unchecked_from) = (&source.name, &failure.cause, source.unchecked_from);
        (self.tell)(News::Failure { source, cause, kept, unchecked_from });
        Ok(())
    }

    fn end_within(&mut self, offset: ByteOffset) -> Result<(), FolderError> {
        if let Some(part) = &mut self.manifest.part {
            part.ends_at = Some(offset.0);
        }
        Ok(())
    }
}
