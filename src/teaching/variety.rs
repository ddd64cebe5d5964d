//! How often each trait of what was taken was there, so that what is taken next adds what is lacking.

use std::collections::BTreeMap;

/// A trait: which one, and what it is.
pub(super) type Trait = (usize, String);

/// How often each trait was taken.
#[derive(Debug, Default)]
pub(super) struct Variety(BTreeMap<Trait, usize>);

impl Variety {
    /// How often traits were taken, all together: the more, the less there is new in them.
    pub(super) fn times(&self, traits: impl IntoIterator<Item = Trait>) -> usize {
        traits.into_iter().filter_map(|one| self.0.get(&one)).sum()
    }

    /// Takes traits once more.
    pub(super) fn add(&mut self, traits: impl IntoIterator<Item = Trait>) {
        for one in traits {
            *self.0.entry(one).or_default() += 1;
        }
    }
}
