//! Examiners at work on the candidates for exercises, one for each thread.

use std::sync::atomic::AtomicBool;

use crate::teaching::{Candidate, Examiner, ExercisePool, SheetChoice};
use crate::terminal::Bar;
use crate::verdict::Effort;
use crate::work::{ThreadsRefused, all_in_order};

/// Examiners, one for each thread; each is made when it has something to do.
pub(super) struct Examiners {
    each: Vec<Option<Examiner>>,
    effort: Effort,
}

impl Examiners {
    pub(super) fn new(threads: usize, effort: Effort) -> Examiners {
        Examiners { each: (0..threads).map(|_| None).collect(), effort }
    }

    /// Proves candidates of a pool until it has enough, and lets it choose.
    pub(super) fn choose(
        &mut self,
        mut pool: ExercisePool,
        bar: &Bar,
    ) -> Result<SheetChoice, ThreadsRefused> {
        let (kind, never) = (pool.kind(), AtomicBool::new(false));
        let effort = self.effort;
        let examine = |examiner: &mut Option<Examiner>, candidate: &Candidate| {
            examiner.get_or_insert_with(|| Examiner::new(effort)).examine(candidate, kind)
        };
        loop {
            let batch = pool.next_batch();
            if batch.is_empty() {
                return Ok(pool.choose());
            }
            let proved_before = pool.proved();
            let examined = all_in_order(&mut self.each, &batch, &never, examine, || ())?;
            for (candidate, examined) in batch.iter().zip(examined) {
                pool.add(candidate, examined);
            }
            bar.advance((pool.proved() - proved_before) as u64);
        }
    }
}
