//! What an offer leaves to be taken, and which replies take it.
//!
//! This is the one meaning of *accepting*: tables of hits, verdicts and exercises share it.

use shakmaty::{Bitboard, Chess, Move, MoveList, Position, Square};

use super::exchange::newly_won;
use super::{captures_on, cost, destination, exposed, played};

/// What an exposed man must be worth, in pawns, for taking it to accept the offer.
const LEAST_EXPOSED: i32 = 2;

/// Where the men stand that an offer leaves to be taken: the man that moved, and each man that its move
/// exposes, if it is worth two pawns or more and no less than what is given up on the move's square.
///
/// `offer` must be legal in `pos`.
#[must_use]
pub fn offered(pos: &Chess, offer: Move) -> Bitboard {
    let least = least_exposed(pos, offer);
    let exposed = exposed(pos, offer).into_iter().filter(|&(_, gain)| gain >= least);
    exposed.map(|(square, _)| square).chain([destination(offer)]).collect()
}

/// The replies that accept an offer: those that take what is [`offered`].
///
/// `offer` must be legal in `pos`.
#[must_use]
pub fn accepting(pos: &Chess, offer: Move) -> MoveList {
    let offered = offered(pos, offer);
    let takes_offered =
        |reply: &Move| offered.into_iter().any(|square| captures_on(*reply, square));
    let mut replies = played(pos, offer).legal_moves();
    replies.retain(|reply| takes_offered(reply));
    replies
}

/// Whether a reply accepts an offer. The same as asking whether it is among the [`accepting`] ones, and
/// fast: only the man that it takes is looked at.
///
/// `offer` must be legal in `pos`, and `reply` after it.
#[must_use]
pub fn accepts(pos: &Chess, offer: Move, reply: Move) -> bool {
    if captures_on(reply, destination(offer)) {
        return true;
    }
    // A pawn taken in passing is worth too little.
    let taken = reply.is_capture().then(|| reply.to());
    taken.is_some_and(|square| is_exposed(pos, offer, square))
}

fn is_exposed(pos: &Chess, offer: Move, square: Square) -> bool {
    let after = played(pos, offer);
    let loss = newly_won(pos, &after, square);
    loss >= LEAST_EXPOSED && loss >= least_exposed(pos, offer)
}

fn least_exposed(pos: &Chess, offer: Move) -> i32 {
    cost(pos, offer).max(LEAST_EXPOSED)
}
