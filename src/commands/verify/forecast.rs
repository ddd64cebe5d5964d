//! How long judging takes: told before most of it begins, by how long the first offers took.

use std::time::{Duration, Instant};

use crate::terminal::{Bar, Terminal, counted, duration};

/// What takes less is not worth a word.
const WORTH_A_WORD: Duration = Duration::from_secs(60);

/// How long it takes to judge offers.
pub(super) struct Forecast {
    terminal: Terminal,
    begun: Instant,
    /// How many offers there are to be judged; nothing once it was told.
    offers: Option<u64>,
    /// How many are judged before it is told.
    pub(super) first: usize,
}

impl Forecast {
    /// A forecast for some offers that are to be judged by several threads.
    pub(super) fn of(offers: u64, threads: usize, terminal: Terminal) -> Forecast {
        Forecast { terminal, begun: Instant::now(), offers: Some(offers), first: 4 * threads }
    }

    /// How many offers are judged next, if it may be as many as these.
    pub(super) fn next_batch(&self, most: usize) -> usize {
        if self.offers.is_some() { self.first.min(most) } else { most }
    }

    /// So many fewer offers are to be judged, if it was not told yet.
    pub(super) fn pass_over(&mut self, offers: u64) {
        self.offers = self.offers.map(|all| all.saturating_sub(offers));
    }

    /// The first offers begin to be judged, if it was not told yet.
    pub(super) fn begin(&mut self) {
        self.begun = Instant::now();
    }

    /// Tells how long it takes, once the first offers are judged.
    pub(super) fn tell(&mut self, judged: u64, bar: &Bar) {
        let Some(offers) = self.offers.take_if(|_| judged > 0) else { return };
        let left = whole(self.begun.elapsed(), judged, offers);
        if left >= WORTH_A_WORD {
            let message = format!(
                "judging {} takes about {} if each takes as long as the first {judged} did",
                counted(offers, "offer"),
                duration(left)
            );
            let hint = "--limit N judges the first N, --sample N draws N by lot; --resume goes on";
            bar.aside(|| self.terminal.note_with_hint(message, hint));
        }
    }
}

/// How long it takes to judge all offers, if some took so long.
fn whole(took: Duration, judged: u64, offers: u64) -> Duration {
    let nanos = took.as_nanos().saturating_mul(offers.into()) / u128::from(judged.max(1));
    Duration::from_nanos(u64::try_from(nanos).unwrap_or(u64::MAX))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn time_for_all_is_that_of_the_first_times_their_number() {
        let took = Duration::from_millis(1_500);
        assert_eq!(whole(took, 3, 7_200), Duration::from_secs(3_600));
        assert_eq!(whole(took, 0, 1), took);
        assert_eq!(whole(Duration::MAX, 1, u64::MAX), Duration::from_nanos(u64::MAX));
    }
}
