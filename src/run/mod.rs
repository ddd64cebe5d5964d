//! A run of mining: where it begins, how its reports are written up, and the checkpoints from which it
//! is resumed when it was cut short.
//!
//! ```text
//! folder ──> beginning ──> recorder ──> tables, manifest
//!                             └──────> checkpoints
//! ```
//!
//! Invariant: a run that was cut short and resumed, however often, ends in the same bytes as one that was
//! not.

// The tables of a run while they are written.
mod run_tables;
// What is saved every few seconds.
mod checkpoint;
// What checkpoints need besides the tables.
mod keeper;
// The manifest of a run that is about to start.
mod manifest;
// What the manifest of a part says of its share.
mod part;
// Where a run begins.
mod beginning;
// Where reports are written up.
mod recorder;

use std::path::PathBuf;
use std::time::Duration;

use crate::collection::Source;
use crate::tables::{OptionsFile, TableFormat};

pub use beginning::{Beginning, beginning, refuse_others};
pub use checkpoint::Checkpoint;
pub use manifest::new_manifest;
pub use part::part_run;
pub use recorder::{News, Recorded, Recorder};

/// How a run is to be written.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct RunOptions {
    /// The folder for its tables.
    pub out: PathBuf,
    /// The format of its tables.
    pub format: TableFormat,
    /// What to do about what the folder holds.
    pub found: Found,
    /// Whether every copy of a game is kept.
    pub keep_duplicates: bool,
    /// How often a checkpoint is saved; `None` as often as it is worth it.
    pub checkpoint_every: Option<Duration>,
    /// The options that shape the tables.
    pub recorded: OptionsFile,
}

/// What to do about what the folder of a run holds.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Found {
    /// Another run there is refused.
    Refuse,
    /// It is written over.
    Replace,
    /// A run of the same kind that was cut short is resumed.
    Resume,
}

impl Found {
    /// What `--replace` and `--resume` ask for.
    #[must_use]
    pub fn asked(replace: bool, resume: bool) -> Found {
        match (replace, resume) {
            (true, _) => Found::Replace,
            (false, true) => Found::Resume,
            (false, false) => Found::Refuse,
        }
    }
}

impl RunOptions {
    /// Whether the run leaves checkpoints: its sources can be read again, and its tables can grow.
    #[must_use]
    pub fn keeps_checkpoints(&self, sources: &[Source]) -> bool {
        self.format.can_grow() && sources.iter().all(|source| source.origin.file().is_some())
    }
}
