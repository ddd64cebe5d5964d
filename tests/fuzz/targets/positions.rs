//! A position that is read and written is read so again and can be drawn; moves are played, read and
//! written as by the move generator; views undo themselves; costs keep their bounds.

#![no_main]

use hecatomb::board::{
    Replay, View, Wing, cost, has_safe_king, play_san, read_san, uncovered, written,
};
use hecatomb::drawing::Diagram;
use hecatomb::verdict::{Effort, Judge};
use libfuzzer_sys::fuzz_target;
use shakmaty::fen::Fen;
use shakmaty::san::{San, SanPlus};
use shakmaty::{Bitboard, CastlingMode, Chess, Color, EnPassantMode, Move, Position};

/// The most that an exchange can cost: a queen, and what promotes on the way.
const MOST_COST: i32 = 60;

fn check_move(pos: &Chess, m: Move) {
    let san = written(pos, m);
    assert_eq!(san, San::from_move(pos, m));
    let mut after = pos.clone();
    assert_eq!(play_san(pos, san, &mut after), Ok(m));
    let mut expected = pos.clone();
    expected.play_unchecked(m);
    assert_eq!(after, expected);
    assert!(has_safe_king(&after));
    let price = cost(pos, m);
    assert!((0..=MOST_COST).contains(&price), "{price}");
    assert!(uncovered(pos, m) >= 0);
}

/// Reads a word as a move, as the move generator does.
fn check_word(pos: &Chess, word: &[u8]) -> Option<Move> {
    let san = read_san(word)?;
    let mut after = pos.clone();
    let played = play_san(pos, san, &mut after);
    assert_eq!(played, san.to_move(pos));
    if !word.starts_with(b"0") {
        assert_eq!(SanPlus::from_ascii(word).ok().map(|read| read.san), Some(san));
    }
    played.ok()
}

fn check_views(squares: Bitboard) {
    for attacker in Color::ALL {
        for wing in [Wing::Written, Wing::Mirrored] {
            let view = View { attacker, wing };
            assert_eq!(view.turn_all(view.turn_all(squares)), squares);
        }
    }
}

fn check_judge(pos: &Chess, offer: Move) {
    let judge = || Judge::new(Effort::of(300)).judge(pos, offer);
    assert_eq!(format!("{:?}", judge()), format!("{:?}", judge()));
}

fuzz_target!(|text: &str| {
    let (fen, words) = text.split_once('\n').unwrap_or((text, ""));
    let Ok(fen) = fen.parse::<Fen>() else { return };
    assert_eq!(fen.to_string().parse::<Fen>(), Ok(fen.clone()));
    let setup = fen.into_setup();
    let drawing = Diagram::of(&setup).to_svg();
    assert_eq!(drawing, Diagram::of(&setup).to_svg());
    check_views(setup.board.occupied());
    let Ok(pos) = setup.position::<Chess>(CastlingMode::Chess960) else { return };
    let again = Fen::from_position(&pos, EnPassantMode::Legal).to_string();
    let again: Fen = again.parse().expect("it was written");
    assert_eq!(again.into_position::<Chess>(CastlingMode::Chess960).ok().as_ref(), Some(&pos));
    let moves = pos.legal_moves();
    moves.iter().for_each(|&m| check_move(&pos, m));
    if let Some(&offer) = moves.first() {
        check_judge(&pos, offer);
    }
    let mut replay = Replay::default();
    replay.start(&pos);
    for word in words.split_ascii_whitespace().take(40) {
        let Some(m) = check_word(replay.end(), word.as_bytes()) else { continue };
        replay.play(m);
        let last = replay.moves.len() - 1;
        assert_eq!(replay.san(last), SanPlus::from_move(replay.positions[last].clone(), m));
    }
});
