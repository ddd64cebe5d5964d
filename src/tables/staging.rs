//! The tables of a run while they grow, in a hidden folder inside the run's folder, and how they are moved
//! to their places.
//!
//! A checkpoint says how a run can be resumed. It stands in the hidden folder beside the tables and
//! is replaced as a whole, once the tables are safe up to the lengths that it names. The tables of a run
//! that was interrupted are in their places; to resume, they are brought back as far as the checkpoint
//! goes.
//!
//! Invariant: whenever the program ends, by whatever cause, the last checkpoint and the first bytes of
//! the tables that it names are there.

use std::fs::{self, File};
use std::io::{self, BufWriter, Read, Write};
use std::path::{Path, PathBuf};

use super::cell::Column;
use super::checksum::Extent;
use super::format::{TableFormat, cut_to};
use super::growing::is_unfinished;
use super::places::{
    CHECKPOINT, FOLDERS, FolderError, LOCK, TABLES, UNFINISHED, is_being_verified, is_taken,
    make_inside, read_if_there, refuse_link, remove_if_there, sync_folder,
};
use super::run_file::{
    COLLECTION_TABLE, DUPLICATES_TABLE, GAMES_TABLE, REJECTS_TABLE, RUN_FILE, RunFile, hits_table,
};
use super::terms_file::{TERMS_FILE, TermsFile};
use super::writer::TableWriter;

/// The memory of the games with hits in the hidden folder.
const REMEMBERED: &str = "remembered";

/// The folder of the verdicts.
const VERDICTS: &str = "verdicts";

/// The tables of a run while they grow. Dropped without [`Staging::publish`], it leaves nothing behind
/// unless there is a checkpoint.
#[derive(Debug)]
pub struct Staging<'f> {
    target: &'f Path,
    folder: PathBuf,
    format: TableFormat,
    /// Held as long as the run lasts, so that nobody else writes here.
    _lock: File,
}

impl<'f> Staging<'f> {
    /// Opens the hidden folder of a run's; what an earlier run left there stays only if this one
    /// continues it.
    pub(super) fn open(
        target: &'f Path,
        format: TableFormat,
        goes_on: bool,
    ) -> Result<Staging<'f>, FolderError> {
        let in_use = || FolderError::InUse(target.display().to_string());
        if is_being_verified(target) {
            return Err(in_use());
        }
        let folder = make_inside(target, UNFINISHED)?;
        make_inside(&folder, "hits")?;
        refuse_links(&folder)?;
        refuse_links(&folder.join("hits"))?;
        let place = folder.join(LOCK);
        let lock = File::create(&place).map_err(FolderError::at(&place))?;
        if is_taken(&lock) {
            return Err(in_use());
        }
        let staging = Staging { target, folder, format, _lock: lock };
        // Whoever verifies looks for this lock after its own was taken, so one of both gives way.
        if is_being_verified(target) {
            return Err(in_use());
        }
        if !goes_on {
            remove_if_there(&staging.folder.join(CHECKPOINT))?;
            remove_if_there(&staging.folder.join(REMEMBERED))?;
            clear_verdicts(&staging.folder)?;
            clear_tables(&staging.folder)?;
        }
        Ok(staging)
    }

    /// The format of the tables.
    #[must_use]
    pub fn format(&self) -> TableFormat {
        self.format
    }

    /// Where a table of this run grows.
    #[must_use]
    pub fn place_of(&self, table: &str) -> PathBuf {
        self.folder.join(self.format.file_name(table))
    }

    /// Starts the table of a query's hits, or continues it after what is `kept`.
    ///
    /// # Errors
    ///
    /// If it can't be written.
    pub fn hits(
        &self,
        query: &str,
        columns: &[Column],
        kept: Option<Extent>,
    ) -> Result<Box<dyn TableWriter>, FolderError> {
        self.table(&hits_table(query), columns, kept)
    }

    /// Starts a table of verdicts, which is put into its place with the others.
    ///
    /// # Errors
    ///
    /// If it can't be written.
    pub fn verdicts(
        &self,
        query: &str,
        columns: &[Column],
    ) -> Result<Box<dyn TableWriter>, FolderError> {
        make_inside(&self.folder, VERDICTS)?;
        self.table(&format!("{VERDICTS}/{query}"), columns, None)
    }

    /// Writes how the tables of verdicts were made that are put into their places with the others.
    ///
    /// # Errors
    ///
    /// If it can't be written.
    pub fn terms(&self, terms: &TermsFile) -> Result<(), FolderError> {
        let folder = make_inside(&self.folder, VERDICTS)?;
        terms.write(&folder).map_err(FolderError::at(&folder))
    }

    /// Starts the table of all games that were mined, or continues it after what is `kept`.
    ///
    /// # Errors
    ///
    /// If it can't be written.
    pub fn collection(
        &self,
        columns: &[Column],
        kept: Option<Extent>,
    ) -> Result<Box<dyn TableWriter>, FolderError> {
        self.table(COLLECTION_TABLE, columns, kept)
    }

    /// Starts the table of the games with hits, or continues it after what is `kept`.
    ///
    /// # Errors
    ///
    /// If it can't be written.
    pub fn games(
        &self,
        columns: &[Column],
        kept: Option<Extent>,
    ) -> Result<Box<dyn TableWriter>, FolderError> {
        self.table(GAMES_TABLE, columns, kept)
    }

    /// Starts the table of the games that were left out, or continues it after what is `kept`.
    ///
    /// # Errors
    ///
    /// If it can't be written.
    pub fn duplicates(
        &self,
        columns: &[Column],
        kept: Option<Extent>,
    ) -> Result<Box<dyn TableWriter>, FolderError> {
        self.table(DUPLICATES_TABLE, columns, kept)
    }

    /// Starts the table of the games that were not mined, or continues it after what is
    /// `kept`.
    ///
    /// # Errors
    ///
    /// If it can't be written.
    pub fn rejects(
        &self,
        columns: &[Column],
        kept: Option<Extent>,
    ) -> Result<Box<dyn TableWriter>, FolderError> {
        self.table(REJECTS_TABLE, columns, kept)
    }

    fn table(
        &self,
        stem: &str,
        columns: &[Column],
        kept: Option<Extent>,
    ) -> Result<Box<dyn TableWriter>, FolderError> {
        let name = self.format.file_name(stem);
        let path = self.folder.join(&name);
        let table = match kept {
            None => self.format.create(&path, columns),
            Some(kept) => self
                .bring_back(&name, kept.bytes)
                .and_then(|()| self.format.go_on(&path, columns, kept)),
        };
        table.map_err(|cause| match cause.kind() {
            io::ErrorKind::InvalidData | io::ErrorKind::UnexpectedEof => {
                FolderError::Changed(path.display().to_string())
            }
            _ => FolderError::at(&path)(cause),
        })
    }

    /// Copies the first bytes of a table from its place, unless it is not there yet.
    fn bring_back(&self, name: &str, length: u64) -> io::Result<()> {
        let path = self.folder.join(name);
        if path.exists() {
            return Ok(());
        }
        let part = path.with_extension("part");
        let mut copy = File::create(&part)?;
        io::copy(&mut File::open(self.target.join(name))?.take(length), &mut copy)?;
        copy.sync_data()?;
        fs::rename(part, path)
    }

    /// The memory of the games with hits, to be written after its first `kept` bytes.
    ///
    /// # Errors
    ///
    /// If it can't be written, or is shorter.
    pub fn memory(&self, kept: u64) -> Result<BufWriter<File>, FolderError> {
        let path = self.folder.join(REMEMBERED);
        let file = if kept > 0 { cut_to(&path, kept) } else { File::create(&path) };
        file.map(BufWriter::new).map_err(FolderError::at(&path))
    }

    /// What the memory holds.
    ///
    /// # Errors
    ///
    /// If it can't be read.
    pub fn read_memory(&self) -> Result<impl Read + use<>, FolderError> {
        let path = self.folder.join(REMEMBERED);
        let file = File::open(&path).map_err(FolderError::at(&path))?;
        Ok(io::BufReader::with_capacity(1 << 16, file))
    }

    /// Replaces the checkpoint. The tables that it names must be safe.
    ///
    /// # Errors
    ///
    /// If it can't be written; the one before stays.
    pub fn save(&self, checkpoint: &[u8]) -> io::Result<()> {
        let part = self.folder.join("checkpoint.part");
        let mut file = File::create(&part)?;
        file.write_all(checkpoint)?;
        file.sync_data()?;
        sync_folder(&self.folder.join("hits"))?;
        fs::rename(&part, self.folder.join(CHECKPOINT))?;
        sync_folder(&self.folder)
    }

    /// The last checkpoint, if there is one.
    ///
    /// # Errors
    ///
    /// If it can't be read.
    pub fn checkpoint(&self) -> io::Result<Option<Vec<u8>>> {
        read_if_there(&self.folder.join(CHECKPOINT))
    }

    /// Whether there is a checkpoint to resume from.
    #[must_use]
    pub fn has_checkpoint(&self) -> bool {
        self.folder.join(CHECKPOINT).exists()
    }

    /// An error while a table is written, with its place.
    #[must_use]
    pub fn unwritable(&self, cause: io::Error) -> FolderError {
        FolderError::at(self.target)(cause)
    }

    /// An error while what an earlier run left is read, with its place.
    #[must_use]
    pub fn unreadable(&self, cause: io::Error) -> FolderError {
        FolderError::Unreadable { path: self.folder.display().to_string(), cause }
    }

    /// Moves the finished tables to their places, the tables of an earlier run giving way with the verdicts
    /// on other hits than these, and writes the manifest last. The checkpoint stays if `last` gives what it is to be from now on.
    ///
    /// # Errors
    ///
    /// If something can't be written or moved; the folder then holds no `run.json`.
    pub fn publish(self, run: &RunFile, last: Option<&[u8]>) -> Result<(), FolderError> {
        let manifest =
            serde_json::to_string_pretty(run).map_err(|error| self.unwritable(error.into()))?;
        let staged_manifest = self.folder.join(RUN_FILE);
        fs::write(&staged_manifest, manifest + "\n").map_err(|cause| self.unwritable(cause))?;
        FOLDERS.iter().try_for_each(|name| refuse_link(&self.target.join(name)))?;
        clear_earlier_run(self.target)?;
        self.clear_other_verdicts(run)?;
        make_inside(self.target, "hits")?;
        for folder in ["hits", ""] {
            let from = self.folder.join(folder);
            for entry in fs::read_dir(&from).map_err(FolderError::at(&from))? {
                let entry = entry.map_err(FolderError::at(&from))?;
                let path = entry.path();
                if is_table(&path) && entry.file_type().is_ok_and(|kind| kind.is_file()) {
                    let to = self.target.join(folder).join(path.file_name().unwrap_or_default());
                    fs::rename(&path, &to).map_err(FolderError::at(&to))?;
                }
            }
        }
        self.place_verdicts()?;
        let to = self.target.join(RUN_FILE);
        fs::rename(&staged_manifest, &to).map_err(FolderError::at(&to))?;
        match last {
            Some(checkpoint) => self.save(checkpoint).map_err(FolderError::at(self.target)),
            None => remove_if_there(&self.folder.join(CHECKPOINT)),
        }
    }
}

impl Staging<'_> {
    /// Moves the tables of verdicts to their places, if there are any, and what is said of them.
    fn place_verdicts(&self) -> Result<(), FolderError> {
        let from = self.folder.join(VERDICTS);
        let staged = TermsFile::read(&from);
        if staged.0.is_empty() {
            return Ok(());
        }
        let folder = make_inside(self.target, VERDICTS)?;
        let mut known = TermsFile::read(&folder);
        for (query, verdicts) in staged.0 {
            let name = self.format.file_name(&query);
            let to = folder.join(&name);
            fs::rename(from.join(&name), &to).map_err(FolderError::at(&to))?;
            known.0.insert(query, verdicts);
        }
        remove_if_there(&folder.join(TERMS_FILE))?;
        known.write(&folder).map_err(FolderError::at(&folder))
    }

    /// Removes the verdicts on other hits than those of this run, which say nothing of these.
    fn clear_other_verdicts(&self, run: &RunFile) -> Result<(), FolderError> {
        let folder = self.target.join("verdicts");
        let mut known = TermsFile::read(&folder);
        let others = known.0.extract_if(.., |query, verdicts| {
            let hits = run.tables.get(&self.format.file_name(&hits_table(query)));
            hits.is_none_or(|hits| hits.xxh3 != verdicts.hits)
        });
        let others: Vec<String> = others.map(|(query, _)| query).collect();
        for entry in fs::read_dir(&folder).into_iter().flatten().flatten() {
            let (path, name) = (entry.path(), entry.file_name());
            let query = name.to_str().and_then(|name| name.split('.').next()).unwrap_or_default();
            let is_of_other = others.iter().any(|other| other == query);
            if is_of_other && (is_table(&path) || is_unfinished(&path)) {
                remove_if_there(&path)?;
            }
        }
        if others.is_empty() {
            return Ok(());
        }
        remove_if_there(&folder.join(TERMS_FILE))?;
        if known.0.is_empty() {
            return Ok(());
        }
        known.write(&folder).map_err(FolderError::at(&folder))
    }
}

impl Drop for Staging<'_> {
    fn drop(&mut self) {
        if !self.has_checkpoint() {
            // What can't be removed here is removed by the next run.
            let _ = fs::remove_dir_all(&self.folder);
        }
    }
}

/// Fails if a file of the hidden folder leads elsewhere.
fn refuse_links(folder: &Path) -> Result<(), FolderError> {
    for entry in fs::read_dir(folder).map_err(FolderError::at(folder))?.flatten() {
        if entry.file_type().is_ok_and(|kind| kind.is_symlink()) {
            return Err(FolderError::LeadsElsewhere(entry.path().display().to_string()));
        }
    }
    Ok(())
}

fn is_table(path: &Path) -> bool {
    let ending = path.extension().and_then(|ending| ending.to_str());
    TableFormat::ALL.iter().any(|format| ending == Some(format.ending()))
}

/// Removes the tables of an earlier run, its manifest first. Files of other names are the user's.
fn clear_earlier_run(target: &Path) -> Result<(), FolderError> {
    let place = target.join(RUN_FILE);
    let unreadable = |cause| FolderError::Unreadable { path: place.display().to_string(), cause };
    let manifest = read_if_there(&place).map_err(unreadable)?;
    remove_if_there(&place)?;
    let Some(manifest) = manifest else { return Ok(()) };
    let Ok(manifest) = serde_json::from_slice::<RunFile>(&manifest) else {
        // One of another version.
        return clear_tables(target);
    };
    for name in manifest.tables.keys().filter(|name| names_table(name)) {
        remove_if_there(&target.join(name))?;
    }
    Ok(())
}

/// Whether a manifest can name a table so: in the folder of the run or that of the hits.
fn names_table(name: &str) -> bool {
    let file = name.strip_prefix("hits/").unwrap_or(name);
    !file.contains(['/', '\\']) && is_table(Path::new(file))
}

/// Removes the tables in a folder.
fn clear_tables(folder: &Path) -> Result<(), FolderError> {
    for format in TableFormat::ALL {
        for stem in TABLES {
            remove_if_there(&folder.join(format!("{stem}.{}", format.ending())))?;
        }
    }
    for entry in fs::read_dir(folder.join("hits")).into_iter().flatten().flatten() {
        if is_table(&entry.path()) {
            remove_if_there(&entry.path())?;
        }
    }
    Ok(())
}

/// Removes the verdicts that an earlier run has left in the hidden folder.
fn clear_verdicts(hidden: &Path) -> Result<(), FolderError> {
    let folder = hidden.join(VERDICTS);
    match fs::remove_dir_all(&folder) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => {
            Err(FolderError::at(&folder)(error))
        }
        _ => Ok(()),
    }
}
