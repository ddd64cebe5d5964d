//! Why an edit can't be made.

use crate::toml_files::FileProblems;

/// A plan's text with an edit made in it.
pub(super) type Made = Result<String, EditFault>;

/// Why an edit can't be made in a plan.
#[derive(thiserror::Error, Debug)]
pub enum EditFault {
    /// What it is about is not in the plan.
    #[error("the plan has no {0}")]
    Gone(String),
    /// What it puts something after is not in the plan.
    #[error("the plan no longer has the {0} after which this was to stand")]
    NoNeighbour(&'static str),
    /// What it adds is there already.
    #[error("the plan has this {0} already")]
    There(String),
    /// The list was never written down.
    #[error("the {what} of `{of}` are left to the program")]
    LeftToProgram {
        /// `games` or `exercises`.
        what: &'static str,
        /// The motif of the lesson, or the name of the sheet.
        of: String,
    },
    /// A sheet must have something on it.
    #[error("this is the last exercise of the sheet `{0}`; drop the sheet instead")]
    LastOfSheet(String),
    /// What a class was given is known by the name of its sheet.
    #[error("a class was given the sheet `{0}`, so it keeps its name")]
    Given(String),
    /// The entry stands in several places.
    #[error(
        "this {0} stands in several places of the file, with others between; put them together first"
    )]
    Scattered(String),
    /// The plan can't be read, or could not be once the edit is made.
    #[error("{}", .0.render(false))]
    Unreadable(Box<FileProblems>),
}
