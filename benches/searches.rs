//! Nodes a second of each search against the bare move generator, and judgements a second.
//!
//! A node of the move generator is a leaf counted by `perft`, or a position whose moves are listed; a node
//! of a search is a position looked at. One thread; at the end the whole of `verify`, on one thread and on
//! one a core.

#![expect(clippy::print_stdout, reason = "the table is the result")]

use std::process::{Command, Stdio};
use std::slice::from_ref;
use std::time::Instant;

use hecatomb::verdict::{Budget, Effort, Judge, Prover, Weigher, Width, perpetual};
use shakmaty::fen::Fen;
use shakmaty::{CastlingMode, Chess, Move, Position, perft};

/// Middle games with attacks in them, invented, but for the last (F. Reinfeld, "Win at Chess",
/// 1945, position 8, from memory).
const POSITIONS: [&str; 4] = [
    "r1bq1rk1/pp1n1ppp/2n1p3/b2pP3/8/2PB1N2/PP3PPP/RNBQ1RK1 w - - 0 1",
    "r1b1kb1r/1pqn1ppp/p2ppn2/6B1/2BNPP2/2N5/PPP1Q1PP/R3K2R w KQkq - 0 1",
    "r4rk1/pbq1bppp/1p2p3/2pp4/5P2/1P1BP3/PBP1Q1PP/R4RK1 w - - 0 1",
    "r4q1k/p2bR1rp/2p2Q1N/5p2/5p2/2P5/PP3PPP/R5K1 w - - 0 1",
];
/// Queens on an open board: many checks.
const MANY_CHECKS: &str = "6k1/6p1/3q4/7Q/8/8/6PP/7K w - - 0 1";
const NODES: u64 = 2_000_000;

fn main() {
    let positions: Vec<Chess> = POSITIONS.iter().map(|fen| position(fen)).collect();
    let mut prover = Prover::with_entries(1 << 20);
    let mut weigher = Weigher::with_entries(1 << 20);
    let mut judge = Judge::new(Effort::default());

    measure("move generator (perft 4, leaves counted unplayed)", &positions, |pos| perft(pos, 4));
    measure("move generator, leaves played", &positions, |pos| walk(pos, 3));
    measure("mate search", &positions, |pos| {
        let mut budget = Budget::of(NODES);
        prover.forget();
        prover.distance(from_ref(pos), 20, Width::All, &mut budget);
        budget.used()
    });
    measure("perpetual check", &[position(MANY_CHECKS)], |pos| {
        let mut budget = Budget::of(NODES);
        let _ = perpetual(pos, &mut budget);
        budget.used()
    });
    measure("material search", &positions, |pos| {
        let mut budget = Budget::of(NODES);
        weigher.forget();
        weigher.weigh(pos, &pos.legal_moves(), 60, &mut budget);
        budget.used()
    });
    let moves: Vec<(&Chess, Move)> = positions[..3]
        .iter()
        .flat_map(|pos| pos.legal_moves().into_iter().map(move |m| (pos, m)))
        .collect();
    let start = Instant::now();
    let nodes: u64 = moves.iter().map(|&(pos, m)| judge.judge(pos, m).nodes).sum();
    let seconds = start.elapsed().as_secs_f64() / moves.len() as f64;
    let each = nodes / moves.len() as u64;
    println!("{:41} {each:>10} nodes {seconds:>7.3} s each", "judgement with the default effort");
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    for threads in [1, cores] {
        verify(threads);
    }
}

/// Judges the hits of a query in the sample data with this many threads.
fn verify(threads: usize) {
    let run = tempfile::tempdir().expect("a folder for the run can be made");
    let samples = concat!(env!("CARGO_MANIFEST_DIR"), "/sample-data");
    let hecatomb = |arguments: &[&str]| {
        let start = Instant::now();
        let mut command = Command::new(env!("CARGO_BIN_EXE_hecatomb"));
        let status = command.args(arguments).arg("--quiet").stdout(Stdio::null()).status();
        assert!(status.is_ok_and(|status| status.success()), "{arguments:?}");
        start.elapsed().as_secs_f64()
    };
    let folder = run.path().join("run").display().to_string();
    hecatomb(&["mine", samples, "--query", "bishop-takes-h7", "--out", &folder]);
    let seconds = hecatomb(&["verify", &folder, "--threads", &threads.to_string()]);
    let table = run.path().join("run/verdicts/bishop-takes-h7.csv");
    let hits = std::fs::read_to_string(table).map_or(0, |text| text.lines().count() - 1);
    let rate = hits as f64 / seconds;
    let work = format!("verify, threads: {threads}");
    println!("{work:41} {hits:>10} hits  {seconds:>7.3} s {rate:>8.1} hits/s");
}

fn position(fen: &str) -> Chess {
    let fen: Fen = fen.parse().expect("the positions above are FENs");
    fen.into_position(CastlingMode::Standard).expect("the positions above are legal")
}

#[expect(clippy::cast_precision_loss, reason = "a rate needs no more")]
fn measure(name: &str, positions: &[Chess], mut work: impl FnMut(&Chess) -> u64) {
    let start = Instant::now();
    let nodes: u64 = positions.iter().map(&mut work).sum();
    let seconds = start.elapsed().as_secs_f64();
    let rate = nodes as f64 / seconds / 1e6;
    println!("{name:41} {nodes:>10} nodes {seconds:>7.3} s {rate:>8.2} million nodes/s");
}

/// Plays every move to a depth and lists the moves of every position, as a search must that cuts nothing
/// off: the number of positions.
fn walk(pos: &Chess, depth: u32) -> u64 {
    let moves = pos.legal_moves();
    if depth == 0 {
        return 1;
    }
    let below = moves.into_iter().map(|m| {
        let mut after = pos.clone();
        after.play_unchecked(m);
        walk(&after, depth - 1)
    });
    1 + below.sum::<u64>()
}
