//! What a count of material proves: something only if it is deep, held for some plies, and ends where the
//! fight is over.

use shakmaty::{Chess, Color, Move, Position};

use super::budget::Budget;
use super::judge::{LEAST_DEPTH, OfferCase};
use super::judgement::Outcome;
use super::material::Weighing;
use super::settled::{Fight, Settling};
use super::value::WeighedScore;
use crate::board::{balance, played_out};
use crate::hits::{Unrest, Verdict};

/// A count must come out alike at this many plies less than its depth, too.
const PLIES_HELD: u8 = 2;
/// How often best play is followed on from where a man can still be won.
const MOST_EXTENSIONS: u8 = 3;

impl OfferCase<'_> {
    /// The outcome of a count of material.
    pub(super) fn counted(&mut self, start: &Chess, weighing: &Weighing) -> Outcome {
        let mut outcome = Outcome {
            balance: self.relative(start, weighing.score),
            depth: weighing.depth,
            held_from: self.held_from(start, weighing),
            reply: weighing.line.first().copied(),
            line: weighing.line.clone(),
            ..Outcome::unknown()
        };
        outcome.end = outcome.balance.map(|balance| balance + self.before);
        let mut settled = outcome.clone();
        outcome.unrest = self.unrest_of_count(start, &mut settled);
        match settled.balance {
            Some(balance) if outcome.unrest.is_none() => {
                Outcome { verdict: Verdict::of_count(balance), ..settled }
            }
            _ => outcome,
        }
    }

    /// What speaks against a count. Follows best play to where it is settled.
    fn unrest_of_count(&mut self, start: &Chess, outcome: &mut Outcome) -> Option<Unrest> {
        let Some(balance) = outcome.balance else {
            return Some(Unrest::Shallow);
        };
        if outcome.depth < LEAST_DEPTH {
            return Some(Unrest::Shallow);
        }
        if outcome.held_from + PLIES_HELD > outcome.depth {
            return Some(Unrest::Unsteady);
        }
        for _ in 0..=MOST_EXTENSIONS {
            let (unrest, on) = self.fight(&played_out(start, &outcome.line), balance.signum())?;
            if on.is_empty() {
                return Some(unrest);
            }
            self.follow(start, outcome, &on);
            if outcome.balance.map(i32::signum) != Some(balance.signum()) {
                return Some(unrest);
            }
        }
        Some(Unrest::Men)
    }

    /// What one of the sides that a count speaks against can still do at the end of its line.
    fn fight(&mut self, end: &Chess, sign: i32) -> Option<Fight> {
        let against: &[Color] = match sign {
            1 => &[self.attacker.other()],
            0 => &[self.attacker.other(), self.attacker],
            _ => &[self.attacker],
        };
        let mut budget = Budget::of(self.judge.effort.settling);
        let (prover, weigher) = (&mut self.judge.prover, &mut self.judge.weigher);
        let mut settling = Settling { prover, weigher, budget: &mut budget };
        let fight = against.iter().find_map(|&side| settling.fight(end, side));
        self.nodes += budget.used();
        fight
    }

    /// Adds moves to the line of a count, which is what it comes to after them.
    fn follow(&self, start: &Chess, outcome: &mut Outcome, on: &[Move]) {
        outcome.line.extend_from_slice(on);
        let end = balance(&played_out(start, &outcome.line), self.attacker);
        (outcome.end, outcome.balance) = (Some(end), Some(end - self.before));
    }

    /// The least depth from which on a count came out alike: for, against or neither.
    fn held_from(&self, start: &Chess, weighing: &Weighing) -> u8 {
        let sign = |score: &WeighedScore| self.relative(start, *score).map(i32::signum);
        let last = weighing.scores.last().and_then(sign);
        let held = weighing.scores.iter().rev().take_while(|score| sign(score) == last).count();
        weighing.depth + 1 - u8::try_from(held).unwrap_or(weighing.depth)
    }

    /// A score of the side to move in `start`, as the attacker's balance relative to the position before
    /// the offer; `None` for mates.
    fn relative(&self, start: &Chess, score: WeighedScore) -> Option<i32> {
        let WeighedScore::Pawns(pawns) = score else {
            return None;
        };
        let own = if start.turn() == self.attacker { pawns } else { -pawns };
        Some(own - self.before)
    }

    pub(super) fn weigh(&mut self, pos: &Chess, moves: &[Move]) -> Option<Weighing> {
        let mut budget = Budget::of(self.judge.effort.material);
        let weighing = self.judge.weigher.weigh(pos, moves, self.judge.effort.depth, &mut budget);
        self.nodes += budget.used();
        weighing
    }
}
