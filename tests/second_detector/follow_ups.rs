//! The follow-ups of the queries: later moves, and the ply at which each first comes.

use cozy_chess::{File, Piece, Rank, Square};

use super::view::Camp::{self, Attacker, Defender};
use super::view::Step;

/// The names of follow-ups, and the ply at which each is first seen.
pub(super) type Seen = Vec<(&'static str, Option<usize>)>;

const ANY_TIME: usize = usize::MAX;

/// The ply of the first of `camp`'s next `within` moves that fits.
fn first(later: &[Step], camp: Camp, within: usize, fits: impl Fn(&Step) -> bool) -> Option<usize> {
    later
        .iter()
        .filter(|step| step.camp == camp)
        .take(within)
        .find(|step| fits(step))
        .map(|step| step.ply)
}

pub(super) fn double_bishop(later: &[Step]) -> Seen {
    vec![
        ("second-bishop", second_bishop(later)),
        (
            "second-taken",
            first(later, Defender, 4, |step| {
                step.man == Piece::King
                    && step.takes == Some(Piece::Bishop)
                    && step.to == Square::G7
            }),
        ),
        (
            "queen-check",
            first(later, Attacker, 6, |step| {
                step.man == Piece::Queen
                    && step.lands_on(&[Square::G4, Square::G5, Square::G3])
                    && step.check
            }),
        ),
        ("rook-lift", rook_lift(later, 7)),
        ("mate", mate(later)),
    ]
}

pub(super) fn knight_follow_up(later: &[Step]) -> Seen {
    vec![
        ("knight-jump", knight_jump(later)),
        ("queen-edge", queen_to_edge(later)),
        (
            "queen-g-file",
            first(later, Attacker, 5, |step| step.man == Piece::Queen && step.to.file() == File::G),
        ),
        (
            "h-pawn",
            first(later, Attacker, 5, |step| {
                step.man == Piece::Pawn && step.quiet() && step.lands_on(&[Square::H4, Square::H5])
            }),
        ),
        ("mate", mate(later)),
    ]
}

pub(super) fn queen_lift(later: &[Step]) -> Seen {
    vec![
        ("queen-edge", queen_on_edge(later)),
        (
            "queen-check",
            first(later, Attacker, 5, |step| {
                step.man == Piece::Queen && step.to.file() == File::H && step.check
            }),
        ),
        ("knight-check", knight_check(later)),
        ("rook-lift", rook_lift(later, 6)),
        (
            "king-flees",
            first(later, Defender, 6, |step| {
                step.man == Piece::King && step.lands_on(&[Square::F8, Square::E8, Square::E7])
            }),
        ),
        ("mate", mate(later)),
    ]
}

pub(super) fn bishop_takes_h7(later: &[Step]) -> Seen {
    vec![
        ("knight-check", knight_check(later)),
        ("queen-edge", queen_to_edge(later)),
        ("second-bishop", second_bishop(later)),
        ("rook-lift", rook_lift(later, 6)),
        ("mate", mate(later)),
    ]
}

pub(super) fn heavy_man_offered(later: &[Step]) -> Seen {
    let is_heavy = |step: &Step| matches!(step.takes, Some(Piece::Rook | Piece::Queen));
    vec![("taken", first(later, Defender, 1, is_heavy))]
}

pub(super) fn man_before_the_king(later: &[Step]) -> Seen {
    let rook_on_rank = |step: &Step| {
        step.man == Piece::Rook
            && step.check
            && step.scene.rank_of_the_king() == Some(step.to.rank())
    };
    vec![
        ("stalemate", first(later, Attacker, ANY_TIME, |step| step.stalemate)),
        ("rook-on-rank", first(later, Attacker, 3, rook_on_rank)),
    ]
}

pub(super) fn pawn_kept(later: &[Step]) -> Seen {
    vec![
        ("swap", swap(later)),
        ("again", first(later, Attacker, 5, |step| step.is_by_the_same)),
        ("check", first(later, Attacker, 8, |step| step.check)),
        ("mate", mate(later)),
    ]
}

/// "no swap", "again then check or mate"
pub(super) fn pawn_kept_as_required(later: &[Step]) -> bool {
    let again = first(later, Attacker, 5, |step| step.is_by_the_same);
    let check =
        again.and_then(|ply| first(later, Attacker, 8, |step| step.check && step.ply > ply));
    swap(later).is_none() && (check.is_some() || mate(later).is_some())
}

/// "queen takes queen on any square within 3 moves"
fn swap(later: &[Step]) -> Option<usize> {
    let is_swap = |step: &Step| step.man == Piece::Queen && step.takes == Some(Piece::Queen);
    first(later, Attacker, 3, is_swap)
}

/// "knight moves to g-file within 3 moves"
pub(super) fn knight_jump(later: &[Step]) -> Option<usize> {
    first(later, Attacker, 3, |step| {
        step.man == Piece::Knight && step.quiet() && step.to.file() == File::G
    })
}

/// "queen moves to h-file within 5 moves"
pub(super) fn queen_on_edge(later: &[Step]) -> Option<usize> {
    first(later, Attacker, 5, |step| {
        step.man == Piece::Queen && step.quiet() && step.to.file() == File::H
    })
}

/// "bishop takes pawn on g7 within 4 moves"
pub(super) fn second_bishop(later: &[Step]) -> Option<usize> {
    first(later, Attacker, 4, |step| {
        step.man == Piece::Bishop && step.takes == Some(Piece::Pawn) && step.to == Square::G7
    })
}

/// "knight to g5 with check within 3 moves"
fn knight_check(later: &[Step]) -> Option<usize> {
    first(later, Attacker, 3, |step| {
        step.man == Piece::Knight && step.to == Square::G5 && step.check
    })
}

/// "queen to h-file within 5 moves"
fn queen_to_edge(later: &[Step]) -> Option<usize> {
    first(later, Attacker, 5, |step| step.man == Piece::Queen && step.to.file() == File::H)
}

/// "rook moves to 3rd rank within so many moves"
fn rook_lift(later: &[Step], within: usize) -> Option<usize> {
    first(later, Attacker, within, |step| {
        step.man == Piece::Rook && step.quiet() && step.to.rank() == Rank::Third
    })
}

/// "any man with mate"
pub(super) fn rook_for_knight(later: &[Step]) -> Seen {
    let back = |step: &Step| {
        let from_b_file = step.from.file() == step.turn.moved(Square::B1).file();
        let is_there = step.to == step.turn.moved(Square::C6);
        step.man == Piece::Pawn && step.takes.is_some() && is_there && from_b_file
    };
    let bishop = |step: &Step| step.man == Piece::Bishop && step.turn.is_light(step.to);
    vec![("back", first(later, Defender, 1, back)), ("bishop", first(later, Attacker, 5, bishop))]
}

pub(super) fn mate(later: &[Step]) -> Option<usize> {
    first(later, Attacker, ANY_TIME, |step| step.mate)
}
