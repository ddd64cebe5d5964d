//! The tables of a run while they grow, in a hidden folder inside the run's folder.
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
use super::places::{
    CHECKPOINT, FolderError, LOCK, TABLES, UNFINISHED, is_being_verified, is_taken, make_inside,
    read_if_there, remove_if_there, sync_folder,
};
use super::terms_file::TermsFile;
use super::writer::TableWriter;

/// The memory of the games with hits in the hidden folder.
const REMEMBERED: &str = "remembered";

/// The folder of the verdicts.
pub(super) const VERDICTS: &str = "verdicts";

/// The tables of a run while they grow. Dropped without [`Staging::publish`], it leaves nothing behind
/// unless there is a checkpoint.
#[derive(Debug)]
pub struct Staging<'f> {
    pub(super) target: &'f Path,
    pub(super) folder: PathBuf,
    pub(super) format: TableFormat,
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

    /// Starts a table, or continues it after what is `kept`.
    ///
    /// # Errors
    ///
    /// If it can't be written.
    pub fn table(
        &self,
        table: &str,
        columns: &[Column],
        kept: Option<Extent>,
    ) -> Result<Box<dyn TableWriter>, FolderError> {
        let name = self.format.file_name(table);
        let path = self.folder.join(&name);
        let started = match kept {
            None => self.format.create(&path, columns),
            Some(kept) => self
                .bring_back(&name, kept.bytes)
                .and_then(|()| self.format.go_on(&path, columns, kept)),
        };
        started.map_err(|cause| match cause.kind() {
            io::ErrorKind::InvalidData | io::ErrorKind::UnexpectedEof => {
                FolderError::Changed(path.display().to_string())
            }
            _ => FolderError::at(&path)(cause),
        })
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

pub(super) fn is_table(path: &Path) -> bool {
    let ending = path.extension().and_then(|ending| ending.to_str());
    TableFormat::ALL.iter().any(|format| ending == Some(format.ending()))
}

/// Removes the tables in a folder.
pub(super) fn clear_tables(folder: &Path) -> Result<(), FolderError> {
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
