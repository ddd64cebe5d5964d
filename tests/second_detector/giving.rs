//! What a move gives up.

use cozy_chess::{Board, Piece, Square};

use super::exchange::{square_of_victim, winnable, winnable_by_waiting};
use super::rules::{Played, captured, gain, man_on, worth};

/// What a move gives up: every man that it offers, with what the loss of it costs over what the move
/// took.
pub(super) struct Giving {
    after: Board,
    /// Where the man stands that moved; when castling, the king.
    target: Square,
    nets: Vec<(Square, i32)>,
}

impl Giving {
    pub(super) fn of(offer: &Played) -> Self {
        let (after, target) = (offer.after(), offer.target());
        let hung = winnable_by_waiting(&offer.before);
        let stood = |square| offer.before.color_on(square) == Some(offer.before.side_to_move());
        let is_offered = |square| {
            let hung_before = hung.iter().any(|&(known, _)| known == square);
            square == target || (stood(square) && !hung_before)
        };
        let taken = gain(&offer.before, offer.mv);
        let nets = winnable(&after)
            .into_iter()
            .filter(|&(square, _)| is_offered(square))
            .map(|(square, loss)| (square, loss - taken))
            .collect();
        Self { after, target, nets }
    }

    pub(super) fn cost(&self) -> i32 {
        self.nets.iter().map(|&(_, net)| net).max().map_or(0, |most| most.max(0))
    }

    /// Where the man stands whose loss costs most: the one that moved, the one of greatest worth, the
    /// one on the lowest square.
    pub(super) fn square(&self) -> Square {
        let cost = self.cost();
        self.nets
            .iter()
            .filter(|&&(_, net)| net == cost && cost > 0)
            .map(|&(square, _)| square)
            .min_by_key(|&square| {
                (square != self.target, -worth(man_on(&self.after, square)), square as usize)
            })
            .unwrap_or(self.target)
    }

    /// The man that stands there.
    pub(super) fn man(&self) -> Piece {
        man_on(&self.after, self.square())
    }

    /// Whether the next move takes what is offered: that man, or another whose loss costs two or as
    /// much as that of the dearest.
    pub(super) fn is_accepted_by(&self, reply: &Played) -> bool {
        if captured(&reply.before, reply.mv).is_none() {
            return false;
        }
        let (cost, square) = (self.cost(), square_of_victim(&reply.before, reply.mv));
        if cost == 0 {
            return square == self.target;
        }
        self.nets.iter().any(|&(known, net)| known == square && net >= cost.min(2))
    }
}

/// What the side to move would lose at most by passing.
pub(super) fn hanging(board: &Board) -> i32 {
    winnable_by_waiting(board).into_iter().map(|(_, loss)| loss).max().unwrap_or(0)
}
