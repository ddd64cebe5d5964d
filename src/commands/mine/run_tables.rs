//! The tables of a run while they are written.

use std::io;

use super::checkpoint::Lengths;
use crate::query::Pattern;
use crate::tables::{
    FolderError, Staging, TableWriter, collection_columns, hit_columns, reject_columns,
};

/// The tables of a run.
pub(super) struct RunTables {
    /// The hits, a table for each query.
    pub(super) hits: Vec<Box<dyn TableWriter>>,
    /// How all games ended.
    pub(super) collection: Box<dyn TableWriter>,
    /// The games that could not be read.
    pub(super) rejects: Box<dyn TableWriter>,
}

impl RunTables {
    /// Starts all tables, or goes on with those of an earlier run, of these lengths.
    pub(super) fn open(
        staging: &Staging<'_>,
        patterns: &[Pattern],
        lengths: Option<&Lengths>,
    ) -> Result<RunTables, FolderError> {
        let open_hits = |(index, pattern): (usize, &Pattern)| {
            let kept = lengths.and_then(|lengths| lengths.hits.get(index).copied());
            staging.hits(&pattern.query.name, &hit_columns(&pattern.query), kept)
        };
        let kept = |length: fn(&Lengths) -> u64| lengths.map(length);
        Ok(RunTables {
            hits: patterns.iter().enumerate().map(open_hits).collect::<Result<_, _>>()?,
            collection: staging.collection(&collection_columns(), kept(|l| l.collection))?,
            rejects: staging.rejects(&reject_columns(), kept(|l| l.rejects))?,
        })
    }

    /// Makes all rows so far safe on disk and tells how long the files are, with that of the memory.
    pub(super) fn make_safe(&mut self, memory: u64) -> io::Result<Lengths> {
        Ok(Lengths {
            hits: self.hits.iter_mut().map(|table| table.make_safe()).collect::<Result<_, _>>()?,
            collection: self.collection.make_safe()?,
            rejects: self.rejects.make_safe()?,
            memory,
        })
    }

    /// Finishes all tables.
    pub(super) fn finish(&mut self) -> io::Result<()> {
        for table in &mut self.hits {
            table.finish()?;
        }
        self.collection.finish()?;
        self.rejects.finish()
    }
}
