//! The factors of the queries: facts of the position just before the offer.

use cozy_chess::{File, Piece, Rank, Square};

use super::queries::{Offer, loose_men};
use super::scene::Scene;
use super::view::Camp::{self, Attacker, Defender};

/// The names of factors, and whether each holds.
pub(super) type Held = Vec<(&'static str, bool)>;

pub(super) fn double_bishop(scene: &Scene) -> Held {
    let afar = [Square::B2, Square::C3, Square::D4, Square::E5, Square::A1, Square::F6];
    let lifts = [Square::F3, Square::G3, Square::H3, Square::D3, Square::E3];
    let minors = [Piece::Knight, Piece::Bishop];
    let at_home = [Square::G7, Square::H5]
        .into_iter()
        .any(|square| scene.guards(Defender, &minors, square) > 0);
    vec![
        ("second-aims-at-g7", scene.on(Attacker, Piece::Bishop, &afar)),
        ("queen-to-h5", queen_to_h5(scene)),
        ("no-minor-at-home", !at_home),
        ("rook-ready", scene.reaches(Attacker, Piece::Rook, &lifts)),
        ("rook-on-f8", rook_on_f8(scene)),
    ]
}

pub(super) fn knight_follow_up(scene: &Scene) -> Held {
    vec![
        ("no-knight-to-f6", no_knight_to_f6(scene)),
        ("diagonal-shut", diagonal_shut(scene)),
        ("pawn-on-e5", pawn_on_e5(scene)),
        ("knight-to-g5", knight_to_g5(scene)),
        ("g5-held", g5_held(scene)),
        ("pawn-on-h4", scene.on(Attacker, Piece::Pawn, &[Square::H4])),
        ("bishop-sees-g5", scene.guards(Attacker, &[Piece::Bishop], Square::G5) > 0),
        ("rook-on-f8", rook_on_f8(scene)),
    ]
}

pub(super) fn queen_lift(scene: &Scene) -> Held {
    let third_rank: Vec<Square> =
        File::ALL.into_iter().map(|file| Square::new(file, Rank::Third)).collect();
    vec![
        ("queen-to-h5", queen_to_h5(scene)),
        ("queen-on-d1", scene.on(Attacker, Piece::Queen, &[Square::D1])),
        ("no-knight-to-f6", no_knight_to_f6(scene)),
        ("diagonal-shut", diagonal_shut(scene)),
        ("rook-on-f8", rook_on_f8(scene)),
        ("rook-ready", scene.reaches(Attacker, Piece::Rook, &third_rank)),
    ]
}

pub(super) fn bishop_takes_h7(scene: &Scene) -> Held {
    vec![
        ("no-knight-to-f6", no_knight_to_f6(scene)),
        ("diagonal-shut", diagonal_shut(scene)),
        ("pawn-on-e5", pawn_on_e5(scene)),
        ("knight-to-g5", knight_to_g5(scene)),
        ("queen-to-h5", queen_to_h5(scene)),
        ("g5-held", g5_held(scene)),
        ("rook-on-f8", rook_on_f8(scene)),
    ]
}

pub(super) fn heavy_man_offered(offer: &Offer) -> Held {
    let (before, after) = (&offer.step.scene, Scene::new(&offer.giving.after, offer.turn));
    let far = [Rank::Fifth, Rank::Sixth, Rank::Seventh];
    let pieces = [Piece::Knight, Piece::Bishop, Piece::Rook, Piece::Queen];
    let loose = loose_men(&offer.giving.after, !offer.turn.attacker, &pieces);
    let pinned = before.men(Attacker, &pieces).into_iter().any(|square| before.is_pinned(square));
    vec![
        (
            "passed-pawn",
            before.passed_pawns(Attacker).into_iter().any(|pawn| far.contains(&pawn.rank())),
        ),
        ("queen-past", queen_past(before)),
        ("man-pinned", pinned),
        ("loose-piece", loose > 0),
        ("file-held", on_the_file(&after, Attacker) > on_the_file(&after, Defender)),
    ]
}

/// "attacker queen reaches 7th rank past knight or pawn"
fn queen_past(scene: &Scene) -> bool {
    scene.men(Attacker, &[Piece::Queen]).into_iter().any(|queen| {
        let past = scene.past(Attacker, &[Piece::Knight, Piece::Pawn], queen);
        let open = |&to: &Square| past.at(to).is_none_or(|(camp, _)| camp == Defender);
        let seventh = File::ALL.into_iter().map(|file| Square::new(file, Rank::Seventh));
        seventh.filter(open).any(|to| past.attacks(queen, to))
    })
}

/// How many of the camp's "men bear on the king's file past pawn".
fn on_the_file(scene: &Scene, camp: Camp) -> usize {
    let Some(file) = scene.file_of_the_king() else { return 0 };
    let bears = |&from: &Square| {
        let past = scene.past(camp, &[Piece::Pawn], from);
        Rank::ALL.into_iter().any(|rank| past.bears_from(from, Square::new(file, rank)))
    };
    scene.men(camp, &Piece::ALL).iter().filter(|from| bears(from)).count()
}

pub(super) fn man_before_the_king(scene: &Scene) -> Held {
    let squares = scene.before_the_king();
    let guards = |from: &&Square| squares.iter().any(|&to| scene.attacks(**from, to));
    vec![("held", scene.men(Attacker, &Piece::ALL).iter().filter(guards).count() >= 2)]
}

pub(super) fn rook_for_knight(offer: &Offer) -> Held {
    let (scene, turn) = (&offer.step.scene, offer.turn);
    let c_file = |square: &Square| square.file() == turn.moved(Square::C1).file();
    let on_last_rank = |square: &Square| square.rank() == Rank::Eighth;
    let is_dark_or_d5 =
        |&square: &Square| !turn.is_light(square) || square == turn.moved(Square::D5);
    vec![
        ("doubled", scene.men(Defender, &[Piece::Pawn]).iter().any(c_file)),
        ("dark-bishop", scene.men(Attacker, &[Piece::Bishop]).iter().any(is_dark_or_d5)),
        ("last-rank", scene.men(Defender, &[Piece::King]).iter().any(on_last_rank)),
    ]
}

/// "attacker queen reaches h5"
fn queen_to_h5(scene: &Scene) -> bool {
    scene.reaches(Attacker, Piece::Queen, &[Square::H5])
}

/// "attacker knight reaches g5"
fn knight_to_g5(scene: &Scene) -> bool {
    scene.reaches(Attacker, Piece::Knight, &[Square::G5])
}

/// "attacker pawn on e5"
fn pawn_on_e5(scene: &Scene) -> bool {
    scene.on(Attacker, Piece::Pawn, &[Square::E5])
}

/// "defender rook on f8"
fn rook_on_f8(scene: &Scene) -> bool {
    scene.on(Defender, Piece::Rook, &[Square::F8])
}

/// "no defender knight reaches f6 and no defender knight on f6"
fn no_knight_to_f6(scene: &Scene) -> bool {
    !scene.reaches(Defender, Piece::Knight, &[Square::F6])
        && !scene.on(Defender, Piece::Knight, &[Square::F6])
}

/// "no defender queen or bishop guards h7"
fn diagonal_shut(scene: &Scene) -> bool {
    scene.guards(Defender, &[Piece::Queen, Piece::Bishop], Square::H7) == 0
}

/// "more attacker men bear on g5 than defender men"
fn g5_held(scene: &Scene) -> bool {
    scene.bears(Attacker, Square::G5) > scene.bears(Defender, Square::G5)
}
