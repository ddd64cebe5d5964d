//! Writes the tables of joined runs. Of the copies of a game only the first in the whole is kept, as if one run had
//! read them all.
//!
//! Invariant: memory grows with the games with hits by their hashes alone, and not with their rows.

use std::collections::HashMap;
use std::io;

use super::assembly::{Assembly, JoinedRun};
use super::disagreement::JoinError;
use super::game_stream::{GameStream, StreamedGame};
use super::joint_verdicts::JointVerdicts;
use crate::hits::{
    PlacedRow, RowShape, collection_cells, collection_columns, duplicate_cells, duplicate_columns,
    game_columns, reject_columns,
};
use crate::mining::{BaseRates, SeenBefore, SeenGames};
use crate::tables::{
    COLLECTION_TABLE, DUPLICATES_TABLE, FolderError, GAMES_TABLE, REJECTS_TABLE, RunFile,
    SourceRun, Staging, TableTrouble, TableWriter, TermsFile, hits_table,
};

/// What came of joining.
#[derive(Debug)]
pub struct Joined {
    /// The manifest.
    pub manifest: RunFile,
    /// How many hits have a verdict that was carried over, if the hits of any run were verified.
    pub judged: Option<u64>,
    /// How many hits of the same queries have none.
    pub unjudged: u64,
}

/// Writes the tables of joined runs, which are put into their places by [`Staging::publish`].
///
/// # Errors
///
/// If a table of a run is not as it was written, verdicts were made under different terms, or nothing can be
/// written.
pub fn join(assembly: &Assembly, staging: &Staging<'_>) -> Result<Joined, JoinError> {
    let mut joiner = Joiner::open(assembly, staging)?;
    for member in &assembly.members {
        joiner.add(member)?;
    }
    joiner.finish()
}

/// The tables of a query.
struct QueryTables {
    hits: Box<dyn TableWriter>,
    verdicts: Option<JointVerdicts>,
    shape: RowShape,
}

struct Joiner<'j> {
    assembly: &'j Assembly,
    staging: &'j Staging<'j>,
    manifest: RunFile,
    queries: Vec<QueryTables>,
    games: Box<dyn TableWriter>,
    games_shape: RowShape,
    duplicates: Box<dyn TableWriter>,
    rejects: Box<dyn TableWriter>,
    collection: Box<dyn TableWriter>,
    /// The source whose base rates are being added up.
    base: (String, BaseRates),
    /// The damaged sources by their names.
    damaged: HashMap<String, SourceRun>,
    /// `None` if duplicates are kept.
    seen: Option<SeenGames>,
}

impl<'j> Joiner<'j> {
    fn open(assembly: &'j Assembly, staging: &'j Staging<'j>) -> Result<Joiner<'j>, JoinError> {
        let manifest = assembly.manifest.clone();
        let mut queries = Vec::with_capacity(manifest.queries.len());
        for (query, layout) in manifest.queries.iter().zip(&assembly.layouts) {
            queries.push(QueryTables {
                hits: staging.table(&hits_table(&query.name), &layout.hit_columns(), None)?,
                verdicts: JointVerdicts::open(staging, assembly, &query.name)?,
                shape: RowShape::of_hits(layout),
            });
        }
        let keeps_duplicates = manifest.options.0.contains_key("keep_duplicates");
        let damaged = manifest.sources.iter().filter(|source| source.unchecked_from.is_some());
        let damaged = damaged.map(|source| (source.name.clone(), source.clone())).collect();
        Ok(Joiner {
            assembly,
            staging,
            manifest,
            queries,
            games: staging.table(GAMES_TABLE, &game_columns(), None)?,
            games_shape: RowShape::of_games(),
            duplicates: staging.table(DUPLICATES_TABLE, &duplicate_columns(), None)?,
            rejects: staging.table(REJECTS_TABLE, &reject_columns(), None)?,
            collection: staging.table(COLLECTION_TABLE, &collection_columns(), None)?,
            base: Default::default(),
            damaged,
            seen: (!keeps_duplicates).then(SeenGames::default),
        })
    }

    /// Adds a run.
    fn add(&mut self, member: &JoinedRun) -> Result<(), JoinError> {
        self.add_games(member)?;
        self.add_rejects(member)?;
        self.add_base(member)
    }

    fn add_games(&mut self, member: &JoinedRun) -> Result<(), JoinError> {
        let mut games = GameStream::of(&member.run, &self.assembly.layouts)?;
        while let Some(mut found) = games.next()? {
            if member.leaves_out(&found.game.source) {
                continue;
            }
            let unseen = found.game.remembered(&self.games_shape).ok_or_else(|| {
                let message = "a game in the tables has no hash of its moves";
                TableTrouble::of_file(&member.run.path, message)
            })?;
            member.place(&mut found.game, &self.games_shape);
            for hit in &mut found.hits {
                member.place(&mut hit.row, &self.queries[hit.query].shape);
            }
            let is_new = self.seen.as_mut().is_none_or(|it| it.see(unseen) != SeenBefore::Before);
            let written = if is_new { self.keep(found) } else { self.leave_out(found) };
            self.written(written)?;
        }
        Ok(())
    }

    /// Writes a game, its hits and what is known of these.
    fn keep(&mut self, found: StreamedGame) -> io::Result<()> {
        self.games.row(&found.game.cells)?;
        for mut hit in found.hits {
            let tables = &mut self.queries[hit.query];
            let source = self.damaged.get(&hit.row.source);
            let offset = hit.row.offset(&tables.shape);
            let is_unchecked = source.is_some_and(|source| source.may_hold_unchecked(offset));
            hit.row.doubt(&tables.shape, is_unchecked);
            tables.hits.row(&hit.row.cells)?;
            if let Some(verdicts) = &mut tables.verdicts {
                verdicts.row(&hit.row, hit.verdict)?;
            }
            let counted = &mut self.manifest.queries[hit.query];
            match hit.row.is_played(&tables.shape) {
                true => counted.hits += 1,
                false => counted.overlooked += 1,
            }
        }
        Ok(())
    }

    /// Keeps a copy of a game apart, as a run does.
    fn leave_out(&mut self, found: StreamedGame) -> io::Result<()> {
        self.manifest.counts.duplicates += 1;
        let PlacedRow { source, game, cells } = &found.game;
        let number = game.unsigned_abs();
        self.duplicates.row(&duplicate_cells(source, number, GAMES_TABLE, cells))?;
        for mut hit in found.hits {
            hit.row.doubt(&self.queries[hit.query].shape, false);
            let table = hits_table(&self.manifest.queries[hit.query].name);
            self.duplicates.row(&duplicate_cells(source, number, &table, &hit.row.cells))?;
        }
        Ok(())
    }

    fn add_rejects(&mut self, member: &JoinedRun) -> Result<(), JoinError> {
        let mut rows = member.run.reject_rows()?;
        while let Some(mut row) = rows.take()? {
            if member.leaves_out(&row.source) {
                continue;
            }
            member.place(&mut row, rows.shape());
            let written = self.rejects.row(&row.cells);
            self.written(written)?;
        }
        Ok(())
    }

    fn add_base(&mut self, member: &JoinedRun) -> Result<(), JoinError> {
        let mut rows = member.run.collection()?;
        while let Some(row) = rows.next_row()? {
            if member.leaves_out(&row.source) {
                continue;
            }
            if row.source != self.base.0 {
                let written = self.write_base();
                self.written(written)?;
                self.base = (row.source, BaseRates::default());
            }
            self.base.1.merge(&BaseRates::of([(row.kind, row.count)]));
        }
        Ok(())
    }

    /// Writes the base rates of a source.
    fn write_base(&mut self) -> io::Result<()> {
        let (source, base) = &self.base;
        for (kind, count) in base.iter() {
            self.collection.row(&collection_cells(source, kind, count))?;
        }
        Ok(())
    }

    fn written<T>(&self, written: io::Result<T>) -> Result<T, FolderError> {
        written.map_err(|cause| self.staging.unwritable(cause))
    }

    fn finish(mut self) -> Result<Joined, JoinError> {
        let (mut terms, mut judged, mut unjudged) = (TermsFile::default(), None, 0);
        let mut finish = || -> io::Result<()> {
            self.write_base()?;
            let format = self.staging.format();
            let tables = &mut self.manifest.tables;
            for (query, made) in self.manifest.queries.iter().zip(&mut self.queries) {
                let hits = made.hits.finish()?;
                if let Some(verdicts) = made.verdicts.take() {
                    let (with, without) = verdicts.finish(&query.name, &hits, &mut terms)?;
                    *judged.get_or_insert(0) += with;
                    unjudged += without;
                }
                tables.insert(format.file_name(&hits_table(&query.name)), hits);
            }
            for (name, table) in [
                (COLLECTION_TABLE, &mut self.collection),
                (GAMES_TABLE, &mut self.games),
                (DUPLICATES_TABLE, &mut self.duplicates),
                (REJECTS_TABLE, &mut self.rejects),
            ] {
                tables.insert(format.file_name(name), table.finish()?);
            }
            Ok(())
        };
        finish().map_err(|cause| self.staging.unwritable(cause))?;
        if judged.is_some() {
            self.staging.terms(&terms)?;
        }
        Ok(Joined { manifest: self.manifest, judged, unjudged })
    }
}

impl JoinedRun {
    /// Whether games of this source are left out: it broke off in a part before this one.
    fn leaves_out(&self, source: &str) -> bool {
        self.is_broken_before && self.first.as_deref() == Some(source)
    }

    /// Puts a row into its place in the whole.
    fn place(&self, row: &mut PlacedRow, shape: &RowShape) {
        if self.first.as_deref() == Some(&*row.source) {
            row.move_on(shape, self.games_before, self.bytes_before);
        }
    }
}
