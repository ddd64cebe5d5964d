//! What a sheet is to be, whoever wishes it: a command line or a plan.

use crate::query::Chapter;
use crate::teaching::{GivenPositions, Levels, Quota, Sides};

/// What a sheet is to be.
#[derive(Clone, Debug)]
pub(in crate::commands) struct SheetWishes {
    /// How many of which kind.
    pub(in crate::commands) quotas: Vec<Quota>,
    /// How hard.
    pub(in crate::commands) levels: Levels,
    /// The names of the queries whose offers are used; all if there are none.
    pub(in crate::commands) queries: Vec<String>,
    /// The chapters of these queries; all if there are none.
    pub(in crate::commands) chapters: Vec<Chapter>,
    /// Who is to move.
    pub(in crate::commands) sides: Sides,
    /// Which of many sheets.
    pub(in crate::commands) seed: u64,
    /// What was given before, and is not given again.
    pub(in crate::commands) given: GivenPositions,
}
