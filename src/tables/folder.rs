//! The folder a run is written to. The tables grow in a hidden folder inside it and are moved to their
//! places when all are whole; `run.json` comes last, so a folder with one holds a whole run.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use super::checksum::Checksum;
use super::format::TableFormat;
use super::places::{
    CHECKPOINT, FOLDERS, FolderError, LOCK, UNFINISHED, is_locked, read_if_there, refuse_link,
};
use super::run_file::{RUN_FILE, RunFile};
use super::staging::Staging;

/// The folder a run is written to.
#[derive(Debug)]
pub struct OutputFolder {
    path: PathBuf,
}

impl OutputFolder {
    /// A folder that may not be there yet.
    #[must_use]
    pub fn at(path: &Path) -> OutputFolder {
        OutputFolder { path: path.to_owned() }
    }

    /// The checkpoint of a run that was cut short here, if there is one.
    ///
    /// # Errors
    ///
    /// If it can't be read, or its run is still running.
    pub fn checkpoint(&self) -> Result<Option<Vec<u8>>, FolderError> {
        let hidden = self.path.join(UNFINISHED);
        let place = hidden.join(CHECKPOINT);
        let bytes = read_if_there(&place).map_err(|cause| FolderError::Unreadable {
            path: place.display().to_string(),
            cause,
        })?;
        let Some(bytes) = bytes else { return Ok(None) };
        if is_locked(&hidden.join(LOCK)) {
            return Err(FolderError::InUse(self.path.display().to_string()));
        }
        Ok(Some(bytes))
    }

    /// Whether a run was started here and did not come to its end.
    #[must_use]
    pub fn is_begun(&self) -> bool {
        self.path.join(UNFINISHED).exists()
    }

    /// Makes sure that it is empty or holds a run of the same kind.
    ///
    /// # Errors
    ///
    /// If it holds something else.
    pub fn refuse_other_content(&self, run: &RunFile) -> Result<(), FolderError> {
        refuse_other_content(&self.path, run)
    }

    /// Starts to write tables to it, making it if need be; with `goes_on`, the tables that an unfinished
    /// run has left stay.
    ///
    /// # Errors
    ///
    /// If nothing can be written there.
    pub fn stage(&self, format: TableFormat, goes_on: bool) -> Result<Staging<'_>, FolderError> {
        fs::create_dir_all(&self.path).map_err(FolderError::at(&self.path))?;
        FOLDERS.iter().try_for_each(|name| refuse_link(&self.path.join(name)))?;
        Staging::open(&self.path, format, goes_on)
    }
}

/// Fails if a table of an earlier run was changed since.
fn refuse_edited(path: &Path, run: &RunFile) -> Result<(), FolderError> {
    for (name, written) in &run.tables {
        let place = path.join(name);
        // One that is gone is made again.
        if Checksum::of_file(&place).is_ok_and(|found| found != written.xxh3) {
            return Err(FolderError::Edited(place.display().to_string()));
        }
    }
    Ok(())
}

/// A folder with something in it is written to only if that is a run of the same kind.
fn refuse_other_content(path: &Path, run: &RunFile) -> Result<(), FolderError> {
    let name = || path.display().to_string();
    let entries = match fs::read_dir(path) {
        Ok(entries) => entries,
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(()),
        Err(cause) => return Err(FolderError::at(path)(cause)),
    };
    match fs::read(path.join(RUN_FILE)) {
        Ok(bytes) => match serde_json::from_slice::<RunFile>(&bytes) {
            Ok(found) if found.is_same_run(run) => refuse_edited(path, &found),
            _ => Err(FolderError::HoldsAnotherRun(name())),
        },
        Err(_) if entries.flatten().all(|entry| entry.file_name() == UNFINISHED) => Ok(()),
        Err(_) => Err(FolderError::NotEmpty(name())),
    }
}
