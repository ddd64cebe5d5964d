//! What a move offers, what that costs, and which replies take it.
//!
//! This is the one meaning of *offering* and *accepting*: queries, tables of hits, verdicts and exercises
//! share it.

use shakmaty::{Bitboard, Board, Chess, Color, Move, MoveList, Position, Role, Square};

use super::exchange::{can_be_won, may_be_won};
use super::touched::touched;
use super::{attacked, best_capture, captures_on, destination, gain, pawns, played};

/// What the least of several offered men must cost, in pawns, for taking it to accept the offer.
const LEAST_OFFERED: i32 = 2;

/// What a move leaves to be taken.
///
/// A man is offered if what the defender nets by taking it is more than what the move took: the man that
/// moved, or another one that the defender could not have won before, had it been the defender's move.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Offered {
    /// What the best capture of the man that is given up nets the defender over what the move took, in
    /// pawns; 0 if nothing is given up.
    pub cost: i32,
    /// The man that is given up: the one that costs most, or the one that moved if none costs anything.
    pub man: Role,
    /// Where it stands after the move.
    pub square: Square,
    /// Where the men stand of which taking one accepts the offer.
    pub men: Bitboard,
}

impl Offered {
    /// What a move offers. `m` must be legal in `before`, and `after` the position after it.
    ///
    /// Of several men that cost the same, the one that moved is given up, or else the most valuable, or
    /// else the one on the first square from a1 to h8.
    #[must_use]
    pub fn by(before: &Chess, m: Move, after: &Chess) -> Offered {
        Offered::among(at_risk(before, m, after), before, m, after)
    }

    /// The same if it is known already which men are [`at_risk`].
    #[must_use]
    pub fn among(at_risk: Bitboard, before: &Chess, m: Move, after: &Chess) -> Offered {
        let square = destination(m);
        let nothing = Offered {
            cost: 0,
            man: m.promotion().unwrap_or(m.role()),
            square,
            men: Bitboard::from_square(square),
        };
        let costs: Vec<Costly> = costly_men(at_risk, before, m, after).collect();
        let Some(given_up) = costs.iter().max_by_key(|one| one.rank()) else { return nothing };
        let least = given_up.cost.min(LEAST_OFFERED);
        Offered {
            cost: given_up.cost,
            man: given_up.man,
            square: given_up.square,
            men: costs.iter().filter(|one| one.cost >= least).map(|one| one.square).collect(),
        }
    }

    /// Whether a reply to the offer accepts it.
    #[must_use]
    pub fn is_accepted_by(&self, reply: Move) -> bool {
        self.men.into_iter().any(|square| captures_on(reply, square))
    }
}

/// A man that costs something.
#[derive(Clone, Copy)]
struct Costly {
    cost: i32,
    man: Role,
    square: Square,
    has_moved: bool,
}

impl Costly {
    /// The higher, the sooner it is the man that is given up.
    fn rank(&self) -> (i32, bool, i32, std::cmp::Reverse<Square>) {
        (self.cost, self.has_moved, pawns(self.man), std::cmp::Reverse(self.square))
    }
}

/// The men of which a move may offer one, seen at a glance. None that is [`Offered`] is left out.
#[must_use]
pub fn at_risk(before: &Chess, m: Move, after: &Chess) -> Bitboard {
    let men = may_cost_more_than(0, m, after.board(), before.turn());
    losable_newly(before, m, after, men).collect()
}

/// The men of the side that makes the move `m` that may cost more than this many pawns over what it takes; a pawn
/// that captures on a last rank may win more than the man there.
#[must_use]
pub fn may_cost_more_than(cost: i32, m: Move, after: &Board, side: Color) -> Bitboard {
    let least = cost.saturating_add(gain(m));
    let roles = Role::ALL.into_iter().filter(|&role| pawns(role) > least);
    let men = roles.fold(Bitboard::BACKRANKS, |all, role| all | after.by_role(role));
    men & after.by_color(side)
}

/// The men that a move offers, of those that are at risk.
fn costly_men<'p>(
    at_risk: Bitboard,
    before: &'p Chess,
    m: Move,
    after: &'p Chess,
) -> impl Iterator<Item = Costly> {
    let (board, taken, moved_to) = (after.board(), gain(m), destination(m));
    at_risk.into_iter().filter_map(move |square| {
        let man = board.role_at(square)?;
        let cost = loss(after, m, square) - taken;
        let has_moved = square == moved_to;
        let is_offered = cost > 0 && (has_moved || !could_be_won(before, square));
        is_offered.then_some(Costly { cost, man, square, has_moved })
    })
}

/// Which of these men of the attacker the defender may win after the move `m` and could not before, seen at
/// a glance. None is left out.
fn losable_newly(
    before: &Chess,
    m: Move,
    after: &Chess,
    men: Bitboard,
) -> impl Iterator<Item = Square> {
    let men = takeable(after, m, men);
    let men = if men.is_empty() { men } else { men & touched(before, m, after) };
    losable(after, m, men)
}

/// Which of these men of the attacker the defender may win after the move `m`, seen at a glance. None is
/// left out.
fn losable(after: &Chess, m: Move, men: Bitboard) -> impl Iterator<Item = Square> {
    let (board, defender) = (after.board(), after.turn());
    let in_passing = after.maybe_ep_square().map(|_| destination(m));
    men.into_iter()
        .filter(move |&square| may_be_won(board, defender, square) || in_passing == Some(square))
}

/// Which of these men of the attacker a man of the defender attacks after the move `m`.
fn takeable(after: &Chess, m: Move, men: Bitboard) -> Bitboard {
    let in_passing = after.maybe_ep_square().map(|_| destination(m));
    men & (attacked(after.board(), after.turn()) | Bitboard::from_iter(in_passing))
}

/// What the defender wins by taking the man on a square after the move `m`, in pawns.
fn loss(after: &Chess, m: Move, square: Square) -> i32 {
    let on_square = best_capture(after.board(), after.turn(), square);
    let is_double_step = square == destination(m) && after.maybe_ep_square().is_some();
    if is_double_step { on_square.max(loss_in_passing(after)) } else { on_square }
}

/// What the side to move wins by taking in passing, in pawns.
fn loss_in_passing(pos: &Chess) -> i32 {
    let won = pos.en_passant_moves().into_iter().map(|capture| {
        let after = played(pos, capture);
        gain(capture) - best_capture(after.board(), after.turn(), capture.to())
    });
    won.max().unwrap_or(0)
}

/// Whether the side that is not to move could win the man on a square if it were.
fn could_be_won(pos: &Chess, square: Square) -> bool {
    can_be_won(pos.board(), pos.turn().other(), square)
}

/// What a move gives up, in pawns; 0 if nothing. See [`Offered`].
///
/// `m` must be legal in `pos`.
#[must_use]
pub fn cost(pos: &Chess, m: Move) -> i32 {
    Offered::by(pos, m, &played(pos, m)).cost
}

/// The replies that accept an offer: those that take a man that is [`Offered`].
///
/// `offer` must be legal in `pos`.
#[must_use]
pub fn accepting(pos: &Chess, offer: Move) -> MoveList {
    let after = played(pos, offer);
    let offered = Offered::by(pos, offer, &after);
    let mut replies = after.legal_moves();
    replies.retain(|reply| offered.is_accepted_by(*reply));
    replies
}

/// What the side to move would lose by passing: the most that the other side could win of one man, in
/// pawns.
#[must_use]
pub fn hanging(pos: &Chess) -> i32 {
    let (board, defender) = (pos.board(), pos.turn().other());
    let men = board.by_color(pos.turn()) & attacked(board, defender);
    men.into_iter().map(|square| best_capture(board, defender, square)).max().unwrap_or(0)
}

/// Whether what an offer costs was lost anyway: no other legal move of the position loses less.
///
/// `offer` must be legal in `pos`, and `cost` what it costs.
#[must_use]
pub fn is_lost_anyway(pos: &Chess, offer: Move, cost: i32) -> bool {
    let loses_less = |m: Move| {
        let after = played(pos, m);
        let men = may_cost_more_than(cost - 1, m, after.board(), pos.turn());
        let mut losses = losable(&after, m, takeable(&after, m, men));
        losses.all(|square| loss(&after, m, square) - gain(m) < cost)
    };
    !pos.legal_moves().into_iter().any(|m| m != offer && loses_less(m))
}

/// The men other than the one that moved which the defender can now win and could not win before, each
/// with what the defender wins, in pawns. What could be won before is counted as if it had been the
/// defender's move then.
///
/// `m` must be legal in `pos`.
pub fn exposed(pos: &Chess, m: Move) -> Vec<(Square, i32)> {
    let after = played(pos, m);
    let bystanders = after.board().by_color(pos.turn()).without(destination(m));
    losable_newly(pos, m, &after, bystanders)
        .filter(|&square| !could_be_won(pos, square))
        .map(|square| (square, best_capture(after.board(), after.turn(), square)))
        .filter(|&(_, gain)| gain > 0)
        .collect()
}

/// The most that the defender can now win of a man other than the one that moved, and could not win
/// before, in pawns; 0 if there is none. See [`exposed`].
///
/// `m` must be legal in `pos`.
#[must_use]
pub fn uncovered(pos: &Chess, m: Move) -> i32 {
    exposed(pos, m).into_iter().map(|(_, gain)| gain).max().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::{en_prise, read_position};

    /// The rook gives check, so the knight could not take back on d4; without the rook it could.
    #[test]
    fn guards_of_a_side_in_check_guard_nothing() {
        let d4 = Bitboard::from_square(Square::D4);
        for (rook, won, hangs) in [("4r1k1", d4, 1), ("6k1", Bitboard::EMPTY, 0)] {
            let fen = format!("{rook}/6b1/8/8/3P4/5N2/8/4K3 w - - 0 1");
            let pos = read_position(&fen).expect("a position");
            assert_eq!(en_prise(pos.board(), Color::White, d4), won, "{fen}");
            assert_eq!(hanging(&pos), hangs, "{fen}");
        }
    }
}
