//! The material search against plain minimax over the same tree, and against known exchanges.

use std::collections::HashMap;

use hecatomb::board::balance;
use hecatomb::verdict::{Budget, MateAnswer, Prover, WeighedScore, Weigher, Width};
use shakmaty::fen::Fen;
use shakmaty::{Chess, EnPassantMode, Move, Position, Role};

use super::boards::{Chance, line_of, position, random_attack, random_position, written};

const PLENTY: u64 = 50_000_000;

fn worth(role: Role) -> i32 {
    match role {
        Role::Pawn => 1,
        Role::Knight | Role::Bishop => 3,
        Role::Rook => 5,
        Role::Queen => 9,
        Role::King => 0,
    }
}

/// Men of both sides, those of the side to move counted for and the others against.
fn counted(pos: &Chess) -> i32 {
    let men = pos.board().iter();
    men.map(|(_, man)| if man.color == pos.turn() { worth(man.role) } else { -worth(man.role) })
        .sum()
}

const MATE: i32 = 10_000;

fn after(pos: &Chess, m: Move) -> Chess {
    let mut pos = pos.clone();
    pos.play_unchecked(m);
    pos
}

/// Minimax over the whole tree: no bounds, no order, and nothing remembered but the values of positions
/// met before at the same depth. A mate counts from the position itself.
#[derive(Default)]
struct Plain(HashMap<(Chess, i32), i32>);

impl Plain {
    fn value(&mut self, pos: &Chess, depth: i32) -> i32 {
        let depth = if pos.is_check() { depth + 1 } else { depth };
        if depth <= 0 {
            return self.quiet(pos, 16);
        }
        if let Some(&value) = self.0.get(&(pos.clone(), depth)) {
            return value;
        }
        let moves = pos.legal_moves();
        let best = moves.iter().map(|&m| -later(self.value(&after(pos, m), depth - 1))).max();
        let value = best.unwrap_or(if pos.is_check() { -MATE } else { 0 });
        self.0.insert((pos.clone(), depth), value);
        value
    }

    fn quiet(&mut self, pos: &Chess, plies: i32) -> i32 {
        if plies == 0 {
            return counted(pos);
        }
        let mut moves = pos.legal_moves();
        if pos.is_check() {
            let best = moves.iter().map(|&m| -later(self.quiet(&after(pos, m), plies - 1))).max();
            return best.unwrap_or(-MATE);
        }
        moves.retain(|m| match m.promotion() {
            Some(role) => role == Role::Queen,
            None => m.is_capture(),
        });
        let best = moves.iter().map(|&m| -later(self.quiet(&after(pos, m), plies - 1))).max();
        best.unwrap_or(i32::MIN).max(counted(pos))
    }
}

/// A value seen one ply earlier: mates are further away.
fn later(value: i32) -> i32 {
    if value.abs() > MATE / 2 { value - value.signum() } else { value }
}

fn as_value(score: WeighedScore) -> i32 {
    match score {
        WeighedScore::Pawns(pawns) => pawns,
        WeighedScore::Mates(moves) => MATE + 1 - 2 * i32::from(moves),
        WeighedScore::Mated(moves) => 2 * i32::from(moves) - MATE,
    }
}

/// Asserts that the value at a depth is that of plain minimax, and returns it.
fn assert_plain(weigher: &mut Weigher, pos: &Chess, depth: u8) -> i32 {
    let moves = pos.legal_moves();
    weigher.forget();
    let weighing = weigher.weigh(pos, &moves, depth, &mut Budget::of(PLENTY)).unwrap();
    // A mate found earlier ends the deepening.
    let reached = i32::from(weighing.depth);
    let mut plain = Plain::default();
    let value = |&m: &Move| -later(plain.value(&after(pos, m), reached - 1));
    let expected = moves.iter().map(value).max().unwrap();
    let found = as_value(weighing.score);
    assert_eq!(found, expected, "depth {depth}: {}", Fen::from_position(pos, EnPassantMode::Legal));
    line_of(pos, &weighing.line);
    found
}

#[test]
fn values_are_those_of_plain_minimax() {
    let mut chance = Chance::new(1861);
    let mut weigher = Weigher::plain(1 << 12);
    for round in 0..400 {
        let pos = random_position(&mut chance, 4 + round % 6);
        for depth in 1..=3 {
            assert_plain(&mut weigher, &pos, depth);
        }
    }
}

#[test]
fn values_are_those_of_plain_minimax_in_crowded_positions() {
    let mut chance = Chance::new(1887);
    let mut weigher = Weigher::plain(1 << 12);
    for _ in 0..60 {
        assert_plain(&mut weigher, &random_position(&mut chance, 16), 2);
    }
}

/// Endings with few moves, in which the same positions come again at other depths; invented.
const ENDINGS: [(&str, u8); 6] = [
    ("8/8/4k3/4p3/4P3/4K3/8/8 w - - 0 1", 8),
    ("8/8/1p1k4/1P1p4/3K4/8/8/8 w - - 0 1", 8),
    ("7k/8/5K2/8/8/8/8/R7 w - - 0 1", 7),
    ("k7/8/2K5/8/8/8/8/1R6 b - - 0 1", 8),
    ("6k1/6pp/8/8/8/1r6/r7/6K1 w - - 0 1", 6),
    ("7k/5K2/8/8/8/8/6Q1/8 b - - 0 1", 6),
];

#[test]
fn values_are_those_of_plain_minimax_where_the_same_positions_come_again() {
    let mut weigher = Weigher::plain(1 << 14);
    for (fen, most) in ENDINGS {
        for depth in 1..=most {
            assert_plain(&mut weigher, &position(fen), depth);
        }
    }
    let mut chance = Chance::new(1894);
    for _ in 0..20 {
        assert_plain(&mut weigher, &random_position(&mut chance, 7), 5);
    }
}

#[test]
fn values_are_those_of_plain_minimax_where_mates_abound() {
    let mut chance = Chance::new(2002);
    let mut weigher = Weigher::plain(1 << 14);
    let mut mates = 0;
    for _ in 0..300 {
        let value = assert_plain(&mut weigher, &random_attack(&mut chance), 2);
        mates += usize::from(value.abs() > MATE / 2);
    }
    assert!(mates > 10, "too few mates to say that they are scored right: {mates}");
}

#[test]
fn a_quick_search_is_deeper_and_its_mates_are_mates() {
    let mut chance = Chance::new(1851);
    let (mut plain, mut quick) = (Weigher::plain(1 << 14), Weigher::with_entries(1 << 14));
    let (mut deeper, mut mates) = (0, 0);
    for round in 0..60 {
        let crowded = random_position(&mut chance, 20);
        let attack = random_attack(&mut chance);
        let pos = if round % 2 == 0 { crowded } else { attack };
        let moves = pos.legal_moves();
        let weigh = |weigher: &mut Weigher| {
            weigher.forget();
            weigher.weigh(&pos, &moves, 12, &mut Budget::of(20_000)).unwrap()
        };
        let (slow, fast) = (weigh(&mut plain), weigh(&mut quick));
        deeper += i32::from(fast.depth) - i32::from(slow.depth);
        if let WeighedScore::Mates(moves) = fast.score {
            let mut prover = Prover::with_entries(1 << 14);
            let answer = prover.within(&pos, moves, Width::All, &mut Budget::of(PLENTY));
            assert_eq!(answer, MateAnswer::Proved);
            mates += 1;
        }
    }
    assert!(deeper > 30, "only {deeper} plies deeper in 60 positions");
    assert!(mates > 5, "too few mates: {mates}");
}

#[test]
fn exchanges_on_one_square_come_out_as_known() {
    let mut weigher = Weigher::plain(1 << 12);
    let lines = include_str!("data/exchanges.txt").lines().filter(|line| !line.starts_with('#'));
    for line in lines {
        let fields: Vec<&str> = line.split(';').collect();
        let [fen, san, expected] = fields[..] else { panic!("bad line: {line}") };
        let pos = position(fen);
        let m = written(&pos, san);
        weigher.forget();
        let weighing = weigher.weigh(&pos, &[m], 1, &mut Budget::of(PLENTY)).unwrap();
        match weighing.score {
            WeighedScore::Mates(1) => assert!(san.ends_with('#'), "{line}"),
            score => {
                let change = as_value(score) - balance(&pos, pos.turn());
                assert_eq!(change, expected.parse::<i32>().unwrap(), "{line}");
            }
        }
    }
}

#[test]
fn stalemate_counts_as_level_and_mate_as_mate() {
    let pos = position("7k/8/6K1/8/8/8/8/5Q2 w - - 0 1");
    let mut weigher = Weigher::plain(1 << 12);
    let mut score = |san: &str| {
        let m = written(&pos, san);
        weigher.weigh(&pos, &[m], 2, &mut Budget::of(PLENTY)).unwrap().score
    };
    assert_eq!(score("Qf7"), WeighedScore::Pawns(0));
    assert_eq!(score("Qf8#"), WeighedScore::Mates(1));
    assert_eq!(score("Qe1"), WeighedScore::Pawns(9));
}

#[test]
fn a_spent_budget_leaves_the_last_depth_that_was_finished() {
    let pos = Chess::default();
    let weigh = |nodes| {
        let mut weigher = Weigher::plain(1 << 12);
        weigher.weigh(&pos, &pos.legal_moves(), 10, &mut Budget::of(nodes))
    };
    assert_eq!(weigh(0), None);
    let depths: Vec<u8> = [100, 1_000, 10_000, 100_000].map(|n| weigh(n).unwrap().depth).into();
    assert!(depths.is_sorted() && depths[0] < depths[3], "{depths:?}");
}
