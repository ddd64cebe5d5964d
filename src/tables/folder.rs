//! The folder a run is written to. The tables grow in a hidden folder inside it and are moved to their
//! places when all are whole; `run.json` comes last, so a folder with one holds a whole run.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use tempfile::TempDir;

use super::cell::Column;
use super::format::{TableFormat, TableWriter};
use super::growing::is_unfinished;
use super::run_file::{RUN_FILE, RunFile};

/// Why a folder can't be written to.
#[derive(thiserror::Error, Debug)]
pub enum FolderError {
    /// It holds the tables of other sources, queries or options.
    #[error("`{0}` holds the tables of another run")]
    HoldsAnotherRun(String),
    /// It holds files that are no run's.
    #[error("`{0}` is not empty, and what it holds is not a run")]
    NotEmpty(String),
    /// A folder in it leads elsewhere, where nothing must be written.
    #[error(
        "`{0}` is a link or no folder, and tables are written nowhere but inside the run's own"
    )]
    LeadsElsewhere(String),
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
    fn at(path: &Path) -> impl FnOnce(io::Error) -> FolderError + '_ {
        move |cause| FolderError::Unwritable { path: path.display().to_string(), cause }
    }
}

/// The folder a run is written to.
#[derive(Debug)]
pub struct OutputFolder {
    path: PathBuf,
}

/// What a run may write into a folder.
const TABLES: [&str; 2] = ["collection", "rejects"];

/// The folders in it.
const FOLDERS: [&str; 2] = ["hits", "verdicts"];

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

/// Fails if there is something at the path that is no folder, or leads to one elsewhere.
fn refuse_link(path: &Path) -> Result<(), FolderError> {
    match fs::symlink_metadata(path) {
        Ok(found) if !found.is_dir() => {
            Err(FolderError::LeadsElsewhere(path.display().to_string()))
        }
        _ => Ok(()),
    }
}

impl OutputFolder {
    /// Opens a folder for this run, making it if need be.
    ///
    /// # Errors
    ///
    /// If it holds something else and `replace` is false, or can't be made.
    pub fn open(path: &Path, run: &RunFile, replace: bool) -> Result<OutputFolder, FolderError> {
        if !replace {
            refuse_other_content(path, run)?;
        }
        fs::create_dir_all(path).map_err(FolderError::at(path))?;
        FOLDERS.iter().try_for_each(|name| refuse_link(&path.join(name)))?;
        Ok(OutputFolder { path: path.to_owned() })
    }

    /// Starts to write tables for it.
    ///
    /// # Errors
    ///
    /// If nothing can be written there.
    pub fn stage(&self, format: TableFormat) -> Result<Staging<'_>, FolderError> {
        let folder = tempfile::Builder::new()
            .prefix(".unfinished-")
            .tempdir_in(&self.path)
            .map_err(FolderError::at(&self.path))?;
        let hits = folder.path().join("hits");
        fs::create_dir(&hits).map_err(FolderError::at(&hits))?;
        Ok(Staging { target: &self.path, folder, format })
    }
}

/// A folder with something in it is written to only if that is a run of the same kind.
fn refuse_other_content(path: &Path, run: &RunFile) -> Result<(), FolderError> {
    let name = || path.display().to_string();
    let entries = match fs::read_dir(path) {
        Ok(entries) => entries,
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(()),
        Err(cause) => {
            return Err(FolderError::Unwritable { path: name(), cause });
        }
    };
    match fs::read(path.join(RUN_FILE)) {
        Ok(bytes) => match serde_json::from_slice::<RunFile>(&bytes) {
            Ok(found) if found.is_same_run(run) => Ok(()),
            _ => Err(FolderError::HoldsAnotherRun(name())),
        },
        Err(_) if entries.count() == 0 => Ok(()),
        Err(_) => Err(FolderError::NotEmpty(name())),
    }
}

/// The tables of a run while they grow. Dropped without [`Staging::publish`], it leaves nothing behind.
#[derive(Debug)]
pub struct Staging<'f> {
    target: &'f Path,
    folder: TempDir,
    format: TableFormat,
}

impl Staging<'_> {
    /// Starts the table of a query's hits.
    ///
    /// # Errors
    ///
    /// If it can't be written.
    pub fn hits(
        &self,
        query: &str,
        columns: &[Column],
    ) -> Result<Box<dyn TableWriter>, FolderError> {
        self.create(&format!("hits/{query}"), columns)
    }

    /// Starts the table of all games that were mined.
    ///
    /// # Errors
    ///
    /// If it can't be written.
    pub fn collection(&self, columns: &[Column]) -> Result<Box<dyn TableWriter>, FolderError> {
        self.create(TABLES[0], columns)
    }

    /// Starts the table of the games that were not mined.
    ///
    /// # Errors
    ///
    /// If it can't be written.
    pub fn rejects(&self, columns: &[Column]) -> Result<Box<dyn TableWriter>, FolderError> {
        self.create(TABLES[1], columns)
    }

    fn create(&self, stem: &str, columns: &[Column]) -> Result<Box<dyn TableWriter>, FolderError> {
        let path = self.folder.path().join(format!("{stem}.{}", self.format.ending()));
        self.format.create(&path, columns).map_err(|cause| self.unwritable(cause))
    }

    /// An error while a table is written, with its place.
    #[must_use]
    pub fn unwritable(&self, cause: io::Error) -> FolderError {
        FolderError::Unwritable { path: self.target.display().to_string(), cause }
    }

    /// Moves the finished tables to their places, the tables of an earlier run giving way, and writes
    /// the manifest last.
    ///
    /// # Errors
    ///
    /// If something can't be written or moved; the folder then holds no `run.json`.
    pub fn publish(self, run: &RunFile) -> Result<(), FolderError> {
        let manifest =
            serde_json::to_string_pretty(run).map_err(|error| self.unwritable(error.into()))?;
        let staged_manifest = self.folder.path().join(RUN_FILE);
        fs::write(&staged_manifest, manifest + "\n").map_err(|cause| self.unwritable(cause))?;
        FOLDERS.iter().try_for_each(|name| refuse_link(&self.target.join(name)))?;
        self.clear_earlier_run()?;
        make_inside(self.target, "hits")?;
        for folder in ["hits", ""] {
            let from = self.folder.path().join(folder);
            for entry in fs::read_dir(&from).map_err(FolderError::at(&from))? {
                let entry = entry.map_err(FolderError::at(&from))?;
                let is_file = entry.file_type().is_ok_and(|kind| kind.is_file());
                if is_file && entry.file_name() != RUN_FILE {
                    let to = self.target.join(folder).join(entry.file_name());
                    fs::rename(entry.path(), &to).map_err(FolderError::at(&to))?;
                }
            }
        }
        let to = self.target.join(RUN_FILE);
        fs::rename(&staged_manifest, &to).map_err(FolderError::at(&to))
    }

    /// Removes the tables of an earlier run, its manifest first.
    fn clear_earlier_run(&self) -> Result<(), FolderError> {
        remove_if_there(&self.target.join(RUN_FILE))?;
        for format in TableFormat::ALL {
            for stem in TABLES {
                remove_if_there(&self.target.join(format!("{stem}.{}", format.ending())))?;
            }
        }
        let hits = self.target.join("hits");
        for entry in fs::read_dir(&hits).into_iter().flatten().flatten() {
            let path = entry.path();
            let ending = path.extension().and_then(|ending| ending.to_str());
            if TableFormat::ALL.iter().any(|format| ending == Some(format.ending())) {
                remove_if_there(&path)?;
            }
        }
        // Verdicts on other hits say nothing of the new ones.
        let verdicts = self.target.join("verdicts");
        for entry in fs::read_dir(&verdicts).into_iter().flatten().flatten() {
            let path = entry.path();
            let ending = path.extension().and_then(|ending| ending.to_str());
            if matches!(ending, Some("csv" | "json")) || is_unfinished(&path) {
                remove_if_there(&path)?;
            }
        }
        Ok(())
    }
}

fn remove_if_there(path: &Path) -> Result<(), FolderError> {
    match fs::remove_file(path) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => Err(FolderError::at(path)(error)),
        _ => Ok(()),
    }
}
