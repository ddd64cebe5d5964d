//! A hit: one offer found in one game by one query, with everything the tables say of it.

use std::cell::LazyCell;
use std::sync::Arc;

use shakmaty::{Chess, Move, Position, Role, Square};

use super::holding::holds;
use super::matcher::{Offer, offer_goes_on};
use super::offer_record::OfferRecord;
use super::watch::Watch;
use crate::board::{Replay, View, destination, played};
use crate::query::{Condition, Lens, Moment, Pattern, Shift};

/// One offer found in one game by one query.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Hit {
    /// The index of the query in the run.
    pub query: usize,
    /// Who offers, and on which wing.
    pub view: View,
    /// What the letters of the query stand for, if not for the files as written.
    pub shift: Option<Shift>,
    /// The offer; hits of several queries at one move share it.
    pub offer: Arc<OfferRecord>,
    /// Where the king that took what was offered goes with its very next move, in the attacker's view.
    pub king_goes: Option<Square>,
    /// Where the king goes at the first check after the offer was accepted, in the attacker's view.
    pub king_after_check: Option<Square>,
    /// The ply of each follow-up of the query, in its order.
    pub follow_ups: Vec<Option<usize>>,
    /// Whether each factor of the query held, in its order.
    pub factors: Vec<bool>,
}

impl Hit {
    /// Judges a move that fits the offer of a lens of a pattern on the board: whether it is a hit, and
    /// what there is to say of it. `watch` is the lens's in this game.
    pub(super) fn judge(
        offer: Offer,
        pattern: &Pattern,
        replay: &Replay,
        watch: &mut Watch<'_>,
        record: impl FnOnce() -> Arc<OfferRecord>,
    ) -> Option<Hit> {
        let Offer { seen, index } = offer;
        let lens = &pattern.lenses[seen.lens];
        if !offer_goes_on(lens, replay, index) {
            return None;
        }
        let requires = pattern.query.requires.iter().map(|(_, requirement)| requirement);
        if !watch.all_met(requires, replay, index) {
            return None;
        }
        let follow_ups = watch.after(replay, index);
        let offer = record();
        let is_accepted = offer.is_accepted() == Some(true);
        let seen_if_accepted = |find: fn(&Replay, usize) -> Option<Square>| {
            is_accepted.then(|| find(replay, index)).flatten().map(|square| lens.view.turn(square))
        };
        Some(Hit {
            query: seen.query,
            view: lens.view,
            shift: lens.shift,
            offer,
            king_goes: seen_if_accepted(king_goes),
            king_after_check: seen_if_accepted(king_after_check),
            follow_ups: follow_ups.into_iter().map(|found| found.map(|index| index + 1)).collect(),
            factors: factors(lens, &replay.positions[index], || {
                replay.positions[index + 1].clone()
            }),
        })
    }

    /// The hit of an offer that was overlooked.
    pub(super) fn overlooked(
        query: usize,
        lens: &Lens,
        pos: &Chess,
        m: Move,
        offer: Arc<OfferRecord>,
    ) -> Hit {
        Hit {
            query,
            view: lens.view,
            shift: lens.shift,
            offer,
            king_goes: None,
            king_after_check: None,
            follow_ups: vec![None; lens.follow_ups.len()],
            factors: factors(lens, pos, || played(pos, m)),
        }
    }
}

/// Whether each factor of a lens holds in the position of the offer, or in the one after it.
fn factors(lens: &Lens, pos: &Chess, after: impl FnOnce() -> Chess) -> Vec<bool> {
    let after = LazyCell::new(after);
    let holds_then = |(condition, moment): (&Condition, &Moment)| match moment {
        Moment::Before => holds(condition, lens.view, pos),
        Moment::After => holds(condition, lens.view, &after),
    };
    lens.factors.iter().zip(&lens.moments).map(holds_then).collect()
}

/// Where the king that accepted an offer goes with the defender's next move, if that is the king's.
fn king_goes(replay: &Replay, offer: usize) -> Option<Square> {
    let [reply, next] = [1, 3].map(|later| replay.moves.get(offer + later));
    let by_king = |m: &&Move| m.role() == Role::King;
    reply.filter(by_king).and(next.filter(by_king)).copied().map(destination)
}

/// Where the king goes in reply to the attacker's first check after the offer was accepted, if it is
/// the king that replies.
fn king_after_check(replay: &Replay, offer: usize) -> Option<Square> {
    let mut checks = (offer + 2..replay.moves.len()).step_by(2);
    let check = checks.find(|&index| replay.positions[index + 1].is_check())?;
    let reply = *replay.moves.get(check + 1)?;
    (reply.role() == Role::King).then(|| destination(reply))
}
