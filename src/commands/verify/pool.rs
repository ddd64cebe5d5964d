//! Judges at work, one a thread.

use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc;

use shakmaty::{Chess, Move};

use crate::verdict::{Effort, Judge, Judgement};

/// An offer to be judged.
pub(super) struct Task {
    pub(super) id: String,
    pub(super) pos: Chess,
    pub(super) offer: Move,
}

/// Judges, one a thread.
pub(super) struct Pool {
    judges: Vec<Judge>,
}

impl Pool {
    pub(super) fn new(threads: usize, effort: Effort) -> Pool {
        Pool { judges: (0..threads).map(|_| Judge::new(effort)).collect() }
    }

    /// Judges offers; the judgements come in their order.
    pub(super) fn judge(&mut self, tasks: &[Task]) -> Vec<Judgement> {
        let next = AtomicUsize::new(0);
        let (sender, receiver) = mpsc::channel();
        let mut judged: Vec<(usize, Judgement)> = std::thread::scope(|scope| {
            for judge in &mut self.judges {
                let (next, sender) = (&next, sender.clone());
                scope.spawn(move || {
                    while let index = next.fetch_add(1, Ordering::Relaxed)
                        && let Some(task) = tasks.get(index)
                    {
                        // The receiver outlives every judge.
                        let _ = sender.send((index, judge.judge(&task.pos, task.offer)));
                    }
                });
            }
            drop(sender);
            receiver.into_iter().collect()
        });
        judged.sort_by_key(|(index, _)| *index);
        judged.into_iter().map(|(_, judgement)| judgement).collect()
    }
}
