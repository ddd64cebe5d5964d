//! What the tests share: the program, a folder to run it in, games, and mining without files.

use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::sync::OnceLock;

use hecatomb::collection::{Block, ByteOffset, Cutter};
use hecatomb::mining::{BlockReport, Miner, Scrutiny, Selection};
use hecatomb::query::{Lens, Library, Pattern, Query};
use shakmaty::Color;
use tempfile::TempDir;

/// The program, to be run in `folder`.
pub(crate) fn hecatomb<I: AsRef<OsStr>>(folder: &Path, arguments: &[I]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_hecatomb"));
    command.args(arguments).current_dir(folder).stdin(Stdio::null()).env_remove("NO_COLOR");
    command.env_remove("HECATOMB_ENGINE");
    command
}

/// Interrupts a program that runs, as Ctrl-C does.
#[cfg(unix)]
pub(crate) fn interrupt(child: &std::process::Child) {
    let kill = Command::new("kill").args(["-INT", &child.id().to_string()]).status().unwrap();
    assert!(kill.success());
}

/// What a run of the program came to.
#[derive(Debug)]
pub(crate) struct Ran {
    pub(crate) status: i32,
    pub(crate) out: String,
    pub(crate) err: String,
}

impl From<Output> for Ran {
    fn from(output: Output) -> Ran {
        Ran {
            status: output.status.code().unwrap_or(-1),
            out: String::from_utf8(output.stdout).unwrap(),
            err: String::from_utf8(output.stderr).unwrap(),
        }
    }
}

impl std::fmt::Display for Ran {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "status: {}\n----- out\n{}----- err\n{}", self.status, self.out, self.err)
    }
}

/// A folder to run the program in.
pub(crate) struct Place(TempDir);

impl Place {
    pub(crate) fn new() -> Place {
        Place(TempDir::new().unwrap())
    }

    pub(crate) fn path(&self) -> &Path {
        self.0.path()
    }

    pub(crate) fn write(&self, name: &str, content: impl AsRef<[u8]>) -> &Place {
        let path = self.path().join(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, content).unwrap();
        self
    }

    pub(crate) fn read(&self, name: &str) -> String {
        std::fs::read_to_string(self.path().join(name))
            .unwrap_or_else(|error| panic!("{name}: {error}"))
    }

    /// Waits until a file is there.
    pub(crate) fn wait_for(&self, name: &str) {
        while !self.path().join(name).exists() {
            std::thread::sleep(std::time::Duration::from_millis(1));
        }
    }

    pub(crate) fn run<I: AsRef<OsStr>>(&self, arguments: &[I]) -> Ran {
        hecatomb(self.path(), arguments).output().unwrap().into()
    }

    /// The rows of a table of the default output folder.
    pub(crate) fn rows(&self, table: &str) -> Vec<Row> {
        rows(&self.path().join("hecatomb-out").join(table))
    }
}

/// A row of a table by column.
pub(crate) struct Row(std::collections::BTreeMap<String, String>);

impl std::ops::Index<&str> for Row {
    type Output = str;

    fn index(&self, column: &str) -> &str {
        self.0.get(column).unwrap_or_else(|| panic!("there is no column {column}"))
    }
}

/// The rows of a table of comma-separated values.
pub(crate) fn rows(path: &Path) -> Vec<Row> {
    let mut reader = csv::Reader::from_path(path).unwrap();
    let columns = reader.headers().unwrap().clone();
    let row = |record: csv::StringRecord| {
        // An apostrophe guards texts that look like formulas.
        let cells = record.iter().map(|cell| cell.strip_prefix('\'').unwrap_or(cell).to_owned());
        Row(columns.iter().map(str::to_owned).zip(cells).collect())
    };
    reader.records().map(|record| row(record.unwrap())).collect()
}

/// Every file of a run by its path, but for what is by nature different: the seconds of the manifest.
pub(crate) fn files(folder: &Path) -> std::collections::BTreeMap<String, Vec<u8>> {
    let mut found = std::collections::BTreeMap::new();
    for entry in walkdir::WalkDir::new(folder) {
        let entry = entry.unwrap();
        if entry.file_type().is_file() {
            let name = entry.path().strip_prefix(folder).unwrap().display().to_string();
            let mut bytes = std::fs::read(entry.path()).unwrap();
            if name == "run.json" {
                let mut run: serde_json::Value = serde_json::from_slice(&bytes).unwrap();
                run["seconds"] = 0.into();
                bytes = serde_json::to_string_pretty(&run).unwrap().into_bytes();
            }
            found.insert(name, bytes);
        }
    }
    found
}

/// Writes over the table of hits of a query: its first offer so many times, with these cells instead.
pub(crate) fn repeat_offer(place: &Place, query: &str, offers: &[(usize, &[(&str, &str)])]) {
    let table = format!("hecatomb-out/hits/{query}.csv");
    let text = place.read(&table);
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let columns = reader.headers().unwrap().clone();
    let first = reader.records().next().unwrap().unwrap();
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer.write_record(&columns).unwrap();
    for (times, cells) in offers {
        let changed = columns.iter().zip(&first).map(|(column, old)| {
            let new = cells.iter().find(|(name, _)| *name == column);
            new.map_or(old, |&(_, new)| new)
        });
        for _ in 0..*times {
            writer.write_record(changed.clone()).unwrap();
        }
    }
    place.write(&table, writer.into_inner().unwrap());
}

/// The built-in patterns.
pub(crate) fn built_in() -> Vec<Pattern> {
    let mut library = Library::new();
    library.add_built_in();
    library.queries().unwrap().into_iter().map(Pattern::new).collect()
}

/// The lenses of a pattern for one attacker, the wing as written first.
pub(crate) fn lenses_of(pattern: &Pattern, attacker: Color) -> impl Iterator<Item = &Lens> {
    pattern.lenses.iter().filter(move |lens| lens.view.attacker == attacker)
}

/// A pattern from a query's text.
pub(crate) fn pattern(source: &str) -> Pattern {
    match Query::read("a-query", "a-query.toml", source) {
        Ok(query) => Pattern::new(query),
        Err(problems) => panic!("{problems}"),
    }
}

/// A block that holds a whole text.
pub(crate) fn block(text: &[u8]) -> Block {
    Block {
        offset: ByteOffset(0),
        buffer: text.to_vec(),
        length: text.len(),
        integrity: hecatomb::collection::Integrity::Whole,
    }
}

/// The report of a text for these patterns.
pub(crate) fn mine(patterns: &[Pattern], text: &[u8], audit: bool) -> BlockReport {
    let scrutiny = Scrutiny { audit, overlooked: false };
    Miner::new(patterns, &Selection::default(), scrutiny).mine(&block(text), u64::MAX)
}

/// The blocks of a text.
pub(crate) fn cut(text: &[u8], block_size: usize) -> Vec<Block> {
    let mut cutter = Cutter::from(ByteOffset(0), text, block_size);
    std::iter::from_fn(|| cutter.next_block(Vec::new()).unwrap()).collect()
}

/// The real games that the package pgn-reader carries for its benchmarks: 1,110 games of masters and
/// 438 games from a server, with clocks and evaluations.
pub(crate) fn package_games() -> [&'static PathBuf; 2] {
    static PATHS: OnceLock<[PathBuf; 2]> = OnceLock::new();
    let paths = PATHS.get_or_init(|| {
        // Only what this machine builds has been downloaded.
        let host = Command::new("rustc").args(["--print", "host-tuple"]).output().unwrap();
        let host = String::from_utf8(host.stdout).unwrap().trim().to_owned();
        let options = ["--offline".to_owned(), "--filter-platform".to_owned(), host];
        let metadata = cargo_metadata::MetadataCommand::new()
            .manifest_path(concat!(env!("CARGO_MANIFEST_DIR"), "/Cargo.toml"))
            .other_options(options.to_vec())
            .exec()
            .unwrap();
        let package =
            metadata.packages.iter().find(|package| package.name == "pgn-reader").unwrap();
        let folder = package.manifest_path.parent().unwrap().join("benches");
        let files = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
        let is_long = |path: &PathBuf| path.to_str().unwrap().ends_with("_1000k.pgn");
        let mut long: Vec<PathBuf> = files.filter(is_long).collect();
        long.sort();
        let [online, tournament] = long.try_into().expect("pgn-reader has two long files of games");
        [tournament, online]
    });
    [&paths[0], &paths[1]]
}

/// A game of one offer that is accepted and works, with the given White and Black.
pub(crate) fn game(white: &str, black: &str) -> String {
    format!(
        "[Event \"Harbour League\"]\n[Site \"Ombrequay\"]\n[Date \"2031.03.04\"]\n[Round \"1\"]\n\
         [White \"{white}\"]\n[Black \"{black}\"]\n[Result \"1-0\"]\n[WhiteElo \"1850\"]\n\
         [BlackElo \"1790\"]\n\n{OFFER_GAME}\n\n"
    )
}

/// The same game, numbered from another move, so that its positions differ from those of others.
pub(crate) fn game_from_move(number: usize, white: &str, black: &str) -> String {
    let board = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0";
    let start = format!("[SetUp \"1\"]\n[FEN \"{board} {number}\"]\n[White ");
    game(white, black).replace("[White ", &start)
}

/// The movetext of a game with an offer on ply 15.
pub(crate) const OFFER_GAME: &str = "1. e4 e6 2. d4 d5 3. Nc3 Nf6 4. e5 Nfd7 5. Nf3 Be7 6. Bd3 O-O 7. h4 c5 \
8. Bxh7+ Kxh7 9. Ng5+ Kg8 10. Qh5 Bxg5 11. hxg5 f6 12. g6 1-0";

/// The games of the sample data.
pub(crate) fn season() -> Vec<u8> {
    let packed = include_bytes!("../sample-data/season.pgn.zst");
    zstd::decode_all(&packed[..]).unwrap()
}
