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
