//! What can be won on a square, by exchange over *legal* captures.
//!
//! A swap list that knows no pins says that a pinned defender recaptures; here every capture is made on
//! a board and counts only if it leaves the own king safe, so pins, discovered checks and promotions
//! count. (A capture in passing never lands on a man's square, so it has no part in an exchange.) Values
//! are the usual pawn 1, knight 3, bishop 3, rook 5, queen 9 (common practice, no source).

use std::cell::LazyCell;

use shakmaty::{Bitboard, Board, Chess, Color, Move, Position, Role, Square, attacks};

use super::played;
use super::touched::{lines_through, sliders_towards};

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
#[inline]
#[must_use]
pub fn gain(m: Move) -> i32 {
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
    let after = played(pos, m);
    gain(m) - best_capture(after.board(), after.turn(), m.to())
}

/// What `side` wins by capturing the man on `square`, in pawns; 0 if capturing does not pay.
#[must_use]
pub fn best_capture(board: &Board, side: Color, square: Square) -> i32 {
    best_up_to(board, side, square, i32::MAX)
}

/// Whether `side` wins something by capturing the man on `square`.
#[must_use]
pub(super) fn can_be_won(board: &Board, side: Color, square: Square) -> bool {
    best_up_to(board, side, square, 1) > 0
}

/// What `side` wins by capturing the man on `square`, cut off as soon as that is known to be `ceiling` or more.
fn best_up_to(board: &Board, side: Color, square: Square, ceiling: i32) -> i32 {
    match board.piece_at(square) {
        Some(taken) if taken.color != side && taken.role != Role::King => {
            let exchange = Exchange { board, square };
            exchange.best(side, taken.role, board.occupied(), ceiling)
        }
        _ => 0,
    }
}

/// Whether `side`, whose move it is, may win the man on `square`, seen at a glance. Never wrongly no.
///
/// Nothing can be won if the other side can take back every time, the least valuable man first, and what it
/// loses that way is never worth more than what it takes.
#[must_use]
pub(super) fn may_be_won(board: &Board, side: Color, square: Square) -> bool {
    let Some(man) = board.role_at(square).filter(|&man| man != Role::King) else { return false };
    let (occupied, enemy) = (board.occupied(), side.other());
    let takers = board.attacks_to(square, side, occupied);
    if takers.is_empty() {
        return false;
    }
    let all_guards = board.attacks_to(square, enemy, occupied);
    // Men in line with their own king and a line piece of the other side may be pinned, and one that captures may
    // discover a check.
    let in_line = board
        .king_of(enemy)
        .map_or(Bitboard::EMPTY, |king| lines_through(king, sliders_towards(board, side, king)));
    let guards = all_guards & !in_line;
    if guards.is_empty() {
        return true;
    }
    // Those that stand behind the first ones.
    let behind = board.attacks_to(square, side, occupied & !(takers | all_guards));
    let further = board.attacks_to(square, side, occupied & !(behind | all_guards));
    let is_simple = behind == further
        && (behind & in_line).is_empty()
        && !Bitboard::BACKRANKS.contains(square)
        && behind.count() <= guards.count();
    !is_simple || pays(board, man, behind, guards)
}

/// Whether capturing may pay if the other side takes back every time: `takers` and `guards`, of which there are
/// no fewer, capture in turn, the least valuable first. A king can only come last.
fn pays(board: &Board, man: Role, takers: Bitboard, guards: Bitboard) -> bool {
    const KING: i32 = 100;
    let worth = |role: Role| if role == Role::King { KING } else { pawns(role) };
    let by_worth = |men: Bitboard| {
        Role::ALL
            .into_iter()
            .flat_map(move |role| (men & board.by_role(role)).into_iter().map(move |_| worth(role)))
    };
    let mut won = worth(man);
    for (taker, guard) in by_worth(takers).zip(by_worth(guards)) {
        won -= taker;
        if won > 0 {
            return true;
        }
        won += guard;
    }
    false
}

/// An exchange on a square. The men of `board` stand where they stood when it began; which of them have
/// not moved to the square yet is told by the occupied squares.
#[derive(Clone, Copy)]
struct Exchange<'b> {
    board: &'b Board,
    square: Square,
}

impl Exchange<'_> {
    /// What `side` wins by taking the man on the square and going on as long as it pays, cut off as soon as
    /// that is known to be `ceiling` or more.
    fn best(self, side: Color, taken: Role, occupied: Bitboard, ceiling: i32) -> i32 {
        let takers = self.attackers(self.square, side, occupied);
        if takers.is_empty() {
            return 0;
        }
        let guard = LazyCell::new(|| KingGuard::of(self, side, occupied));
        let is_on_edge = Bitboard::BACKRANKS.contains(self.square);
        let mut best = 0;
        for role in Role::ALL {
            for from in takers & self.board.by_role(role) {
                for &becomes in men_after(role, self.square) {
                    let gain = pawns(taken) + pawns(becomes) - pawns(role);
                    if gain <= best {
                        continue;
                    }
                    if !guard.may_leave(from, role) {
                        break;
                    }
                    // All that can be lost again is the man that takes, unless a pawn becomes another man.
                    let least = gain - pawns(becomes);
                    if least >= ceiling && !is_on_edge {
                        return least;
                    }
                    let left = occupied.without(from);
                    best = best.max(gain - self.best(side.other(), becomes, left, gain - best));
                    if best >= ceiling {
                        return best;
                    }
                }
            }
        }
        best
    }

    /// The men of a side that attack a square and do not stand on that of the exchange.
    fn attackers(self, square: Square, side: Color, occupied: Bitboard) -> Bitboard {
        self.board.attacks_to(square, side, occupied) & occupied.without(self.square)
    }
}

/// Which men of a side may capture without leaving their king in check.
struct KingGuard<'b> {
    exchange: Exchange<'b>,
    king: Option<Square>,
    enemy: Color,
    occupied: Bitboard,
    /// Whether the king is attacked by a man that is not on the square of the exchange.
    is_in_check: bool,
}

impl<'b> KingGuard<'b> {
    fn of(exchange: Exchange<'b>, side: Color, occupied: Bitboard) -> KingGuard<'b> {
        let (king, enemy) = (exchange.board.king_of(side), side.other());
        let is_attacked = |king| !exchange.attackers(king, enemy, occupied).is_empty();
        let is_in_check = king.is_some_and(is_attacked);
        KingGuard { exchange, king, enemy, occupied, is_in_check }
    }

    fn may_leave(&self, from: Square, role: Role) -> bool {
        let Some(king) = self.king else { return true };
        let is_safe = |king: Square| {
            let left = self.occupied.without(from);
            self.exchange.attackers(king, self.enemy, left).is_empty()
        };
        match role {
            Role::King => is_safe(self.exchange.square),
            _ if self.is_in_check => false,
            _ => !lines_from(king).contains(from) || is_safe(king),
        }
    }
}

/// The squares in line with a square.
fn lines_from(square: Square) -> Bitboard {
    attacks::queen_attacks(square, Bitboard::EMPTY)
}

/// What a man may be once it has come to a square: a pawn on a last rank another man, the best first.
fn men_after(role: Role, square: Square) -> &'static [Role] {
    const ITSELF: [[Role; 1]; 6] =
        [[Role::Pawn], [Role::Knight], [Role::Bishop], [Role::Rook], [Role::Queen], [Role::King]];
    if role == Role::Pawn && Bitboard::BACKRANKS.contains(square) {
        &[Role::Queen, Role::Rook, Role::Bishop, Role::Knight]
    } else {
        &ITSELF[role as usize - 1]
    }
}
