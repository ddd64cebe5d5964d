//! Workers, one a thread, on tasks whose results come in their order.

use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::mpsc;

/// Does each task once, by whichever worker is free; the results come in the order of the tasks. Once `stop`
/// is set no task is begun any more, and the results are those of the tasks before. `done` hears of each
/// task when it is done.
pub(super) fn in_order<W: Send, T: Sync, R: Send>(
    workers: &mut [W],
    tasks: &[T],
    stop: &AtomicBool,
    work: impl Fn(&mut W, &T) -> R + Sync,
    mut done: impl FnMut(),
) -> Vec<R> {
    let next = AtomicUsize::new(0);
    let (sender, receiver) = mpsc::channel();
    let mut results: Vec<(usize, R)> = std::thread::scope(|scope| {
        for worker in workers {
            let (next, work, sender) = (&next, &work, sender.clone());
            scope.spawn(move || {
                while !stop.load(Ordering::Relaxed)
                    && let index = next.fetch_add(1, Ordering::Relaxed)
                    && let Some(task) = tasks.get(index)
                {
                    // The receiver outlives every worker.
                    let _ = sender.send((index, work(worker, task)));
                }
            });
        }
        drop(sender);
        receiver.into_iter().inspect(|_| done()).collect()
    });
    results.sort_by_key(|(index, _)| *index);
    results.into_iter().map(|(_, result)| result).collect()
}
