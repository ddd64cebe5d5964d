//! The kind of an offer: whether it gives anything up, had to, was taken, and was made good.

use cozy_chess::{Board, Color};

use super::exchange::winnable;
use super::games::Course;
use super::giving::Giving;
use super::rules::{Played, after, gain, legal_moves, worth};

/// Until when an offer must be made good: the plies from just before it to the answer to the fourth
/// move after its acceptance.
const WINDOW: usize = 10;

pub(super) fn kind(course: &Course, index: usize, giving: &Giving) -> &'static str {
    let offer = &course.moves[index];
    let reply = course.moves.get(index + 1);
    if giving.cost() == 0 {
        "free"
    } else if is_desperado(offer, giving.cost()) {
        "desperado"
    } else if !reply.is_some_and(|reply| giving.is_accepted_by(reply)) {
        "declined"
    } else if is_sham(course, index) {
        "sham"
    } else {
        "real"
    }
}

/// Whether every other move would lose as much, or more.
fn is_desperado(offer: &Played, cost: i32) -> bool {
    let loss = |mv| {
        let most = winnable(&after(&offer.before, mv)).into_iter().map(|(_, loss)| loss).max();
        most.unwrap_or(0) - gain(&offer.before, mv)
    };
    legal_moves(&offer.before).into_iter().filter(|&mv| mv != offer.mv).all(|mv| loss(mv) >= cost)
}

fn is_sham(course: &Course, index: usize) -> bool {
    let attacker = course.moves[index].before.side_to_move();
    let start = balance(&course.position(index), attacker);
    let last = course.moves.len();
    let is_over = last <= index + WINDOW;
    let is_made_good = (index + 4..=index + WINDOW)
        .step_by(2)
        .filter(|&at| at <= last)
        .chain(is_over.then_some(last))
        .any(|at| balance(&course.position(at), attacker) >= start);
    let won = if attacker == Color::White { "1-0" } else { "0-1" };
    is_made_good || is_over && (course.result == won || is_mated(&course.position(last), !attacker))
}

fn is_mated(board: &Board, color: Color) -> bool {
    board.side_to_move() == color && !board.checkers().is_empty() && legal_moves(board).is_empty()
}

/// The material of a side less that of the other.
pub(super) fn balance(board: &Board, color: Color) -> i32 {
    let count = |color| -> i32 {
        let men = board.colors(color).into_iter();
        men.filter_map(|square| board.piece_on(square)).map(worth).sum()
    };
    count(color) - count(!color)
}

/// Courses that are made up and were worked out by hand, but for those of `LEFT_QUEEN`.
#[test]
fn kinds_were_worked_out_by_hand() {
    use crate::exchange::LEFT_QUEEN;

    // A knight is there to be won later: with the fourth move after the acceptance, or the fifth.
    let stray = "n5k1/8/2p5/8/3N4/8/5PPP/4R1K1 w - - 0 1";
    let in_time = "Nb5 cxb5 Rd1 Kg7 Rd2 Kh7 Rd8 Kg7 Rxa8 Kf7 h3 Ke7";
    let too_late = "Nb5 cxb5 Rd1 Kg7 Rd2 Kh7 Rd1 Kg7 Rd8 Kh7 Rxa8 Kg7";
    let forced = "7k/8/8/8/3b4/8/6PB/r6K w - - 0 1";
    let cases = [
        (LEFT_QUEEN, "Nxe5", "*", "declined"),
        (LEFT_QUEEN, "Nxe5 Be6", "1-0", "declined"),
        (LEFT_QUEEN, "Nxe5 Bxd1 Bxf7+ Ke7 Nd5#", "*", "sham"),
        (LEFT_QUEEN, "Nxe5 dxe5 Qxg4", "0-1", "sham"),
        (LEFT_QUEEN, "Nxe5 dxe5 h3", "1/2-1/2", "real"),
        (stray, in_time, "0-1", "sham"),
        (stray, too_late, "1-0", "real"),
        (stray, "Nb5 cxb5 Rd1", "1-0", "sham"),
        (stray, "Nb5 cxb5 Rd1", "*", "real"),
        (forced, "Bg1 Bxg1", "0-1", "desperado"),
        ("N7/pkp5/8/8/8/8/8/6K1 w - - 0 1", "Nxc7 Kxc7", "*", "desperado"),
        ("N7/pkp5/8/8/8/8/8/6K1 w - - 0 1", "Nb6 axb6", "*", "real"),
        ("4k3/8/8/8/1p6/8/P7/R3K3 w - - 0 1", "a4 bxa3 Rxa3", "*", "free"),
        // Not what costs most is taken.
        ("4k3/5b2/8/8/1p6/1N6/P7/R3K3 w - - 0 1", "a4 bxa3 Rxa3", "*", "declined"),
    ];
    for (fen, line, result, expected) in cases {
        let course = super::games::course(fen, line, result);
        let giving = Giving::of(&course.moves[0]);
        assert_eq!(kind(&course, 0, &giving), expected, "{line} in {fen}");
    }
}
