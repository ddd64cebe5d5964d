//! Bytes to games: finds sources, opens and decompresses them, cuts them into blocks of whole games,
//! reads tags and movetext, and says what can't be read.
//!
//! Invariant: nothing here knows queries or positions; a game is text with its place.

mod archive;
mod certain;
mod cutter;
mod date;
mod edge;
mod edges;
mod foreign;
mod frames;
mod game_result;
mod games;
mod glance;
mod lines;
mod mark;
mod move_token;
mod movetext;
mod pair;
mod rating;
mod reject;
mod section;
mod share;
mod source;
mod source_name;
mod strand;
mod tags;
mod time_control;
mod utf16;

pub use archive::{Archive, Meter, Stream};
pub use cutter::{Block, Cutter, Integrity, MAX_GAME_BYTES};
pub use date::{DateBound, may_lie_between, year_of};
pub use edge::Edge;
pub use foreign::ForeignArchive;
pub use frames::MOST_OF_FRAME;
pub use game_result::GameResult;
pub use games::{Games, RawGame};
pub use glance::plies_at_a_glance;
pub use mark::mark_of;
pub use move_token::{MoveKind, MoveToken};
pub use movetext::{MAX_PLIES, MoveNumbers, Scan};
pub use rating::{Rating, band};
pub use reject::{Fault, Reason, Reject};
pub use share::{NotAPart, PartOf, Share};
pub use source::{
    CollectionError, CollectionNote, FoundSources, Origin, STANDARD_INPUT, Source, find_sources,
};
pub use strand::{Strand, Strands};
pub use tags::{Tags, decode, known};
pub use time_control::TimeControl;

/// The ordinal of a game in its source, counted from 1.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct GameNumber(pub u64);

/// A place in the uncompressed stream of a source, in bytes from its start.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct ByteOffset(pub u64);

impl std::fmt::Display for GameNumber {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.0.fmt(f)
    }
}

impl std::fmt::Display for ByteOffset {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.0.fmt(f)
    }
}
