//! Whether moves that nobody played, such as best play after an offer, show what a query requires after it.

use super::watch::Watch;
use crate::board::{Replay, View};
use crate::query::{Pattern, Shift};

/// Whether a line that begins with an offer shows what a query requires after it; what could only come past its end
/// does not. `None` if the query requires nothing, or does not see the board in this way.
#[must_use]
pub fn shows_required(
    pattern: &Pattern,
    (view, shift): (View, Option<Shift>),
    line: &Replay,
) -> Option<bool> {
    let requires = pattern.query.requires.iter().map(|(_, requirement)| requirement);
    if requires.len() == 0 {
        return None;
    }
    let lens = pattern.lenses.iter().find(|lens| (lens.view, lens.shift) == (view, shift))?;
    Some(Watch::new(lens).all_met(requires, line, 0))
}
