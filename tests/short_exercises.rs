//! Short exercises have the answers that plain recursion over cozy-chess, another move generator, finds.

use std::collections::BTreeSet;

use cozy_chess::{Board, Color, Move, Piece, Square};

use crate::exercises::{
    COUNTS, after, is_mate, key, legal_moves, made, mates, operation, position, run, san,
};

/// The lines of a sheet of one kind.
fn lines(kind: &str, count: usize) -> Vec<String> {
    let sheet = made(&format!("--kind {kind} --count {count} --format epd")).out;
    sheet.lines().map(str::to_owned).collect()
}

/// The moves of an operation, without check marks.
fn said(line: &str, name: &str) -> BTreeSet<String> {
    operation(line, name).unwrap_or_default().split_whitespace().map(key).collect()
}

/// The number of moves that a question names.
fn within(line: &str) -> u32 {
    let question = operation(line, "c0").unwrap();
    let named =
        |(word, number): &(&str, u32)| question.contains(&format!(" in {word}")).then_some(*number);
    [("one", 1), ("two", 2), ("three", 3)].iter().find_map(named).unwrap()
}

/// Whether a move is answered by a mate within so many moves.
fn is_mated(board: &Board, m: Move, moves: u32) -> bool {
    let replied = after(board, m);
    legal_moves(&replied).into_iter().any(|m| mates(&replied, m, moves))
}

fn keys(board: &Board, fitting: impl Fn(Move) -> bool) -> BTreeSet<String> {
    let moves = legal_moves(board).into_iter().filter(|&m| fitting(m));
    moves.map(|m| key(&san(board, m))).collect()
}

#[test]
fn last_moves_of_an_attack_mate_and_no_others_do() {
    let lines = lines("mate", 24);
    let mut moves = BTreeSet::new();
    for line in &lines {
        let (board, count) = (position(line), within(line));
        assert_eq!(operation(line, "dm"), Some(&*count.to_string()), "{line}");
        assert_eq!(keys(&board, |m| mates(&board, m, count)), said(line, "bm"), "{line}");
        assert!(count == 1 || keys(&board, |m| mates(&board, m, count - 1)).is_empty(), "{line}");
        moves.insert(count);
    }
    assert!(lines.len() == 24 && moves.len() == 2, "{} {moves:?}", lines.len());
}

#[test]
fn one_reply_does_not_run_into_mate_and_all_others_do() {
    let lines = lines("reply", 12);
    let mut checked = 0;
    for line in lines.iter().filter(|line| within(line) <= 2) {
        let board = position(line);
        let left = keys(&board, |m| !is_mated(&board, m, within(line)));
        assert!(left.len() == 1 && left == said(line, "bm"), "{line}: {left:?}");
        assert!(legal_moves(&board).len() > 2, "{line}");
        checked += 1;
    }
    assert!(checked > 0);
}

#[test]
fn exactly_the_kings_moves_that_are_named_run_into_mate() {
    let mut checked = 0;
    for line in lines("king", 20).iter().filter(|line| within(line) <= 2) {
        let board = position(line);
        let is_kings = |m: Move| {
            board.piece_on(m.from) == Some(Piece::King)
                && board.color_on(m.to) != Some(board.side_to_move())
        };
        let mated = keys(&board, |m| is_kings(m) && is_mated(&board, m, within(line)));
        assert_eq!(mated, said(line, "am"), "{line}");
        assert!(mated.len() < keys(&board, is_kings).len(), "{line}");
        checked += 1;
    }
    assert!(checked > 8, "{checked}");
}

#[test]
fn half_of_the_checks_are_mate_and_the_others_have_a_way_out() {
    let lines = lines("check", 21);
    let mut halves = [0_usize, 0];
    for line in &lines {
        let board = position(line);
        let moves = operation(line, "pv").unwrap();
        let first = key(moves.split(' ').next().unwrap());
        let check =
            legal_moves(&board).into_iter().find(|&m| key(&san(&board, m)) == first).unwrap();
        let checked = after(&board, check);
        let is_said_to_mate = operation(line, "bm").is_some();
        assert!(!checked.checkers().is_empty() && is_mate(&checked) == is_said_to_mate, "{line}");
        assert_eq!(moves.contains(' '), !is_said_to_mate, "{line}");
        assert!(is_said_to_mate || legal_moves(&checked).len() <= 2, "{line}");
        // The question must not tell by a sign behind the move.
        let question = operation(line, "c0").unwrap().split_once('?').unwrap().0;
        assert!(!question.contains('+') && !question.contains('#'), "{line}");
        halves[usize::from(is_said_to_mate)] += 1;
    }
    assert!(lines.len() >= 20 && halves[0].abs_diff(halves[1]) <= 1, "{halves:?}");
}

/// Whether a man on a square bears upon another one, step by step.
fn bears(board: &Board, from: Square, to: Square) -> bool {
    let (file, rank) =
        (to.file() as i32 - from.file() as i32, to.rank() as i32 - from.rank() as i32);
    let (far, near) = (file.abs().max(rank.abs()), file.abs().min(rank.abs()));
    let is_free = || {
        let step = |all: i32| all.signum();
        (1..far).all(|steps| {
            let place = |start: i32, all: i32| usize::try_from(start + steps * step(all)).unwrap();
            let square = Square::new(
                cozy_chess::File::index(place(from.file() as i32, file)),
                cozy_chess::Rank::index(place(from.rank() as i32, rank)),
            );
            board.piece_on(square).is_none()
        })
    };
    let (is_straight, is_slanting) = (far > 0 && near == 0, far > 0 && near == far);
    match board.piece_on(from) {
        Some(Piece::King) => far == 1,
        Some(Piece::Knight) => far == 2 && near == 1,
        Some(Piece::Rook) => is_straight && is_free(),
        Some(Piece::Bishop) => is_slanting && is_free(),
        Some(Piece::Queen) => (is_straight || is_slanting) && is_free(),
        Some(Piece::Pawn) => {
            let forwards = if board.color_on(from) == Some(Color::White) { 1 } else { -1 };
            file.abs() == 1 && rank == forwards
        }
        None => false,
    }
}

#[test]
fn men_that_attack_and_guard_a_square_are_counted_right() {
    let lines = lines("count", 20);
    for line in &lines {
        let board = position(line);
        let (_, answer) = operation(line, "c0").unwrap().split_once("). ").unwrap();
        let (attack, guard) = answer.split_once("), ").unwrap();
        let square: Square = attack.split(' ').nth(2).unwrap().parse().unwrap();
        for part in [attack, guard] {
            let side = if part.starts_with("White") { Color::White } else { Color::Black };
            let places = part.split_once('(').unwrap().1.split(')').next().unwrap();
            let named: BTreeSet<Square> =
                places.split(", ").map(|name| name.parse().unwrap()).collect();
            let men = board.colors(side).into_iter();
            let bearing: BTreeSet<Square> =
                men.filter(|&from| bears(&board, from, square)).collect();
            assert_eq!(named, bearing, "{line}");
        }
    }
    assert!(lines.len() == 20);
}

#[test]
fn beginners_get_a_full_sheet() {
    let sheet = made("--of mate:6 --of check:6 --of count:4 --of king:4 --level 1 --format csv");
    assert_eq!(sheet.out.lines().count(), 21, "{sheet}");
    assert!(!sheet.err.contains("could not make"), "{sheet}");
    for kind in ["mate", "reply", "king", "check", "count"] {
        let levels = made(&format!("--kind {kind} --count 30 --format pgn")).out;
        assert!(levels.contains("[Level \"1\"]"), "{kind}");
        assert!(
            [3, 4, 5].iter().all(|level| !levels.contains(&format!("[Level \"{level}\"]"))),
            "{kind}"
        );
    }
}

#[test]
fn no_engine_has_a_say_in_short_exercises() {
    for kind in ["mate", "king", "count"] {
        let options = format!("--kind {kind} --count 8 --format epd");
        let alone = run(&[], &options).out;
        assert_eq!(
            run(&["--engine", COUNTS, "--engine-nodes=4000"], &options).out,
            alone,
            "{kind}"
        );
    }
    let page = run(&[], "--of mate:2 --of check:2").out;
    assert!(page.contains("that there is none in so many moves was proved by trying everything"));
}
