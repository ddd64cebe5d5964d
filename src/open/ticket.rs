//! What somebody waits for: since when, whether it was begun, and that nobody waits any more.

use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

/// What stands for an order that somebody waits for.
#[derive(Debug)]
pub struct Ticket {
    /// What is ordered, in a word or two.
    what: String,
    ordered: Instant,
    state: Mutex<TicketState>,
}

#[derive(Debug, Default)]
struct TicketState {
    is_given_up: bool,
    /// Tells whoever works on it to stop, while they do.
    stop: Option<Arc<AtomicBool>>,
}

impl Ticket {
    pub(super) fn new(what: String) -> Arc<Ticket> {
        Arc::new(Ticket { what, ordered: Instant::now(), state: Mutex::default() })
    }

    /// What is ordered.
    pub(super) fn what(&self) -> &str {
        &self.what
    }

    /// How long it has been waited for.
    pub(super) fn waited(&self) -> Duration {
        self.ordered.elapsed()
    }

    /// Whether somebody works on it.
    pub(super) fn is_begun(&self) -> bool {
        self.state().stop.is_some()
    }

    /// Begins to work on it, unless nobody waits any more. `stop` is set once nobody does.
    #[must_use]
    pub fn begin(&self, stop: &Arc<AtomicBool>) -> bool {
        let mut state = self.state();
        if !state.is_given_up {
            stop.store(false, Ordering::Relaxed);
            state.stop = Some(stop.clone());
        }
        !state.is_given_up
    }

    /// Ends the work on it: whoever gives it up later stops nothing else.
    pub fn end(&self) {
        self.state().stop = None;
    }

    /// Nobody waits for it any more.
    pub(super) fn give_up(&self) {
        let mut state = self.state();
        state.is_given_up = true;
        if let Some(stop) = &state.stop {
            stop.store(true, Ordering::Relaxed);
        }
    }

    /// What is behind the lock is whole at any time.
    fn state(&self) -> MutexGuard<'_, TicketState> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// Somebody waits as long as this is there: a browser that leaves the page drops it.
#[derive(Debug)]
pub(super) struct SomebodyWaits(pub(super) Arc<Ticket>);

impl Drop for SomebodyWaits {
    fn drop(&mut self) {
        self.0.give_up();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn whoever_leaves_stops_the_work_that_was_begun_and_no_other() {
        let stop = Arc::new(AtomicBool::new(false));
        let waits = SomebodyWaits(Ticket::new("a sheet".to_owned()));
        let ticket = waits.0.clone();
        assert!(ticket.begin(&stop) && ticket.is_begun());
        drop(waits);
        assert!(stop.load(Ordering::Relaxed) && !ticket.begin(&stop));
        let next = Ticket::new("another".to_owned());
        assert!(next.begin(&stop));
        next.end();
        next.give_up();
        assert!(!stop.load(Ordering::Relaxed), "it was done before");
    }
}
