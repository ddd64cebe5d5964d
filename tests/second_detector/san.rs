//! Moves in SAN (PGN standard, section 8.2.3), read and written.

use cozy_chess::{Board, File, Move, Piece, Square};

use super::rules::{after, captured, castling_file, legal_moves, man_on};

/// Whether `san` can stand for the legal move `mv`.
pub(super) fn san_means(board: &Board, mv: Move, san: &str) -> bool {
    let san = san.trim_end_matches(['+', '#', '!', '?']);
    if let Some(file) = castling_file(board, mv) {
        return san == if file == File::G { "O-O" } else { "O-O-O" };
    }
    let (san, promotion) = match san.split_once('=') {
        Some((san, letter)) => (san, Some(letter)),
        None => (san, None),
    };
    let (man, rest) = match san.strip_prefix(['K', 'Q', 'R', 'B', 'N']) {
        Some(rest) => (&san[..1], rest),
        None => ("", san),
    };
    let rest = rest.replace('x', "");
    let from = mv.from.to_string();
    man == letter(man_on(board, mv.from))
        && promotion == mv.promotion.map(letter)
        && rest
            .strip_suffix(&mv.to.to_string())
            .is_some_and(|hint| hint.chars().all(|sign| from.contains(sign)))
}

/// Writes a legal move in SAN (PGN standard, section 8.2.3).
pub(super) fn write_san(board: &Board, mv: Move) -> String {
    let next = after(board, mv);
    let suffix = match (next.checkers().is_empty(), legal_moves(&next).is_empty()) {
        (true, _) => "",
        (false, false) => "+",
        (false, true) => "#",
    };
    if let Some(file) = castling_file(board, mv) {
        let castling = if file == File::G { "O-O" } else { "O-O-O" };
        return format!("{castling}{suffix}");
    }
    let man = man_on(board, mv.from);
    let takes = if captured(board, mv).is_some() { "x" } else { "" };
    let hint = match man {
        Piece::Pawn if !takes.is_empty() => mv.from.file().to_string(),
        Piece::Pawn => String::new(),
        _ => origin_hint(board, mv),
    };
    let promotion = mv.promotion.map_or(String::new(), |piece| format!("={}", letter(piece)));
    format!("{}{hint}{takes}{}{promotion}{suffix}", letter(man), mv.to)
}

/// As much of the origin square as it takes to tell `mv` from its like: file, else rank, else both.
fn origin_hint(board: &Board, mv: Move) -> String {
    let others: Vec<Square> = legal_moves(board)
        .into_iter()
        .filter(|other| other.to == mv.to && other.from != mv.from)
        .map(|other| other.from)
        .filter(|&from| board.piece_on(from) == board.piece_on(mv.from))
        .collect();
    let same_file = others.iter().any(|from| from.file() == mv.from.file());
    let same_rank = others.iter().any(|from| from.rank() == mv.from.rank());
    match (others.is_empty(), same_file, same_rank) {
        (true, _, _) => String::new(),
        (false, false, _) => mv.from.file().to_string(),
        (false, true, false) => mv.from.rank().to_string(),
        (false, true, true) => mv.from.to_string(),
    }
}

fn letter(piece: Piece) -> &'static str {
    match piece {
        Piece::Pawn => "",
        Piece::Knight => "N",
        Piece::Bishop => "B",
        Piece::Rook => "R",
        Piece::Queen => "Q",
        Piece::King => "K",
    }
}

/// The rules are those of the PGN standard, sections 8.2.3.1 to 8.2.3.5; the positions are made up.
#[test]
fn moves_are_read_and_written_in_san() {
    let cases = [
        ("4k3/8/8/8/8/8/8/R3K2R w KQ - 0 1", "O-O"),
        ("4k3/8/8/8/8/8/8/R3K2R w KQ - 0 1", "O-O-O"),
        ("5k2/8/8/8/8/8/8/4K2R w K - 0 1", "O-O+"),
        // Two knights: the file tells them apart, or the rank, or there is only one that may move.
        ("4k3/8/8/8/8/5N2/8/1N2K3 w - - 0 1", "Nbd2"),
        ("4k3/8/8/1N6/8/8/8/1N2K3 w - - 0 1", "N1a3"),
        ("4k3/8/8/8/1b6/2N5/8/4K1N1 w - - 0 1", "Ne2"),
        // Three queens: it takes the whole square.
        ("8/8/8/8/4Q2Q/8/k7/2K4Q w - - 0 1", "Qh4e1"),
        ("3r4/2P5/8/8/8/8/8/k2K4 w - - 0 1", "cxd8=N"),
        ("4k3/8/8/3pP3/8/8/8/4K3 w - d6 0 1", "exd6"),
        ("6k1/5ppp/8/8/8/8/8/R3K3 w - - 0 1", "Ra8#"),
    ];
    for (fen, san) in cases {
        let played = super::games::position(fen, san);
        assert_eq!(write_san(&played.before, played.mv), san, "{fen}");
    }
}

/// An illegal and an ambiguous move must not be taken for something else.
#[test]
fn doubtful_moves_are_refused() {
    use super::games::{Course, GameText};

    for san in ["Nd2", "Nf5", "Ke3", "--"] {
        let text = GameText {
            fen: Some("4k3/8/8/8/8/5N2/8/1N2K3 w - - 0 1".to_owned()),
            sans: vec![san.to_owned()],
            ..GameText::default()
        };
        assert!(Course::of(text).is_err(), "{san}");
    }
}
