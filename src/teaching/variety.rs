//! How often each trait of what was taken was there, so that what is taken next adds what is lacking.

use std::collections::BTreeMap;

/// How often each trait was taken.
#[derive(Debug)]
pub(super) struct Variety<T>(BTreeMap<T, usize>);

impl<T> Default for Variety<T> {
    fn default() -> Variety<T> {
        Variety(BTreeMap::new())
    }
}

impl<T: Ord> Variety<T> {
    /// How often traits were taken, all together: the more, the less there is new in them.
    pub(super) fn times(&self, traits: impl IntoIterator<Item = T>) -> usize {
        traits.into_iter().filter_map(|one| self.0.get(&one)).sum()
    }

    /// Takes traits once more.
    pub(super) fn add(&mut self, traits: impl IntoIterator<Item = T>) {
        for one in traits {
            *self.0.entry(one).or_default() += 1;
        }
    }
}
