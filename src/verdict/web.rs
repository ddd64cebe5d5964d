//! A web of positions with the attacker to move, and the checks that lead from one to others.
//!
//! Looked through by iterative deepening: first only positions at most one check and reply from the start,
//! then two, and so on. A wrong check is then refuted no deeper than the right one is proved. What is found
//! out about a position stays for the next round, and so does its failure where no bound had a part in it.

use std::collections::HashMap;

use shakmaty::{Chess, Move, Position};

use super::budget::{Budget, Spent};
use super::checks::CheckMap;
use crate::board::played;

/// A check and the positions after each reply, by number; none means mate.
struct CheckWithReplies {
    m: Move,
    after: Vec<usize>,
}

/// Whether the checks of a position come to an end.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Fate {
    /// Not as far as is known.
    Open,
    /// Yes, or they lead further than this round looks.
    OutForNow,
    /// Yes, whatever was not looked at.
    Out,
}

/// A position with the attacker to move.
struct Knot {
    pos: Chess,
    /// Its checks, once it was looked at: first those that lead to the fewest new positions.
    checks: Option<Vec<CheckWithReplies>>,
    /// The attacker has no move and is not in check, or nobody can mate: the draw is reached.
    is_drawn: bool,
    fate: Fate,
    /// Whether this round came here.
    is_met: bool,
    /// How many checks from the start this round met it first.
    distance: usize,
    /// Where the check that is followed stands among them.
    choice: usize,
    /// The positions with a check that may lead here.
    from: Vec<usize>,
}

impl Knot {
    fn new(pos: Chess) -> Knot {
        let is_drawn = is_drawn(&pos);
        let (checks, from) = (None, Vec::new());
        let (fate, is_met, distance, choice) = (Fate::Open, false, usize::MAX, 0);
        Knot { pos, checks, is_drawn, fate, is_met, distance, choice, from }
    }

    fn is_out(&self) -> bool {
        self.fate != Fate::Open
    }

    fn chosen(&self) -> Option<&CheckWithReplies> {
        self.checks.as_ref()?.get(self.choice).filter(|_| !self.is_out() && self.is_met)
    }
}

/// The positions that were met, and what is known of them.
#[derive(Default)]
pub(super) struct Web {
    knots: Vec<Knot>,
    numbers: HashMap<Chess, usize>,
    /// Positions that many checks from the start are out for now.
    bound: usize,
    /// Whether the bound had a part in this round.
    was_cut: bool,
}

impl Web {
    /// Whether the side to move can keep giving check, or mate, or reach stalemate.
    pub(super) fn holds(&mut self, pos: &Chess, budget: &mut Budget) -> Result<bool, Spent> {
        let start = self.number(pos.clone());
        let mut bound = 1;
        loop {
            self.begin(start, bound);
            let is_held = self.settle(start, budget)?;
            if is_held || !self.was_cut {
                return Ok(is_held);
            }
            bound += 1;
        }
    }

    /// What the attacker plays in a position after [`Web::holds`] said yes to one that leads there; `None`
    /// if the draw is reached or the position was never met.
    pub(super) fn choice(&self, pos: &Chess) -> Option<Move> {
        let knot = &self.knots[*self.numbers.get(pos)?];
        knot.chosen().map(|check| check.m)
    }

    fn number(&mut self, pos: Chess) -> usize {
        if let Some(&number) = self.numbers.get(&pos) {
            return number;
        }
        let number = self.knots.len();
        self.numbers.insert(pos.clone(), number);
        self.knots.push(Knot::new(pos));
        number
    }

    /// Begins a round.
    fn begin(&mut self, start: usize, bound: usize) {
        (self.bound, self.was_cut) = (bound, false);
        for knot in &mut self.knots {
            (knot.is_met, knot.distance, knot.choice) = (false, usize::MAX, 0);
            if knot.fate == Fate::OutForNow {
                knot.fate = Fate::Open;
            }
        }
        self.knots[start].distance = 0;
    }

    /// Looks at positions until the chosen checks hold everywhere they lead to, or the start is out.
    fn settle(&mut self, start: usize, budget: &mut Budget) -> Result<bool, Spent> {
        let mut to_do = vec![start];
        while let Some(number) = to_do.pop() {
            if self.knots[start].is_out() {
                return Ok(false);
            }
            if !self.knots[number].is_met && (number == start || self.is_followed(number)) {
                budget.spend()?;
                let doubtful = self.meet(number, budget)?;
                self.repair(doubtful, &mut to_do);
            }
        }
        Ok(!self.knots[start].is_out())
    }

    /// Whether a check that is followed may lead to a position.
    fn is_followed(&self, number: usize) -> bool {
        let leads_here = |&from: &usize| {
            self.knots[from].chosen().is_some_and(|check| check.after.contains(&number))
        };
        self.knots[number].from.iter().any(leads_here)
    }

    /// Looks at a position, or strikes it out if it is too far away: the positions that need a choice now.
    fn meet(&mut self, number: usize, budget: &mut Budget) -> Result<Vec<usize>, Spent> {
        let knot = &mut self.knots[number];
        knot.is_met = true;
        if knot.is_drawn || knot.is_out() {
            return Ok(Vec::new());
        }
        if knot.distance >= self.bound {
            self.was_cut = true;
            knot.fate = Fate::OutForNow;
            return Ok(knot.from.clone());
        }
        if knot.checks.is_none() {
            self.look_at(number, budget)?;
        }
        Ok(vec![number])
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

    /// Makes sure that each of some positions follows a check that has not failed, or strikes it out, and
    /// then the same for the positions that led to it. Adds the positions that new choices lead to.
    fn repair(&mut self, mut doubtful: Vec<usize>, to_do: &mut Vec<usize>) {
        while let Some(number) = doubtful.pop() {
            let knot = &self.knots[number];
            let Some(checks) = knot.checks.as_ref().filter(|_| knot.is_met && !knot.is_out())
            else {
                continue;
            };
            // A check that failed once stays failed, so the search for another only goes forward.
            let next = (knot.choice..checks.len()).find(|&place| !self.has_failed(&checks[place]));
            if let Some(place) = next {
                self.follow(number, place, to_do);
            } else {
                self.strike_out(number);
                doubtful.extend_from_slice(&self.knots[number].from);
            }
        }
    }

    fn has_failed(&self, check: &CheckWithReplies) -> bool {
        check.after.iter().any(|&next| self.knots[next].is_out())
    }

    /// Follows a check: what it leads to is one check further away, unless it was met nearer.
    fn follow(&mut self, number: usize, place: usize, to_do: &mut Vec<usize>) {
        let knot = &mut self.knots[number];
        knot.choice = place;
        let distance = knot.distance + 1;
        let Some(check) = knot.checks.as_ref().map(|checks| checks[place].after.clone()) else {
            return;
        };
        for &next in &check {
            let knot = &mut self.knots[next];
            knot.distance = knot.distance.min(distance);
        }
        to_do.extend(check);
    }

    /// For good, if each check has a reply to a position that is out for good.
    fn strike_out(&mut self, number: usize) {
        let is_out = |&next: &usize| self.knots[next].fate == Fate::Out;
        let fails = |check: &CheckWithReplies| check.after.iter().any(is_out);
        let checks = self.knots[number].checks.as_ref();
        let is_for_good = checks.is_some_and(|checks| checks.iter().all(fails));
        self.knots[number].fate = if is_for_good { Fate::Out } else { Fate::OutForNow };
    }
}

/// Whether the draw is reached: stalemate, or nobody can mate.
pub(super) fn is_drawn(pos: &Chess) -> bool {
    pos.is_stalemate() || pos.is_insufficient_material()
}

/// Each check in a position, with the positions after each reply.
fn checks_in(pos: &Chess, budget: &mut Budget) -> Result<Vec<(Move, Vec<Chess>)>, Spent> {
    let map = CheckMap::of(pos);
    let mut checks = Vec::new();
    for &m in &pos.legal_moves() {
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
