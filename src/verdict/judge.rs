//! The three searches put together: what an offer is worth if it is accepted, if it is declined, and
//! after the best reply; and what could have been played instead.
//!
//! The defender's best reply is found by striking out: the material search names it, the mate search and
//! the search for perpetual check try to show that it fails, and if they do, the next is named. The reply
//! that stands last, or the best of those struck out, makes the verdict.

use shakmaty::{Chess, Color, Move, Position};

use super::attack;
use super::budget::Budget;
use super::judgement::{Judgement, Outcome, worst_of, worst_of_kinds};
use super::mate::Prover;
use super::material::Weigher;
use super::value::WeighedScore;
use super::web::Web;
use crate::board::{accepting, balance, played};
use crate::hits::{DrawnBy, Unrest, Verdict};

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
    /// For whether the fight is over where a material search ends.
    pub settling: u64,
    /// The greatest depth of a material search, in plies.
    pub depth: u8,
}

impl Effort {
    /// With these nodes a judgement takes about a tenth of a second where the searches do three million
    /// nodes a second.
    pub const NODES: u64 = 100_000;

    /// `nodes` shared out: two fifths for a mate search, three tenths for a material search, a tenth for
    /// whether its end is settled, and a twenty-fifth for perpetual check.
    #[must_use]
    pub const fn of(nodes: u64) -> Effort {
        Effort {
            mate: nodes / 5 * 2,
            checks: nodes / 25,
            material: nodes / 10 * 3,
            settling: nodes / 10,
            depth: u8::MAX,
        }
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
/// One part in this many of a budget for mate goes to a first glance.
const PART_FOR_A_GLANCE: u64 = 4;
/// And one in this many to each of the defender's replies that a count speaks for.
const PART_FOR_A_REPLY: u64 = 4;
/// How many of the defender's replies are examined one by one.
const MOST_ROUNDS: usize = 4;

/// Judges offers. Holds the tables, so keep one for many offers; what it says about an offer does not depend
/// on the offers before.
pub struct Judge {
    pub(super) prover: Prover,
    pub(super) weigher: Weigher,
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
        let (attacker, before) = (pos.turn(), balance(pos, pos.turn()));
        let mut case = OfferCase { judge: self, attacker, before, web: Web::default(), nodes: 0 };
        let after = played(pos, offer);
        let accepting = accepting(pos, offer);
        let (accepts, declines): (Vec<Move>, Vec<Move>) =
            after.legal_moves().into_iter().partition(|m| accepting.contains(m));
        let accepted = case.outcome(&after, accepts);
        let declined = case.outcome(&after, declines);
        let both: Vec<Outcome> = accepted.iter().chain(&declined).cloned().collect();
        let overall = worst_of_kinds(&both).unwrap_or_else(|| case.finished(&after));
        let better = case.better(pos, offer, overall.verdict);
        let nodes = case.nodes;
        Judgement { accepted, declined, overall, better, nodes }
    }
}

/// One offer before the judge.
pub(super) struct OfferCase<'a> {
    pub(super) judge: &'a mut Judge,
    pub(super) attacker: Color,
    /// The attacker's balance before the offer.
    pub(super) before: i32,
    pub(super) web: Web,
    pub(super) nodes: u64,
}

impl OfferCase<'_> {
    /// The outcome when the offer itself ends the game.
    fn finished(&self, after: &Chess) -> Outcome {
        if after.is_check() {
            return Outcome { verdict: Verdict::Mates(1), ..Outcome::unknown() };
        }
        let (verdict, drawn_by) = (Verdict::Draws, Some(DrawnBy::Attacker));
        Outcome { verdict, drawn_by, ..Outcome::unknown() }
    }

    /// The outcome against the best of some replies; `None` if there are none.
    fn outcome(&mut self, after: &Chess, mut replies: Vec<Move>) -> Option<Outcome> {
        if let Some(mates) = self.glance(after, &replies) {
            return Some(mates);
        }
        let all = replies.clone();
        let mut outcomes = Vec::new();
        while !replies.is_empty() {
            let outcome = self.by_material(after, &replies);
            let reply = outcome.reply.filter(|_| outcomes.len() < MOST_ROUNDS);
            let saved = reply.and_then(|reply| self.saved(after, reply, &outcome));
            let is_final = saved.is_none();
            outcomes.push(saved.unwrap_or(outcome));
            if is_final {
                break;
            }
            replies.retain(|&m| Some(m) != reply);
        }
        let worst = worst_of(&outcomes)?;
        let is_promising =
            !matches!(worst.verdict, Verdict::Mates(_)) && worst.verdict.worth() >= 0;
        let mates = is_promising.then(|| self.mates(after, &all, LONGEST_MATE)).flatten();
        if mates.is_some() {
            return mates;
        }
        if worst.invites_a_draw() {
            return self.escape(after, &all).or(Some(worst));
        }
        Some(self.drawn_in_every_branch(after, &all, worst))
    }

    /// Mate against each of some replies, if it takes few nodes to find; then it is also worth more to find the
    /// shortest. Most offers do not mate; those that promise to are looked at again.
    fn glance(&mut self, after: &Chess, replies: &[Move]) -> Option<Outcome> {
        let nodes = self.judge.effort.mate / PART_FOR_A_GLANCE;
        let mates = self.mates_within(after, replies, LONGEST_MATE, nodes)?;
        if mates.may_be_sooner {
            return self.mates(after, replies, LONGEST_MATE).or(Some(mates));
        }
        Some(mates)
    }

    /// Mate against each of some replies.
    pub(super) fn mates(&mut self, after: &Chess, replies: &[Move], limit: u8) -> Option<Outcome> {
        self.mates_within(after, replies, limit, self.judge.effort.mate)
    }

    fn mates_within(
        &mut self,
        after: &Chess,
        replies: &[Move],
        limit: u8,
        nodes: u64,
    ) -> Option<Outcome> {
        let starts: Vec<Chess> = replies.iter().map(|&reply| played(after, reply)).collect();
        let mut budget = Budget::of(nodes);
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
        let nodes = self.judge.effort.mate / PART_FOR_A_REPLY;
        if let Some(mates) = self.mates_within(after, &[reply], LONGEST_MATE, nodes) {
            return Some(mates);
        }
        let after_reply = played(after, reply);
        if let Some(line) = self.draw_by_force(&after_reply) {
            return Some(Outcome::drawn(DrawnBy::Attacker, reply, &line));
        }
        let is_count_void =
            matches!(counted.verdict, Verdict::Down(_)) && self.is_attack_on(&after_reply);
        let (verdict, unrest) = (Verdict::Open, Some(Unrest::Attack));
        is_count_void.then(|| Outcome { verdict, unrest, ..counted.clone() })
    }

    /// Whether the attacker, to move, can go on to threaten mate.
    fn is_attack_on(&mut self, pos: &Chess) -> bool {
        let mut budget = Budget::of(self.judge.effort.mate / 2);
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
            WeighedScore::Pawns(_) => self.counted(after, &weighing),
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
}
