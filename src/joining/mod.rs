//! Several runs made one: the parts of a collection, or whole runs over one collection after the other.
//!
//! ```text
//! runs ──> assembly ──> games in order ──> joiner ──> tables, manifest
//!        (do they fit?)  (of one run)    (which copy is the first?)
//! ```
//!
//! Invariant: the tables are the same bytes as those of one run over all sources in this order.

// Why runs can't be joined.
mod disagreement;
// Whether they can.
mod agreement;
// Where each begins in the whole.
mod assembly;
// The games of one of them, in order.
mod game_stream;
// The tables of verdicts.
mod joint_verdicts;
// The tables that all of them are written to.
mod joiner;

pub use assembly::Assembly;
pub use disagreement::{Disagreement, JoinError};
pub use joiner::{Joined, join};
