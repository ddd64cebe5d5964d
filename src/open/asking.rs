//! A question that is being worked on: one of its sort at a time, told as it goes, given up when nobody listens.

use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

/// Whoever asked looks again within this time, or has left the page.
const PATIENCE: Duration = Duration::from_secs(5);

/// How often it is looked whether somebody still listens.
const LOOK: Duration = Duration::from_millis(500);

/// A question that is being worked on, whose answer grows.
#[derive(Debug)]
pub struct Asking<T> {
    /// Which it is.
    pub number: u64,
    /// Set when it is to be given up.
    pub stop: Arc<AtomicBool>,
    told: Mutex<SoFar<T>>,
}

/// What was found so far.
#[derive(Clone, Debug)]
struct SoFar<T> {
    says: T,
    is_done: bool,
    last_heard: Instant,
}

/// The question that is being worked on, if there is one.
#[derive(Debug, Default)]
pub struct OneAsking<T> {
    now: Mutex<Option<Arc<Asking<T>>>>,
    asked: AtomicU64,
}

impl<T: Clone + Default> OneAsking<T> {
    /// Begins another one; the one before it is given up.
    pub fn begin(&self) -> Arc<Asking<T>> {
        let number = self.asked.fetch_add(1, Ordering::Relaxed) + 1;
        let told = SoFar { says: T::default(), is_done: false, last_heard: Instant::now() };
        let (stop, told) = (Arc::default(), Mutex::new(told));
        let asking = Arc::new(Asking { number, stop, told });
        if let Some(before) = locked(&self.now).replace(asking.clone()) {
            before.give_up();
        }
        asking
    }

    /// The one of a number, unless another one was begun since.
    #[must_use]
    pub fn of(&self, number: u64) -> Option<Arc<Asking<T>>> {
        locked(&self.now).clone().filter(|asking| asking.number == number)
    }

    /// Gives up whatever is being worked on. Whoever asked may still hear what was found.
    pub fn give_up(&self) {
        if let Some(asking) = locked(&self.now).as_ref() {
            asking.give_up();
        }
    }
}

impl Asking<Vec<String>> {
    /// Adds a sentence, or puts it in the place of the one of this index.
    pub fn say(&self, index: usize, sentence: String) {
        self.tell(|says| match says.get_mut(index) {
            Some(place) => *place = sentence,
            None => says.push(sentence),
        });
    }
}

impl<T: Clone> Asking<T> {
    /// Changes what is said.
    pub fn tell(&self, change: impl FnOnce(&mut T)) {
        change(&mut locked(&self.told).says);
    }

    /// What was said so far, and whether that is all. Whoever asks is still listening.
    #[must_use]
    pub fn heard(&self) -> (T, bool) {
        let mut told = locked(&self.told);
        told.last_heard = Instant::now();
        (told.says.clone(), told.is_done)
    }

    /// Nothing more will be said.
    pub fn end(&self) {
        locked(&self.told).is_done = true;
    }

    /// Whether it is to be given up. If nobody has listened for a while, it is from now on.
    #[must_use]
    pub fn is_given_up(&self) -> bool {
        if locked(&self.told).last_heard.elapsed() > PATIENCE {
            self.give_up();
        }
        self.stop.load(Ordering::Relaxed)
    }

    /// Whether all was said or it was given up.
    #[must_use]
    pub fn is_over(&self) -> bool {
        self.is_given_up() || locked(&self.told).is_done
    }

    /// Has it given up.
    pub fn give_up(&self) {
        self.stop.store(true, Ordering::Relaxed);
    }

    /// Has it given up once nobody listens: whoever asked may have closed the browser.
    pub async fn watch(self: Arc<Asking<T>>) {
        while !self.is_over() {
            tokio::time::sleep(LOOK).await;
        }
    }
}

/// What is behind a lock is whole at any time, whatever became of who held it.
fn locked<T>(lock: &Mutex<T>) -> MutexGuard<'_, T> {
    lock.lock().unwrap_or_else(PoisonError::into_inner)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn there_is_one_asking_at_a_time() {
        let one = OneAsking::<Vec<String>>::default();
        let first = one.begin();
        first.say(0, "soon".to_owned());
        first.say(0, "sound".to_owned());
        assert_eq!(first.heard(), (vec!["sound".to_owned()], false));
        let second = one.begin();
        assert!(first.is_given_up() && !second.is_given_up());
        assert!(one.of(first.number).is_none() && one.of(second.number).is_some());
        one.give_up();
        assert!(second.is_given_up() && second.is_over());
        assert!(one.of(second.number).is_some());
    }
}
