//! What checkpoints need besides the tables: when the next one is due, and the games with hits so far, as
//! they are recorded.

use std::fs::File;
use std::io::{self, BufWriter, Read, Write};

use super::RunOptions;
use super::checkpoint::{Schedule, last_changes};
use crate::collection::Source;
use crate::mining::{Remembered, SeenGames};
use crate::tables::{FolderError, Staging};

/// What checkpoints need besides the tables.
pub(super) struct Keeper {
    /// When the next checkpoint is due.
    pub(super) schedule: Schedule,
    /// When the sources were last changed.
    pub(super) changed: Vec<Option<u64>>,
    /// Whether the last checkpoint is to stay, so that the run can be resumed: a source could not be read.
    pub(super) stays: bool,
    memory: BufWriter<File>,
    memory_length: u64,
}

impl Keeper {
    /// A keeper for a run whose memory has this length in bytes; nothing if the run can't be resumed.
    pub(super) fn of(
        options: &RunOptions,
        sources: &[Source],
        staging: &Staging<'_>,
        memory_length: u64,
    ) -> Result<Option<Keeper>, FolderError> {
        if !options.keeps_checkpoints(sources) {
            return Ok(None);
        }
        Ok(Some(Keeper {
            schedule: Schedule::new(options.checkpoint_every),
            changed: last_changes(sources),
            stays: false,
            memory: staging.memory(memory_length)?,
            memory_length,
        }))
    }

    /// Records a game with hits.
    pub(super) fn write_down(&mut self, game: Remembered) -> io::Result<()> {
        self.memory_length += Remembered::BYTES as u64;
        self.memory.write_all(&game.to_bytes())
    }

    /// Makes the memory safe on disk and gives its length in bytes.
    pub(super) fn make_safe(&mut self) -> io::Result<u64> {
        self.memory.flush()?;
        self.memory.get_ref().sync_data()?;
        Ok(self.memory_length)
    }
}

/// The games with hits that an earlier run recorded in the first `length` bytes of its memory.
pub(super) fn written_down(staging: &Staging<'_>, length: u64) -> Result<SeenGames, FolderError> {
    let mut seen = SeenGames::default();
    if length == 0 {
        return Ok(seen);
    }
    let mut memory = staging.read_memory()?.take(length);
    let mut bytes = [0; Remembered::BYTES];
    for _ in 0..length / Remembered::BYTES as u64 {
        memory.read_exact(&mut bytes).map_err(|cause| staging.unreadable(cause))?;
        seen.remember(Remembered::from_bytes(bytes));
    }
    Ok(seen)
}
