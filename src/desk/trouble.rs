//! Why a plan can't be edited, or an edit was not made.

use std::io;
use std::path::{Path, PathBuf};

use super::fault::EditFault;
use super::merge::Clash;

/// Why a plan can't be edited, or an edit was not made.
#[derive(thiserror::Error, Debug)]
pub enum DeskTrouble {
    /// There is none.
    #[error("there is no plan `{0}`")]
    Missing(PathBuf),
    /// It is a link.
    #[error("`{0}` is a link, and no plan is written through a link")]
    Link(PathBuf),
    /// It is something else.
    #[error("`{0}` is not a file")]
    NoFile(PathBuf),
    /// It may not be written.
    #[error("`{0}` may not be written to")]
    ReadOnly(PathBuf),
    /// It is not text.
    #[error("`{0}` is not text in UTF-8")]
    NoText(PathBuf),
    /// It can't be read or written.
    #[error("can't {what} `{path}`: {error}")]
    File {
        /// `read` or `write`.
        what: &'static str,
        /// The file.
        path: PathBuf,
        /// Why.
        error: io::Error,
    },
    /// The edit can't be made.
    #[error(transparent)]
    Edit(#[from] EditFault),
    /// Somebody else changed the same; nothing was written.
    #[error("this was changed elsewhere meanwhile")]
    Clash(Box<Clash>),
    /// The plan as it was seen is no longer known, or it is another now; nothing was written.
    #[error("the plan was changed meanwhile")]
    Outdated,
    /// There is nothing to undo, or to redo.
    #[error("there is nothing to {0}")]
    NoState(&'static str),
    /// A kept state is gone, or is not what was kept.
    #[error("the kept state of `{0}` was removed or changed")]
    StateLost(PathBuf),
    /// Others write all the time.
    #[error("others keep writing `{0}`; nothing was changed")]
    Busy(PathBuf),
}

/// The trouble with a file that can't be read or written.
pub(super) fn cant(what: &'static str, path: &Path, error: io::Error) -> DeskTrouble {
    DeskTrouble::File { what, path: path.to_owned(), error }
}
