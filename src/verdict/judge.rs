//! The three searches put together: what an offer is worth if it is accepted, if it is declined, and
//! after the best reply; and what could have been played instead.
//!
//! The defender's best reply is found by striking out: the material search names it, the mate search and
//! the search for perpetual check try to show that it fails, and if they do, the next is named. The reply
//! that stands last, or the best of those struck out, makes the verdict.

use shakmaty::{Chess, Color, Move, Position};

use super::attack;
use super::budget::Budget;
use super::judgement::{Judgement, Outcome};
use super::mate::Prover;
use super::material::{Weigher, Weighing};
use super::perpetual::{Checks, Perpetual, perpetual};
use super::value::WeighedScore;
use crate::board::{accepting, balance, played, played_out};
use crate::hits::Verdict;

/// How many nodes a single search may visit. A judgement asks up to a dozen of them, most of which end
/// early.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Effort {
    /// For a mate search.
    pub mate: u64,
    /// For a search for perpetual check.
    pub checks: u64,
    /// For a material search.
    pub material: u64,
    /// The greatest depth of a material search, in plies.
    pub depth: u8,
}

impl Effort {
    /// With these nodes a judgement takes about a tenth of a second where the searches do three million
    /// nodes a second.
    pub const NODES: u64 = 100_000;

    /// `nodes` shared out: two fifths for a mate search, three fifths for a material search, and another
    /// twenty-fifth for perpetual check.
    #[must_use]
    pub const fn of(nodes: u64) -> Effort {
        Effort { mate: nodes / 5 * 2, checks: nodes / 25, material: nodes / 5 * 3, depth: u8::MAX }
    }
}

impl Default for Effort {
    fn default() -> Effort {
        Effort::of(Effort::NODES)
    }
}

/// Mates longer than this are not looked for, in moves.
pub const LONGEST_MATE: u8 = 12;
/// The least depth, in plies, at which a count of material proves anything.
pub const LEAST_DEPTH: u8 = 4;
/// How many of the defender's replies are examined one by one.
const MOST_ROUNDS: usize = 4;

/// Judges offers. Holds the tables, so keep one for many offers; what it says about an offer does not depend
/// on the offers before.
pub struct Judge {
    pub(super) prover: Prover,
    weigher: Weigher,
    pub(super) effort: Effort,
}

impl Judge {
    /// A judge with the given effort.
    #[must_use]
    pub fn new(effort: Effort) -> Judge {
        const ENTRIES: usize = 1 << 16;
        let (prover, weigher) = (Prover::with_entries(ENTRIES), Weigher::with_entries(ENTRIES));
        Judge { prover, weigher, effort }
    }

    /// Judges a legal move as an offer.
    pub fn judge(&mut self, pos: &Chess, offer: Move) -> Judgement {
        self.prover.forget();
        self.weigher.forget();
        let mut case = OfferCase { judge: self, attacker: pos.turn(), before: 0, nodes: 0 };
        case.before = balance(pos, pos.turn());
        let after = played(pos, offer);
        let accepting = accepting(pos, offer);
        let (accepts, declines): (Vec<Move>, Vec<Move>) =
            after.legal_moves().into_iter().partition(|m| accepting.contains(m));
        let accepted = case.outcome(&after, accepts);
        let declined = case.outcome(&after, declines);
        let both = accepted.iter().chain(&declined);
        let overall = both
            .min_by_key(|outcome| outcome.verdict.worth())
            .cloned()
            .unwrap_or_else(|| case.finished(&after));
        let better = case.better(pos, offer, overall.verdict);
        let nodes = case.nodes;
        Judgement { accepted, declined, overall, better, nodes }
    }
}

/// One offer before the judge.
pub(super) struct OfferCase<'a> {
    pub(super) judge: &'a mut Judge,
    attacker: Color,
    /// The attacker's balance before the offer.
    before: i32,
    pub(super) nodes: u64,
}

impl OfferCase<'_> {
    /// The outcome when the offer itself ends the game.
    fn finished(&self, after: &Chess) -> Outcome {
        let verdict = if after.is_check() { Verdict::Mates(1) } else { Verdict::Draws };
        Outcome { verdict, ..Outcome::unknown() }
    }

    /// The outcome against the best of some replies; `None` if there are none.
    fn outcome(&mut self, after: &Chess, mut replies: Vec<Move>) -> Option<Outcome> {
        if let Some(mates) = self.mates(after, &replies, LONGEST_MATE) {
            return Some(mates);
        }
        let mut outcomes = Vec::new();
        while !replies.is_empty() {
            let outcome = self.by_material(after, &replies);
            let reply = outcome.reply.filter(|_| outcomes.len() < MOST_ROUNDS);
            let saved = reply.and_then(|reply| self.saved(after, reply, &outcome));
            let is_final = saved.is_none();
            outcomes.push(saved.unwrap_or(outcome));
            if is_final {
                outcomes.extend(self.escape_by_checks(after, &replies));
                break;
            }
            replies.retain(|&m| Some(m) != reply);
        }
        outcomes.into_iter().min_by_key(|outcome| outcome.verdict.worth())
    }

    /// Mate against each of some replies.
    fn mates(&mut self, after: &Chess, replies: &[Move], limit: u8) -> Option<Outcome> {
        let starts: Vec<Chess> = replies.iter().map(|&reply| played(after, reply)).collect();
        let mut budget = Budget::of(self.judge.effort.mate);
        let mate = self.judge.prover.mate_in_each(&starts, limit, &mut budget);
        self.nodes += budget.used();
        let (longest, mate) = mate?;
        let outcome = Outcome::of(Verdict::Mates(mate.moves + 1), replies[longest], &mate.line);
        Some(Outcome { may_be_sooner: !mate.is_shortest, ..outcome })
    }

    /// What saves the attacker from what was counted against a reply: mate, perpetual check, or an attack
    /// that is still on, so that counting proves nothing. `None` if the count stands.
    fn saved(&mut self, after: &Chess, reply: Move, counted: &Outcome) -> Option<Outcome> {
        if counted.verdict.is_ahead() {
            return None;
        }
        if let Some(mates) = self.mates(after, &[reply], LONGEST_MATE) {
            return Some(mates);
        }
        if counted.verdict == Verdict::Draws {
            return None;
        }
        let after_reply = played(after, reply);
        if let Some(endless) = self.endless_checks(&after_reply) {
            return Some(Outcome::of(Verdict::Draws, reply, &endless.line));
        }
        let is_count_void =
            matches!(counted.verdict, Verdict::Down(_)) && self.is_attack_on(&after_reply);
        is_count_void.then(|| Outcome { verdict: Verdict::Open, ..counted.clone() })
    }

    /// Perpetual check by the defender, which a count of material does not see.
    pub(super) fn escape_by_checks(&mut self, after: &Chess, replies: &[Move]) -> Option<Outcome> {
        let endless = self.endless_checks(after)?;
        let (reply, rest) = endless.line.split_first()?;
        replies.contains(reply).then(|| Outcome::of(Verdict::Draws, *reply, rest))
    }

    fn endless_checks(&mut self, pos: &Chess) -> Option<Perpetual> {
        let mut budget = Budget::of(self.judge.effort.checks);
        let checks = perpetual(pos, &mut budget);
        self.nodes += budget.used();
        match checks {
            Checks::Endless(endless) => Some(endless),
            Checks::End | Checks::Unknown => None,
        }
    }

    /// Whether the attacker, to move, can go on to threaten mate.
    fn is_attack_on(&mut self, pos: &Chess) -> bool {
        let mut budget = Budget::of(self.judge.effort.mate);
        let is_on = attack::is_on(&mut self.judge.prover, pos, &mut budget);
        self.nodes += budget.used();
        is_on
    }

    /// The outcome against the reply that leaves the defender with most.
    pub(super) fn by_material(&mut self, after: &Chess, replies: &[Move]) -> Outcome {
        let Some(weighing) = self.weigh(after, replies) else {
            return Outcome::unknown();
        };
        match weighing.score {
            WeighedScore::Mates(moves) => {
                self.mated(after, replies, moves).unwrap_or_else(Outcome::unknown)
            }
            WeighedScore::Mated(moves) => {
                self.mates(after, replies, moves).unwrap_or_else(Outcome::unknown)
            }
            WeighedScore::Pawns(_) => self.counted(after, weighing),
        }
    }

    /// The outcome if some reply mates within `moves` moves.
    fn mated(&mut self, after: &Chess, replies: &[Move], moves: u8) -> Option<Outcome> {
        let mut budget = Budget::of(self.judge.effort.mate);
        let mate = self.judge.prover.mate_by(after, replies, moves, &mut budget);
        self.nodes += budget.used();
        let mate = mate?;
        let (&reply, rest) = mate.line.split_first()?;
        Some(Outcome::of(Verdict::Mated(mate.moves), reply, rest))
    }

    /// The outcome of a count of material.
    fn counted(&mut self, start: &Chess, weighing: Weighing) -> Outcome {
        Outcome {
            verdict: self.verdict_of(start, &weighing),
            balance: self.relative(start, weighing.score),
            depth: weighing.depth,
            reply: weighing.line.first().copied(),
            line: weighing.line,
            ..Outcome::unknown()
        }
    }

    /// What a count of material proves: nothing if it is shallow, or if it changed sides with the last ply.
    pub(super) fn verdict_of(&self, start: &Chess, weighing: &Weighing) -> Verdict {
        let Some(balance) = self.relative(start, weighing.score) else {
            return Verdict::Open;
        };
        let before = weighing.score_before.and_then(|score| self.relative(start, score));
        let is_steady = before.is_some_and(|before| before.signum() == balance.signum());
        if played_out(start, &weighing.line).legal_moves().is_empty() {
            Verdict::Draws
        } else if weighing.depth < LEAST_DEPTH || !is_steady {
            Verdict::Open
        } else {
            Verdict::of_count(balance)
        }
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
