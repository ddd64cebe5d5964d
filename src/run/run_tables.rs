//! The tables of a run while they are written.

use std::collections::BTreeMap;
use std::io;

use super::checkpoint::Lengths;
use crate::hits::{
    JudgedHit, Layout, collection_columns, doubt_hits, duplicate_columns, game_columns,
    reject_columns,
};
use crate::mining::Doubt;
use crate::query::Pattern;
use crate::tables::{
    COLLECTION_TABLE, Column, DUPLICATES_TABLE, Extent, FolderError, GAMES_TABLE, REJECTS_TABLE,
    SourceRun, Staging, TableRun, TableWriter, hits_table,
};

/// The tables of a run.
pub(super) struct RunTables {
    /// The hits, a table for each query, and its columns.
    pub(super) hits: Vec<(Layout, Box<dyn TableWriter>)>,
    /// How all games ended.
    pub(super) collection: Box<dyn TableWriter>,
    /// The games with hits.
    pub(super) games: Box<dyn TableWriter>,
    /// The games with hits that were left out.
    pub(super) duplicates: Box<dyn TableWriter>,
    /// The games that could not be read.
    pub(super) rejects: Box<dyn TableWriter>,
}

impl RunTables {
    /// Starts all tables, or continues those of an earlier run, which have these lengths.
    pub(super) fn open(
        staging: &Staging<'_>,
        patterns: &[Pattern],
        lengths: Option<&Lengths>,
    ) -> Result<RunTables, FolderError> {
        let table = |name, columns: &[Column], kept: fn(&Lengths) -> Extent| {
            staging.table(name, columns, lengths.map(kept))
        };
        let hits = |(index, pattern): (usize, &Pattern)| {
            let kept = lengths.and_then(|lengths| lengths.hits.get(index).copied());
            let layout = Layout::of_query(&pattern.query);
            let name = hits_table(&pattern.query.name);
            let table = staging.table(&name, &layout.hit_columns(), kept)?;
            Ok((layout, table))
        };
        Ok(RunTables {
            hits: patterns.iter().enumerate().map(hits).collect::<Result<_, _>>()?,
            collection: table(COLLECTION_TABLE, &collection_columns(), |it| it.collection)?,
            games: table(GAMES_TABLE, &game_columns(), |it| it.games)?,
            duplicates: table(DUPLICATES_TABLE, &duplicate_columns(), |it| it.duplicates)?,
            rejects: table(REJECTS_TABLE, &reject_columns(), |it| it.rejects)?,
        })
    }

    /// Makes all rows so far safe on disk and gives the lengths of the files, with that of the memory.
    pub(super) fn make_safe(&mut self, memory: u64) -> io::Result<Lengths> {
        let hits = self.hits.iter_mut().map(|(_, table)| table.make_safe());
        Ok(Lengths {
            hits: hits.collect::<Result<_, _>>()?,
            collection: self.collection.make_safe()?,
            games: self.games.make_safe()?,
            duplicates: self.duplicates.make_safe()?,
            rejects: self.rejects.make_safe()?,
            memory,
        })
    }

    /// Finishes all tables, and gives what was written by the names of their files. Hits in the text of
    /// damaged sources that no check has vouched for are doubted.
    pub(super) fn finish(
        &mut self,
        staging: &Staging<'_>,
        patterns: &[Pattern],
        damaged: &[SourceRun],
    ) -> io::Result<BTreeMap<String, TableRun>> {
        let name = |table: &str| staging.format().file_name(table);
        let mut written = BTreeMap::new();
        for (pattern, (_, table)) in patterns.iter().zip(&mut self.hits) {
            let hits = hits_table(&pattern.query.name);
            let mut run = table.finish()?;
            if !damaged.is_empty() {
                let place = staging.place_of(&hits);
                let is_doubtful = |hit: &JudgedHit| is_unchecked(hit, damaged);
                let doubted = doubt_hits(&place, staging.format(), Doubt::Unchecked, is_doubtful)?;
                run = doubted.unwrap_or(run);
            }
            written.insert(name(&hits), run);
        }
        written.insert(name(COLLECTION_TABLE), self.collection.finish()?);
        written.insert(name(GAMES_TABLE), self.games.finish()?);
        written.insert(name(DUPLICATES_TABLE), self.duplicates.finish()?);
        written.insert(name(REJECTS_TABLE), self.rejects.finish()?);
        Ok(written)
    }
}

fn is_unchecked(hit: &JudgedHit, damaged: &[SourceRun]) -> bool {
    damaged.iter().any(|it| it.name == hit.source && it.may_hold_unchecked(hit.game.offset.0))
}
