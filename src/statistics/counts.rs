//! Counts as real numbers, and their median.

/// A count as a real number, to divide by.
pub(super) fn real(count: u64) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "counts of games are far below 2^52")]
    let number = count as f64;
    number
}

/// The median of counts, in their unit: the middle one, or halfway between the middle two if their
/// number is even (so it may end in .5). `None` without counts. The order of the counts does not
/// matter.
#[must_use]
pub fn median(counts: &[u64]) -> Option<f64> {
    let mut sorted = counts.to_vec();
    sorted.sort_unstable();
    let upper = *sorted.get(sorted.len() / 2)?;
    let lower = sorted[(sorted.len() - 1) / 2];
    Some(f64::midpoint(real(lower), real(upper)))
}
