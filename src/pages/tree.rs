//! What was played after the offer, as a tree to open and fold.

use minijinja::{Value, context};

use super::numbers::results;
use crate::statistics::{Branch, Continuations, share};

/// Moves that come in fewer than one game in `RARE` are folded into one line,
const RARE: u64 = 40;
/// and those of fewer than this in any case.
const LEAST: u64 = 2;

/// The branches from the offer on.
pub(super) fn context(tree: &Continuations) -> Vec<Value> {
    let least = tree.root.count().div_ceil(RARE).max(LEAST);
    branches(&tree.root, least, 0)
}

fn branches(parent: &Branch, least: u64, ply: usize) -> Vec<Value> {
    let next = parent.next(least);
    // That everything is rare needs no line.
    if next.iter().all(|(san, _)| san.is_none()) {
        return Vec::new();
    }
    let branch = |(san, branch): &(Option<&str>, Branch)| {
        let next = if san.is_some() { branches(branch, least, ply + 1) } else { Vec::new() };
        let part = share(branch.count(), parent.count()).unwrap_or_default();
        context! {
            number => numbered(ply),
            san,
            part => format!("{:.0}", 100.0 * part),
            outcomes => results(&branch.outcomes),
            next,
        }
    };
    next.iter().map(branch).collect()
}

/// The number of a move counted from the offer, with dots if it is the defender's.
fn numbered(ply: usize) -> String {
    let dots = if ply.is_multiple_of(2) { "." } else { "…" };
    format!("{}{dots}", ply / 2 + 1)
}
