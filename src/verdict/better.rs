//! Whether another move was better than an offer.

use shakmaty::{Chess, Move, Position};

use super::budget::Budget;
use super::judge::{LONGEST_MATE, OfferCase};
use super::judgement::Better;
use crate::board::played;
use crate::hits::Verdict;

impl OfferCase<'_> {
    /// Whether another move was better than the offer, whose verdict is `verdict`.
    pub(super) fn better(&mut self, pos: &Chess, offer: Move, verdict: Verdict) -> Better {
        if let Some(better) = self.better_mate(pos, offer, verdict) {
            return better;
        }
        let mut others: Vec<Move> = pos.legal_moves().into_iter().collect();
        others.retain(|&m| m != offer);
        match verdict {
            Verdict::Mates(_) => return Better::No,
            Verdict::Open => return Better::Unknown,
            Verdict::Mated(_) if self.are_mated(pos, &others) => return Better::AllMated,
            _ => {}
        }
        if others.is_empty() {
            return Better::No;
        }
        let Some(weighing) = self.weigh(pos, &others) else {
            return Better::Unknown;
        };
        let best = self.counted(pos, &weighing);
        let is_open = best.verdict == Verdict::Open && !best.invites_a_draw();
        match best.reply {
            _ if is_open => Better::Unknown,
            Some(m) if best.verdict.worth() > verdict.worth() || best.invites_a_draw() => {
                self.surely_better(pos, m, verdict)
            }
            _ => Better::No,
        }
    }

    /// A move that seems better than `verdict`, weighed alone: one ply deeper, and against a draw forced by
    /// the defender.
    fn surely_better(&mut self, pos: &Chess, m: Move, verdict: Verdict) -> Better {
        let after = played(pos, m);
        let replies = after.legal_moves();
        let counted = self.by_material(&after, &replies);
        let escape = counted.invites_a_draw().then(|| self.escape(&after, &replies)).flatten();
        let worst = escape.unwrap_or(counted);
        if worst.verdict == Verdict::Open || worst.verdict.worth() <= verdict.worth() {
            return Better::Unknown;
        }
        let line = [&[m], &worst.line[..]].concat();
        Better::Yes { m, verdict: worst.verdict, line }
    }

    /// Whether the defender mates after each of these moves.
    fn are_mated(&mut self, pos: &Chess, moves: &[Move]) -> bool {
        if moves.is_empty() {
            return true;
        }
        let starts: Vec<Chess> = moves.iter().map(|&m| played(pos, m)).collect();
        let mut budget = Budget::of(self.judge.effort.mate);
        let mate = self.judge.prover.mate_in_each(&starts, LONGEST_MATE, &mut budget);
        self.nodes += budget.used();
        mate.is_some()
    }

    /// The answer of the mate search, if it has one.
    fn better_mate(&mut self, pos: &Chess, offer: Move, verdict: Verdict) -> Option<Better> {
        let limit = match verdict {
            Verdict::Mates(moves) => moves - 1,
            _ => LONGEST_MATE,
        };
        let mut budget = Budget::of(self.judge.effort.mate / 2);
        let mate = self.judge.prover.mate(pos, limit, &mut budget);
        self.nodes += budget.used();
        let mate = mate?;
        let m = *mate.line.first()?;
        if m == offer {
            return Some(Better::No);
        }
        Some(Better::Yes { m, verdict: Verdict::Mates(mate.moves), line: mate.line })
    }
}
