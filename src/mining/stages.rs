//! How long each stage of mining takes.

use std::time::{Duration, Instant};

/// A stage that a game goes through.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Stage {
    /// Bytes come from the file.
    Read,
    /// They are decompressed.
    Decompress,
    /// Blocks and games are cut, and tags are read.
    Cut,
    /// The first gate: captures in the text.
    TextGate,
    /// The second gate: the moves without a board.
    TokenGate,
    /// The last gate: the board, and what is said about the hits.
    Replay,
    /// Games without offers are counted by year, rating band and result.
    Count,
    /// Rows are written.
    Write,
}

impl Stage {
    /// Every stage, in order.
    pub const ALL: [Stage; 8] = [
        Stage::Read,
        Stage::Decompress,
        Stage::Cut,
        Stage::TextGate,
        Stage::TokenGate,
        Stage::Replay,
        Stage::Count,
        Stage::Write,
    ];

    /// What it is called.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Stage::Read => "read",
            Stage::Decompress => "decompress",
            Stage::Cut => "cut",
            Stage::TextGate => "text gate",
            Stage::TokenGate => "token gate",
            Stage::Replay => "replay",
            Stage::Count => "count",
            Stage::Write => "write",
        }
    }
}

/// How long each stage took, all threads together.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct Times([Duration; Stage::ALL.len()]);

impl Times {
    /// The time of a stage.
    #[must_use]
    pub fn of(&self, stage: Stage) -> Duration {
        self.0[stage as usize]
    }

    /// The time of all stages.
    #[must_use]
    pub fn sum(&self) -> Duration {
        self.0.iter().sum()
    }

    /// Adds to the time of a stage.
    pub fn add(&mut self, stage: Stage, time: Duration) {
        self.0[stage as usize] += time;
    }

    /// Sets the time of a stage.
    pub(super) fn set(&mut self, stage: Stage, time: Duration) {
        self.0[stage as usize] = time;
    }

    /// Adds other times.
    pub fn merge(&mut self, other: &Times) {
        for stage in Stage::ALL {
            self.add(stage, other.of(stage));
        }
    }

    /// What has been added since.
    pub(super) fn since(&self, earlier: &Times) -> Times {
        Times(std::array::from_fn(|index| self.0[index].saturating_sub(earlier.0[index])))
    }
}

/// Measures stages that follow each other; one that stands still costs nothing.
#[derive(Clone, Copy, Debug)]
pub(super) struct Clock {
    last: Option<Instant>,
    pub(super) times: Times,
}

impl Clock {
    pub(super) fn new(is_running: bool) -> Clock {
        Clock { last: is_running.then(Instant::now), times: Times::default() }
    }

    /// Counts what has passed since the last call for this stage.
    #[inline]
    pub(super) fn passed(&mut self, stage: Stage) {
        if let Some(last) = self.last {
            let now = Instant::now();
            self.times.add(stage, now - last);
            self.last = Some(now);
        }
    }
}
