//! What stands in a plan's file, with its place.

use std::ops::Range;

/// A value of a plan with its place in the file, in bytes.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Planned<T> {
    /// The value.
    pub value: T,
    /// Where it stands.
    pub place: Range<usize>,
}
