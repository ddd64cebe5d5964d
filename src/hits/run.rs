//! A run that was written earlier: its manifest and its tables.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use super::base::CollectionReader;
use super::layout::{Verdicts, Wanted, verdict_cells, verdict_columns};
use super::reader::HitReader;
use crate::query::names_query;
use crate::tables::{RUN_FILE, RunFile, TableFormat, TableReader, TableTrouble, make_way};

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

    /// The format of its tables.
    #[must_use]
    pub fn format(&self) -> TableFormat {
        let ending = self.manifest.options.0.get("table");
        let is_named = |format: &TableFormat| ending.is_some_and(|it| it == format.ending());
        TableFormat::ALL.into_iter().find(is_named).unwrap_or(TableFormat::Csv)
    }

    /// Where the verdicts on the hits of a query are.
    #[must_use]
    pub fn verdicts_place(&self, query: &str) -> PathBuf {
        self.place(&format!("verdicts/{query}"))
    }

    /// Where a table is that is called so, in the format of the run.
    fn place(&self, stem: &str) -> PathBuf {
        self.path.join(format!("{stem}.{}", self.format().ending()))
    }

    /// Puts verdicts that have grown in a file of comma-separated values into their place, in the format of
    /// the run.
    ///
    /// # Errors
    ///
    /// What the system says, or what is wrong with a table.
    pub fn put_verdicts(&self, query: &str, grown: &Path, verdicts: Verdicts) -> io::Result<()> {
        let place = self.verdicts_place(query);
        if self.format() == TableFormat::Csv {
            return fs::rename(grown, place);
        }
        let whole = place.with_extension("whole.unfinished");
        make_way(&whole)?;
        let mut hits =
            self.hits_with(query, Some((grown, TableFormat::Csv))).map_err(io::Error::other)?;
        hits.want(Wanted::figures().with_verdict());
        let mut table = self.format().create(&whole, &verdict_columns(verdicts))?;
        while let Some(hit) = hits.next_hit().map_err(io::Error::other)? {
            table.row(&verdict_cells(verdicts, &hit.row()))?;
        }
        table.finish()?;
        fs::rename(whole, place)?;
        fs::remove_file(grown)
    }

    /// The hits of a query, with the verdicts on them if they were verified.
    ///
    /// # Errors
    ///
    /// If a table is missing, or is not from this version.
    pub fn hits(&self, query: &str) -> Result<HitReader, TableTrouble> {
        let place = self.verdicts_place(query);
        self.hits_with(query, place.is_file().then_some((&*place, self.format())))
    }

    /// The hits of a query, with the verdicts of a file in some format.
    ///
    /// # Errors
    ///
    /// If a table is missing, or is not from this version.
    pub fn hits_with(
        &self,
        query: &str,
        verdicts: Option<(&Path, TableFormat)>,
    ) -> Result<HitReader, TableTrouble> {
        let hits = self.table(&format!("hits/{query}"))?;
        let verdicts = verdicts.map(|(place, format)| TableReader::open(place, format));
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
        let path = self.place(stem);
        if path.is_file() {
            return TableReader::open(&path, self.format());
        }
        Err(TableTrouble::of_file(
            &path,
            "the table is missing, although the run's manifest says that it was written",
        ))
    }
}
