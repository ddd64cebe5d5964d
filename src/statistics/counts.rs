//! Counts as real numbers, and how they are spread.

/// A count as a real number, to divide by.
pub(super) fn real(count: u64) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "counts of games are far below 2^52")]
    let number = count as f64;
    number
}

/// How often each number came: as exact as the numbers themselves, and no longer than there are different
/// ones.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Spread {
    /// The numbers in order, each once, and how often each came.
    counts: Vec<(u64, u64)>,
}

impl Spread {
    /// Adds a number.
    pub fn add(&mut self, number: u64) {
        match self.counts.binary_search_by_key(&number, |&(known, _)| known) {
            Ok(place) => self.counts[place].1 += 1,
            Err(place) => self.counts.insert(place, (number, 1)),
        }
    }

    /// The median of the numbers, in their unit: the middle one, or halfway between the middle two if
    /// there is an even number of them (so it may end in .5). `None` without numbers.
    #[must_use]
    pub fn median(&self) -> Option<f64> {
        let all: u64 = self.counts.iter().map(|(_, count)| count).sum();
        let upper = self.number_at(all / 2)?;
        let lower = self.number_at((all - 1) / 2)?;
        Some(f64::midpoint(real(lower), real(upper)))
    }

    /// The number in this place of all in order, from 0.
    fn number_at(&self, place: u64) -> Option<u64> {
        let mut before = 0;
        let mut counts = self.counts.iter();
        let found = counts.find(|(_, count)| {
            before += count;
            place < before
        });
        found.map(|&(number, _)| number)
    }
}

impl FromIterator<u64> for Spread {
    fn from_iter<I: IntoIterator<Item = u64>>(numbers: I) -> Spread {
        let mut spread = Spread::default();
        numbers.into_iter().for_each(|number| spread.add(number));
        spread
    }
}
