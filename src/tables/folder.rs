//! The folder a run is written to. The tables grow in a hidden folder inside it and are moved to their
//! places when all are whole; `run.json` comes last, so a folder with one holds a whole run.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use super::format::TableFormat;
use super::run_file::{RUN_FILE, RunFile};
use super::staging::{CHECKPOINT, LOCK, Staging, UNFINISHED, is_taken};

/// Why a folder can't be written to.
#[derive(thiserror::Error, Debug)]
pub enum FolderError {
    /// It holds the tables of other sources, queries or options.
    #[error("`{0}` holds the tables of another run")]
    HoldsAnotherRun(String),
    /// It holds files that do not belong to a run.
    #[error("`{0}` is not empty, and what it holds is not a run")]
    NotEmpty(String),
    /// A folder in it leads elsewhere, where nothing must be written.
    #[error("`{0}` is a link or not a folder; tables are only written inside the run's own folder")]
    LeadsElsewhere(String),
    /// Another run writes to it.
    #[error("another run is writing to `{0}`")]
    InUse(String),
    /// The system does not let it be read.
    #[error("can't read `{path}`: {cause}")]
    Unreadable {
        /// The file.
        path: String,
        /// What the system says.
        cause: io::Error,
    },
    /// The system does not let it be written.
    #[error("can't write `{path}`: {cause}")]
    Unwritable {
        /// The file or folder.
        path: String,
        /// What the system says.
        cause: io::Error,
    },
}

impl FolderError {
    pub(super) fn at(path: &Path) -> impl FnOnce(io::Error) -> FolderError + '_ {
        move |cause| FolderError::Unwritable { path: path.display().to_string(), cause }
    }
}

/// The folder a run is written to.
#[derive(Debug)]
pub struct OutputFolder {
    path: PathBuf,
}

/// The folders in the folder of a run.
pub(super) const FOLDERS: [&str; 2] = ["hits", "verdicts"];

/// Makes a folder inside the folder of a run, if it is not there.
///
/// # Errors
///
/// If there is a link or a file, or it can't be made.
pub fn make_inside(run: &Path, name: &str) -> Result<PathBuf, FolderError> {
    let path = run.join(name);
    refuse_link(&path)?;
    fs::create_dir_all(&path).map_err(FolderError::at(&path))?;
    Ok(path)
}

/// Fails if what is at the path is not a folder, or leads to one elsewhere.
pub(super) fn refuse_link(path: &Path) -> Result<(), FolderError> {
    match fs::symlink_metadata(path) {
        Ok(found) if !found.is_dir() => {
            Err(FolderError::LeadsElsewhere(path.display().to_string()))
        }
        _ => Ok(()),
    }
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
        let lock = fs::File::open(hidden.join(LOCK));
        if lock.is_ok_and(|lock| is_taken(&lock)) {
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
            Ok(found) if found.is_same_run(run) => Ok(()),
            _ => Err(FolderError::HoldsAnotherRun(name())),
        },
        Err(_) if entries.flatten().all(|entry| entry.file_name() == UNFINISHED) => Ok(()),
        Err(_) => Err(FolderError::NotEmpty(name())),
    }
}

pub(super) fn remove_if_there(path: &Path) -> Result<(), FolderError> {
    match fs::remove_file(path) {
        Err(error) if !is_absence(&error) => Err(FolderError::at(path)(error)),
        _ => Ok(()),
    }
}

pub(super) fn read_if_there(path: &Path) -> io::Result<Option<Vec<u8>>> {
    match fs::read(path) {
        Err(error) if is_absence(&error) => Ok(None),
        read => read.map(Some),
    }
}

fn is_absence(error: &io::Error) -> bool {
    matches!(error.kind(), io::ErrorKind::NotFound | io::ErrorKind::NotADirectory)
}

/// Makes it safe on disk which files a folder holds, where the system can do that.
pub(super) fn sync_folder(path: &Path) -> io::Result<()> {
    if cfg!(unix) { fs::File::open(path)?.sync_all() } else { Ok(()) }
}
