//! Queries that look at every move of every game, whoever moves wherever: those that find a man given up.
//!
//! What they ask cannot be seen in the movetext. So no gate stands before them but a quick look at the
//! board: whether a man of the kinds they ask for can have been left to be taken.

use shakmaty::{Bitboard, Position};

use super::matcher::{GameStep, is_offer};
use crate::board::Men;
use crate::query::{Lens, LensId, Pattern, Squares};

/// The queries that look at every move.
#[derive(Debug, Default)]
pub(super) struct Sweep {
    /// The lenses of White's offers and of Black's.
    lenses: [Vec<LensId>; 2],
    /// The kinds of men that they ask for.
    men: [Men; 2],
}

impl Sweep {
    pub(super) fn of(patterns: &[Pattern]) -> Sweep {
        let mut sweep = Sweep::default();
        for (query, pattern) in patterns.iter().enumerate().filter(|(_, it)| sweeps(it)) {
            for (lens, seen) in pattern.lenses.iter().enumerate() {
                let attacker = seen.view.attacker as usize;
                sweep.lenses[attacker].push(LensId { query, lens });
                sweep.men[attacker] =
                    sweep.men[attacker].or(seen.offer.offering.unwrap_or(Men::ANY));
            }
        }
        sweep
    }

    /// Whether there is no such query.
    pub(super) fn is_empty(&self) -> bool {
        self.lenses.iter().all(Vec::is_empty)
    }

    /// The lenses of which a move is an offer.
    pub(super) fn offers<'s>(
        &'s self,
        patterns: &'s [Pattern],
        step: &'s GameStep<'_>,
    ) -> impl Iterator<Item = LensId> + 's {
        let attacker = step.before.turn() as usize;
        let lenses = &self.lenses[attacker];
        let is_worth_a_look = !lenses.is_empty() && step.may_give_up(1, self.men[attacker]);
        let lenses = if is_worth_a_look { &lenses[..] } else { &[] };
        let fits = |id: &&LensId| is_offer(&patterns[id.query].lenses[id.lens], step);
        lenses.iter().filter(fits).copied()
    }
}

/// Whether a query asks for a man given up, and neither who moves nor where.
pub(super) fn sweeps(pattern: &Pattern) -> bool {
    pattern.lenses.iter().all(|lens| {
        let offer = &lens.offer;
        offer.men == Men::ANY
            && offer.offering.is_some()
            && offer.giving_up.is_some_and(|range| range.least > 0)
            && [false, true].iter().all(|&is_capture| offer.targets(is_capture) == Squares::ALL)
            && is_anywhere(lens)
    })
}

fn is_anywhere(lens: &Lens) -> bool {
    lens.king_squares == Bitboard::FULL && lens.stand.is_empty()
}
