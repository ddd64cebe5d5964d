//! The budgets of speed and memory, each measured against its reference in the same run.
//!
//! `cargo bench --bench budgets` measures on the games of the package pgn-reader, repeated to about
//! 300 MB; with `HECATOMB_BENCH=FILE` on that file (plain PGN or zstd) repeated so. Times are wall times;
//! reference and program take turns, and of each the fastest of several runs counts, since whatever else
//! the machine does can only make a run slower. `-- --smoke` measures on less, and fails if anything is
//! more than twice beyond its budget.

#![expect(clippy::print_stdout, reason = "the table is the result")]

mod inputs;
#[path = "../peak.rs"]
mod peak;
mod references;
mod report;

use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use hecatomb::tables::TableFormat;
use inputs::{compressed, games, megabytes, repeat_hits, repeated};
use peak::peak_memory;
use references::{parsing, reading_rows, replaying};
use report::{Goal, Pains, Report};

fn main() -> io::Result<()> {
    let is_smoke = std::env::args().any(|word| word == "--smoke");
    let pains = if is_smoke { Pains::FEW } else { Pains::FULL };
    let folder = tempfile::tempdir()?;
    let games = games()?;
    let plain = repeated(&games, pains.input, &folder.path().join("games.pgn"))?;
    let zstd = compressed(&plain)?;
    println!("input: {} MB of games, {} MB as zstd\n", megabytes(&plain)?, megabytes(&zstd)?);
    let mut bench = Bench { pains, report: Report::default(), out: folder.path().join("out") };
    bench.report.heading();
    bench.four_queries_on_zstd(&zstd);
    bench.four_queries_on_plain(&plain)?;
    let part = repeated(&games, pains.for_library, &folder.path().join("part.pgn"))?;
    bench.library_beside_replay(&part, games.len())?;
    let tenth = repeated(&games, pains.input / 10, &folder.path().join("tenth.pgn"))?;
    bench.memory("a tenth of the games", &tenth)?;
    bench.memory("the games", &plain)?;
    bench.million_hits(&folder.path().join("million"))?;
    bench.lesson(&folder.path().join("taught"))?;
    match bench.report.gross() {
        Some(gross) if is_smoke => Err(io::Error::other(format!("grossly over budget:\n{gross}"))),
        _ => Ok(()),
    }
}

const FOUR: [&str; 4] = ["bishop-takes-h7", "double-bishop", "knight-follow-up", "queen-lift"];
const MILLION: usize = 1_000_000;
const TEN_THOUSAND: usize = 10_000;
const QUERY: &str = "bishop-takes-h7";

/// The program.
fn hecatomb() -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_hecatomb"));
    command.stdout(Stdio::null());
    command
}

/// The program mining with every built-in query.
fn whole_library(input: &Path, out: &Path) -> Command {
    let mut command = hecatomb();
    command.args(["mine", "--quiet", "--replace", "--keep-duplicates", "--out"]);
    command.arg(out).arg(input);
    command
}

/// The program mining with the first four queries.
fn four_queries(input: &Path, out: &Path) -> Command {
    let mut command = whole_library(input, out);
    command.args(FOUR.map(|query| format!("--query={query}")));
    command
}

/// Mines the sample data with one query.
fn mined_sample(run: &Path, format: TableFormat) {
    let samples = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-data");
    let options = [format!("--query={QUERY}"), format!("--table={}", format.ending())];
    time(whole_library(&samples, run).args(options));
}

/// The wall time of a command that must succeed.
fn time(command: &mut Command) -> Duration {
    let start = Instant::now();
    let status = command.status().expect("the command starts");
    assert!(status.success(), "{command:?}: {status}");
    start.elapsed()
}

/// What the rows of the table are made with.
struct Bench {
    pains: Pains,
    report: Report,
    /// Where the program writes to.
    out: PathBuf,
}

impl Bench {
    fn four_queries_on_zstd(&mut self, input: &Path) {
        let decompress = || time(Command::new("zstd").arg("-dc").arg(input).stdout(Stdio::null()));
        let ours = || time(&mut four_queries(input, &self.out));
        let turns = self.pains.take_turns(decompress, ours);
        let goal = Goal::TimesAsLong { at_most: 1.10, known: 1.4 };
        self.report.times("four queries on .pgn.zst / zstd -dc", turns, goal);
    }

    fn four_queries_on_plain(&mut self, input: &Path) -> io::Result<()> {
        let bytes = fs::read(input)?;
        let ours = || time(&mut four_queries(input, &self.out));
        let turns = self.pains.take_turns(|| parsing(&bytes), ours);
        let goal = Goal::TimesAsFast { at_least: 5.0, known: 3.3 };
        self.report.times("parsing with pgn-reader / four queries on .pgn", turns, goal);
        Ok(())
    }

    /// The whole library, with and without overlooked offers, against replaying every game; then on one
    /// thread against two.
    fn library_beside_replay(&mut self, input: &Path, part: usize) -> io::Result<()> {
        let bytes = fs::read(input)?;
        let library = |more: &[&str]| time(whole_library(input, &self.out).args(more));
        let replay = || replaying(&bytes, part);
        let turns = self.pains.take_turns(replay, || library(&[]));
        let goal = Goal::TimesAsLong { at_most: 0.80, known: 7.0 };
        self.report.times("whole library / replaying every game", turns, goal);
        let turns = self.pains.take_turns(replay, || library(&["--every-sacrifice"]));
        let goal = Goal::TimesAsLong { at_most: 1.15, known: 10.8 };
        self.report.times("the same with every sacrifice / replaying", turns, goal);
        let turns = self.pains.take_turns(replay, || library(&["--overlooked"]));
        let goal = Goal::TimesAsLong { at_most: 1.50, known: 76.5 };
        self.report.times("the same with --overlooked / replaying", turns, goal);
        let one = || library(&["--threads=1"]);
        let turns = self.pains.take_turns(one, || library(&["--threads=2"]));
        let goal = Goal::TimesAsFast { at_least: 1.80, known: 1.80 };
        self.report.times("whole library, 1 thread / 2 threads", turns, goal);
        Ok(())
    }

    fn memory(&mut self, name: &str, input: &Path) -> io::Result<()> {
        self.peak(&format!("peak memory, {name}"), &mut four_queries(input, &self.out), 96.0)
    }

    fn peak(&mut self, work: &str, command: &mut Command, at_most: f64) -> io::Result<()> {
        let peak = peak_memory(command)? as f64 / 1024.0;
        self.report.quantity(work, peak, "MiB", at_most);
        Ok(())
    }

    /// A tally of a million hits: its time and its peak memory, and its time over the other formats.
    fn million_hits(&mut self, folder: &Path) -> io::Result<()> {
        let million = |format: TableFormat| {
            let run = folder.join(format.ending());
            mined_sample(&run, format);
            let table = repeat_hits(&run, QUERY, MILLION)?;
            let mut tally = hecatomb();
            tally.arg("tally").arg(&run);
            io::Result::Ok((table, tally))
        };
        let goal = |known| Goal::Seconds { at_most: 2.0, known };
        let (csv, mut tally) = million(TableFormat::Csv)?;
        let turns = self.pains.take_turns(|| reading_rows(&csv, MILLION), || time(&mut tally));
        self.report.times("reading a million hits with csv / tally", turns, goal(1.4));
        self.peak("peak memory, that tally", &mut tally, 200.0)?;
        for (format, known) in [(TableFormat::Jsonl, 3.4), (TableFormat::Parquet, 1.65)] {
            let (table, mut tally) = million(format)?;
            let turns = self.pains.take_turns(|| reading_rows(&csv, MILLION), || time(&mut tally));
            let work = format!("the same csv / tally of {}", format.ending());
            self.report.times(&work, turns, goal(known));
            fs::remove_file(table)?;
        }
        Ok(())
    }

    /// A lesson over ten thousand verified hits: its time and its size.
    fn lesson(&mut self, run: &Path) -> io::Result<()> {
        mined_sample(run, TableFormat::Csv);
        time(hecatomb().args(["verify", "--quiet", "--nodes=10000"]).arg(run));
        let table = repeat_hits(run, QUERY, TEN_THOUSAND)?;
        let page = run.join("lesson.html");
        let mut lesson = hecatomb();
        lesson.arg("lesson").arg(run).args(["--query=bishop-takes-h7", "-o"]).arg(&page);
        let read = || reading_rows(&table, TEN_THOUSAND);
        let turns = self.pains.take_turns(read, || time(&mut lesson));
        let goal = Goal::Seconds { at_most: 5.0, known: 280.0 };
        self.report.times("reading 10,000 hits with csv / lesson", turns, goal);
        let size = fs::metadata(&page)?.len() as f64 / 1e6;
        self.report.quantity("its size", size, "MB", 2.0);
        Ok(())
    }
}
