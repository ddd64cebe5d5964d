//! How long the next block is: reports of blocks in which every game has something to tell are many times
//! longer than the blocks, so such blocks are made shorter.
//!
//! Invariant: what is found never depends on it, since it does not depend on the size of blocks.

use std::sync::atomic::{AtomicUsize, Ordering};

use super::report::BlockReport;

/// The length of the first block in bytes; none is made shorter than this for its report.
const LEAST: usize = 1 << 18;

/// How many hits and rejected games a report should hold at most. Each takes less than a kilobyte.
const MOST_TOLD: usize = 4_000;

/// The length of the blocks to come, in bytes.
#[derive(Debug)]
pub(super) struct BlockSize {
    now: AtomicUsize,
    most: usize,
}

impl BlockSize {
    /// Starts with short blocks; they grow to `most` bytes.
    pub(super) fn up_to(most: usize) -> BlockSize {
        BlockSize { now: AtomicUsize::new(most.min(LEAST)), most }
    }

    /// About how many bytes the next block should have.
    pub(super) fn bytes(&self) -> usize {
        self.now.load(Ordering::Relaxed)
    }

    /// Learns from the report of a block: a long one asks for shorter blocks, a short one for longer.
    pub(super) fn learn(&self, report: &BlockReport) {
        let hits: usize = report.mined.iter().map(|game| game.hits.len()).sum();
        let told = hits + report.rejects.len();
        let now = self.bytes();
        let next = if told > MOST_TOLD {
            (now / 2).max(LEAST.min(self.most))
        } else if 2 * told < MOST_TOLD {
            (2 * now).min(self.most)
        } else {
            now
        };
        self.now.store(next, Ordering::Relaxed);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::collection::{ByteOffset, GameNumber, Reason, Reject};

    fn report(rejects: usize) -> BlockReport {
        let reject = Reject {
            game: GameNumber(1),
            offset: ByteOffset(0),
            ply: None,
            reason: Reason::NoMovetext,
            fault_offset: ByteOffset(0),
            text: String::new(),
            detail: String::new(),
        };
        BlockReport { rejects: vec![reject; rejects], ..BlockReport::default() }
    }

    #[test]
    fn blocks_grow_while_reports_are_short_and_shrink_when_they_are_long() {
        let block_size = BlockSize::up_to(1 << 21);
        assert_eq!(block_size.bytes(), LEAST);
        (0..9).for_each(|_| block_size.learn(&report(10)));
        assert_eq!(block_size.bytes(), 1 << 21);
        block_size.learn(&report(3_000));
        assert_eq!(block_size.bytes(), 1 << 21);
        block_size.learn(&report(5_000));
        assert_eq!(block_size.bytes(), 1 << 20);
        (0..9).for_each(|_| block_size.learn(&report(5_000)));
        assert_eq!(block_size.bytes(), LEAST);
        let short = BlockSize::up_to(1_000);
        short.learn(&report(5_000));
        assert_eq!(short.bytes(), 1_000);
    }
}
