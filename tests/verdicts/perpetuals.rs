//! Perpetual checks. The positions are invented; `.ci/brute_mates.py` confirms them with python-chess.

use hecatomb::board::played;
use hecatomb::verdict::{Budget, Checks, perpetual};
use shakmaty::{Chess, Move, Position};

use super::boards::{after, line_of, position};

const PLENTY: u64 = 3_000_000;

#[test]
fn positions_with_and_without_endless_checks_are_told_apart() {
    let lines = include_str!("data/perpetuals.txt").lines().filter(|line| !line.starts_with('#'));
    let mut count = 0;
    for line in lines {
        let fields: Vec<&str> = line.split(';').collect();
        let [answer, fen, about] = fields[..] else { panic!("bad line: {line}") };
        let mut budget = Budget::of(PLENTY);
        let is_endless = match perpetual(&position(fen), &mut budget) {
            Checks::Endless(_) => true,
            Checks::End => false,
            Checks::Unknown => panic!("budget too small: {about}"),
        };
        assert_eq!(is_endless, answer == "endless", "{about}: {fen}");
        count += 1;
    }
    assert!(count >= 9, "the data file was cut");
}

#[test]
fn a_sacrifice_for_perpetual_check_is_found() {
    // Invented: the bishop gives itself up on h6, and the queen gives perpetual check on g6 and h6.
    let pos = position("r4rk1/pp3pp1/7p/q7/8/1B1QB3/5PPP/6K1 w - - 0 1");
    let accepted = after(&pos, "Bxh6 gxh6");
    let Checks::Endless(endless) = perpetual(&accepted, &mut Budget::of(1_000)) else {
        panic!("not found");
    };
    let line = line_of(&accepted, &endless.line);
    assert!(line.starts_with("Qg6 Kh8 Qxh6 Kg8 Qg6"), "{line}");
    assert!(endless.checks.len() >= 2);
}

#[test]
fn lines_are_checks_that_lead_back() {
    let lines =
        include_str!("data/perpetuals.txt").lines().filter(|line| line.starts_with("endless"));
    for fen in lines.map(|line| line.split(';').nth(1).unwrap()) {
        let start = position(fen);
        let Checks::Endless(endless) = perpetual(&start, &mut Budget::of(PLENTY)) else {
            panic!("not found: {fen}");
        };
        let mut met: Vec<Chess> = vec![start];
        for pair in endless.line.chunks(2) {
            let mut pos = met.last().unwrap().clone();
            pos.play_unchecked(pair[0]);
            assert!(pos.is_check(), "{fen}");
            pos.play_unchecked(pair[1]);
            met.push(pos);
        }
        let last = met.pop().unwrap();
        assert!(met.contains(&last), "the line does not come back: {fen}");
    }
}

#[test]
fn a_spent_budget_is_unknown() {
    let pos = position("6k1/6p1/8/7Q/8/8/1q4PP/7K w - - 0 1");
    for nodes in [0, 1, 5] {
        assert_eq!(perpetual(&pos, &mut Budget::of(nodes)), Checks::Unknown);
    }
}

#[test]
fn wrong_checks_are_not_refuted_to_the_end_before_the_right_one_is_tried() {
    // Random positions with queens on both sides; a search that follows each check to its end is not done
    // with them after 100,000 nodes.
    for fen in [
        "6b1/3Pk3/P4pp1/8/1P2q3/3Q4/p2K4/r7 w - - 0 1",
        "1k6/p7/b1P2Pp1/3Q1pq1/1P2r3/8/8/K7 w - - 0 1",
        "3k4/P1p5/6q1/2Q5/p2bP1r1/8/p3P3/3K4 w - - 0 1",
        "7k/1Pp2r2/2Q5/6P1/p3q3/3p1b2/P7/K7 w - - 0 1",
    ] {
        let mut budget = Budget::of(4_000);
        let Checks::Endless(endless) = perpetual(&position(fen), &mut budget) else {
            panic!("not found: {fen}");
        };
        assert!(endless.checks.len() >= 3, "{fen}");
    }
}

#[test]
fn a_rook_that_can_only_be_taken_by_stalemate_checks_for_ever() {
    // Invented: the queen on f2 holds the king in the corner, and the rook checks until it is taken.
    let start = position("7k/6R1/8/8/8/8/5q2/7K w - - 0 1");
    let Checks::Endless(endless) = perpetual(&start, &mut Budget::of(10_000)) else {
        panic!("not found");
    };
    let stays = |(pos, &check): (&Chess, &Move)| {
        let checked = played(pos, check);
        let stays = |&reply: &Move| {
            let next = played(&checked, reply);
            next.is_stalemate() || endless.checks.contains_key(&next)
        };
        checked.is_check() && checked.legal_moves().iter().all(stays)
    };
    assert!(endless.checks.iter().all(stays));
    // One file further away the queen leaves the king a square: taking the rook is no stalemate.
    let twin = position("7k/6R1/8/8/8/8/4q3/7K w - - 0 1");
    assert_eq!(perpetual(&twin, &mut Budget::of(10_000)), Checks::End);
}
