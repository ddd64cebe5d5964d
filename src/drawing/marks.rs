//! What a diagram can carry besides the men, and how a command line writes it: rings and plain lines.

use std::str::FromStr;

use shakmaty::{Move, Square};
use thiserror::Error;

use crate::board::destination;

/// A plain line from one square to another: a move, or the way a piece looks.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Way {
    /// Where it begins.
    pub from: Square,
    /// Where it ends; never the square it begins on if it was read from text.
    pub to: Square,
}

impl Way {
    /// The way of the man that is moved; a man that is dropped has none.
    #[must_use]
    pub fn of(m: Move) -> Option<Way> {
        Some(Way { from: m.from()?, to: destination(m) })
    }
}

/// Why a mark can't be read.
#[derive(Clone, PartialEq, Eq, Debug, Error)]
pub enum MarkError {
    /// A word in a list of squares that is not a square.
    #[error("`{0}` is not a square")]
    Square(String),
    /// A word that is not two squares.
    #[error("`{0}` is not a line from one square to another, such as `f3-g5`")]
    Line(String),
}

/// Reads the squares to ring, with commas between them: `e4,f7`.
///
/// Blanks around a square are allowed; a square named twice is kept once.
pub fn rings(text: &str) -> Result<Vec<Square>, MarkError> {
    let mut squares = Vec::new();
    for word in text.split(',').map(str::trim) {
        let square = word.parse().map_err(|_| MarkError::Square(word.to_owned()))?;
        if !squares.contains(&square) {
            squares.push(square);
        }
    }
    Ok(squares)
}

impl FromStr for Way {
    type Err = MarkError;

    /// Reads `f3-g5` or `f3g5`; a move as UCI writes it, `e7e8q`, will do too.
    fn from_str(text: &str) -> Result<Self, MarkError> {
        line(text).ok_or_else(|| MarkError::Line(text.to_owned()))
    }
}

fn line(text: &str) -> Option<Way> {
    let (from, rest) = text.split_at_checked(2)?;
    let (to, promotion) = rest.strip_prefix('-').unwrap_or(rest).split_at_checked(2)?;
    let line = Way { from: from.parse().ok()?, to: to.parse().ok()? };
    (line.from != line.to && ["", "q", "r", "b", "n"].contains(&promotion)).then_some(line)
}
