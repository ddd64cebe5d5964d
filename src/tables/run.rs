//! A run that was written earlier: its manifest and its tables.

use std::fs;
use std::path::{Path, PathBuf};

use super::format::TableFormat;
use super::reading::{TableReader, TableTrouble};
use super::run_file::{RUN_FILE, RunFile};
use super::schema::{collection_columns, fixed_hit_columns};
use crate::query::names_query;

/// A folder with a whole run.
#[derive(Clone, PartialEq, Debug)]
pub struct Run {
    /// The folder.
    pub path: PathBuf,
    /// What the run was.
    pub manifest: RunFile,
}

impl Run {
    /// Opens the folder of a run.
    ///
    /// # Errors
    ///
    /// If it holds no whole run.
    pub fn open(path: &Path) -> Result<Run, TableTrouble> {
        let file = path.join(RUN_FILE);
        let bytes = fs::read(&file).map_err(|error| {
            let message = format!("`{}` holds no run: {error}", path.display());
            TableTrouble::of_file(&file, message)
        })?;
        let manifest: RunFile = serde_json::from_slice(&bytes).map_err(|error| {
            let message = format!("this is not the manifest of a run of this version: {error}");
            let line = Some(error.line() as u64);
            TableTrouble { line, ..TableTrouble::of_file(&file, message) }
        })?;
        // Files are called by these names.
        if let Some(query) = manifest.queries.iter().find(|query| !names_query(&query.name)) {
            let message = format!("no query can be called `{}`", query.name.escape_debug());
            return Err(TableTrouble::of_file(&file, message));
        }
        Ok(Run { path: path.to_owned(), manifest })
    }

    /// The hits of a query, with the columns that every table of hits has.
    ///
    /// # Errors
    ///
    /// If the table is not there, or is none of this version.
    pub fn hits(&self, query: &str) -> Result<TableReader, TableTrouble> {
        let table = self.table(&format!("hits/{query}"))?;
        table.expect_columns(fixed_hit_columns())?;
        Ok(table)
    }

    /// Where the verdicts on the hits of a query are.
    #[must_use]
    pub fn verdicts_place(&self, query: &str) -> PathBuf {
        self.path.join("verdicts").join(format!("{query}.csv"))
    }

    /// The hits of a query with the verdicts on them behind, if they were verified.
    ///
    /// # Errors
    ///
    /// If a table is not there, or is none of this version.
    pub fn judged_hits(&self, query: &str) -> Result<TableReader, TableTrouble> {
        let hits = self.hits(query)?;
        let place = self.verdicts_place(query);
        if !place.is_file() || hits.columns().is_empty() {
            return Ok(hits);
        }
        Ok(hits.joined(TableReader::open(&place, TableFormat::Csv)?))
    }

    /// The games that were mined.
    ///
    /// # Errors
    ///
    /// If the table is not there, or is none of this version.
    pub fn collection(&self) -> Result<TableReader, TableTrouble> {
        let table = self.table("collection")?;
        table.expect_columns(collection_columns().iter().map(|column| &*column.name))?;
        Ok(table)
    }

    fn table(&self, stem: &str) -> Result<TableReader, TableTrouble> {
        let path = |format: TableFormat| self.path.join(format!("{stem}.{}", format.ending()));
        match TableFormat::ALL.into_iter().find(|&format| path(format).is_file()) {
            Some(format) => TableReader::open(&path(format), format),
            None => Err(TableTrouble::of_file(
                &path(TableFormat::Csv),
                "the table is not there, though the run's manifest says that it was written",
            )),
        }
    }
}
