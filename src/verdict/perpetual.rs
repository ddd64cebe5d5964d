//! Perpetual check: can the attacker keep giving check, or mate?
//!
//! Looks for the greatest set of positions, attacker to move, in each of which some check mates or leads
//! back into the set whatever the defender replies. As the set is finite, the game repeats itself.

use std::collections::hash_map::Entry;
use std::collections::{HashMap, HashSet};

use shakmaty::{Chess, Move, Position};

use super::budget::{Budget, Spent};
use super::checks::CheckMap;
use crate::board::played;

/// The answer to the question whether one side has perpetual check.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Checks {
    /// It has, or mates. Every reply was tried before this was said.
    Endless(Perpetual),
    /// Its checks come to an end.
    End,
    /// The budget ran out.
    Unknown,
}

/// A perpetual check.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Perpetual {
    /// Checks and replies up to the first position that comes again (or mate).
    pub line: Vec<Move>,
    /// The positions, attacker to move, among which the game stays, and the check that is given in each.
    pub checks: HashMap<Chess, Move>,
}

/// Whether the side to move has perpetual check.
///
/// Looks only at positions that the checks chosen so far lead to; a choice that fails is changed, and a
/// position without a choice is struck out. What is struck out stays so, whatever was not looked at.
#[must_use]
pub fn perpetual(pos: &Chess, budget: &mut Budget) -> Checks {
    let mut web = Web::default();
    let start = web.number(pos.clone());
    match web.settle(start, budget) {
        Ok(true) => web.replayed(pos).map_or(Checks::Unknown, Checks::Endless),
        Ok(false) => Checks::End,
        Err(Spent) => Checks::Unknown,
    }
}

/// A check and the positions after each reply, by number; none means mate.
struct CheckWithReplies {
    m: Move,
    after: Vec<usize>,
}

/// A position with the attacker to move.
struct Knot {
    pos: Chess,
    /// Its checks, once it was looked at: first those that lead to the fewest new positions.
    checks: Option<Vec<CheckWithReplies>>,
    /// Where the check that is followed stands among them.
    choice: usize,
    /// Whether every check was shown to fail.
    is_out: bool,
    /// The positions with a check that may lead here.
    from: Vec<usize>,
}

/// Positions with the attacker to move, and the checks that lead from one to others.
#[derive(Default)]
struct Web {
    knots: Vec<Knot>,
    numbers: HashMap<Chess, usize>,
}

impl Web {
    fn number(&mut self, pos: Chess) -> usize {
        let next = self.knots.len();
        let number = *self.numbers.entry(pos.clone()).or_insert(next);
        if number == next {
            let (checks, choice, is_out, from) = (None, 0, false, Vec::new());
            self.knots.push(Knot { pos, checks, choice, is_out, from });
        }
        number
    }

    /// Looks at positions until the chosen checks hold everywhere they lead to, or the start is out.
    fn settle(&mut self, start: usize, budget: &mut Budget) -> Result<bool, Spent> {
        let mut to_do = vec![start];
        while let Some(number) = to_do.pop() {
            let is_seen = self.knots[number].checks.is_some();
            if is_seen || !(number == start || self.is_followed(number)) {
                continue;
            }
            self.look_at(number, budget)?;
            self.repair(number, &mut to_do);
            if self.knots[start].is_out {
                return Ok(false);
            }
        }
        Ok(true)
    }

    /// Whether a check that is followed may lead to a position.
    fn is_followed(&self, number: usize) -> bool {
        let leads_here = |&from: &usize| {
            let knot = &self.knots[from];
            let check = knot.checks.as_ref().and_then(|checks| checks.get(knot.choice));
            !knot.is_out && check.is_some_and(|check| check.after.contains(&number))
        };
        self.knots[number].from.iter().any(leads_here)
    }

    /// Finds the checks of a position and where they lead.
    fn look_at(&mut self, number: usize, budget: &mut Budget) -> Result<(), Spent> {
        let found = checks_in(&self.knots[number].pos, budget)?;
        let mut checks = Vec::with_capacity(found.len());
        let known = self.knots.len();
        for (m, after) in found {
            let after: Vec<usize> = after.into_iter().map(|pos| self.number(pos)).collect();
            for &next in &after {
                self.knots[next].from.push(number);
            }
            checks.push(CheckWithReplies { m, after });
        }
        let news =
            |check: &CheckWithReplies| check.after.iter().filter(|&&next| next >= known).count();
        checks.sort_by_key(|check| (news(check), check.after.len()));
        self.knots[number].checks = Some(checks);
        Ok(())
    }

    /// Makes sure that a position follows a check that has not failed, or strikes it out, and then the
    /// same for the positions that led to it. Adds the positions that new choices lead to.
    fn repair(&mut self, number: usize, to_do: &mut Vec<usize>) {
        let mut doubtful = vec![number];
        while let Some(number) = doubtful.pop() {
            let knot = &self.knots[number];
            let Some(checks) = knot.checks.as_ref().filter(|_| !knot.is_out) else {
                continue;
            };
            let has_failed =
                |check: &CheckWithReplies| check.after.iter().any(|&next| self.knots[next].is_out);
            // A check that failed once stays failed, so the search for another only goes forward.
            let next = (knot.choice..checks.len()).find(|&place| !has_failed(&checks[place]));
            if let Some(place) = next {
                to_do.extend_from_slice(&checks[place].after);
                self.knots[number].choice = place;
            } else {
                self.knots[number].is_out = true;
                doubtful.extend_from_slice(&self.knots[number].from);
            }
        }
    }

    /// The check that is followed in a position.
    fn choice(&self, pos: &Chess) -> Option<Move> {
        let knot = &self.knots[*self.numbers.get(pos)?];
        knot.checks.as_ref()?.get(knot.choice).map(|check| check.m)
    }

    /// Plays the chosen checks on the board against every reply; `None` if they do not hold.
    fn replayed(&self, start: &Chess) -> Option<Perpetual> {
        let mut checks = HashMap::new();
        let mut to_do = vec![start.clone()];
        while let Some(pos) = to_do.pop() {
            let Entry::Vacant(new) = checks.entry(pos) else { continue };
            let check = self.choice(new.key())?;
            let after = played(new.key(), check);
            if !after.is_check() {
                return None;
            }
            to_do.extend(after.legal_moves().iter().map(|&reply| played(&after, reply)));
            new.insert(check);
        }
        Some(Perpetual { line: self.line(start), checks })
    }

    /// The chosen checks, each answered by the first legal reply, until a position comes again.
    fn line(&self, start: &Chess) -> Vec<Move> {
        let (mut pos, mut line, mut met) = (start.clone(), Vec::new(), HashSet::new());
        while met.insert(pos.clone()) {
            let Some(m) = self.choice(&pos) else {
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
}

/// Each check in a position, with the positions after each reply.
fn checks_in(pos: &Chess, budget: &mut Budget) -> Result<Vec<(Move, Vec<Chess>)>, Spent> {
    let map = CheckMap::of(pos);
    let mut checks = Vec::new();
    for m in pos.legal_moves() {
        if !map.may_check(m) {
            continue;
        }
        budget.spend()?;
        let after = played(pos, m);
        if after.is_check() {
            let replies = after.legal_moves();
            replies.iter().try_for_each(|_| budget.spend())?;
            checks.push((m, replies.iter().map(|&reply| played(&after, reply)).collect()));
        }
    }
    Ok(checks)
}
