//! Why a game was not mined, and at which text.

use std::fmt;

use super::{ByteOffset, GameNumber, MAX_PLIES};

/// Why a game was not mined.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Reason {
    /// A token that is none of move, number, NAG, result or comment.
    UnreadableMove,
    /// A move that the position does not allow.
    IllegalMove,
    /// A move that fits more than one man.
    AmbiguousMove,
    /// A move that passes.
    NullMove,
    /// A `{` without its `}`.
    UnterminatedComment,
    /// A `(` without its `)`.
    UnterminatedVariation,
    /// A `)` without its `(`, or a `}` without its `{`.
    StrayBracket,
    /// Movetext that goes on after the result.
    TextAfterResult,
    /// A tag line that can't be read, where the moves may be.
    UnreadableTag,
    /// More moves than [`super::MAX_PLIES`].
    TooManyPlies,
    /// The last game of a source, which ends without a result.
    NoResult,
    /// Tags that no movetext follows.
    NoMovetext,
    /// A FEN tag that can't be read or set up.
    UnreadableSetup,
    /// A game of another kind of chess.
    Variant,
    /// A game longer than [`super::MAX_GAME_BYTES`].
    TooLong,
    /// A game that ends where its source broke off.
    CutOff,
}

impl fmt::Display for Reason {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Reason::UnreadableMove => "unreadable move",
            Reason::IllegalMove => "illegal move",
            Reason::AmbiguousMove => "ambiguous move",
            Reason::NullMove => "null move",
            Reason::UnterminatedComment => "unterminated comment",
            Reason::UnterminatedVariation => "unterminated variation",
            Reason::StrayBracket => "stray bracket",
            Reason::TextAfterResult => "text after the result",
            Reason::UnreadableTag => "unreadable tag",
            Reason::TooManyPlies => return write!(f, "more than {MAX_PLIES} plies"),
            Reason::NoResult => "source ends before the result",
            Reason::NoMovetext => "no movetext",
            Reason::UnreadableSetup => "unreadable set-up position",
            Reason::Variant => "chess variant",
            Reason::TooLong => "game too long",
            Reason::CutOff => "source broke off",
        })
    }
}

/// What is wrong in a text, and where in it.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Fault {
    /// What is wrong.
    pub reason: Reason,
    /// Where the text at fault starts, in bytes from the start of the text that was read.
    pub at: usize,
    /// Its length in bytes.
    pub length: usize,
    /// The ply at which it stands, if it stands in movetext; 0 is before the first move.
    pub ply: Option<u16>,
}

/// A game that was not mined.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Reject {
    /// Its number in the source.
    pub game: GameNumber,
    /// Where it starts.
    pub offset: ByteOffset,
    /// The ply of the text at fault, counted from 1, if it is known.
    pub ply: Option<u16>,
    /// Why.
    pub reason: Reason,
    /// Where the text at fault starts.
    pub fault_offset: ByteOffset,
    /// The text at fault, cut to a few words.
    pub text: String,
    /// What is to be said of it besides: what is wrong with a set-up position, which moves an ambiguous one
    /// may be. Most often empty.
    pub detail: String,
}
