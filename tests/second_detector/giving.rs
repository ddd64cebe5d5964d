//! What a move gives up.

use cozy_chess::{Board, Piece, Square};

use super::exchange::{square_of_victim, winnable, winnable_by_waiting};
use super::rules::{Played, captured, gain, man_on, worth};

/// What a move gives up: every man that it offers, with what the loss of it costs over what the move
/// took.
pub(super) struct Giving {
    pub(super) after: Board,
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

/// Positions that are made up and were worked out by hand, but for the mate of [`LEFT_QUEEN`].
///
/// [`LEFT_QUEEN`]: crate::exchange::LEFT_QUEEN
#[test]
fn what_is_given_up_was_worked_out_by_hand() {
    let castling = "4k3/8/8/8/1b6/8/3N1PPP/4K2R w K - 0 1";
    let promoting = "r5k1/2P2ppp/8/8/8/8/5PPP/6K1 w - - 0 1";
    let pinned = "4k3/8/4p3/2bN4/2P5/4R3/8/6RK w - - 0 1";
    let checked = "8/1k2n3/1q1PKr1N/1p2R3/1p5P/8/8/8 w - - 0 1";
    let cases = [
        // The queen for a bishop and the pawn taken.
        (crate::exchange::LEFT_QUEEN, "Nxe5", Square::D1, 5, 0),
        // In passing; then with a rook that takes back; then with a knight that the pawn guarded.
        ("4k3/8/8/8/1p6/8/P7/4K3 w - - 0 1", "a4", Square::A4, 1, 0),
        ("4k3/8/8/8/1p6/8/P7/R3K3 w - - 0 1", "a4", Square::A4, 0, 0),
        ("4k3/5b2/8/8/1p6/1N6/P7/R3K3 w - - 0 1", "a4", Square::B3, 3, 0),
        (promoting, "c8=Q+", Square::C8, 1, 0),
        ("rn4k1/2P2ppp/8/8/8/8/5PPP/6K1 w - - 0 1", "cxb8=Q+", Square::B8, 0, 0),
        (castling, "O-O", Square::D2, 3, 0),
        ("7k/8/8/8/3b4/8/6PB/r6K w - - 0 1", "Bg1", Square::G1, 3, 0),
        ("N7/pkp5/8/8/8/8/8/6K1 w - - 0 1", "Nxc7", Square::C7, 2, 3),
        // Two bishops are left alone: the lower square, unless the knight itself can be taken.
        ("8/7k/8/8/3N4/1B1r1B2/8/6K1 w - - 0 1", "Nc6", Square::B3, 3, 3),
        ("6k1/8/1b1R1b2/3n4/8/8/7K/8 b - - 0 1", "Nc3", Square::B6, 3, 3),
        ("8/7k/p7/8/3N4/1B1r1B2/8/6K1 w - - 0 1", "Nb5", Square::B5, 3, 3),
        // A rook that stood behind another, a knight that only a pinned pawn attacked: the rook.
        (pinned, "Rh3", Square::G1, 2, 2),
        // In check, as well: what could be won before is not offered.
        (checked, "Kxe7", Square::E7, 0, 3),
    ];
    for (fen, san, square, cost, hung) in cases {
        let offer = super::games::position(fen, san);
        let giving = Giving::of(&offer);
        let found = (giving.square(), giving.cost(), hanging(&offer.before));
        assert_eq!(found, (square, cost, hung), "{san} in {fen}");
    }
}
