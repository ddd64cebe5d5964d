//! What an offer gives up on its square, by exchange over *legal* captures.
//!
//! A swap list that knows no pins says that a pinned defender recaptures; here every capture is played
//! on the board, so pins, discovered checks and promotions count. Values are the usual
//! pawn 1, knight 3, bishop 3, rook 5, queen 9 (common practice, no source).

use shakmaty::{Bitboard, Chess, Color, Move, Position, Role, Square};

/// The worth of a man in pawns; a king is never given up and counts 0.
#[must_use]
pub const fn pawns(role: Role) -> i32 {
    match role {
        Role::Pawn => 1,
        Role::Knight | Role::Bishop => 3,
        Role::Rook => 5,
        Role::Queen => 9,
        Role::King => 0,
    }
}

/// What a move takes and what it adds by promotion, in pawns.
fn immediate_gain(m: Move) -> i32 {
    let captured = m.capture().map_or(0, pawns);
    let promoted = m.promotion().map_or(0, |role| pawns(role) - pawns(Role::Pawn));
    captured + promoted
}

/// The balance of a move for the mover, in pawns, when both sides go on capturing on its square as
/// long as it pays them (exact minimax over legal captures).
///
/// `m` must be legal in `pos`.
#[must_use]
pub fn exchange(pos: &Chess, m: Move) -> i32 {
    let mut after = pos.clone();
    after.play_unchecked(m);
    immediate_gain(m) - best_capture(&after, m.to())
}

/// What the side to move wins by capturing on `square`, in pawns; 0 if capturing does not pay.
#[must_use]
pub fn best_capture(pos: &Chess, square: Square) -> i32 {
    best_capture_above(pos, square, 0, i32::MAX)
}

/// [`best_capture`], cut off as soon as the result is known to be `ceiling` or more. A result of
/// `floor` means "no more than that".
fn best_capture_above(pos: &Chess, square: Square, floor: i32, ceiling: i32) -> i32 {
    let mut best = floor;
    for role in capturing_roles(pos, square) {
        for m in captures_by(pos, role, square) {
            let gain = immediate_gain(m);
            if gain <= best {
                continue;
            }
            let mut after = pos.clone();
            after.play_unchecked(m);
            let answer = best_capture_above(&after, square, 0, gain - best);
            best = best.max(gain - answer);
            if best >= ceiling {
                return best;
            }
        }
    }
    best
}

/// The roles of the men that could capture on `square`, pins and checks aside, the pawn first.
fn capturing_roles(pos: &Chess, square: Square) -> impl Iterator<Item = Role> {
    let board = pos.board();
    let is_taken_in_passing = pos.maybe_ep_square() == Some(square);
    let is_possible = is_taken_in_passing || board.by_color(pos.turn().other()).contains(square);
    let from = if is_possible {
        board.attacks_to(square, pos.turn(), board.occupied())
    } else {
        Bitboard::EMPTY
    };
    Role::ALL.into_iter().filter(move |&role| !(from & board.by_role(role)).is_empty())
}

/// The legal captures on `square` by men of one role.
fn captures_by(pos: &Chess, role: Role, square: Square) -> impl Iterator<Item = Move> {
    pos.san_candidates(role, square).into_iter().filter(|m| m.is_capture())
}

/// What an offer gives up on its square, in pawns; 0 when nothing is given.
///
/// `m` must be legal in `pos`.
#[must_use]
pub fn cost(pos: &Chess, m: Move) -> i32 {
    let mut after = pos.clone();
    after.play_unchecked(m);
    cost_behind(m, &after)
}

/// [`cost`], from the position after the offer.
#[must_use]
pub fn cost_behind(m: Move, after: &Chess) -> i32 {
    if m.is_castle() { 0 } else { (best_capture(after, m.to()) - immediate_gain(m)).max(0) }
}

/// Whether a move may cost something, told before it is made: some man of the other side looks at its
/// square, and the man that goes there is worth more than what it takes. Never wrongly no.
#[must_use]
pub fn may_cost(pos: &Chess, m: Move) -> bool {
    let Some(from) = m.from() else { return false };
    let (board, to) = (pos.board(), m.to());
    let is_bargain = m.capture().is_some_and(|taken| pawns(taken) >= pawns(m.role()));
    let may_promote = Bitboard::BACKRANKS.contains(to);
    let occupied = board.occupied().without(from);
    (may_promote || !is_bargain) && !board.attacks_to(to, pos.turn().other(), occupied).is_empty()
}

/// What the defender can now win of a man other than the one that moved, and could not win before,
/// in pawns: the greatest such gain, and 0 if there is none.
///
/// `m` must be legal in `pos`.
#[must_use]
pub fn uncovered(pos: &Chess, m: Move) -> i32 {
    let mut after = pos.clone();
    after.play_unchecked(m);
    let attacker: Color = pos.turn();
    let moved_to = super::destination(m);
    let bystanders = after.board().by_color(attacker) & !Bitboard::from_square(moved_to);
    let without_the_move = pos.clone().swap_turn().ok();
    let was_safe =
        |square| without_the_move.as_ref().is_none_or(|before| best_capture(before, square) == 0);
    bystanders
        .into_iter()
        .map(|square| (square, best_capture(&after, square)))
        .filter(|&(square, gain)| gain > 0 && was_safe(square))
        .map(|(_, gain)| gain)
        .max()
        .unwrap_or(0)
}
