//! Finds the sources of a collection: files, folders and standard input.
//!
//! Invariant: a file is a source once, by whatever paths it is reached; two sources never share a name.

use std::collections::HashMap;
use std::ffi::OsStr;
use std::path::{Path, PathBuf};

use walkdir::WalkDir;

use super::source_name::name_of;

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

    /// Opens all of it; for a pipe this waits until somebody writes.
    ///
    /// # Errors
    ///
    /// What the system says.
    pub fn open(&self) -> std::io::Result<Box<dyn std::io::Read + Send>> {
        Ok(match self {
            Origin::File(path) => Box::new(std::fs::File::open(path)?),
            Origin::StandardInput => Box::new(std::io::stdin()),
        })
    }
}

/// What stands for standard input among the paths of a collection.
pub const STANDARD_INPUT: &str = "-";

/// Why a part of a collection can't be used.
#[derive(thiserror::Error, Debug)]
pub enum CollectionError {
    /// The path leads nowhere, or not to something that can be read.
    #[error("can't read `{path}`: {cause}")]
    Unreadable {
        /// The path as it was reached.
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
    /// A link in a folder to a folder around it.
    #[error("can't read `{path}`: it is a link that leads back to `{back_to}`")]
    LeadsBack {
        /// The path as it was reached.
        path: String,
        /// The folder.
        back_to: String,
    },
}

/// What is worth knowing of a collection, and no fault.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum CollectionNote {
    /// Sources that were named more than once, which are read once.
    NamedAgain {
        /// How often a source was named again.
        times: u64,
        /// The first such name.
        name: String,
        /// The name by which that source is read.
        read_as: String,
    },
    /// Archives in folders that were passed over.
    Archives {
        /// How many.
        count: u64,
        /// The first one.
        first: String,
    },
}

/// What was found of a collection.
#[derive(Debug, Default)]
pub struct FoundSources {
    /// The sources in the order given, those of a folder sorted by path, each once.
    pub sources: Vec<Source>,
    /// What can't be used; it costs nothing else.
    pub errors: Vec<CollectionError>,
    /// Whether a path that was given came to nothing.
    pub is_lacking: bool,
    /// What is worth knowing besides.
    pub notes: Vec<CollectionNote>,
}

/// The endings of files that are taken from a folder; a file that is named itself may have any.
const ENDINGS: [&str; 4] = [".pgn", ".pgn.zst", ".pgn.gz", ".pgn.bz2"];

/// The endings of archives that may hold games, but are not read from a folder.
const ARCHIVE_ENDINGS: [&str; 7] = [".zip", ".7z", ".rar", ".xz", ".zst", ".gz", ".bz2"];

/// Finds the sources of a collection.
#[must_use]
pub fn find_sources(collection: &[PathBuf]) -> FoundSources {
    let mut search = Search::default();
    for path in collection {
        search.visit(path);
    }
    search.found.notes.extend(search.named_again);
    search.found.notes.extend(search.archives);
    search.found
}

/// A search for sources.
#[derive(Default)]
struct Search {
    found: FoundSources,
    /// The index of the source by what makes it one.
    known: HashMap<SourceIdentity, usize>,
    named_again: Option<CollectionNote>,
    archives: Option<CollectionNote>,
}

impl Search {
    /// Adds the sources at a path that was given.
    fn visit(&mut self, path: &Path) {
        if path == Path::new(STANDARD_INPUT) {
            let origin = Origin::StandardInput;
            let source = Source { name: STANDARD_INPUT.to_owned(), origin, size: None };
            return self.add(SourceIdentity::StandardInput, source);
        }
        match std::fs::metadata(path) {
            Ok(metadata) if metadata.is_dir() => self.visit_folder(path),
            Ok(metadata) => self.add_file(path, &metadata),
            Err(cause) => {
                self.found.is_lacking = true;
                self.unreadable(path, cause);
            }
        }
    }

    fn visit_folder(&mut self, folder: &Path) {
        let (errors, mut is_bare) = (self.found.errors.len(), true);
        for entry in WalkDir::new(folder).follow_links(true).sort_by_file_name() {
            match entry {
                Ok(entry) if !entry.file_type().is_file() => {}
                Ok(entry) => match ending_of(entry.file_name()) {
                    Some(FileEnding::Games) => {
                        is_bare = false;
                        match entry.metadata().map_err(std::io::Error::from) {
                            Ok(metadata) => self.add_file(entry.path(), &metadata),
                            Err(cause) => self.unreadable(entry.path(), cause),
                        }
                    }
                    Some(FileEnding::Archive) => self.pass_over(entry.path()),
                    None => {}
                },
                Err(error) => self.note_trouble(folder, error),
            }
        }
        self.found.is_lacking |= is_bare;
        if is_bare && self.found.errors.len() == errors {
            self.found.errors.push(CollectionError::NoGames { path: name_of(folder) });
        }
    }

    /// Adds a file, unless it was added before.
    fn add_file(&mut self, path: &Path, metadata: &std::fs::Metadata) {
        let identity = match identity_of(path, metadata) {
            Ok(identity) => identity,
            Err(cause) => return self.unreadable(path, cause),
        };
        let origin = Origin::File(path.to_owned());
        self.add(identity, Source { name: name_of(path), origin, size: Some(metadata.len()) });
    }

    fn add(&mut self, identity: SourceIdentity, source: Source) {
        let index = *self.known.entry(identity).or_insert(self.found.sources.len());
        let Some(known) = self.found.sources.get(index) else {
            return self.found.sources.push(source);
        };
        match &mut self.named_again {
            Some(CollectionNote::NamedAgain { times, .. }) => *times += 1,
            _ => {
                let (name, read_as) = (source.name, known.name.clone());
                self.named_again = Some(CollectionNote::NamedAgain { times: 1, name, read_as });
            }
        }
    }

    fn pass_over(&mut self, archive: &Path) {
        match &mut self.archives {
            Some(CollectionNote::Archives { count, .. }) => *count += 1,
            _ => {
                let first = name_of(archive);
                self.archives = Some(CollectionNote::Archives { count: 1, first });
            }
        }
    }

    fn unreadable(&mut self, path: &Path, cause: std::io::Error) {
        self.found.errors.push(CollectionError::Unreadable { path: name_of(path), cause });
    }

    /// Notes what keeps a part of a folder from being walked through.
    fn note_trouble(&mut self, folder: &Path, error: walkdir::Error) {
        let path = error.path().unwrap_or(folder).to_owned();
        match error.loop_ancestor() {
            Some(ancestor) => {
                let (path, back_to) = (name_of(&path), name_of(ancestor));
                self.found.errors.push(CollectionError::LeadsBack { path, back_to });
            }
            None => {
                let cause = error.into_io_error();
                let cause = cause.unwrap_or_else(|| std::io::Error::other("it can't be listed"));
                self.unreadable(&path, cause);
            }
        }
    }
}

/// What the ending of a file in a folder says of it.
enum FileEnding {
    Games,
    Archive,
}

fn ending_of(name: &OsStr) -> Option<FileEnding> {
    let name = name.as_encoded_bytes().to_ascii_lowercase();
    let has_one_of = |endings: &[&str]| endings.iter().any(|end| name.ends_with(end.as_bytes()));
    match () {
        () if has_one_of(&ENDINGS) => Some(FileEnding::Games),
        () if has_one_of(&ARCHIVE_ENDINGS) => Some(FileEnding::Archive),
        () => None,
    }
}

/// What makes a source the same as another one.
#[derive(PartialEq, Eq, Hash)]
enum SourceIdentity {
    StandardInput,
    /// The device and the serial number of the file, which together are one file's alone within a system
    /// (POSIX.1-2017, `sys/stat.h`).
    #[cfg(unix)]
    File(u64, u64),
    /// The path without links.
    #[cfg(not(unix))]
    Path(PathBuf),
}

#[cfg(unix)]
#[expect(clippy::unnecessary_wraps, reason = "other systems have to ask for it")]
fn identity_of(_: &Path, metadata: &std::fs::Metadata) -> std::io::Result<SourceIdentity> {
    use std::os::unix::fs::MetadataExt;
    Ok(SourceIdentity::File(metadata.dev(), metadata.ino()))
}

#[cfg(not(unix))]
fn identity_of(path: &Path, _: &std::fs::Metadata) -> std::io::Result<SourceIdentity> {
    path.canonicalize().map(SourceIdentity::Path)
}
