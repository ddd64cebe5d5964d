//! Forced mates against positions with known distance (their sources are named in `data/mates.txt`) and
//! against plain recursion. `.ci/brute_mates.py` checks the same file with python-chess.

use std::slice::from_ref;

use hecatomb::verdict::{Budget, Distance, Mate, MateAnswer, Prover, Width};
use shakmaty::san::San;
use shakmaty::{Chess, Position};

use super::boards::{Chance, after, line_of, position, random_attack};

/// A line of `data/mates.txt`.
struct Known {
    pos: Chess,
    fen: String,
    moves: u8,
    keys: Vec<String>,
    by_checks: Option<u8>,
}

fn known_mates() -> Vec<Known> {
    let lines = include_str!("data/mates.txt").lines().filter(|line| !line.starts_with('#'));
    let known: Vec<Known> = lines.map(known_mate).collect();
    assert_eq!(known.len(), 53, "the data file was cut");
    known
}

fn known_mate(line: &str) -> Known {
    let fields: Vec<&str> = line.split(';').collect();
    let [moves, fen, keys, by_checks, _source] = fields[..] else { panic!("bad line: {line}") };
    Known {
        pos: position(fen),
        fen: fen.to_owned(),
        moves: moves.parse().unwrap(),
        keys: keys.split(',').map(|key| key.trim_end_matches(['+', '#']).to_owned()).collect(),
        by_checks: by_checks.parse().ok(),
    }
}

/// Enough for every position of the file.
const PLENTY: u64 = 200_000_000;

fn prover() -> Prover {
    Prover::with_entries(1 << 20)
}

fn within(fen: &str, moves: u8, width: Width) -> MateAnswer {
    prover().within(&position(fen), moves, width, &mut Budget::of(PLENTY))
}

#[test]
fn distances_are_the_known_ones_and_no_shorter_mate_exists() {
    let mut prover = prover();
    for Known { pos, fen, moves, .. } in known_mates() {
        prover.forget();
        let mut budget = Budget::of(PLENTY);
        let distance = prover.distance(from_ref(&pos), 12, Width::All, &mut budget);
        let expected = Distance { none_within: moves - 1, mate_within: Some(moves) };
        assert_eq!(distance, expected, "{fen}");
        let shorter = prover.within(&pos, moves - 1, Width::All, &mut budget);
        assert_eq!(shorter, MateAnswer::Disproved, "{fen}");
    }
}

/// All but the mate in seven, whose list takes some fifteen seconds; set `HECATOMB_SLOW_TESTS` for it.
#[test]
fn key_moves_are_the_known_ones_and_all_of_them() {
    let is_slow_wanted = std::env::var_os("HECATOMB_SLOW_TESTS").is_some();
    let mut prover = prover();
    for Known { pos, fen, moves, keys, .. } in known_mates() {
        if moves == 7 && !is_slow_wanted {
            continue;
        }
        prover.forget();
        let found = prover.keys(&pos, moves, &mut Budget::of(PLENTY)).unwrap();
        let found = found.iter().map(|&m| San::from_move(&pos, m).to_string()).collect();
        assert_eq!(sorted(found), sorted(keys), "{fen}");
        assert_eq!(prover.keys(&pos, moves - 1, &mut Budget::of(PLENTY)), Some(vec![]), "{fen}");
    }
}

#[test]
fn distances_by_checks_alone_are_the_known_ones() {
    let mut prover = prover();
    for Known { pos, fen, by_checks, .. } in known_mates() {
        prover.forget();
        let distance = prover.distance(from_ref(&pos), 8, Width::Checks, &mut Budget::of(PLENTY));
        let none_within = by_checks.map_or(8, |moves| moves - 1);
        assert_eq!(distance, Distance { none_within, mate_within: by_checks }, "{fen}");
    }
}

#[test]
fn lines_end_in_mate_after_the_shortest_number_of_moves() {
    let mut prover = prover();
    for Known { pos, fen, moves, keys, .. } in known_mates().into_iter().filter(|k| k.moves != 7) {
        prover.forget();
        let mate = prover.mate(&pos, 12, &mut Budget::of(PLENTY)).unwrap();
        assert_eq!((mate.moves, mate.is_shortest), (moves, true), "{fen}");
        assert_eq!(mate.line.len(), 2 * usize::from(moves) - 1, "{fen}");
        let line = line_of(&pos, &mate.line);
        assert!(after(&pos, &line).is_checkmate(), "{fen}: {line}");
        assert!(keys.iter().any(|key| line.starts_with(key.as_str())), "{fen}: {line}");
    }
}

#[test]
fn mates_are_told_from_plain_recursion_by_nothing_but_speed() {
    let mut chance = Chance::new(1894);
    let mut prover = Prover::with_entries(1 << 10);
    let mut found = [0; 2];
    for round in 0..600 {
        let pos = random_attack(&mut chance);
        let moves = 1 + u8::try_from(round % 2).unwrap();
        let answer = prover.within(&pos, moves, Width::All, &mut Budget::of(PLENTY));
        let expected = mates(&pos, moves);
        assert_eq!(answer == MateAnswer::Proved, expected, "{moves}: {pos:?}");
        found[usize::from(expected)] += 1;
    }
    assert!(found[0] > 100 && found[1] > 40, "too few of a kind: {found:?}");
}

/// Whether the side to move mates within `moves` moves, by plain recursion.
fn mates(pos: &Chess, moves: u8) -> bool {
    let is_mated = |pos: &Chess| pos.is_checkmate();
    let answered = |pos: &Chess| {
        let replies = pos.legal_moves();
        !replies.is_empty() && replies.iter().all(|&reply| mates(&played(pos, reply), moves - 1))
    };
    moves > 0
        && pos
            .legal_moves()
            .iter()
            .map(|&m| played(pos, m))
            .any(|pos| is_mated(&pos) || answered(&pos))
}

fn played(pos: &Chess, m: shakmaty::Move) -> Chess {
    let mut pos = pos.clone();
    pos.play_unchecked(m);
    pos
}

#[test]
fn checks_alone_may_take_longer() {
    // Rook decoy on h8, invented: a quiet move mates in two, checks alone in five; confirmed by brute
    // force.
    let fen = "r1q2rk1/pp4p1/1n2p1P1/3p4/7R/2P2P2/PP4K1/3QR3 w - - 0 1";
    assert_eq!(within(fen, 1, Width::All), MateAnswer::Disproved);
    assert_eq!(within(fen, 2, Width::All), MateAnswer::Proved);
    assert_eq!(within(fen, 4, Width::Checks), MateAnswer::Disproved);
    assert_eq!(within(fen, 5, Width::Checks), MateAnswer::Proved);
}

#[test]
fn there_is_no_mate_where_there_is_none() {
    assert_eq!(within("8/8/8/8/8/p7/1p1K4/k7 w - - 0 1", 8, Width::All), MateAnswer::Disproved);
}

#[test]
fn stalemate_is_no_mate() {
    assert_eq!(within("7k/5Q2/6K1/8/8/8/8/8 b - - 0 1", 3, Width::All), MateAnswer::Disproved);
    let pos = position("7k/8/6K1/8/8/8/8/5Q2 w - - 0 1");
    for moves in 1..=3 {
        let keys = prover().keys(&pos, moves, &mut Budget::of(PLENTY)).unwrap();
        let keys: Vec<String> = keys.iter().map(|&m| San::from_move(&pos, m).to_string()).collect();
        assert!(keys.contains(&"Qf8".to_owned()), "{keys:?}");
        assert!(!keys.contains(&"Qf7".to_owned()), "Qf7 is stalemate");
    }
}

#[test]
fn a_spent_budget_is_unknown_and_never_a_refutation() {
    // Mate in four, from `data/mates.txt`.
    let fen = "r2rb1k1/pp1q1p1p/2n1p1p1/2bp4/5P2/PP1BPR1Q/1BPN2PP/R5K1 w - - 0 1";
    let pos = position(fen);
    for nodes in [0, 1, 10, 100, 1_000] {
        let mut budget = Budget::of(nodes);
        let answer = Prover::with_entries(1 << 10).within(&pos, 4, Width::All, &mut budget);
        assert_eq!((answer, budget.left()), (MateAnswer::Unknown, 0));
        assert_eq!(prover().mate(&pos, 4, &mut Budget::of(nodes)), None);
        assert_eq!(prover().keys(&pos, 4, &mut Budget::of(nodes)), None);
    }
}

#[test]
fn a_mate_not_known_to_be_the_shortest_is_not_called_that() {
    // WAC.009, mate in five by checks: that there is none in four takes more nodes than that.
    let pos = position("3q1rk1/p4pp1/2pb3p/3p4/6Pr/1PNQ4/P1PB1PP1/4RRK1 b - - 0 1");
    let mate = |nodes| prover().mate(&pos, 12, &mut Budget::of(nodes)).unwrap();
    assert_eq!((mate(20_000).moves, mate(20_000).is_shortest), (5, false));
    assert_eq!((mate(PLENTY).moves, mate(PLENTY).is_shortest), (5, true));
}

#[test]
fn a_table_far_too_small_costs_nodes_and_nothing_else() {
    let mut small = Prover::with_entries(64);
    for Known { pos, fen, moves, .. } in known_mates().into_iter().filter(|k| k.moves <= 3) {
        let mate: Mate = small.mate(&pos, 5, &mut Budget::of(PLENTY)).unwrap();
        assert_eq!((mate.moves, mate.is_shortest), (moves, true), "{fen}");
    }
}

#[test]
fn what_was_asked_before_changes_no_number_once_forgotten() {
    let mut used = prover();
    for Known { pos, fen, .. } in known_mates().into_iter().filter(|k| k.moves <= 5) {
        used.forget();
        let (mut first, mut second) = (Budget::of(20_000), Budget::of(20_000));
        let again = used.mate(&pos, 12, &mut second);
        assert_eq!(prover().mate(&pos, 12, &mut first), again, "{fen}");
        assert_eq!(first, second, "{fen}");
    }
}

fn sorted(mut list: Vec<String>) -> Vec<String> {
    list.sort();
    list
}
