//! p-values: how often chance alone would do as much.

use statrs::distribution::{ContinuousCDF, Normal};

/// The two-sided p-value of a `value` whose mean would be 0 and whose standard error is known.
pub(super) fn two_sided(value: f64, standard_error: f64) -> f64 {
    two_sided_of(&Normal::standard(), value, standard_error)
}

/// The same for a value that follows another distribution, symmetric about 0, once divided by its
/// standard error. Without a difference it is 1, even where there is no error.
pub(super) fn two_sided_of(
    distribution: &impl ContinuousCDF<f64, f64>,
    value: f64,
    standard_error: f64,
) -> f64 {
    if value == 0.0 { 1.0 } else { 2.0 * distribution.sf(value.abs() / standard_error) }
}
