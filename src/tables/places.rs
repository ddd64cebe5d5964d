//! The names in the folder of a run, and what may be done to them: nothing is written through a link.

use std::fs::{self, File, TryLockError};
use std::io;
use std::path::{Path, PathBuf};

use super::run_file::{COLLECTION_TABLE, DUPLICATES_TABLE, GAMES_TABLE, REJECTS_TABLE, RUN_FILE};

/// The hidden folder.
pub(super) const UNFINISHED: &str = ".unfinished";

/// The checkpoint in the hidden folder.
pub(super) const CHECKPOINT: &str = "checkpoint.json";

/// The file in the hidden folder that a run locks as long as it lasts.
pub(super) const LOCK: &str = "lock";

/// The file among the verdicts that a verification locks as long as it lasts.
const VERDICTS_LOCK: &str = "lock";

/// Why a folder can't be written to.
#[derive(thiserror::Error, Debug)]
pub enum FolderError {
    /// It holds the tables of other sources, queries or options.
    #[error("`{0}` holds the tables of another run")]
    HoldsAnotherRun(String),
    /// It holds files that do not belong to a run.
    #[error("`{0}` is not empty, and what it holds is not a run")]
    NotEmpty(String),
    /// A table in it was changed since it was written.
    #[error("`{0}` was edited since it was written")]
    Edited(String),
    /// A folder in it leads elsewhere, where nothing must be written.
    #[error("`{0}` is a link or not a folder; tables are only written inside the run's own folder")]
    LeadsElsewhere(String),
    /// Another run or verification writes to it.
    #[error("another `mine` or `verify` is writing to `{0}`")]
    InUse(String),
    /// A table that is to be continued is not as the run left it.
    #[error("`{0}` was changed since the run was cut short")]
    Changed(String),
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

/// What a run may write into its folder besides hits.
pub(super) const TABLES: [&str; 4] =
    [COLLECTION_TABLE, DUPLICATES_TABLE, GAMES_TABLE, REJECTS_TABLE];

/// The folders in the folder of a run.
pub(super) const FOLDERS: [&str; 2] = ["hits", "verdicts"];

/// Whether a file is one of those that a run is written to: its manifest, a table, or what is said of verdicts.
#[must_use]
pub fn is_of_run(path: &Path) -> bool {
    let name = |path: &Path| path.file_name().and_then(|name| name.to_str()).map(str::to_owned);
    let (Some(file), Some(folder)) = (name(path), path.parent()) else { return false };
    let has_manifest = |folder: &Path| folder.join(RUN_FILE).is_file();
    let is_inside = name(folder).is_some_and(|name| FOLDERS.contains(&&*name));
    let stem = file.split('.').next().unwrap_or_default();
    let is_beside = file == RUN_FILE || TABLES.contains(&stem);
    is_beside && has_manifest(folder) || is_inside && folder.parent().is_some_and(has_manifest)
}

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

/// Held as long as verdicts are written into the folder of a run, so that nobody else writes there.
#[derive(Debug)]
pub struct VerdictsLock {
    place: PathBuf,
    _lock: File,
}

impl VerdictsLock {
    /// Locks the verdicts in the folder of a run.
    ///
    /// # Errors
    ///
    /// If somebody else is at work in the folder, or nothing can be written there.
    pub fn of(run: &Path) -> Result<VerdictsLock, FolderError> {
        let place = make_inside(run, "verdicts")?.join(VERDICTS_LOCK);
        if fs::symlink_metadata(&place).is_ok_and(|found| !found.is_file()) {
            return Err(FolderError::LeadsElsewhere(place.display().to_string()));
        }
        let lock = File::options().write(true).create(true).truncate(false).open(&place);
        let lock = lock.map_err(FolderError::at(&place))?;
        // Whoever had the lock before removes the file with it, and then it keeps out nobody.
        if is_taken(&lock) || !is_at(&lock, &place) || is_locked(&run.join(UNFINISHED).join(LOCK)) {
            return Err(FolderError::InUse(run.display().to_string()));
        }
        Ok(VerdictsLock { place, _lock: lock })
    }
}

impl Drop for VerdictsLock {
    fn drop(&mut self) {
        // A file that stays is locked by nobody and does no harm.
        let _ = make_way(&self.place);
    }
}

/// Whether verdicts are being written into the folder of a run.
pub(super) fn is_being_verified(run: &Path) -> bool {
    is_locked(&run.join("verdicts").join(VERDICTS_LOCK))
}

/// Whether a file is there and somebody else holds its lock.
pub(super) fn is_locked(place: &Path) -> bool {
    File::open(place).is_ok_and(|lock| is_taken(&lock))
}

/// Whether an open file is still the one in its place, as far as the system tells.
fn is_at(file: &File, place: &Path) -> bool {
    #[cfg(unix)]
    {
        use std::os::unix::fs::MetadataExt;
        let id = |found: io::Result<fs::Metadata>| found.ok().map(|it| (it.dev(), it.ino()));
        id(file.metadata()) == id(fs::metadata(place))
    }
    #[cfg(not(unix))]
    {
        // An open file can't be removed there.
        let _ = file;
        place.exists()
    }
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
