//! Workers, one a thread, on tasks whose results come in their order.

use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc;

/// Does each task once, by whichever worker is free; the results come in the order of the tasks.
pub(super) fn in_order<W: Send, T: Sync, R: Send>(
    workers: &mut [W],
    tasks: &[T],
    work: impl Fn(&mut W, &T) -> R + Sync,
) -> Vec<R> {
    let next = AtomicUsize::new(0);
    let (sender, receiver) = mpsc::channel();
    let mut done: Vec<(usize, R)> = std::thread::scope(|scope| {
        for worker in workers {
            let (next, work, sender) = (&next, &work, sender.clone());
            scope.spawn(move || {
                while let index = next.fetch_add(1, Ordering::Relaxed)
                    && let Some(task) = tasks.get(index)
                {
                    // The receiver outlives every worker.
                    let _ = sender.send((index, work(worker, task)));
                }
            });
        }
        drop(sender);
        receiver.into_iter().collect()
    });
    done.sort_by_key(|(index, _)| *index);
    done.into_iter().map(|(_, result)| result).collect()
}
