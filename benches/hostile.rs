//! Input made to be slow or large: time must grow with its length and no faster, and memory not at all.
//!
//! `cargo bench --bench hostile` prints for each kind of text the milliseconds a megabyte takes as the
//! text doubles, how the last doubling changed the time (2 is in proportion), and the peak memory of the
//! program at the greatest length. `cargo bench --bench hostile -- WORD` does so for the kinds with that
//! word in their name.

#![expect(clippy::print_stdout, reason = "the table is the result")]

mod peak;

use std::fs::File;
use std::io::{self, BufWriter, Write};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use peak::peak_memory;

const MB: usize = 1_000_000;

/// The lengths, in megabytes.
const LENGTHS: [usize; 6] = [1, 2, 4, 8, 16, 32];

/// Peak memory must stay below this, in MiB.
const MOST_MEMORY: f64 = 96.0;

/// The tags of a game, and a game with an offer on ply 15.
const TAGS: &str = "[Event \"Harbour League\"]\n[White \"Alder, Tom\"]\n[Black \"Birch, Ida\"]\n\
[Result \"1-0\"]\n";
const MOVES: &str = "1. e4 e6 2. d4 d5 3. Nc3 Nf6 4. e5 Nfd7 5. Nf3 Be7 6. Bd3 O-O 7. h4 c5 8. Bxh7+ Kxh7 \
9. Ng5+ Kg8 10. Qh5 Bxg5 11. hxg5 f6 12. g6";

/// What a text is called, and how one of about a given number of bytes is made.
type Kind = (&'static str, fn(usize) -> Vec<u8>);

const KINDS: [Kind; 27] = [
    ("one comment", |length| around("1. e4 {", "x ", "} e5 1-0\n", length)),
    ("one comment never closed", |length| around("1. e4 {", "x\n", "", length)),
    ("comments never closed", |length| repeated("[Event \"a\"]\n\n1. e4 { x\n\n", length)),
    ("comments of nothing", |length| around("1. e4 ", "{}", " 1-0\n", length)),
    ("pairs in a comment never closed", |length| around("1. e4 {", "\n[a \"", "", length)),
    ("games with tags alone", |length| repeated("[Event \"a\"]\n\n", length)),
    ("games of a result alone", |length| repeated("*\n", length)),
    ("results far apart", |length| repeated(&format!("*{}", " ".repeat(1000)), length)),
    ("one game of many tags", |length| around("", "[A \"b\"]\n", "\n1. e4 1-0\n", length)),
    ("an endless line", |length| around(TAGS, "a", "", length)),
    ("a tag without end", |length| with_tag("[a \"", length)),
    ("quotes and backslashes", |length| with_tag("\\\\\" ", length)),
    ("variations 10,000 deep", |length| {
        let game = format!("{TAGS}\n1. e4 {}{} e5 1-0\n\n", "(".repeat(10_000), ")".repeat(10_000));
        repeated(&game, length)
    }),
    ("zeros and stops", |length| with_movetext("0.", length)),
    ("one number", |length| with_movetext("1", length)),
    ("captures that are none", |length| with_movetext("Bxh7+ ", length)),
    ("evaluations", |length| {
        let most = length.min(7 * MB);
        let game = around(&format!("{TAGS}\n{MOVES} "), "{[%eval 1.0]}", " 1-0\n\n", most);
        game.iter().copied().cycle().take(game.len() * (length / most)).collect()
    }),
    ("one game under many names", |length| {
        let game = |number: usize| {
            format!("{}\n{MOVES} 1-0\n\n", TAGS.replace("Alder", &format!("Alder{number}")))
        };
        (0..length / game(0).len()).flat_map(|number| game(number).into_bytes()).collect()
    }),
    ("perpetual check", |length| {
        repeated(&long_game("6k1/5p1p/8/8/8/8/7Q/6K1", "Qb8+ Kg7 Qh2 Kg8 "), length)
    }),
    ("offers without end", |length| {
        repeated(&long_game("6k1/7p/4p3/8/8/2N5/8/6K1", "Nd5 Kh8 Nc3 Kg8 "), length)
    }),
    ("carriage returns alone", |length| repeated("[Event \"a\"]\r\r1. e4 {x} *\r\r", length)),
    ("blank lines among tags", |length| {
        let tags: String =
            (0..length / 15).map(|number| format!("[A{number} \"b\"]\n\n")).collect();
        tags.into_bytes()
    }),
    ("tags that can't be read", |length| {
        around("[Event \"a\"]\n", "[a\n", "\n1. e4 1-0\n", length)
    }),
    ("prose after a result", |length| around("1. e4 *\n", "xx ", "\n", length)),
    ("prose between results", |length| repeated("*\nxx xx xx\n", length)),
    ("brackets after a result", |length| around("1. e4 *\n", "\n[a ", "\n", length)),
    ("games without a blank line", |length| repeated("[Event \"a\"]\n1. e4 *\n", length)),
];

fn main() -> io::Result<()> {
    // Cargo gives options of its own, too.
    let word = std::env::args().skip(1).find(|word| !word.starts_with('-')).unwrap_or_default();
    let folder = tempfile::tempdir()?;
    std::fs::write(folder.path().join("every-round.toml"), QUERY)?;
    print!("{:<34}", "ms a MB at a length of, in MB");
    LENGTHS.iter().for_each(|length| print!("{length:>8}"));
    println!("{:>9}{:>11}", "doubling", "peak MiB");
    for (name, text) in KINDS.iter().filter(|(name, _)| name.contains(&word)) {
        row(name, text, folder.path())?;
    }
    if "bomb".contains(&word) {
        bombs(folder.path())?;
    }
    Ok(())
}

fn repeated(part: &str, length: usize) -> Vec<u8> {
    part.as_bytes().repeat(length / part.len())
}

fn around(before: &str, part: &str, after: &str, length: usize) -> Vec<u8> {
    [before.as_bytes(), &repeated(part, length), after.as_bytes()].concat()
}

/// A game with an offer and a tag section with a line that holds a part again and again. Longer texts
/// are several such games, none too long to be mined.
fn with_tag(part: &str, length: usize) -> Vec<u8> {
    let most = length.min(4 * MB);
    let before = format!("{TAGS}[Site \"");
    let game = around(&before, part, &format!("\n\n{MOVES} 1-0\n\n"), most);
    game.repeat(length / most)
}

/// The same with such movetext.
fn with_movetext(part: &str, length: usize) -> Vec<u8> {
    let most = length.min(4 * MB);
    around(&format!("{TAGS}\n{MOVES} "), part, " 1-0\n\n", most).repeat(length / most)
}

/// A game of nearly 10,000 plies, four of them again and again.
fn long_game(board: &str, round: &str) -> String {
    format!("[FEN \"{board} w - - 0 1\"]\n[SetUp \"1\"]\n\n{}1-0\n\n", round.repeat(2_450))
}

/// A query whose offer comes in every round of a long game, and that watches to the game's end.
const QUERY: &str = "title = \"t\"\nchapter = \"knight\"\noffer = \"knight to d5 giving up 1 or more\"\n\
[follow-ups]\nmate = \"any man with mate\"\nqueen-taken = \"any man takes queen on any square\"\n";

/// The program with all queries, every game replayed, and chances looked for.
fn program(input: &Path, out: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_hecatomb"));
    command
        .args(["mine", "--quiet", "--replace", "--audit", "--overlooked", "--out"])
        .arg(out)
        .arg(input)
        .args(["bishop", "knight", "rook", "queen"].map(|piece| format!("--chapter={piece}")))
        .arg("--query")
        .arg(input.with_file_name("every-round.toml"))
        .stdout(Stdio::null())
        .stderr(Stdio::null());
    command
}

fn time(command: &mut Command) -> io::Result<Duration> {
    let start = Instant::now();
    let status = command.status()?;
    assert!(status.code().is_some_and(|code| code < 2), "{command:?}: {status}");
    Ok(start.elapsed())
}

fn row(name: &str, text: &fn(usize) -> Vec<u8>, folder: &Path) -> io::Result<()> {
    let (input, out) = (folder.join("hostile.pgn"), folder.join("out"));
    print!("{name:<34}");
    let mut times = Vec::new();
    for length in LENGTHS {
        std::fs::write(&input, text(length * MB))?;
        let taken = time(&mut program(&input, &out))?;
        // Input without a game is a failure, too, but it is read to its end.
        assert!(out.join("run.json").is_file(), "{name}: nothing was mined");
        std::fs::remove_dir_all(&out)?;
        print!("{:>8.1}", 1e3 * taken.as_secs_f64() / length as f64);
        io::stdout().flush()?;
        times.push(taken);
    }
    let [.., half, whole] = &times[..] else { return Ok(()) };
    let peak = peak_memory(&mut program(&input, &out))? as f64 / 1024.0;
    let mark = if peak > MOST_MEMORY { " over" } else { "" };
    println!("{:>9.2}{peak:>11.1}{mark}", whole.as_secs_f64() / half.as_secs_f64());
    Ok(())
}

/// Much in a small archive: a gigabyte of one line, and a tenth of that in games that are only tags, each
/// of which is told.
fn bombs(folder: &Path) -> io::Result<()> {
    println!(
        "\n{:<34}{:>12}{:>12}{:>11}",
        "much in a small archive", "kB packed", "ms a MB", "peak MiB"
    );
    for (name, part, length) in
        [("1 GB of one line", "a", 1000), ("0.1 GB of tags alone", "[Event \"a\"]\n\n", 100)]
    {
        let input = folder.join("bomb.pgn.zst");
        let mut packed = zstd::Encoder::new(BufWriter::new(File::create(&input)?), 3)?;
        let text = repeated(part, MB);
        for _ in 0..length {
            packed.write_all(&text)?;
        }
        packed.finish()?.flush()?;
        let mut program = program(&input, &folder.join("out"));
        let taken = 1e3 * time(&mut program)?.as_secs_f64() / f64::from(length);
        let peak = peak_memory(&mut program)? as f64 / 1024.0;
        let size = std::fs::metadata(&input)?.len() as f64 / 1e3;
        println!("{name:<34}{size:>12.1}{taken:>12.1}{peak:>11.1}");
    }
    Ok(())
}
