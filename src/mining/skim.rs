//! Plays a game on the board without asking whether its moves are legal, and looks for offers.
//!
//! Most candidates hold no offer, and generating legal moves is what costs time in a replay. In a legal
//! game a move that only one man can make, pins aside, is made by that man; so a game is skimmed first
//! and only one with an offer, or one that can't be skimmed, is replayed move by legal move.
//!
//! Invariant: a legal game in which nothing is found here holds no offer.

use shakmaty::san::San;
use shakmaty::{Bitboard, Board, Chess, Color, Move, Position, Role, Square, attacks};

use super::matcher::Step;
use super::rehearsal::is_offer;
use crate::collection::MoveToken;
use crate::query::Pattern;

/// An offer that fits a lens as far as can be told when it is played.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Offer {
    /// The index of the pattern.
    pub(super) query: usize,
    /// The index of its lens.
    pub(super) lens: usize,
    /// The index of the move.
    pub(super) index: usize,
}

/// The offers among a move's fits: one for each pattern and lens.
pub(super) fn offers_at<'p>(
    patterns: &'p [Pattern],
    step: Step<'p>,
    index: usize,
) -> impl Iterator<Item = Offer> + 'p {
    let attacker = step.before.turn();
    patterns.iter().enumerate().flat_map(move |(query, pattern)| {
        let lenses = pattern.lenses.iter().enumerate();
        lenses
            .filter(move |(_, lens)| lens.view.attacker == attacker && is_offer(lens, step))
            .map(move |(lens, _)| Offer { query, lens, index })
    })
}

/// The offers among the candidate moves of a game; `None` if a move before the last of them can't be
/// made.
pub(super) fn skim(
    patterns: &[Pattern],
    start: &Chess,
    movetext: &[u8],
    tokens: &[MoveToken],
    candidates: &[usize],
) -> Option<Vec<Offer>> {
    let mut offers = Vec::new();
    let mut pos = start.clone();
    let mut played = 0;
    for &candidate in candidates {
        for token in &tokens[played..candidate] {
            let m = the_move(&pos, token.text(movetext))?;
            pos.play_unchecked(m);
        }
        let before = pos.clone();
        let m = the_move(&before, tokens[candidate].text(movetext))?;
        pos.play_unchecked(m);
        played = candidate + 1;
        let step = Step { before: &before, m, after: &pos, next: None };
        offers.extend(offers_at(patterns, step, candidate));
    }
    Some(offers)
}

/// The move that a SAN must mean if it means a legal one.
fn the_move(pos: &Chess, san: &[u8]) -> Option<Move> {
    let san = San::from_ascii(without_check_mark(san)).ok()?;
    let San::Normal { role, file, rank, capture, to, promotion } = san else {
        return san.to_move(pos).ok();
    };
    let board = pos.board();
    let mut from = origins(board, pos.turn(), role, capture, to);
    from &= file.map_or(Bitboard::FULL, Bitboard::from_file);
    from &= rank.map_or(Bitboard::FULL, Bitboard::from_rank);
    match from.single_square() {
        None => san.to_move(pos).ok(),
        Some(from) => match board.role_at(to) {
            None if capture && role == Role::Pawn => Some(Move::EnPassant { from, to }),
            taken if taken.is_some() == capture => {
                Some(Move::Normal { role, from, capture: taken, to, promotion })
            }
            _ => None,
        },
    }
}

/// The squares from which men of one role and colour go to a square, pins and checks aside.
fn origins(board: &Board, color: Color, role: Role, capture: bool, to: Square) -> Bitboard {
    let own = board.by_color(color) & board.by_role(role);
    let reach = match role {
        Role::Pawn if capture => attacks::pawn_attacks(color.other(), to),
        Role::Pawn => push_origin(board, color, to),
        Role::Knight => attacks::knight_attacks(to),
        Role::Bishop => attacks::bishop_attacks(to, board.occupied()),
        Role::Rook => attacks::rook_attacks(to, board.occupied()),
        Role::Queen => attacks::queen_attacks(to, board.occupied()),
        Role::King => attacks::king_attacks(to),
    };
    reach & own
}

/// The square from which a pawn is pushed to a square: the nearest one behind it that is taken.
fn push_origin(board: &Board, color: Color, to: Square) -> Bitboard {
    let step = color.fold_wb(-8, 8);
    let one = to.offset(step);
    let origin = one
        .filter(|&square| board.occupied().contains(square))
        .or_else(|| one.and_then(|square| square.offset(step)));
    origin.map_or(Bitboard::EMPTY, Bitboard::from_square)
}

fn without_check_mark(san: &[u8]) -> &[u8] {
    san.strip_suffix(b"+").or_else(|| san.strip_suffix(b"#")).unwrap_or(san)
}
