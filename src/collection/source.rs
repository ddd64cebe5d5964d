//! Finds the sources of a collection: files, folders and standard input.

use std::path::{Path, PathBuf};

use walkdir::WalkDir;

/// One file of a collection, or standard input.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Source {
    /// What the tables call it: the path as it was reached, `-` for standard input.
    pub name: String,
    /// Where its bytes come from.
    pub origin: Origin,
    /// Its size on disk in bytes, if it is a file.
    pub size: Option<u64>,
}

/// Where the bytes of a source come from.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Origin {
    /// A file.
    File(PathBuf),
    /// Standard input.
    StandardInput,
}

impl Origin {
    /// The path of a file that can be read again; none for standard input, pipes and devices.
    #[must_use]
    pub fn file(&self) -> Option<&Path> {
        match self {
            Origin::File(path) => path.is_file().then_some(path),
            Origin::StandardInput => None,
        }
    }
}

/// Why a part of a collection can't be used.
#[derive(thiserror::Error, Debug)]
pub enum CollectionError {
    /// The path leads nowhere, or not to something that can be read.
    #[error("can't read `{path}`: {cause}")]
    Unreadable {
        /// The path as given.
        path: String,
        /// What the system says.
        cause: std::io::Error,
    },
    /// A folder without a source in it.
    #[error("no games in the folder `{path}`: none of its files ends in {}", ENDINGS.join(", "))]
    NoGames {
        /// The path as given.
        path: String,
    },
    /// A part of a folder can't be listed.
    #[error("can't list `{path}`: {cause}")]
    Unlistable {
        /// The folder as given.
        path: String,
        /// What the system says.
        cause: walkdir::Error,
    },
}

/// The endings of files that are taken from a folder; a file that is named itself may have any.
const ENDINGS: [&str; 4] = [".pgn", ".pgn.zst", ".pgn.gz", ".pgn.bz2"];

/// The sources of a collection in the order given, those of a folder sorted by path, each once.
///
/// What can't be used is in the second list and costs nothing else.
#[must_use]
pub fn find_sources(collection: &[String]) -> (Vec<Source>, Vec<CollectionError>) {
    let mut sources: Vec<Source> = Vec::new();
    let mut errors = Vec::new();
    for path in collection {
        match sources_at(path) {
            Ok(found) => {
                for source in found {
                    if !sources.iter().any(|known| known.origin == source.origin) {
                        sources.push(source);
                    }
                }
            }
            Err(error) => errors.push(error),
        }
    }
    (sources, errors)
}

fn sources_at(path: &str) -> Result<Vec<Source>, CollectionError> {
    if path == "-" {
        return Ok(vec![Source {
            name: path.to_owned(),
            origin: Origin::StandardInput,
            size: None,
        }]);
    }
    let unreadable = |cause| CollectionError::Unreadable { path: path.to_owned(), cause };
    let metadata = std::fs::metadata(path).map_err(unreadable)?;
    if metadata.is_dir() {
        return sources_in_folder(path);
    }
    Ok(vec![file_source(Path::new(path)).map_err(unreadable)?])
}

fn sources_in_folder(path: &str) -> Result<Vec<Source>, CollectionError> {
    let mut sources = Vec::new();
    for entry in WalkDir::new(path).follow_links(true).sort_by_file_name() {
        let entry =
            entry.map_err(|cause| CollectionError::Unlistable { path: path.to_owned(), cause })?;
        let name = entry.file_name().to_string_lossy().to_lowercase();
        if entry.file_type().is_file() && ENDINGS.iter().any(|ending| name.ends_with(ending)) {
            let file = file_source(entry.path());
            sources.push(file.map_err(|cause| CollectionError::Unreadable {
                path: entry.path().display().to_string(),
                cause,
            })?);
        }
    }
    if sources.is_empty() {
        return Err(CollectionError::NoGames { path: path.to_owned() });
    }
    Ok(sources)
}

fn file_source(path: &Path) -> std::io::Result<Source> {
    let size = std::fs::metadata(path)?.len();
    Ok(Source {
        name: path.display().to_string(),
        origin: Origin::File(path.to_owned()),
        size: Some(size),
    })
}
