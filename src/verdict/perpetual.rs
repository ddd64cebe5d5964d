//! Perpetual check: can the attacker keep giving check, or mate, or reach stalemate?
//!
//! Looks for a set of positions, attacker to move, in each of which some check mates or leads back into
//! the set whatever the defender replies. As the set is finite, the game repeats itself. A position of the
//! set in which the attacker has no move, or in which nobody can mate, needs no check: it is a draw.

use std::collections::hash_map::Entry;
use std::collections::{HashMap, HashSet};

use shakmaty::{Chess, Move, Position};

use super::budget::{Budget, Spent};
use super::web::{Web, is_drawn};
use crate::board::played;

/// The answer to the question whether one side has perpetual check.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Checks {
    /// It has, or mates, or reaches stalemate. Every reply was tried before this was said.
    Endless(Perpetual),
    /// Its checks come to an end.
    End,
    /// The budget ran out.
    Unknown,
}

/// A perpetual check.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Perpetual {
    /// Checks and replies up to the first position that comes again (or mate, or stalemate).
    pub line: Vec<Move>,
    /// The positions, attacker to move, among which the game stays, and the check that is given in each.
    /// Those in which the draw is reached are not among them.
    pub checks: HashMap<Chess, Move>,
}

/// Whether the side to move has perpetual check.
#[must_use]
pub fn perpetual(pos: &Chess, budget: &mut Budget) -> Checks {
    endless_in(&mut Web::default(), pos, budget)
}

/// The same in a web that keeps what it learns for the next question.
pub(super) fn endless_in(web: &mut Web, pos: &Chess, budget: &mut Budget) -> Checks {
    match web.holds(pos, budget) {
        Ok(true) => replayed(web, pos).map_or(Checks::Unknown, Checks::Endless),
        Ok(false) => Checks::End,
        Err(Spent) => Checks::Unknown,
    }
}

/// Plays the chosen checks on the board against every reply; `None` if they do not hold.
fn replayed(web: &Web, start: &Chess) -> Option<Perpetual> {
    let mut checks = HashMap::new();
    let mut to_do = vec![start.clone()];
    while let Some(pos) = to_do.pop() {
        if is_drawn(&pos) {
            continue;
        }
        let Entry::Vacant(new) = checks.entry(pos) else { continue };
        let check = web.choice(new.key())?;
        let after = played(new.key(), check);
        if !after.is_check() {
            return None;
        }
        to_do.extend(after.legal_moves().iter().map(|&reply| played(&after, reply)));
        new.insert(check);
    }
    let line = line(&checks, start);
    Some(Perpetual { line, checks })
}

/// The chosen checks, each answered by the first legal reply, until a position comes again.
fn line(checks: &HashMap<Chess, Move>, start: &Chess) -> Vec<Move> {
    let (mut pos, mut line, mut met) = (start.clone(), Vec::new(), HashSet::new());
    while met.insert(pos.clone()) {
        let Some(&m) = checks.get(&pos) else {
            break;
        };
        line.push(m);
        pos.play_unchecked(m);
        let Some(&reply) = pos.legal_moves().first() else {
            break;
        };
        line.push(reply);
        pos.play_unchecked(reply);
    }
    line
}
