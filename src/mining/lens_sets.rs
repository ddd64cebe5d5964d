//! Sets of the lenses of a run, a bit for each: what is asked of many lenses at once costs no more than for one.

/// Sets of lenses, by rows.
#[derive(Clone, Debug, Default)]
pub(super) struct LensSets {
    /// How many words a row has.
    width: usize,
    words: Vec<u64>,
}

impl LensSets {
    /// So many empty sets of lenses with numbers below `lenses`.
    pub(super) fn new(rows: usize, lenses: usize) -> LensSets {
        let width = lenses.div_ceil(64);
        LensSets { width, words: vec![0; rows * width] }
    }

    #[inline]
    pub(super) fn row(&self, index: usize) -> &[u64] {
        &self.words[index * self.width..][..self.width]
    }

    #[inline]
    pub(super) fn row_mut(&mut self, index: usize) -> &mut [u64] {
        &mut self.words[index * self.width..][..self.width]
    }
}

/// An empty set of lenses with numbers below `lenses`.
pub(super) fn no_lenses(lenses: usize) -> Vec<u64> {
    vec![0; lenses.div_ceil(64)]
}

/// Puts a lens into a set.
pub(super) fn insert(set: &mut [u64], lens: usize) {
    set[lens / 64] |= 1 << (lens % 64);
}

/// Leaves in a set only what another has too.
#[inline]
pub(super) fn keep(set: &mut [u64], other: &[u64]) {
    set.iter_mut().zip(other).for_each(|(word, other)| *word &= other);
}

/// Takes from a set what another has.
#[inline]
pub(super) fn strike(set: &mut [u64], other: &[u64]) {
    set.iter_mut().zip(other).for_each(|(word, other)| *word &= !other);
}

/// Takes from a set those that another has too and that are not as wanted.
#[inline]
pub(super) fn retain(set: &mut [u64], among: &[u64], mut is_wanted: impl FnMut(usize) -> bool) {
    for (place, (word, among)) in set.iter_mut().zip(among).enumerate() {
        let mut left = *word & among;
        while left != 0 {
            let bit = left & left.wrapping_neg();
            if !is_wanted(place * 64 + bit.trailing_zeros() as usize) {
                *word &= !bit;
            }
            left &= !bit;
        }
    }
}

/// Whether two sets have a lens in common.
#[inline]
pub(super) fn meet(one: &[u64], other: &[u64]) -> bool {
    one.iter().zip(other).any(|(one, other)| one & other != 0)
}

#[inline]
pub(super) fn is_empty(set: &[u64]) -> bool {
    set.iter().all(|&word| word == 0)
}

/// The lenses of a set, by their numbers.
pub(super) fn members(set: &[u64]) -> impl Iterator<Item = usize> {
    set.iter().enumerate().flat_map(|(place, &word)| {
        let next = |left: &u64| Some(left & (left - 1)).filter(|&left| left != 0);
        let lefts = std::iter::successors(Some(word).filter(|&word| word != 0), next);
        lefts.map(move |left| place * 64 + left.trailing_zeros() as usize)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sets_hold_what_was_put_into_them() {
        let mut sets = LensSets::new(3, 130);
        for lens in [0, 63, 64, 129] {
            insert(sets.row_mut(1), lens);
        }
        assert!(is_empty(sets.row(0)) && is_empty(sets.row(2)));
        assert_eq!(members(sets.row(1)).collect::<Vec<_>>(), [0, 63, 64, 129]);
        let mut some = no_lenses(130);
        insert(&mut some, 64);
        insert(&mut some, 65);
        assert!(meet(sets.row(1), &some) && !meet(sets.row(2), &some));
        let mut kept = sets.row(1).to_vec();
        keep(&mut kept, &some);
        assert_eq!(members(&kept).collect::<Vec<_>>(), [64]);
        strike(sets.row_mut(1), &some);
        assert_eq!(members(sets.row(1)).collect::<Vec<_>>(), [0, 63, 129]);
        insert(&mut some, 129);
        let mut asked = Vec::new();
        retain(sets.row_mut(1), &some, |lens| {
            asked.push(lens);
            false
        });
        assert_eq!((asked, members(sets.row(1)).collect::<Vec<_>>()), (vec![129], vec![0, 63]));
    }
}
