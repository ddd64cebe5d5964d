//! One pass over the hits of a query in a run, or in several taken together.

use std::path::PathBuf;

use super::field::CellTrouble;
use super::judged_hit::JudgedHit;
use super::layout::{Layout, Wanted};
use super::run::{Reading, Run};
use crate::mining::{BaseCount, BaseKind};
use crate::query::Query;
use crate::tables::{TableTrouble, hash_of};

/// What takes what it needs from hits as they pass by.
pub trait Collector {
    /// Learns which columns the hits of the next run have, and says which of them it will look at.
    ///
    /// # Errors
    ///
    /// The column that it was to look at, and there is none.
    fn begin(&mut self, layout: &Layout) -> Result<Wanted, NoColumn>;

    /// Takes a hit.
    ///
    /// # Errors
    ///
    /// Which cell can't be understood.
    fn take(&mut self, hit: &JudgedHit) -> Result<(), CellTrouble>;
}

/// A column that hits do not have.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct NoColumn {
    /// The name that was asked for.
    pub name: String,
    /// The names that there are.
    pub known: Vec<String>,
}

/// Why hits could not be gone through.
#[derive(thiserror::Error, Clone, PartialEq, Eq, Debug)]
pub enum PassTrouble {
    /// A table is not as it should be.
    #[error(transparent)]
    Table(#[from] TableTrouble),
    /// There is no such column.
    #[error("the hits of `{query}` have no column `{}`", column.name)]
    NoColumn {
        /// The query.
        query: String,
        /// The column.
        column: NoColumn,
    },
}

/// Runs that are read together.
#[derive(Clone, PartialEq, Debug)]
pub struct Runs(Vec<Run>);

impl Runs {
    /// Opens the runs in these folders.
    ///
    /// # Errors
    ///
    /// If one of them does not hold a whole run.
    pub fn open(folders: &[PathBuf], reading: Reading) -> Result<Runs, TableTrouble> {
        folders.iter().map(|path| Run::open(path, reading)).collect::<Result<_, _>>().map(Runs)
    }

    /// The names of the queries of any run, in the order of the runs.
    #[must_use]
    pub fn queries(&self) -> Vec<&str> {
        let mut names: Vec<&str> = Vec::new();
        for query in self.0.iter().flat_map(|run| &run.manifest.queries) {
            if !names.contains(&&*query.name) {
                names.push(&query.name);
            }
        }
        names
    }

    /// Whether a run mined this very query.
    #[must_use]
    pub fn have(&self, query: &Query) -> bool {
        let hash = hash_of(&query.source);
        let mut mined = self.0.iter().flat_map(|run| &run.manifest.queries);
        mined.any(|known| known.name == query.name && known.sha256 == hash)
    }

    /// All games that the runs went through, by kind.
    ///
    /// # Errors
    ///
    /// If a table can't be read.
    pub fn each_kind(&self, mut see: impl FnMut(BaseKind, BaseCount)) -> Result<(), TableTrouble> {
        for run in &self.0 {
            let mut games = run.collection()?;
            while let Some((kind, count)) = games.next_kind()? {
                see(kind, count);
            }
        }
        Ok(())
    }

    /// Goes once through the hits of a query, run by run; every collector sees every hit.
    ///
    /// # Errors
    ///
    /// If a table can't be read or was changed, or a collector needs what is not there.
    pub fn pass(
        &self,
        query: &str,
        collectors: &mut [&mut dyn Collector],
    ) -> Result<(), PassTrouble> {
        let has_query = |run: &&Run| run.manifest.queries.iter().any(|known| known.name == query);
        for run in self.0.iter().filter(has_query) {
            let mut hits = run.hits(query)?;
            let Some(layout) = hits.layout().cloned() else {
                // Even a table that does not name its columns may have been changed.
                hits.next_hit()?;
                continue;
            };
            let mut wanted = Wanted::figures();
            for collector in &mut *collectors {
                let needed = collector
                    .begin(&layout)
                    .map_err(|column| PassTrouble::NoColumn { query: query.to_owned(), column })?;
                wanted = wanted.and(&needed);
            }
            hits.want(wanted);
            while let Some(hit) = hits.next_hit()? {
                let taken = collectors.iter_mut().try_for_each(|collector| collector.take(hit));
                taken.map_err(|trouble| hits.trouble(trouble))?;
            }
        }
        Ok(())
    }
}
