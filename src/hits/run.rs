//! A run that was written earlier: its manifest and its tables.

use std::fs;
use std::path::{Path, PathBuf};

use super::base::CollectionReader;
use super::reader::HitReader;
use crate::query::names_query;
use crate::tables::{RUN_FILE, RunFile, TableFormat, TableReader, TableTrouble};

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
    /// If it does not hold a whole run.
    pub fn open(path: &Path) -> Result<Run, TableTrouble> {
        let file = path.join(RUN_FILE);
        let bytes = fs::read(&file).map_err(|error| {
            let message = format!("`{}` does not hold a run: {error}", path.display());
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

    /// Where the verdicts on the hits of a query are.
    #[must_use]
    pub fn verdicts_place(&self, query: &str) -> PathBuf {
        self.path.join("verdicts").join(format!("{query}.csv"))
    }

    /// The hits of a query, with the verdicts on them if they were verified.
    ///
    /// # Errors
    ///
    /// If a table is missing, or is not from this version.
    pub fn hits(&self, query: &str) -> Result<HitReader, TableTrouble> {
        let place = self.verdicts_place(query);
        let verdicts = place.is_file().then_some(place);
        self.hits_with(query, verdicts.as_deref())
    }

    /// The hits of a query, with the verdicts of this file.
    ///
    /// # Errors
    ///
    /// If a table is missing, or is not from this version.
    pub fn hits_with(
        &self,
        query: &str,
        verdicts: Option<&Path>,
    ) -> Result<HitReader, TableTrouble> {
        let hits = self.table(&format!("hits/{query}"))?;
        let verdicts = verdicts.map(|place| TableReader::open(place, TableFormat::Csv));
        HitReader::new(query, hits, verdicts.transpose()?)
    }

    /// The games that were mined.
    ///
    /// # Errors
    ///
    /// If the table is missing, or is not from this version.
    pub fn collection(&self) -> Result<CollectionReader, TableTrouble> {
        CollectionReader::new(self.table("collection")?)
    }

    fn table(&self, stem: &str) -> Result<TableReader, TableTrouble> {
        let path = |format: TableFormat| self.path.join(format!("{stem}.{}", format.ending()));
        match TableFormat::ALL.into_iter().find(|&format| path(format).is_file()) {
            Some(format) => TableReader::open(&path(format), format),
            None => Err(TableTrouble::of_file(
                &path(TableFormat::Csv),
                "the table is missing, although the run's manifest says that it was written",
            )),
        }
    }
}
