//! A place in a collection where mining can be resumed, and how far it is.

use serde::{Deserialize, Serialize};

use crate::collection::Edge;

/// How far a run has come.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Serialize, Deserialize)]
pub struct Progress {
    /// Bytes read from the sources, before decompression.
    pub consumed: u64,
    /// Bytes mined, after decompression.
    pub bytes: u64,
    /// Games read.
    pub games: u64,
}

/// A place in a collection where mining can be resumed: between two blocks.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Serialize, Deserialize)]
pub struct Waypoint {
    /// The index of the source.
    pub source: usize,
    /// The bytes of its uncompressed stream before the place.
    pub offset: u64,
    /// The games of the source before the place.
    pub games: u64,
    /// A place at or before it to which the file can be wound.
    pub landmark: Landmark,
    /// What came before it in the whole collection.
    pub progress: Progress,
}

impl Waypoint {
    /// The place after an edge between two shares, with nothing before it.
    #[must_use]
    pub fn after(edge: &Edge) -> Waypoint {
        Waypoint {
            source: edge.source,
            offset: edge.offset,
            landmark: Landmark { start: edge.start, offset: edge.base },
            ..Waypoint::default()
        }
    }
}

/// A place in a source that is known in the file and in the uncompressed stream.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Serialize, Deserialize)]
pub struct Landmark {
    /// In bytes of the file.
    pub start: u64,
    /// In bytes of the uncompressed stream.
    pub offset: u64,
}
