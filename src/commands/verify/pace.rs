//! How much is taken on at a time, by how long it took before.

use std::time::Duration;

/// The most that is taken on at a time.
const MOST: usize = 4_096;

/// How many are taken on at a time, so that it takes about as long as it should.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Pace {
    aim: Duration,
    next: usize,
}

impl Pace {
    /// As many as take about this time; one at first.
    pub(super) fn of(aim: Duration) -> Pace {
        Pace { aim, next: 1 }
    }

    /// Aims at another time from now on.
    pub(super) fn aim_at(&mut self, aim: Duration) {
        self.aim = aim;
    }

    /// How many are taken on next.
    pub(super) fn next(&self) -> usize {
        self.next
    }

    /// Learns how long some took. Grows no faster than to twice as many: the next may take longer.
    pub(super) fn learn(&mut self, done: usize, took: Duration) {
        let each = took.as_nanos() / done.max(1) as u128;
        let fitting = self.aim.as_nanos() / each.max(1);
        let fitting = usize::try_from(fitting).unwrap_or(MOST);
        self.next = fitting.clamp(1, MOST).min(2 * self.next.max(done));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn as_many_are_taken_on_as_fit_and_not_many_more_than_before() {
        let mut pace = Pace::of(Duration::from_secs(1));
        assert_eq!(pace.next(), 1);
        for expected in [2, 4, 8, 10, 10] {
            pace.learn(
                pace.next(),
                Duration::from_millis(100) * u32::try_from(pace.next()).unwrap_or(1),
            );
            assert_eq!(pace.next(), expected);
        }
        pace.learn(10, Duration::from_secs(60));
        assert_eq!(pace.next(), 1);
        pace.learn(0, Duration::ZERO);
        assert_eq!(pace.next(), 2);
    }
}
