//! Which replies accept an offer.

use shakmaty::{Chess, Move, MoveList, Position, Square};

use super::checks::played;
use crate::board::{captures_on, cost, destination, exposed};

/// What an exposed man must be worth, in pawns, for taking it to accept the offer.
const LEAST_EXPOSED: i32 = 2;

/// The replies that take what is offered: the man that moved, or a man that its move exposes, if that is
/// worth two pawns or more and no less than what is given up on the move's square.
///
/// `offer` must be legal in `pos`.
#[must_use]
pub fn accepting(pos: &Chess, offer: Move) -> MoveList {
    let least = cost(pos, offer).max(LEAST_EXPOSED);
    let exposed = exposed(pos, offer).into_iter().filter(|(_, gain)| *gain >= least);
    let offered: Vec<Square> =
        exposed.map(|(square, _)| square).chain([destination(offer)]).collect();
    let takes_offered = |m: &Move| offered.iter().any(|&square| captures_on(*m, square));
    let mut replies = played(pos, offer).legal_moves();
    replies.retain(|m| takes_offered(m));
    replies
}
