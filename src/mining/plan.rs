//! What a run of the pipeline does, and how a source of it can fail.

use std::io;

use super::block::Scrutiny;
use super::selection::Selection;
use super::waypoint::Waypoint;
use crate::collection::{Edge, Source};
use crate::query::Pattern;

/// What to mine, and how.
#[derive(Debug)]
pub struct Plan<'p> {
    /// The sources, in order.
    pub sources: &'p [Source],
    /// What to look for.
    pub patterns: &'p [Pattern],
    /// Which games to look at.
    pub selection: Selection,
    /// How many workers mine.
    pub threads: usize,
    /// About how many bytes a block has at most.
    pub block_size: usize,
    /// How thoroughly games are looked at.
    pub scrutiny: Scrutiny,
    /// How many games are read at most.
    pub most_games: u64,
    /// Where to begin; by default at the start of the first source.
    pub from: Waypoint,
    /// Where to end, if not after the last source.
    pub until: Option<Edge>,
    /// Whether it is measured how long each stage takes with each game.
    pub is_timed: bool,
}

/// A source that could not be read to its end.
#[derive(Debug)]
pub struct SourceFailure {
    /// Its index among the sources.
    pub source: usize,
    /// What the system or the decompressor says.
    pub cause: io::Error,
    /// How many bytes of its text were checked before: those of whole strands.
    pub checked: u64,
}
