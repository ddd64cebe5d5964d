//! The folder in which a teacher keeps queries of their own.
//!
//! Invariant: nothing is written outside the folder, through a link, over another file unless that very file was to be
//! replaced, or over a file that is no query.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use super::states::hash;
use super::whole_file::{Swap, swap, write_new};
use crate::query::{Query, names_query};

/// A folder with query files.
#[derive(Clone, Debug)]
pub struct QueryShelf {
    folder: PathBuf,
}

/// Why a query was not saved.
#[derive(thiserror::Error, Debug)]
pub enum ShelfTrouble {
    /// No file can be called so.
    #[error("no query can be called `{0}`: small letters, digits and hyphens, at most 64")]
    Name(String),
    /// Something is there, and it was not to be replaced.
    #[error("there is a file `{path}` already")]
    There {
        /// The file.
        path: PathBuf,
        /// By what it is known which one it is.
        hash: String,
    },
    /// What is there is no query.
    #[error("`{0}` is not a query file, so it is not overwritten")]
    NoQuery(PathBuf),
    /// It is a link.
    #[error("`{0}` is a link, and no query is written through a link")]
    Link(PathBuf),
    /// The system says so.
    #[error("can't write `{path}`: {error}")]
    File {
        /// The file.
        path: PathBuf,
        /// Why.
        error: io::Error,
    },
}

impl QueryShelf {
    /// The shelf in a folder, which is made when the first query is saved.
    #[must_use]
    pub fn at(folder: PathBuf) -> QueryShelf {
        QueryShelf { folder }
    }

    /// The folder.
    #[must_use]
    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// The file of a query.
    ///
    /// # Errors
    ///
    /// If no query can be called so.
    pub fn path(&self, name: &str) -> Result<PathBuf, ShelfTrouble> {
        match names_query(name) {
            true => Ok(self.folder.join(format!("{name}.toml"))),
            false => Err(ShelfTrouble::Name(name.to_owned())),
        }
    }

    /// The names of the queries in it, sorted.
    #[must_use]
    pub fn names(&self) -> Vec<String> {
        let entries = fs::read_dir(&self.folder).into_iter().flatten().flatten();
        let files = entries.filter(|entry| entry.file_type().is_ok_and(|kind| kind.is_file()));
        let name = |name: std::ffi::OsString| {
            Some(name.to_str()?.strip_suffix(".toml").filter(|name| names_query(name))?.to_owned())
        };
        let mut names: Vec<String> = files.filter_map(|entry| name(entry.file_name())).collect();
        names.retain(|name| self.text(name).is_some_and(|text| is_query(&text)));
        names.sort();
        names
    }

    /// The text of a query in it.
    #[must_use]
    pub fn text(&self, name: &str) -> Option<String> {
        let path = self.path(name).ok()?;
        let is_file = fs::symlink_metadata(&path).is_ok_and(|there| there.is_file());
        is_file.then(|| fs::read_to_string(path).ok()).flatten()
    }

    /// Saves a query. One that is there is replaced only if it is the one with this hash. It is on the disk when this
    /// returns.
    ///
    /// # Errors
    ///
    /// If it can't be called so, if something else is there, or if the system refuses.
    pub fn save(
        &self,
        name: &str,
        text: &str,
        replaced: Option<&str>,
    ) -> Result<PathBuf, ShelfTrouble> {
        let path = self.path(name)?;
        let cant = |error| ShelfTrouble::File { path: path.clone(), error };
        self.make_folder()?;
        if fs::symlink_metadata(&path).is_ok_and(|there| !there.is_file()) {
            return Err(ShelfTrouble::Link(path));
        }
        if write_new(&path, text).map_err(cant)? {
            return Ok(path);
        }
        let there = fs::read_to_string(&path).map_err(cant)?;
        if there == text {
            return Ok(path);
        }
        if !is_query(&there) {
            return Err(ShelfTrouble::NoQuery(path));
        }
        let hash = hash(&there);
        if replaced != Some(&*hash) {
            return Err(ShelfTrouble::There { path, hash });
        }
        match swap(&path, &self.folder, &there, text).map_err(cant)? {
            Swap::Done => Ok(path),
            Swap::Changed => Err(ShelfTrouble::There { path, hash: String::new() }),
        }
    }

    fn make_folder(&self) -> Result<(), ShelfTrouble> {
        let folder = &self.folder;
        if fs::symlink_metadata(folder).is_ok_and(|there| !there.is_dir()) {
            return Err(ShelfTrouble::Link(folder.clone()));
        }
        let cant = |error| ShelfTrouble::File { path: folder.clone(), error };
        fs::create_dir_all(folder).map_err(cant)
    }
}

/// Whether a text is meant as a query: it need not be in order.
fn is_query(text: &str) -> bool {
    let table: Option<toml::Table> = text.parse().ok();
    let has_offer = table.is_some_and(|table| table.contains_key("offer"));
    has_offer || Query::read("query", "query", text).is_ok()
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that can't go on has failed")]
mod tests {
    use super::*;

    const TEXT: &str = "title = \"A\"\nchapter = \"rook\"\noffer = \"rook takes on h7\"\n";

    #[test]
    fn a_query_is_written_over_only_if_it_is_the_one_that_was_to_be_replaced() {
        let place = tempfile::tempdir().unwrap();
        let shelf = QueryShelf::at(place.path().join("own"));
        let path = shelf.save("mine", TEXT, None).unwrap();
        assert_eq!(shelf.names(), ["mine"]);
        let other = TEXT.replace("h7", "g7");
        let Err(ShelfTrouble::There { hash, .. }) = shelf.save("mine", &other, None) else {
            panic!("it was written over");
        };
        assert!(shelf.save("mine", &other, Some("0")).is_err());
        assert_eq!(fs::read_to_string(&path).unwrap(), TEXT);
        shelf.save("mine", &other, Some(&hash)).unwrap();
        assert_eq!(fs::read_to_string(&path).unwrap(), other);
        assert_eq!(fs::read_dir(shelf.folder()).unwrap().count(), 1, "nothing is left beside it");
    }

    #[test]
    fn a_name_that_leaves_the_folder_and_what_is_no_query_are_refused() {
        let place = tempfile::tempdir().unwrap();
        let shelf = QueryShelf::at(place.path().to_owned());
        for name in ["../out", "a/b", "", ".", "A", "con", "a.toml"] {
            assert!(matches!(shelf.save(name, TEXT, None), Err(ShelfTrouble::Name(_))), "{name}");
        }
        let plan = "title = \"A course\"\n";
        fs::write(place.path().join("course.toml"), plan).unwrap();
        let saved = shelf.save("course", TEXT, Some(&hash(plan)));
        assert!(matches!(saved, Err(ShelfTrouble::NoQuery(_))));
        assert_eq!(fs::read_to_string(place.path().join("course.toml")).unwrap(), plan);
    }

    #[cfg(unix)]
    #[test]
    fn a_link_is_no_way_out_of_the_folder() {
        let place = tempfile::tempdir().unwrap();
        let (inside, outside) = (place.path().join("in"), place.path().join("out"));
        fs::create_dir_all(&inside).unwrap();
        fs::create_dir_all(&outside).unwrap();
        std::os::unix::fs::symlink(outside.join("x.toml"), inside.join("mine.toml")).unwrap();
        std::os::unix::fs::symlink(&outside, place.path().join("linked")).unwrap();
        let saved = QueryShelf::at(inside.clone()).save("mine", TEXT, None);
        assert!(matches!(saved, Err(ShelfTrouble::Link(_))));
        let saved = QueryShelf::at(place.path().join("linked")).save("mine", TEXT, None);
        assert!(matches!(saved, Err(ShelfTrouble::Link(_))));
        assert_eq!(fs::read_dir(&outside).unwrap().count(), 0);
    }
}
