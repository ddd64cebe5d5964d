//! The budgets of speed and memory, each measured beside its reference in the same run.
//!
//! `cargo bench` measures on the games of the package pgn-reader, repeated to about 300 MB; with
//! `HECATOMB_BENCH=FILE` on that file (plain PGN or zstd) repeated so. Times are wall times; reference
//! and program take turns, and of each the fastest of several runs counts, since whatever else the
//! machine does can only make a run slower.

#![expect(clippy::print_stdout, reason = "the table is the result")]

mod peak;

use std::fs::{self, File};
use std::io::{self, BufWriter, Write};
use std::ops::ControlFlow;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use peak::peak_memory;
use pgn_reader::{Reader, SanPlus, Skip, Visitor};
use shakmaty::{Chess, Position};

/// How often reference and program take turns, unless that takes too long.
const TURNS: usize = 9;

/// When they have taken so long, and three turns at least, they stop.
const LONGEST: Duration = Duration::from_secs(25);

/// About how long the input is, in bytes.
const INPUT: usize = 300 << 20;

fn main() -> io::Result<()> {
    let folder = tempfile::tempdir()?;
    let games = games()?;
    let plain = repeated(&games, INPUT, &folder.path().join("games.pgn"))?;
    let zstd = compressed(&plain)?;
    println!("input: {} MB of games, {} MB as zstd\n", megabytes(&plain)?, megabytes(&zstd)?);
    println!("{:<46} {:>9} {:>9} {:>7} {:>8}", "work", "reference", "program", "ratio", "budget");
    let out = folder.path().join("out");
    four_queries_on_zstd(&zstd, &out);
    four_queries_on_plain(&plain, &out)?;
    library_beside_replay(&games, &plain, &out)?;
    memory(&games, &plain, &out, folder.path())?;
    million_hits(&folder.path().join("million"))?;
    lesson(&folder.path().join("taught"))?;
    Ok(())
}

/// The games to measure on.
fn games() -> io::Result<Vec<u8>> {
    let Some(path) = std::env::var_os("HECATOMB_BENCH") else {
        return package_games();
    };
    let mut bytes = fs::read(path)?;
    if bytes.starts_with(&[0x28, 0xB5, 0x2F, 0xFD]) {
        bytes = zstd::decode_all(&bytes[..])?;
    }
    Ok(bytes)
}

/// The games that the package pgn-reader carries.
fn package_games() -> io::Result<Vec<u8>> {
    let metadata = cargo_metadata::MetadataCommand::new().exec().map_err(io::Error::other)?;
    let package = metadata.packages.iter().find(|package| package.name == "pgn-reader");
    let folder = package.and_then(|package| package.manifest_path.parent());
    let folder = folder.ok_or_else(|| io::Error::other("pgn-reader is not among the packages"))?;
    let mut games = fs::read(folder.join("benches/twic1599_1000k.pgn"))?;
    games.extend(fs::read(folder.join("benches/lichess_db_1000k.pgn"))?);
    Ok(games)
}

fn repeated(games: &[u8], length: usize, path: &Path) -> io::Result<PathBuf> {
    let mut file = File::create(path)?;
    for _ in 0..length.div_ceil(games.len()) {
        file.write_all(games)?;
    }
    Ok(path.to_owned())
}

fn compressed(plain: &Path) -> io::Result<PathBuf> {
    let path = plain.with_extension("pgn.zst");
    zstd::stream::copy_encode(File::open(plain)?, File::create(&path)?, 3)?;
    Ok(path)
}

fn megabytes(path: &Path) -> io::Result<u64> {
    Ok(fs::metadata(path)?.len() / 1_000_000)
}

/// The program with the first four queries.
fn program(arguments: &[&Path], out: &Path) -> Command {
    let mut command = whole_library(arguments, out);
    command.args(FOUR.map(|query| format!("--query={query}")));
    command
}

/// The program with every built-in query.
fn whole_library(arguments: &[&Path], out: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_hecatomb"));
    command
        .args(["mine", "--quiet", "--replace", "--keep-duplicates", "--out"])
        .arg(out)
        .args(arguments)
        .stdout(Stdio::null());
    command
}

const FOUR: [&str; 4] = ["rook-pawn-bishop", "double-bishop", "knight-follow-up", "queen-lift"];

/// The wall time of a command that must succeed.
fn time(command: &mut Command) -> Duration {
    let start = Instant::now();
    let status = command.status().expect("the command starts");
    assert!(status.success(), "{command:?}: {status}");
    start.elapsed()
}

/// The fastest of several turns of a reference and the program.
fn take_turns(
    mut reference: impl FnMut() -> Duration,
    mut program: impl FnMut() -> Duration,
) -> (Duration, Duration) {
    let start = Instant::now();
    let mut turns: Vec<(Duration, Duration)> = Vec::new();
    while turns.len() < TURNS && (turns.len() < 3 || start.elapsed() < LONGEST) {
        turns.push((reference(), program()));
    }
    let fastest = |times: &mut dyn Iterator<Item = Duration>| times.min().unwrap_or_default();
    (fastest(&mut turns.iter().map(|turn| turn.0)), fastest(&mut turns.iter().map(|turn| turn.1)))
}

fn row(work: &str, reference: Duration, program: Duration, ratio: f64, budget: &str) {
    println!(
        "{work:<46} {:>7.0}ms {:>7.0}ms {ratio:>7.2} {budget:>8}",
        reference.as_secs_f64() * 1e3,
        program.as_secs_f64() * 1e3
    );
}

fn four_queries_on_zstd(input: &Path, out: &Path) {
    let decompress = || time(Command::new("zstd").arg("-dc").arg(input).stdout(Stdio::null()));
    let (reference, ours) = take_turns(decompress, || time(&mut program(&[input], out)));
    let ratio = ours.as_secs_f64() / reference.as_secs_f64();
    row("four queries on .pgn.zst / zstd -dc", reference, ours, ratio, "<= 1.10");
}

fn four_queries_on_plain(input: &Path, out: &Path) -> io::Result<()> {
    let bytes = fs::read(input)?;
    let parse = || {
        let start = Instant::now();
        let mut reader = Reader::new(&bytes[..]);
        let mut moves = Moves(0);
        while reader.read_game(&mut moves).is_ok_and(|game| game.is_some()) {}
        assert!(moves.0 > 0);
        start.elapsed()
    };
    let (reference, ours) = take_turns(parse, || time(&mut program(&[input], out)));
    let ratio = reference.as_secs_f64() / ours.as_secs_f64();
    row("parsing with pgn-reader / four queries on .pgn", reference, ours, ratio, ">= 5.00");
    Ok(())
}

/// Counts the moves of every game, so that every move is parsed.
struct Moves(u64);

impl Visitor for Moves {
    type Tags = ();
    type Movetext = ();
    type Output = ();

    fn begin_tags(&mut self) -> ControlFlow<()> {
        ControlFlow::Continue(())
    }

    fn begin_movetext(&mut self, (): ()) -> ControlFlow<()> {
        ControlFlow::Continue(())
    }

    fn san(&mut self, (): &mut (), _: SanPlus) -> ControlFlow<()> {
        self.0 += 1;
        ControlFlow::Continue(())
    }

    fn end_game(&mut self, (): ()) {}
}

/// The whole library, with and without overlooked offers, beside replaying every game with pgn-reader
/// and shakmaty on as many threads; then on one thread beside two.
fn library_beside_replay(games: &[u8], plain: &Path, out: &Path) -> io::Result<()> {
    let bytes = fs::read(plain)?;
    let parts: Vec<&[u8]> = bytes.chunks(games.len()).collect();
    let threads = std::thread::available_parallelism()?.get();
    let replay = || {
        let start = Instant::now();
        std::thread::scope(|scope| {
            for share in parts.chunks(parts.len().div_ceil(threads)) {
                scope.spawn(|| share.iter().for_each(|games| replay_all(games)));
            }
        });
        start.elapsed()
    };
    let library = |more: &[&str]| time(whole_library(&[plain], out).args(more));
    for (work, more, budget) in [
        ("whole library / replaying every game", &[][..], "<= 0.80"),
        ("the same with --overlooked / replaying", &["--overlooked"][..], "<= 1.50"),
    ] {
        let (reference, ours) = take_turns(replay, || library(more));
        row(work, reference, ours, ours.as_secs_f64() / reference.as_secs_f64(), budget);
    }
    let (one, two) = take_turns(|| library(&["--threads=1"]), || library(&["--threads=2"]));
    row(
        "whole library, 1 thread / 2 threads",
        one,
        two,
        one.as_secs_f64() / two.as_secs_f64(),
        ">= 1.80",
    );
    Ok(())
}

/// Replays every game of a text with pgn-reader and shakmaty alone.
fn replay_all(games: &[u8]) {
    let mut reader = Reader::new(games);
    let mut board = Replayed(0);
    while reader.read_game(&mut board).is_ok_and(|game| game.is_some()) {}
    assert!(board.0 > 0);
}

/// Plays the moves of every game, and counts them.
struct Replayed(u64);

impl Visitor for Replayed {
    type Tags = ();
    type Movetext = Chess;
    type Output = ();

    fn begin_tags(&mut self) -> ControlFlow<()> {
        ControlFlow::Continue(())
    }

    fn begin_movetext(&mut self, (): ()) -> ControlFlow<(), Chess> {
        ControlFlow::Continue(Chess::default())
    }

    fn begin_variation(&mut self, _: &mut Chess) -> ControlFlow<(), Skip> {
        ControlFlow::Continue(Skip(true))
    }

    fn san(&mut self, pos: &mut Chess, san: SanPlus) -> ControlFlow<()> {
        let Ok(m) = san.san.to_move(pos) else {
            return ControlFlow::Break(());
        };
        pos.play_unchecked(m);
        self.0 += 1;
        ControlFlow::Continue(())
    }

    fn end_game(&mut self, _: Chess) {}
}

/// Peak memory for an input and for one a tenth as long.
fn memory(games: &[u8], plain: &Path, out: &Path, folder: &Path) -> io::Result<()> {
    let tenth = repeated(games, INPUT / 10, &folder.join("tenth.pgn"))?;
    for (name, input) in [("a tenth of the games", &tenth), ("the games", &plain.to_owned())] {
        let peak = peak_memory(&mut program(&[input], out))?;
        println!("peak memory, {name:<33} {:>26.1} MiB {:>8}", peak as f64 / 1024.0, "<= 96");
    }
    Ok(())
}

/// A tally of a million hits beside reading their table with the package csv alone, and its peak memory.
fn million_hits(run: &Path) -> io::Result<()> {
    mined_sample(run);
    let table = run.join("hits").join(TABLE);
    repeat_rows(&table, MILLION)?;
    let read = || read_rows(&table, MILLION);
    let mut tally = Command::new(env!("CARGO_BIN_EXE_hecatomb"));
    tally.arg("tally").arg(run).stdout(Stdio::null());
    let (reference, ours) = take_turns(read, || time(&mut tally));
    let ratio = ours.as_secs_f64() / reference.as_secs_f64();
    row("reading a million hits with csv / tally", reference, ours, ratio, "<= 2 s");
    let peak = peak_memory(&mut tally)?;
    println!(
        "peak memory, a tally of a million hits {:>34.1} MiB {:>8}",
        peak as f64 / 1024.0,
        "<= 200"
    );
    Ok(())
}

/// A lesson over ten thousand verified hits beside reading their tables with the package csv alone, and
/// its size.
fn lesson(run: &Path) -> io::Result<()> {
    mined_sample(run);
    let mut verify = Command::new(env!("CARGO_BIN_EXE_hecatomb"));
    time(verify.args(["verify", "--quiet", "--nodes=10000"]).arg(run).stdout(Stdio::null()));
    let tables = ["hits", "verdicts"].map(|folder| run.join(folder).join(TABLE));
    for table in &tables {
        repeat_rows(table, TEN_THOUSAND)?;
    }
    let page = run.join("lesson.html");
    let mut lesson = Command::new(env!("CARGO_BIN_EXE_hecatomb"));
    lesson.arg("lesson").arg(run).args(["--query=rook-pawn-bishop", "-o"]).arg(&page);
    let read = || tables.iter().map(|table| read_rows(table, TEN_THOUSAND)).sum();
    let (reference, ours) = take_turns(read, || time(&mut lesson));
    let ratio = ours.as_secs_f64() / reference.as_secs_f64();
    row("reading 10,000 verified hits with csv / lesson", reference, ours, ratio, "seconds");
    let size = fs::metadata(&page)?.len() as f64 / 1e6;
    println!("size of that lesson {size:>53.2} MB  {:>8}", "<= 2");
    Ok(())
}

const MILLION: usize = 1_000_000;
const TEN_THOUSAND: usize = 10_000;
const TABLE: &str = "rook-pawn-bishop.csv";

/// Mines the sample data with one query.
fn mined_sample(run: &Path) {
    let samples = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-data");
    time(whole_library(&[&samples], run).arg("--query=rook-pawn-bishop"));
}

/// Repeats the rows of a table, each with an id of its own.
fn repeat_rows(table: &Path, count: usize) -> io::Result<()> {
    let text = fs::read_to_string(table)?;
    let (columns, rows) = text.split_once('\n').expect("a table has a line of columns");
    let mut file = BufWriter::new(File::create(table)?);
    writeln!(file, "{columns}")?;
    for (number, row) in rows.lines().cycle().take(count).enumerate() {
        writeln!(file, "{number}:{row}")?;
    }
    file.flush()
}

/// How long the package csv alone takes to read a table of so many rows.
fn read_rows(table: &Path, count: usize) -> Duration {
    let start = Instant::now();
    let mut reader = csv::Reader::from_path(table).expect("the table was just written");
    let mut record = csv::StringRecord::new();
    let mut rows = 0;
    while reader.read_record(&mut record).expect("the table was just written") {
        rows += 1;
    }
    assert_eq!(rows, count);
    start.elapsed()
}
