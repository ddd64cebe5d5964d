//! The one ordered pool of work: workers, one for each thread, do tasks in any order, and the caller's thread
//! gets the results in the order of the tasks.
//!
//! The caller keeps the workers, so what a worker holds (a judge with its tables, a running program) stays
//! from one call to the next.
//!
//! Invariant: tasks that were taken and whose results were not handed on are bounded in number; when
//! [`in_order`] returns, no thread of it is left.

use std::collections::BTreeMap;
use std::io;
use std::iter::Enumerate;
use std::ops::ControlFlow;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::mpsc::{Receiver, Sender, channel};
use std::sync::{Barrier, Mutex};

use rayon::{ThreadBuilder, ThreadPool, ThreadPoolBuildError, ThreadPoolBuilder};

/// How many tasks for each worker may have been taken and not yet been handed on, so that one slow task
/// does not stop the others.
const IN_FLIGHT: usize = 16;

/// The address space in bytes that must be free before a thread is started: its stack and all that its first steps
/// may take (glibc reserves up to 128 MiB for a thread that allocates; `malloc/arena.c`, from memory). Allocators ask
/// the system for a piece of this size, and don't take it from what they have (glibc: from 32 MiB, `mallopt(3)`,
/// `M_MMAP_THRESHOLD`). It is given back untouched, so it costs no memory.
const ROOM_FOR_A_THREAD: usize = 160 << 20;

/// Why work ended.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum WorkEnd {
    /// All results were handed on.
    AllDone,
    /// The taker of the results wanted no more.
    Declined,
    /// It was told to stop.
    Interrupted,
}

/// The system starts too few threads.
#[derive(thiserror::Error, Debug)]
#[error("the system refuses to start {asked} threads (--threads can ask for fewer): {cause}")]
pub struct ThreadsRefused {
    asked: usize,
    cause: ThreadPoolBuildError,
}

/// Starts threads that wait for work; all or none.
fn threads(builder: ThreadPoolBuilder, asked: usize) -> Result<ThreadPool, ThreadsRefused> {
    let builder = builder.num_threads(asked).spawn_handler(start);
    builder.build().map_err(|cause| ThreadsRefused { asked, cause })
}

/// Starts a thread and waits until it runs. A thread that finds no memory for its first steps ends the program,
/// so there must be room for more than its stack, and no other thread that takes it meanwhile.
fn start(thread: ThreadBuilder) -> io::Result<()> {
    Vec::<u8>::new().try_reserve_exact(ROOM_FOR_A_THREAD).map_err(io::Error::other)?;
    let mut builder = std::thread::Builder::new();
    if let Some(size) = thread.stack_size() {
        builder = builder.stack_size(size);
    }
    let (runs, started) = channel();
    builder.spawn(move || {
        // Whoever waits for it is there.
        let _ = runs.send(());
        thread.run();
    })?;
    started.recv().map_err(io::Error::other)
}

/// Does a job on each of some threads while `body` runs on this one, and waits for them when that is done.
///
/// # Errors
///
/// If the system starts fewer threads; nothing is done then.
///
/// # Panics
///
/// If `job` or `body` does.
pub fn beside<R>(
    asked: usize,
    job: impl Fn() + Sync,
    body: impl FnOnce() -> R,
) -> Result<R, ThreadsRefused> {
    // A pool without threads would have one for each core.
    if asked == 0 {
        return Ok(body());
    }
    let threads = threads(ThreadPoolBuilder::new(), asked)?;
    Ok(threads.in_place_scope(|scope| {
        (0..asked).for_each(|_| scope.spawn(|_| job()));
        body()
    }))
}

/// Does tasks with `work` until there are no more, until `stop` is set or until `take` breaks off; `take`
/// gets the results in the order of the tasks. Once `stop` is set no further task is started; those that
/// were started are done and handed on.
///
/// A worker that breaks off with its result leaves all other tasks to the others; the last one goes on.
/// What `work` makes of a task must depend on the task alone, and not on the worker.
///
/// # Errors
///
/// If the system starts fewer threads than there are workers; nothing more is done then.
///
/// # Panics
///
/// If `tasks`, `work` or `take` does.
pub fn in_order<W: Send, T: Send, R: Send>(
    workers: &mut [W],
    tasks: impl Iterator<Item = T> + Send,
    stop: &AtomicBool,
    work: impl Fn(&mut W, T) -> ControlFlow<R, R> + Sync,
    take: impl FnMut(R) -> ControlFlow<()>,
) -> Result<WorkEnd, ThreadsRefused> {
    in_order_on(ThreadPoolBuilder::new(), workers, tasks, stop, work, take)
}

/// [`in_order`] on threads that are made so.
fn in_order_on<W: Send, T: Send, R: Send>(
    builder: ThreadPoolBuilder,
    workers: &mut [W],
    tasks: impl Iterator<Item = T> + Send,
    stop: &AtomicBool,
    work: impl Fn(&mut W, T) -> ControlFlow<R, R> + Sync,
    take: impl FnMut(R) -> ControlFlow<()>,
) -> Result<WorkEnd, ThreadsRefused> {
    let asked = workers.len();
    let threads = threads(builder, asked.max(1))?;
    let (permits, permitted) = channel();
    for _ in 0..IN_FLIGHT * asked {
        permits.send(()).expect("the receiver is alive");
    }
    let shared = Shared {
        tasks: Mutex::new((tasks.enumerate(), permitted)),
        stop,
        is_over: AtomicBool::new(false),
        is_left: AtomicBool::new(false),
        at_work: AtomicUsize::new(asked),
    };
    let all_there = Barrier::new(asked);
    let (results, inbox) = channel();
    threads.in_place_scope(|scope| {
        let _ends = AtTheEnd(&shared.is_over);
        for worker in workers {
            let (shared, work, results) = (&shared, &work, results.clone());
            let all_there = &all_there;
            scope.spawn(move |_| {
                // Nobody begins before all are there: there are as many threads as workers.
                all_there.wait();
                shared.work(worker, work, &results);
            });
        }
        drop(results);
        let is_declined = hand_on(&inbox, permits, take).is_break();
        let is_left = shared.is_left.load(Ordering::Relaxed);
        Ok(match (is_declined, is_left) {
            (true, _) => WorkEnd::Declined,
            (false, true) => WorkEnd::Interrupted,
            (false, false) => WorkEnd::AllDone,
        })
    })
}

/// [`in_order`] on a list of tasks, with the results as a list: those of all tasks, or of the first if `stop`
/// was set. `done` hears of each task that is done.
///
/// # Errors
///
/// If the system starts too few threads.
///
/// # Panics
///
/// If `work` or `done` does.
pub fn all_in_order<W: Send, T: Sync, R: Send>(
    workers: &mut [W],
    tasks: &[T],
    stop: &AtomicBool,
    work: impl Fn(&mut W, &T) -> R + Sync,
    mut done: impl FnMut(),
) -> Result<Vec<R>, ThreadsRefused> {
    let needed = workers.len().min(tasks.len());
    let work = |worker: &mut W, task| ControlFlow::Continue(work(worker, task));
    let mut results = Vec::with_capacity(tasks.len());
    in_order(&mut workers[..needed], tasks.iter(), stop, work, |result| {
        results.push(result);
        done();
        ControlFlow::Continue(())
    })?;
    Ok(results)
}

/// Sets a flag when it is dropped, even by an error or a panic: no work is done that nobody waits for.
struct AtTheEnd<'f>(&'f AtomicBool);

impl Drop for AtTheEnd<'_> {
    fn drop(&mut self) {
        self.0.store(true, Ordering::Relaxed);
    }
}

/// What a worker sends: a result and the number of its task; nothing if it panics.
type Message<R> = Option<(usize, R)>;

/// Tells that a worker panics, so that nobody waits for its result.
struct LastMessage<'s, R>(&'s Sender<Message<R>>);

impl<R> Drop for LastMessage<'_, R> {
    fn drop(&mut self) {
        if std::thread::panicking() {
            let _ = self.0.send(None);
        }
    }
}

/// What the workers share.
struct Shared<'s, I> {
    /// The tasks that nobody has taken yet, and the permits to take one.
    tasks: Mutex<(Enumerate<I>, Receiver<()>)>,
    stop: &'s AtomicBool,
    /// Whether nobody waits for results any more.
    is_over: AtomicBool,
    /// Whether tasks were left because it was told to stop.
    is_left: AtomicBool,
    /// How many workers have not left the rest to the others.
    at_work: AtomicUsize,
}

impl<I: Iterator> Shared<'_, I> {
    fn work<W, R>(
        &self,
        worker: &mut W,
        work: &impl Fn(&mut W, I::Item) -> ControlFlow<R, R>,
        results: &Sender<Message<R>>,
    ) {
        let _last = LastMessage(results);
        let mut is_last = false;
        while let Some((number, task)) = self.next() {
            let (result, wants_to_go) = match work(worker, task) {
                ControlFlow::Continue(result) => (result, false),
                ControlFlow::Break(result) => (result, true),
            };
            // The caller hears no more once it has what it wants.
            if results.send(Some((number, result))).is_err() {
                return;
            }
            if wants_to_go && !is_last {
                is_last = self.at_work.fetch_sub(1, Ordering::Relaxed) == 1;
                if !is_last {
                    return;
                }
            }
        }
    }

    /// The next task and its number; waits for a permit. Nothing if there are no more of either.
    fn next(&self) -> Option<(usize, I::Item)> {
        // A lock is poisoned only by tasks that panic; then there are no more.
        let mut tasks = self.tasks.lock().ok()?;
        tasks.1.recv().ok()?;
        if self.is_over.load(Ordering::Relaxed) {
            return None;
        }
        if self.stop.load(Ordering::Relaxed) {
            self.is_left.fetch_or(tasks.0.next().is_some(), Ordering::Relaxed);
            return None;
        }
        tasks.0.next()
    }
}

/// Hands the results on in order; lets another task be taken for each. Breaks if `take` does.
fn hand_on<R>(
    inbox: &Receiver<Message<R>>,
    permits: Sender<()>,
    mut take: impl FnMut(R) -> ControlFlow<()>,
) -> ControlFlow<()> {
    let mut early = BTreeMap::new();
    let mut due = 0;
    while let Ok(Some((number, result))) = inbox.recv() {
        early.insert(number, result);
        while let Some(result) = early.remove(&due) {
            due += 1;
            take(result)?;
            // Nobody takes permits once the tasks are all taken.
            let _ = permits.send(());
        }
    }
    ControlFlow::Continue(())
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that can't go on has failed")]
mod tests {
    use std::panic::{AssertUnwindSafe, catch_unwind};
    use std::time::Duration;

    use super::*;

    static NEVER: AtomicBool = AtomicBool::new(false);

    /// Squares numbers, the even ones slowly; workers count what they do.
    fn square(done: &mut u32, number: u32) -> ControlFlow<u32, u32> {
        if number.is_multiple_of(2) {
            std::thread::sleep(Duration::from_millis(1));
        }
        *done += 1;
        ControlFlow::Continue(number * number)
    }

    #[test]
    fn results_come_in_the_order_of_the_tasks_and_workers_keep_what_they_hold() {
        for threads in [1, 2, 7] {
            let mut workers = vec![0; threads];
            for batch in [0..40, 40..100] {
                let mut results = Vec::new();
                let end = in_order(&mut workers, batch.clone(), &NEVER, square, |result| {
                    results.push(result);
                    ControlFlow::Continue(())
                });
                assert_eq!(end.unwrap(), WorkEnd::AllDone);
                assert!(batch.map(|number| number * number).eq(results));
            }
            assert_eq!(workers.iter().sum::<u32>(), 100);
        }
    }

    #[test]
    fn what_is_in_flight_is_bounded() {
        let (taken, handed_on) = (AtomicUsize::new(0), AtomicUsize::new(0));
        let tasks = (0..1_000_u32).inspect(|_| {
            let ahead = taken.fetch_add(1, Ordering::Relaxed) - handed_on.load(Ordering::Relaxed);
            assert!(ahead <= 3 * IN_FLIGHT, "{ahead}");
        });
        let take = |_| {
            handed_on.fetch_add(1, Ordering::Relaxed);
            ControlFlow::Continue(())
        };
        assert_eq!(in_order(&mut [0; 3], tasks, &NEVER, square, take).unwrap(), WorkEnd::AllDone);
    }

    #[test]
    fn what_was_begun_before_the_interrupt_is_handed_on() {
        let stop = AtomicBool::new(false);
        let begun = AtomicUsize::new(0);
        let work = |done: &mut u32, number| {
            begun.fetch_add(1, Ordering::Relaxed);
            if number == 20 {
                stop.store(true, Ordering::Relaxed);
            }
            square(done, number)
        };
        let mut results = Vec::new();
        let end = in_order(&mut [0; 3], 0.., &stop, work, |result| {
            results.push(result);
            ControlFlow::Continue(())
        });
        assert_eq!(end.unwrap(), WorkEnd::Interrupted);
        assert!(results.len() > 20 && results.len() == begun.into_inner());
        assert!((0..).zip(results).all(|(number, result)| number * number == result));
    }

    #[test]
    fn threads_that_the_system_refuses_are_an_error() {
        // No system has room for such a stack.
        let builder = ThreadPoolBuilder::new().stack_size(usize::MAX >> 2);
        let mut workers = [0; 3];
        let no_more = |_| ControlFlow::Continue(());
        let end = in_order_on(builder, &mut workers, 0.., &NEVER, square, no_more);
        let text = end.unwrap_err().to_string();
        assert!(text.starts_with("the system refuses to start 3 threads"), "{text}");
        assert_eq!(workers, [0; 3], "nothing was begun");
    }

    #[test]
    fn jobs_are_done_beside() {
        let done = AtomicUsize::new(0);
        let job = || _ = done.fetch_add(1, Ordering::Relaxed);
        for jobs in [0, 1, 3] {
            done.store(0, Ordering::Relaxed);
            assert_eq!(beside(jobs, job, || "body").unwrap(), "body");
            assert_eq!(done.load(Ordering::Relaxed), jobs);
        }
    }

    #[test]
    fn taker_ends_it() {
        let mut left = 5;
        let end = in_order(&mut [0; 3], 0.., &NEVER, square, |_| {
            left -= 1;
            if left == 0 { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
        });
        assert_eq!((end.unwrap(), left), (WorkEnd::Declined, 0));
    }

    #[test]
    fn those_who_break_off_leave_the_rest_to_the_others_and_the_last_goes_on() {
        for patience in [[1, 1, 1], [1, 1, u32::MAX], [30, 2, 1]] {
            let mut workers = patience.map(|patience| (patience, 0));
            let work = |(patience, done): &mut (u32, u32), number| match square(done, number) {
                ControlFlow::Continue(result) if *done >= *patience => ControlFlow::Break(result),
                result => result,
            };
            let mut results = Vec::new();
            let end = in_order(&mut workers, 0..60, &NEVER, work, |result| {
                results.push(result);
                ControlFlow::Continue(())
            });
            assert_eq!(end.unwrap(), WorkEnd::AllDone);
            assert!((0..60).map(|number| number * number).eq(results));
            let overdone = workers.iter().filter(|(patience, done)| done > patience).count();
            assert!(overdone <= 1, "{workers:?}");
        }
    }

    #[test]
    fn panic_anywhere_ends_it() {
        let no_more = |_| ControlFlow::Continue(());
        let in_work = || {
            let work = |done: &mut u32, number| {
                assert!(number != 3, "on purpose");
                square(done, number)
            };
            in_order(&mut [0; 3], 0.., &NEVER, work, no_more)
        };
        assert!(catch_unwind(in_work).is_err());
        let in_tasks = || {
            let tasks = (0..).inspect(|&number| assert!(number != 3, "on purpose"));
            in_order(&mut [0; 3], tasks, &NEVER, square, no_more)
        };
        assert!(catch_unwind(in_tasks).is_err());
        let in_take = || {
            let take = |result| {
                assert!(result != 9, "on purpose");
                ControlFlow::Continue(())
            };
            in_order(&mut [0; 3], 0.., &NEVER, square, take)
        };
        assert!(catch_unwind(AssertUnwindSafe(in_take)).is_err());
    }
}
