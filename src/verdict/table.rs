//! A table of fixed size, allocated once, of what a search knows about positions.

use super::key::PositionKey;

#[derive(Clone, Copy)]
struct Slot<T> {
    key: u64,
    generation: u16,
    /// How much went into it; what cost most is kept longest.
    effort: u16,
    value: T,
}

/// What is known of positions, by their keys. What an earlier generation wrote is as good as gone.
pub(super) struct Table<T> {
    slots: Vec<Slot<T>>,
    mask: usize,
    generation: u16,
}

/// How many slots the positions whose keys end alike share.
const BUCKET: usize = 4;

impl<T: Copy + Default> Table<T> {
    /// A table for at least `entries` positions.
    pub(super) fn with_entries(entries: usize) -> Table<T> {
        let buckets = entries.div_ceil(BUCKET).next_power_of_two();
        let empty = Slot { key: 0, generation: 0, effort: 0, value: T::default() };
        Table { slots: vec![empty; buckets * BUCKET], mask: buckets - 1, generation: 1 }
    }

    /// Forgets everything, at next to no cost.
    pub(super) fn forget(&mut self) {
        self.generation = self.generation.wrapping_add(1);
        if self.generation == 0 {
            self.slots.iter_mut().for_each(|slot| slot.generation = 0);
            self.generation = 1;
        }
    }

    #[expect(clippy::cast_possible_truncation, reason = "only the low bits choose the bucket")]
    fn bucket(&self, key: PositionKey) -> std::ops::Range<usize> {
        let start = (key.0 as usize & self.mask) * BUCKET;
        start..start + BUCKET
    }

    /// What is known of a position.
    #[inline]
    pub(super) fn get(&self, key: PositionKey) -> Option<&T> {
        self.slots[self.bucket(key)]
            .iter()
            .find(|slot| slot.key == key.0 && slot.generation == self.generation)
            .map(|slot| &slot.value)
    }

    /// Changes what is known of a position. If it is new, the entry of its bucket that cost least makes
    /// room, and it starts from the default.
    pub(super) fn update(&mut self, key: PositionKey, effort: u16, change: impl FnOnce(&mut T)) {
        let range = self.bucket(key);
        let generation = self.generation;
        let bucket = &mut self.slots[range];
        let is_same = |slot: &Slot<T>| slot.key == key.0 && slot.generation == generation;
        // What is gone is worth nothing, whatever it was: where things end up must not depend on it.
        let worth = |slot: &Slot<T>| (slot.generation == generation).then_some(slot.effort);
        let place = bucket
            .iter()
            .position(is_same)
            .or_else(|| (0..BUCKET).min_by_key(|&place| worth(&bucket[place])))
            .unwrap_or(0);
        let slot = &mut bucket[place];
        if !is_same(slot) {
            *slot = Slot { key: key.0, generation, effort, value: T::default() };
        }
        slot.effort = slot.effort.max(effort);
        change(&mut slot.value);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Puts in more positions than one bucket holds and says which remain.
    fn remaining(table: &mut Table<u64>) -> Vec<u64> {
        let keys: Vec<u64> = (1..=9).collect();
        for &key in &keys {
            table.update(PositionKey(key), u16::from(key % 3 == 0), |value| *value = key);
        }
        keys.into_iter().filter(|&key| table.get(PositionKey(key)) == Some(&key)).collect()
    }

    #[test]
    fn what_remains_depends_on_nothing_that_was_forgotten() {
        let fresh = remaining(&mut Table::with_entries(BUCKET));
        let mut used = Table::with_entries(BUCKET);
        for (key, effort) in [(21, 7), (22, 0), (23, 9), (24, 1)] {
            used.update(PositionKey(key), effort, |value| *value = key);
        }
        used.forget();
        assert_eq!(used.get(PositionKey(21)), None);
        assert_eq!(remaining(&mut used), fresh);
    }

    #[test]
    fn what_cost_most_is_kept_longest() {
        let remaining = remaining(&mut Table::with_entries(BUCKET));
        assert_eq!(remaining.len(), BUCKET);
        assert!([3, 6, 9].iter().all(|key| remaining.contains(key)), "{remaining:?}");
    }
}
