//! Perpetual checks. The positions are invented; `.ci/brute_mates.py` confirms them with python-chess.

use hecatomb::verdict::{Budget, Checks, perpetual};
use shakmaty::{Chess, Position};

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
