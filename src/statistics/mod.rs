//! Numbers: intervals and what a run came to.
//!
//! Invariant: nothing here knows games or files; it counts what the tables say.

mod interval;
mod outcome;

pub use interval::{Interval, wilson};
pub use outcome::{Outcomes, SMALLEST_SAMPLE, Summary};
