//! How pages are told, whatever is on them.

use crate::board::PieceLetters;
use crate::words::Words;

/// How the lessons and sheets of some runs are told.
#[derive(Clone, Debug)]
pub struct Telling {
    /// In which words.
    pub words: Words,
    /// With which letters for the men in moves, where people read them.
    pub letters: PieceLetters,
    /// What the solutions of exercises rest on, in a sentence.
    pub rests_on: String,
    /// What must be said of the tables, if anything.
    pub caution: Option<String>,
}
