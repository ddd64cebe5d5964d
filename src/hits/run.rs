//! A run that was written earlier: its manifest and its tables.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::time::SystemTime;

use super::base::{CollectionReader, reject_columns};
use super::games::GameReader;
use super::judged_hit::{HitRow, JudgedHit};
use super::layout::{Layout, Verdicts, Wanted, verdict_cells, verdict_columns};
use super::left_out::LeftOutGames;
use super::placed::{PlacedRows, RowShape, VerdictRows};
use super::reader::HitReader;
use super::record::VerdictRecord;
use crate::query::{Query, names_query};
use crate::tables::{
    COLLECTION_TABLE, Checksum, DUPLICATES_TABLE, Expected, GAMES_TABLE, OVERLOOKED_OPTION,
    QueryRun, REJECTS_TABLE, RUN_FILE, RunFile, TableFormat, TableReader, TableRun, TableTrouble,
    TermsFile, hash_of, hits_table, make_way,
};

/// The way on where a table of a run is not as it was written.
const MINE_AGAIN: &str =
    "mine again with --replace or, if it was edited on purpose, read it as it is with --edited";
/// The way on where a table of verdicts is not as it was written.
const VERIFY_AGAIN: &str =
    "verify again with --replace or, if it was edited on purpose, read it as it is with --edited";

/// How tables are read.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Reading {
    /// They must be as they were written.
    AsWritten,
    /// They are taken as they are now.
    AsTheyAre,
}

/// A folder with a whole run.
#[derive(Clone, PartialEq, Debug)]
pub struct Run {
    /// The folder.
    pub path: PathBuf,
    /// What the run was.
    pub manifest: RunFile,
    reading: Reading,
}

/// What a manifest is that can't be read as one of this version.
fn other_manifest(bytes: &[u8]) -> String {
    const THIS: &str = env!("CARGO_PKG_VERSION");
    let manifest: Option<serde_json::Value> = serde_json::from_slice(bytes).ok();
    match manifest.as_ref().and_then(|it| it.get("hecatomb")?.as_str()) {
        Some(version) if version != THIS => {
            let version = version.escape_debug();
            format!("version {version} wrote it, and version {THIS} can't read it")
        }
        _ => "this is not the manifest of a run of this version".to_owned(),
    }
}

impl Run {
    /// Opens the folder of a run.
    ///
    /// # Errors
    ///
    /// If it does not hold a whole run.
    pub fn open(path: &Path, reading: Reading) -> Result<Run, TableTrouble> {
        let file = path.join(RUN_FILE);
        let bytes = fs::read(&file).map_err(|error| {
            let message = match path.is_dir() {
                true => format!("`{}` does not hold a run: {error}", path.display()),
                false => format!("there is no folder `{}`", path.display()),
            };
            let hint = Some("name the folder into which `hecatomb mine` wrote its tables");
            TableTrouble { hint, ..TableTrouble::of_file(&file, message) }
        })?;
        let manifest: RunFile = serde_json::from_slice(&bytes).map_err(|error| {
            let message = format!("{}: {error}", other_manifest(&bytes));
            let line = Some(error.line() as u64);
            TableTrouble { line, ..TableTrouble::of_file(&file, message) }
        })?;
        // Files are called by these names.
        if let Some(query) = manifest.queries.iter().find(|query| !names_query(&query.name)) {
            let message = format!("no query can be called `{}`", query.name.escape_debug());
            return Err(TableTrouble::of_file(&file, message));
        }
        Ok(Run { path: path.to_owned(), manifest, reading })
    }

    /// A query as a run mined it; `None` if neither the run keeps its text nor it is a built-in one of today.
    #[must_use]
    pub fn query(known: &QueryRun) -> Option<Query> {
        let query = Query::as_mined(&known.name, known.text.as_deref())?;
        (hash_of(&query.source) == known.sha256).then_some(query)
    }

    /// Whether offers were looked for that nobody made.
    #[must_use]
    pub fn looked_for_overlooked(&self) -> bool {
        self.manifest.options.0.contains_key(OVERLOOKED_OPTION)
    }

    /// Its folder, whatever way leads there.
    ///
    /// # Errors
    ///
    /// If it is not there any more.
    pub fn real_path(&self) -> Result<PathBuf, TableTrouble> {
        self.path.canonicalize().map_err(|error| TableTrouble::of_file(&self.path, error))
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

    /// Where a table of verdicts is before it is moved to its place.
    #[must_use]
    pub fn whole_verdicts_place(&self, query: &str) -> PathBuf {
        self.verdicts_place(query).with_extension("whole.unfinished")
    }

    /// Where a table is that is called so, in the format of the run.
    fn place(&self, table: &str) -> PathBuf {
        self.path.join(self.format().file_name(table))
    }

    /// Writes verdicts that have grown in a file of comma-separated values in the format of the run, and
    /// tells where and what they are; they are not in their place yet.
    ///
    /// # Errors
    ///
    /// What the system says, or what is wrong with a table.
    pub fn whole_verdicts(
        &self,
        query: &str,
        (grown, written): (PathBuf, TableRun),
        verdicts: Verdicts,
    ) -> io::Result<(PathBuf, TableRun)> {
        if self.format() == TableFormat::Csv {
            return Ok((grown, written));
        }
        let hits =
            self.hits_with(query, Some((&grown, TableFormat::Csv))).map_err(io::Error::other)?;
        self.write_verdicts(query, hits, verdicts, |_| None)
    }

    /// Writes the verdicts on hits of a query in the format of the run: those that come with them, and on
    /// hits without one what `verdict_on` says. Tells where and what the table is; it is not in its place yet.
    ///
    /// # Errors
    ///
    /// What the system says, or what is wrong with a table.
    pub fn write_verdicts(
        &self,
        query: &str,
        mut hits: HitReader,
        verdicts: Verdicts,
        mut verdict_on: impl FnMut(&JudgedHit) -> Option<VerdictRecord>,
    ) -> io::Result<(PathBuf, TableRun)> {
        let whole = self.whole_verdicts_place(query);
        make_way(&whole)?;
        hits.want(Wanted::figures().with_offer().with_evidence().with_verdict());
        let mut table = self.format().create(&whole, &verdict_columns(verdicts))?;
        while let Some(hit) = hits.next_hit().map_err(io::Error::other)? {
            let found = verdict_on(hit);
            let row = HitRow { verdict: hit.verdict.as_ref().or(found.as_ref()), ..hit.row() };
            table.row(&verdict_cells(verdicts, &row))?;
        }
        Ok((whole, table.finish()?))
    }

    /// The hits of a query, with the verdicts on them if they were verified.
    ///
    /// # Errors
    ///
    /// If a table is missing, is not from this version, or was changed.
    pub fn hits(&self, query: &str) -> Result<HitReader, TableTrouble> {
        let place = self.verdicts_place(query);
        let verdicts = match place.is_file() {
            true => Some(self.verdicts(query, &place)?),
            false if self.reading == Reading::AsWritten && self.were_written(query, &place) => {
                let message = "the table is missing, although the verdicts were finished";
                return Err(TableTrouble::of_file(&place, message).with_hint(VERIFY_AGAIN));
            }
            false => None,
        };
        HitReader::new(query, self.table(&hits_table(query))?, verdicts)
    }

    /// The hits of a query, with verdicts that grow in a file of some format.
    ///
    /// # Errors
    ///
    /// If a table is missing, is not from this version, or the hits were changed.
    pub fn hits_with(
        &self,
        query: &str,
        verdicts: Option<(&Path, TableFormat)>,
    ) -> Result<HitReader, TableTrouble> {
        let verdicts = verdicts.map(|(place, format)| TableReader::open(place, format));
        HitReader::new(query, self.table(&hits_table(query))?, verdicts.transpose()?)
    }

    /// The checksum of the table of a query's hits.
    ///
    /// # Errors
    ///
    /// If the table is missing, can't be read, or was changed.
    pub fn checksum_of_hits(&self, query: &str) -> Result<Checksum, TableTrouble> {
        let (path, written) = self.written(&hits_table(query))?;
        let found =
            Checksum::of_file(&path).map_err(|error| TableTrouble::of_file(&path, error))?;
        if self.reading == Reading::AsWritten && found != written.xxh3 {
            let message = "the table was changed since it was written";
            return Err(TableTrouble::of_file(&path, message).with_hint(MINE_AGAIN));
        }
        Ok(found)
    }

    /// The games that were mined.
    ///
    /// # Errors
    ///
    /// If the table is missing, is not from this version, or was changed.
    pub fn collection(&self) -> Result<CollectionReader, TableTrouble> {
        CollectionReader::new(self.table(COLLECTION_TABLE)?)
    }

    /// The games with hits.
    ///
    /// # Errors
    ///
    /// If the table is missing, is not from this version, or was changed.
    pub fn games(&self) -> Result<GameReader, TableTrouble> {
        GameReader::new(self.table(GAMES_TABLE)?)
    }

    /// The rows of the table of the games with hits.
    ///
    /// # Errors
    ///
    /// If the table is missing, is not from this version, or was changed.
    pub fn game_rows(&self) -> Result<PlacedRows, TableTrouble> {
        PlacedRows::new(self.table(GAMES_TABLE)?, RowShape::of_games())
    }

    /// The rows of the table of the games that were not mined.
    ///
    /// # Errors
    ///
    /// If the table is missing, is not from this version, or was changed.
    pub fn reject_rows(&self) -> Result<PlacedRows, TableTrouble> {
        PlacedRows::new(self.table(REJECTS_TABLE)?, RowShape::of(reject_columns()))
    }

    /// The rows of the table of the hits of a query with this layout.
    ///
    /// # Errors
    ///
    /// If the table is missing, is not from this version, or was changed.
    pub fn hit_rows(&self, query: &str, layout: &Layout) -> Result<PlacedRows, TableTrouble> {
        PlacedRows::new(self.table(&hits_table(query))?, RowShape::of_hits(layout))
    }

    /// The games that were left out, whose hits are of queries with these layouts.
    ///
    /// # Errors
    ///
    /// If the table is missing, is not from this version, or was changed.
    pub fn left_out_games<'q>(
        &self,
        layouts: impl IntoIterator<Item = (&'q str, &'q Layout)>,
    ) -> Result<LeftOutGames, TableTrouble> {
        let hits = layouts.into_iter();
        let hits = hits.map(|(query, layout)| (hits_table(query), RowShape::of_hits(layout)));
        LeftOutGames::new(self.table(DUPLICATES_TABLE)?, hits)
    }

    /// The verdicts on the hits of a query, and the terms on which they were made; `None` if there are none.
    ///
    /// # Errors
    ///
    /// If the table is not from this version, was changed, or is on other hits.
    pub fn verdict_rows(
        &self,
        query: &str,
    ) -> Result<Option<(VerdictRows, serde_json::Value)>, TableTrouble> {
        let place = self.verdicts_place(query);
        let folder = place.parent().unwrap_or(&self.path);
        let known = TermsFile::read(folder).0.remove(query);
        let Some(known) = known.filter(|known| known.table.is_some() || place.is_file()) else {
            return Ok(None);
        };
        if !place.is_file() {
            let message = "the table is missing, although the verdicts were finished";
            return Err(TableTrouble::of_file(&place, message).with_hint(VERIFY_AGAIN));
        }
        let table = self.verdicts(query, &place)?;
        let own = verdict_columns(Verdicts::Own);
        let columns = match table.columns().len() > own.len() {
            true => verdict_columns(Verdicts::WithAdvice),
            false => own,
        };
        table.expect_columns(columns.iter().map(|column| &*column.name))?;
        Ok(Some((VerdictRows::new(table, columns), known.terms)))
    }

    /// The hits of a query from a row on, as the tables are now; nothing if one of them may have been written since.
    pub(super) fn hits_from(
        &self,
        query: &str,
        (hit, verdict): (u64, Option<u64>),
        since: SystemTime,
    ) -> Result<Option<HitReader>, TableTrouble> {
        let (hits, verdicts) = (self.place(&hits_table(query)), self.verdicts_place(query));
        let has_verdicts = verdicts.is_file();
        let is_changed = !is_older(&hits, since) || (has_verdicts && !is_older(&verdicts, since));
        if is_changed || has_verdicts != verdict.is_some() {
            return Ok(None);
        }
        let from = |path: &Path, byte| TableReader::from_byte(path, self.format(), byte);
        let verdicts = verdict.map(|byte| from(&verdicts, byte)).transpose()?;
        HitReader::new(query, from(&hits, hit)?, verdicts).map(Some)
    }

    /// The games with hits from a row on; likewise.
    pub(super) fn games_from(
        &self,
        byte: u64,
        since: SystemTime,
    ) -> Result<Option<GameReader>, TableTrouble> {
        let path = self.place(GAMES_TABLE);
        if !is_older(&path, since) {
            return Ok(None);
        }
        GameReader::new(TableReader::from_byte(&path, self.format(), byte)?).map(Some)
    }

    fn table(&self, table: &str) -> Result<TableReader, TableTrouble> {
        let (path, written) = self.written(table)?;
        self.read(&path, written, MINE_AGAIN)
    }

    /// Where a table of the run is, and what was written.
    fn written(&self, table: &str) -> Result<(PathBuf, &TableRun), TableTrouble> {
        let path = self.place(table);
        let Some(written) = self.manifest.tables.get(&self.format().file_name(table)) else {
            let message = "the run's manifest does not say that this table was written";
            return Err(TableTrouble::of_file(&path, message));
        };
        if path.is_file() {
            return Ok((path, written));
        }
        let message = "the table is missing, although the run's manifest says that it was written";
        Err(TableTrouble::of_file(&path, message).with_hint("mine again with --replace"))
    }

    /// Whether a table of verdicts was finished that is to be in this place.
    fn were_written(&self, query: &str, place: &Path) -> bool {
        let folder = place.parent().unwrap_or(&self.path);
        TermsFile::read(folder).0.remove(query).is_some_and(|known| known.table.is_some())
    }

    /// The verdicts on the hits of a query, whose table is in this place.
    fn verdicts(&self, query: &str, place: &Path) -> Result<TableReader, TableTrouble> {
        if self.reading == Reading::AsTheyAre {
            return TableReader::open(place, self.format());
        }
        let trouble =
            |message: &str| Err(TableTrouble::of_file(place, message).with_hint(VERIFY_AGAIN));
        let folder = place.parent().unwrap_or(&self.path);
        let Some(known) = TermsFile::read(folder).0.remove(query) else {
            return trouble("nothing says which hits these verdicts are on");
        };
        let (_, hits) = self.written(&hits_table(query))?;
        match known.table {
            _ if known.hits != hits.xxh3 => trouble("these verdicts are on other hits"),
            None => trouble("these verdicts were not finished here"),
            Some(written) => self.read(place, &written, VERIFY_AGAIN),
        }
    }

    fn read(
        &self,
        path: &Path,
        written: &TableRun,
        hint: &'static str,
    ) -> Result<TableReader, TableTrouble> {
        match self.reading {
            Reading::AsTheyAre => TableReader::open(path, self.format()),
            Reading::AsWritten => {
                let expected = Expected { table: written.clone(), hint };
                TableReader::open_as(path, self.format(), expected)
            }
        }
    }
}

/// Whether a file was last written before a time.
fn is_older(path: &Path, than: SystemTime) -> bool {
    fs::metadata(path).and_then(|file| file.modified()).is_ok_and(|written| written < than)
}
