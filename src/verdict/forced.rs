//! Which kind of sacrifice an offer is by force: what taking it leads to, whether it was taken or not.

use std::iter::once;

use shakmaty::{Chess, Move, Position};

use super::judgement::{Judgement, Outcome};
use crate::board::{MaterialCourse, Offered, Replay, SacrificeKind, played};
use crate::hits::Verdict;

impl Judgement {
    /// The kind of sacrifice against the best reply that takes, whether or not another reply is better:
    /// what is given up can always be taken. `None` if it is not known.
    ///
    /// The judgement must be on this offer, which must be legal in the position before it.
    #[must_use]
    pub fn forced_kind(&self, before: &Chess, offer: Move) -> Option<SacrificeKind> {
        let offered = Offered::by(before, offer, &played(before, offer));
        let at_once = SacrificeKind::at_once(before, offer, &offered);
        at_once.or_else(|| self.accepted.as_ref()?.kind_of_taken(before, offer))
    }
}

impl Outcome {
    /// The kind of an offer that is taken in this way.
    fn kind_of_taken(&self, before: &Chess, offer: Move) -> Option<SacrificeKind> {
        let line: Vec<Move> = once(offer).chain(self.line.iter().copied()).collect();
        let balances = Replay::of(before, &line).balances();
        let course = MaterialCourse {
            balances: &balances,
            offer: 0,
            attacker: before.turn(),
            is_won: false,
        };
        let kind = SacrificeKind::of_part(&course);
        match self.verdict {
            Verdict::Mates(_) => Some(SacrificeKind::Sham),
            Verdict::Mated(_) => Some(SacrificeKind::Real),
            // A draw by force can be foreseen, and yet brings nothing back.
            Verdict::Draws => kind.filter(|&kind| kind == SacrificeKind::Sham),
            Verdict::Gains(_) | Verdict::Level | Verdict::Down(_) => kind,
            Verdict::Open => None,
        }
    }
}
