//! The names in the folder of a run, and what may be done to them: nothing is written through a link.

use std::fs::{self, File, TryLockError};
use std::io;
use std::path::{Path, PathBuf};

/// The hidden folder.
pub(super) const UNFINISHED: &str = ".unfinished";

/// The checkpoint in the hidden folder.
pub(super) const CHECKPOINT: &str = "checkpoint.json";

/// The file in the hidden folder that a run locks as long as it lasts.
pub(super) const LOCK: &str = "lock";

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

/// Whether another run holds the lock; if not, it is this one's now, until the file is closed. Where the
/// system has no locks it must do without.
pub(super) fn is_taken(lock: &File) -> bool {
    matches!(lock.try_lock(), Err(TryLockError::WouldBlock))
}

pub(super) fn remove_if_there(path: &Path) -> Result<(), FolderError> {
    make_way(path).map_err(FolderError::at(path))
}

/// Removes the file that is in the way of another, if there is one; of a link the link itself.
///
/// # Errors
///
/// What the system says when it can't.
pub fn make_way(path: &Path) -> io::Result<()> {
    match fs::remove_file(path) {
        Err(error) if !is_absence(&error) => Err(error),
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
