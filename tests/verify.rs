//! `hecatomb verify`: the same verdicts whatever the machine does, and nothing lost when it is broken
//! off.

use std::io::Write;
use std::process::Stdio;
use std::time::Duration;

use crate::support::{OFFER_GAME, Place, Ran, game, game_from_move, hecatomb, interrupt};

/// A folder with a run of a few games with offers of one query.
fn mined() -> Place {
    let place = Place::new();
    let games: Vec<String> = (0..6)
        .map(|index| game_from_move(21 + index, &format!("Alder, Tom {index}"), "Birch, Ida"))
        .collect();
    place.write("games.pgn", games.join("\n"));
    let ran = place.run(&["mine", "games.pgn", "--query", "bishop-takes-h7", "--keep-duplicates"]);
    assert_eq!(ran.status, 0, "{ran}");
    place
}

const TABLE: &str = "hecatomb-out/verdicts/bishop-takes-h7.csv";
const FEW: &str = "--nodes=3000";

#[test]
fn verdicts_are_written_and_read_in_the_format_of_the_run() {
    let told = |format: &str| {
        let place = mined();
        let mine = ["mine", "games.pgn", "--query", "bishop-takes-h7", "--keep-duplicates"];
        let mined = place.run(&[&mine[..], &["--table", format, "--replace"]].concat());
        assert_eq!(mined.status, 0, "{mined}");
        let ran = place.run(&["verify", "hecatomb-out", FEW]);
        assert_eq!(ran.status, 0, "{ran}");
        let files = std::fs::read_dir(place.path().join("hecatomb-out/verdicts")).unwrap();
        let mut names: Vec<String> =
            files.map(|file| file.unwrap().file_name().into_string().unwrap()).collect();
        names.sort();
        assert_eq!(names, [format!("bishop-takes-h7.{format}"), "terms.json".to_owned()]);
        // Nothing is judged twice.
        assert_eq!(place.run(&["verify", "hecatomb-out", FEW, "--resume"]).out, ran.out);
        let columns = "verdict,depth,count_end,why_open,drawn_by,sound,best_line,if_accepted,is_best,better,nodes";
        let tally = place.run(&["tally", "hecatomb-out", "--by", columns, "--format", "csv"]);
        assert_eq!(tally.status, 0, "{tally}");
        (ran.out, tally.out)
    };
    let csv = told("csv");
    assert!(csv.1.lines().count() > 1, "{}", csv.1);
    assert_eq!(told("jsonl"), csv);
    assert_eq!(told("parquet"), csv);
}

#[test]
fn threads_and_interruptions_change_no_byte() {
    let place = mined();
    let verify = |more: &[&str]| {
        let ran = place.run(&[&["verify", "hecatomb-out", FEW], more].concat());
        assert_eq!(ran.status, 0, "{ran}");
        place.read(TABLE)
    };
    let whole = verify(&["--threads=1"]);
    assert_eq!(whole.lines().count(), 7);
    assert_eq!(verify(&["--threads=3"]), whole);
    // Broken off in the middle of a row, after the heading, in the heading, and at the very end.
    for length in [whole.len() / 2, whole.find('\n').unwrap() + 1, 5, whole.len()] {
        place.write(&format!("{TABLE}.unfinished"), &whole[..length]);
        std::fs::remove_file(place.path().join(TABLE)).unwrap();
        assert_eq!(verify(&["--resume"]), whole, "after {length} bytes");
        assert!(!place.path().join(format!("{TABLE}.unfinished")).exists());
    }
    // What was noted is kept, and what grew after that is cut.
    let heading = whole.find('\n').unwrap() + 1;
    let three = whole.match_indices('\n').nth(3).unwrap().0 + 1;
    for (length, rows) in [(heading, 0), (three, 3), (whole.len(), 6)] {
        let part = place.path().join(format!("{TABLE}.unfinished"));
        std::fs::write(&part, &whole[..length]).unwrap();
        note(&part, rows);
        std::fs::write(&part, &whole).unwrap();
        std::fs::remove_file(place.path().join(TABLE)).unwrap();
        assert_eq!(verify(&["--resume"]), whole, "after {rows} rows");
    }
    // What is finished is not done again.
    let stamp = std::fs::metadata(place.path().join(TABLE)).unwrap().modified().unwrap();
    verify(&["--resume"]);
    assert_eq!(std::fs::metadata(place.path().join(TABLE)).unwrap().modified().unwrap(), stamp);
}

/// Notes how far a growing table has grown, as the program does.
pub(crate) fn note(part: &std::path::Path, rows: u64) {
    let checksum =
        serde_json::to_value(hecatomb::tables::Checksum::of_file(part).unwrap()).unwrap();
    let xxh3 = u64::from_str_radix(checksum.as_str().unwrap(), 16).unwrap();
    let bytes = std::fs::metadata(part).unwrap().len();
    let note = serde_json::json!({ "bytes": bytes, "rows": rows, "xxh3": xxh3 });
    std::fs::write(part.with_extension("").with_extension("note.unfinished"), note.to_string())
        .unwrap();
}

#[test]
fn unfinished_verdicts_that_were_changed_are_not_resumed() {
    let place = mined();
    assert_eq!(place.run(&["verify", "hecatomb-out", FEW]).status, 0);
    let whole = place.read(TABLE);
    let part = place.path().join(format!("{TABLE}.unfinished"));
    std::fs::rename(place.path().join(TABLE), &part).unwrap();
    note(&part, 6);
    for changed in [whole.replacen(",open,", ",yes,", 1), whole[..whole.len() - 3].to_owned()] {
        assert_ne!(changed, whole);
        std::fs::write(&part, changed).unwrap();
        let ran = place.run(&["verify", "hecatomb-out", FEW, "--resume"]);
        assert_eq!(ran.status, 1, "{ran}");
        assert!(ran.err.contains("unfinished verdicts on `bishop-takes-h7` were changed"), "{ran}");
        assert!(ran.err.contains("hint: start again with --replace"), "{ran}");
    }
    assert_eq!(place.run(&["verify", "hecatomb-out", FEW, "--replace"]).status, 0);
    assert_eq!(place.read(TABLE), whole);
}

/// An interrupt is heard between two hits, and what was judged before is kept.
#[cfg(unix)]
#[test]
fn interrupted_it_says_how_far_it_got_and_goes_on() {
    let place = mined();
    let arguments = ["verify", "hecatomb-out", "--nodes=300000", "--threads=1"];
    let child = hecatomb(place.path(), &arguments).stderr(Stdio::piped()).spawn().unwrap();
    std::thread::sleep(Duration::from_millis(400));
    interrupt(&child);
    let ended = child.wait_with_output().unwrap();
    let err = String::from_utf8(ended.stderr).unwrap();
    assert_eq!(ended.status.code(), Some(130), "{err}");
    assert!(err.starts_with("interrupted: ") && err.contains(" of 6 hits are judged"), "{err}");
    assert!(!place.path().join(TABLE).exists());
    assert_eq!(place.run(&[&arguments[..], &["--resume"]].concat()).status, 0);
    let gone_on = place.read(TABLE);
    assert_eq!(place.run(&arguments).status, 0);
    assert_eq!(gone_on, place.read(TABLE));
}

#[test]
fn other_terms_are_not_mixed() {
    let place = mined();
    place.run(&["verify", "hecatomb-out", FEW]);
    let ran = place.run(&["verify", "hecatomb-out", "--nodes=4000", "--resume"]);
    assert_eq!(ran.status, 1);
    assert!(ran.err.contains("made with other options"), "{ran}");
    // A table that was made again with other options than the rest is continued under its own, and the
    // rest is not taken for made so.
    place.run(&[
        "mine",
        "games.pgn",
        "--query",
        "bishop-takes-h7",
        "--query",
        "knight-follow-up",
        "--replace",
    ]);
    let run = |options: &[&str]| place.run(&[&["verify", "hecatomb-out"], options].concat());
    assert_eq!(run(&[FEW]).status, 0);
    // Finished verdicts are not replaced unasked; made again under the same terms they are the same.
    let finished = place.read("hecatomb-out/verdicts/bishop-takes-h7.csv");
    let other = ["--query", "bishop-takes-h7", "--nodes=4000"];
    let ran = run(&other);
    assert_eq!(ran.status, 1);
    assert!(ran.err.contains("hint: replace them with --replace"), "{ran}");
    assert_eq!(run(&[FEW]).status, 0);
    assert_eq!(place.read("hecatomb-out/verdicts/bishop-takes-h7.csv"), finished);
    assert_eq!(run(&[&other[..], &["--replace"]].concat()).status, 0);
    let ran = run(&["--nodes=4000", "--resume"]);
    assert_eq!(ran.status, 1);
    assert!(ran.err.contains("verdicts on `knight-follow-up` were made with other"), "{ran}");
    assert_eq!(run(&["--query", "bishop-takes-h7", "--nodes=4000", "--resume"]).status, 0);
    assert_eq!(run(&["--query", "knight-follow-up", FEW, "--resume"]).status, 0);
    // Whoever starts again and breaks off finds nothing of what was before.
    let table = place.path().join(TABLE);
    std::fs::rename(&table, table.with_extension("csv.unfinished")).unwrap();
    let ran = run(&[FEW]);
    assert_eq!(ran.status, 1);
    assert!(ran.err.contains("--replace"), "{ran}");
    assert_eq!(run(&[FEW, "--replace"]).status, 0);
    std::fs::remove_file(place.path().join("hecatomb-out/verdicts/terms.json")).unwrap();
    let ran = run(&[FEW, "--resume"]);
    assert_eq!(ran.status, 1);
    assert!(ran.err.contains("or replace them with --replace"), "{ran}");
}

/// Judging takes hours: who mines the same hits again keeps the verdicts on them.
#[test]
fn run_that_is_written_again_keeps_the_verdicts_on_the_same_hits_alone() {
    let place = mined();
    assert_eq!(place.run(&["verify", "hecatomb-out", FEW]).status, 0);
    let (verdicts, terms) = (place.read(TABLE), place.read("hecatomb-out/verdicts/terms.json"));
    let mine = ["mine", "games.pgn", "--query", "bishop-takes-h7", "--keep-duplicates"];
    let with_another = [&mine[..], &["--query", "knight-follow-up", "--replace"]].concat();
    for again in [&mine[..], &with_another] {
        assert_eq!(place.run(again).status, 0);
        assert_eq!(
            (&place.read(TABLE), &place.read("hecatomb-out/verdicts/terms.json")),
            (&verdicts, &terms)
        );
        let ran =
            place.run(&["verify", "hecatomb-out", "--query", "bishop-takes-h7", FEW, "--resume"]);
        assert_eq!((ran.status, &place.read(TABLE)), (0, &verdicts), "{ran}");
    }
    let fewer = [&mine[..], &["--limit", "3", "--replace"]].concat();
    assert_eq!(place.run(&fewer).status, 0);
    assert!(!place.path().join(TABLE).exists());
    assert!(!place.path().join("hecatomb-out/verdicts/terms.json").exists());
}

#[test]
fn tally_counts_verdicts() {
    let place = mined();
    let by_sound = ["tally", "hecatomb-out", "--by", "sound", "--format", "csv"];
    let ran = place.run(&by_sound);
    assert_eq!(ran.status, 1);
    assert!(ran.err.contains("hecatomb verify"), "{ran}");
    place.run(&["verify", "hecatomb-out", FEW]);
    let ran = place.run(&by_sound);
    assert_eq!(ran.status, 0, "{ran}");
    let hits: u64 = ran
        .out
        .lines()
        .skip(1)
        .map(|line| line.split(',').nth(3).unwrap().parse::<u64>().unwrap())
        .sum();
    assert_eq!(hits, 6, "{ran}");
}

#[test]
fn factors_are_told_by_verdict() {
    let place = mined();
    let factors = ["tally", "hecatomb-out", "--factors", "--by", "sound", "--format", "csv"];
    let ran = place.run(&factors);
    assert_eq!(ran.status, 1);
    assert!(ran.err.contains("`hecatomb verify DIR` adds it"), "{ran}");
    place.run(&["verify", "hecatomb-out", FEW]);
    // Each factor is told once for each verdict there is, of as many games as have it.
    let by_sound = place.run(&["tally", "hecatomb-out", "--by", "sound", "--format", "csv"]).out;
    let cells = |text: &str, columns: &[&str]| {
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        let heading = reader.headers().unwrap().clone();
        let place = |name: &&str| heading.iter().position(|column| column == *name).unwrap();
        let places: Vec<usize> = columns.iter().map(place).collect();
        let row = |row: csv::StringRecord| places.iter().map(|&at| row[at].to_owned()).collect();
        reader.records().map(|record| row(record.unwrap())).collect::<Vec<Vec<String>>>()
    };
    let games: std::collections::BTreeMap<String, u64> = cells(&by_sound, &["sound", "given_up"])
        .into_iter()
        .map(|row| (row[0].clone(), row[1].parse().unwrap()))
        .collect();
    let told = cells(&place.run(&factors).out, &["sound", "factor", "with_games", "without_games"]);
    assert!(!told.is_empty());
    for row in told {
        let both: u64 = row[2..].iter().map(|games| games.parse::<u64>().unwrap()).sum();
        assert_eq!(both, games[&row[0]], "{row:?}");
    }
    let text = place.run(&["tally", "hecatomb-out", "--factors", "--by", "sound"]).out;
    assert!(text.starts_with("bishop-takes-h7, sound "), "{text}");
}

#[test]
fn table_of_other_hits_is_an_error() {
    let place = mined();
    place.run(&["verify", "hecatomb-out", FEW]);
    let id = place.rows("hits/bishop-takes-h7.csv")[2]["id"].to_owned();
    let table = place.read(TABLE).replace(&id, "0000000000000:15:bishop-takes-h7");
    place.write(TABLE, table);
    let ran = place.run(&["tally", "hecatomb-out", "--by", "sound"]);
    assert_eq!(ran.status, 1);
    assert!(ran.err.contains(&format!("the hit in this place is `{id}`")), "{ran}");
}

#[test]
fn one_position_is_judged_with_its_proof() {
    let place = Place::new();
    let judge = |fen: &str, offer: &str| {
        place.run(&["verify", "--fen", fen, "--offer", offer, "--nodes=20000"])
    };
    let mut shown = String::new();
    for (fen, offer) in [
        ("5rk1/pb4pp/1p6/q5N1/8/8/PP2QPPP/6K1 w - - 0 1", "Qe6+"),
        ("r1b2r1k/pp2q1pp/2p4N/8/2Q5/8/PPP2PPP/4R1K1 w - - 0 1", "Qg8+"),
        // Perpetual check: the attacker's, and the defender's.
        ("2q4k/pp3p1p/2pp2r1/8/2PP4/1P2P3/PB1Q1PPP/R4RK1 b - - 0 1", "Rxg2+"),
        ("6k1/1r3ppp/8/8/7q/PQP5/2PP2P1/6K1 w - - 0 1", "Qxb7"),
        // The defender mates.
        ("6k1/1r3ppp/8/8/7q/1Q6/6P1/6K1 w - - 0 1", "Qb2"),
        // The defender mates, and would after any other move (checked by playing every move in python-chess).
        ("2k2R2/pp1r4/8/2p3Q1/1PP1p3/PN1pP1P1/4q3/6K1 b - - 1 20", "Rd8"),
        // A proof too long to be shown whole.
        ("2q2r1k/pp3p1p/2pp2r1/8/2PP4/1P2P3/PB1Q1PPP/R4RK1 b - - 0 1", "Rxg2+"),
        ("5rk1/pb4pp/1p6/q5N1/8/8/PP2QPPP/6K1 w - - 0 1", "Qe9+"),
        ("5rk1/pb4pp/1p6/q5N1/8/8/PP2QPPP/6K1 w - - 0 1", "Qa4"),
        ("5rk1/pb4pp/1p6/q5N1/8/8/PP2QPPP w - - 0 1", "Qe6+"),
    ] {
        shown += &format!("{offer}\n{}\n", judge(fen, offer));
    }
    insta::assert_snapshot!(shown);
}

#[test]
fn readme_shows_the_proof_as_it_is() {
    let readme = include_str!("../README.md");
    let command = "    $ hecatomb verify --fen \"5rk1/pb4pp/1p6/q5N1/8/8/PP2QPPP/6K1 w - - 0 1\" --offer Qe6+\n";
    let (_, shown) = readme.split_once(command).expect("the command is there");
    let fen = "5rk1/pb4pp/1p6/q5N1/8/8/PP2QPPP/6K1 w - - 0 1";
    let ran = Place::new().run(&["verify", "--fen", fen, "--offer", "Qe6+"]);
    let indented = |line: &str| if line.is_empty() { "\n".into() } else { format!("    {line}\n") };
    let expected: String = ran.out.lines().map(indented).collect();
    assert!(shown.starts_with(&expected), "{expected}");
}

/// What is for whole runs alone is refused rather than passed over.
#[test]
fn options_of_runs_do_not_go_with_one_position() {
    let one =
        ["verify", "--fen", "5rk1/pb4pp/1p6/q5N1/8/8/PP2QPPP/6K1 w - - 0 1", "--offer", "Qe6+"];
    for options in [&["--resume"][..], &["--edited"], &["--query", "q"], &["hecatomb-out"]] {
        let ran = Place::new().run(&[&one[..], options].concat());
        assert_eq!(ran.status, 2, "{ran}");
        assert!(ran.err.contains("cannot be used with"), "{ran}");
    }
}

#[test]
fn stated_verdicts_are_proved_or_named() {
    let place = Place::new();
    let query = |verdict: &str| {
        format!(
            "title = \"t\"\nchapter = \"queen\"\noffer = \"queen to e6 with check\"\n[[example]]\n\
             fen = \"5rk1/pb4pp/1p6/q5N1/8/8/PP2QPPP/6K1 w - - 0 1\"\nline = \"Qe6+ Kh8\"\n\
             hit = true\nverdict = \"{verdict}\"\n"
        )
    };
    let check = |verdict: &str| {
        place.write("q.toml", query(verdict));
        place.run(&["queries", "check", "q.toml", "--verify"])
    };
    for right in ["mates in 5", "sound"] {
        assert_eq!(check(right).status, 0, "{right}");
    }
    for wrong in ["mates in 4", "holds", "not sound"] {
        let ran = check(wrong);
        assert_eq!(ran.status, 1, "{wrong}");
        assert!(ran.err.contains("the searches say `mates in 5`"), "{ran}");
    }
    assert!(check("wonderful").err.contains("`wonderful` is not a verdict"));
}

#[test]
fn verdicts_of_the_built_in_queries_are_proved() {
    let ran = Place::new().run(&["queries", "check", "--verify"]);
    assert_eq!(ran.status, 0, "{ran}");
}

fn owned((before, after): (&str, &str)) -> (String, String) {
    (before.to_owned(), after.to_owned())
}

#[cfg(unix)]
#[test]
fn engine_gives_a_second_opinion_and_its_faults_cost_only_themselves() {
    let place = mined();
    let whole = |mode: &str| {
        let program = place.path().join(format!("0.{mode}"));
        std::os::unix::fs::symlink(crate::engines::peer(), &program).unwrap();
        let name = program.to_str().unwrap();
        let engine = ["--engine", name, "--engine-nodes", "7", "--edited", "--replace"];
        place.run(&[&["verify", "hecatomb-out", FEW], &engine[..]].concat())
    };
    let ran = whole("none");
    assert_eq!(ran.status, 0, "{ran}");
    for row in place.rows("verdicts/bishop-takes-h7.csv") {
        assert_eq!(&row["engine_fault"], "");
        assert!(!row["engine_before"].is_empty() && !row["engine_after"].is_empty());
        assert!(row["engine_line"].starts_with(&row["engine_reply"]));
    }
    // The peer answers with an illegal move in positions whose move number is 13.
    let hits = "hecatomb-out/hits/bishop-takes-h7.csv";
    let id = place.rows("hits/bishop-takes-h7.csv")[2]["id"].to_owned();
    let (before, after) = place.read(hits).split_once(&id).map(owned).unwrap();
    let fen = place.rows("hits/bishop-takes-h7.csv")[2]["fen"].to_owned();
    let thirteenth = format!("{} 13", fen.rsplit_once(' ').unwrap().0);
    place.write(hits, format!("{before}{id}{}", after.replacen(&fen, &thirteenth, 1)));
    let ran = whole("illegal-move");
    assert_eq!(ran.status, 0, "{ran}");
    for (index, row) in place.rows("verdicts/bishop-takes-h7.csv").iter().enumerate() {
        assert_eq!(
            row["engine_fault"].contains("not legal"),
            index == 2,
            "{}",
            &row["engine_fault"]
        );
        assert_eq!(row["engine_before"].is_empty(), index == 2);
        assert!(!row["verdict"].is_empty());
    }
    let ran = whole("crash-at-start");
    assert_eq!(ran.status, 1, "{ran}");
    assert!(ran.err.contains("can't be asked"), "{ran}");
}

/// One run, one set of programs: those that were started serve all queries, and what was given up is not
/// tried again.
#[cfg(unix)]
#[test]
fn engine_is_started_once_a_thread_in_a_whole_run() {
    let place = mined();
    let queries = ["--query", "bishop-takes-h7", "--query", "knight-follow-up", "--replace"];
    let mine = ["mine", "games.pgn", "--keep-duplicates"];
    assert_eq!(place.run(&[&mine[..], &queries].concat()).status, 0);
    let whole = |mode: &str, threads: &str| {
        let program = place.path().join(format!("1.{mode}"));
        std::os::unix::fs::symlink(crate::engines::peer(), &program).unwrap();
        let name = program.to_str().unwrap();
        let options = [FEW, "--engine", name, "--engine-nodes=7", threads];
        let ran = place.run(&[&["verify", "hecatomb-out"], &options[..]].concat());
        let starts = std::fs::metadata(place.path().join(format!("1.{mode}.starts")));
        (ran, starts.unwrap().len())
    };
    let (ran, starts) = whole("none", "--threads=1");
    assert_eq!((ran.status, starts), (0, 1), "{ran}");
    // All but the first that is started fail, three times each.
    let (ran, starts) = whole("only-one", "--threads=2");
    assert_eq!(ran.status, 0, "{ran}");
    assert!(starts <= 1 + 3, "{starts}");
    // It starts, but fails in every position.
    let (ran, starts) = whole("crash-in-search-always", "--threads=1");
    assert_eq!(ran.status, 1, "{ran}");
    assert!(starts <= 12, "{starts}");
    let hits = place.rows("verdicts/bishop-takes-h7.csv").len()
        + place.rows("verdicts/knight-follow-up.csv").len();
    let expected =
        format!("answered none of {hits} offers (6 ended, 6 not asked any more): it ended");
    assert!(ran.err.contains(&expected), "{ran}");
    for row in place.rows("verdicts/knight-follow-up.csv") {
        assert!(!row["verdict"].is_empty() && !row["engine_fault"].is_empty());
    }
}

/// Verifying and mining lock the folder against each other and themselves.
#[test]
fn one_command_at_a_time_writes_to_a_folder() {
    let place = Place::new();
    let games: String =
        (0..6).map(|number| game(&format!("Alder, Tom {number}"), "Birch, Ida")).collect();
    place.write("games.pgn", games);
    let mine_again = ["mine", "games.pgn", "--query", "knight-follow-up", "--keep-duplicates"];
    assert_eq!(place.run(&mine_again).status, 0);
    let verify = ["verify", "hecatomb-out", "--nodes=2000"];
    assert_eq!(place.run(&verify).status, 0);
    let verdicts = "hecatomb-out/verdicts/knight-follow-up.csv";
    let alone = place.read(verdicts);
    let assert_in_use = |arguments: &[&str]| {
        let ran = place.run(arguments);
        assert_eq!((ran.status, &*ran.out), (1, ""), "{ran}");
        let says = "another `mine` or `verify` is writing to `hecatomb-out`";
        assert!(ran.err.contains(says), "{ran}");
    };
    // Held by this process, as by one that verifies.
    let lock = std::fs::File::create(place.path().join("hecatomb-out/verdicts/lock")).unwrap();
    lock.lock().unwrap();
    for arguments in [
        [&verify[..], &["--replace"]].concat(),
        [&verify[..], &["--resume"]].concat(),
        mine_again.to_vec(),
        [&mine_again[..], &["--replace"]].concat(),
    ] {
        assert_in_use(&arguments);
    }
    assert!(!place.path().join("hecatomb-out/.unfinished").exists());
    assert_eq!(place.read(verdicts), alone);
    drop(lock);
    // A lock that nobody holds any more is none.
    assert_eq!(place.run(&[&verify[..], &["--replace"]].concat()).status, 0);
    assert_eq!(place.read(verdicts), alone);
    assert!(!place.path().join("hecatomb-out/verdicts/lock").exists());
    // Nobody verifies what is being mined again.
    let mut waiting = hecatomb(place.path(), &["mine", "-", "--replace"])
        .stdin(Stdio::piped())
        .stdout(Stdio::null())
        .spawn()
        .unwrap();
    place.wait_for("hecatomb-out/.unfinished/rejects.csv");
    assert_in_use(&[&verify[..], &["--replace"]].concat());
    assert_eq!(place.read(verdicts), alone);
    let game = game("Cedar, Ann", "Birch, Ida");
    waiting.stdin.take().unwrap().write_all(game.as_bytes()).unwrap();
    assert!(waiting.wait().unwrap().success());
}

/// Two that verify at once: one does, with the same verdicts as alone, and the other one says why not, or
/// comes after it.
#[test]
fn two_that_verify_at_once_do_not_spoil_each_other() {
    let place = Place::new();
    let games: String = (0..40)
        .map(|number| {
            let game = game(&format!("Alder{number}, Tom"), "Birch, Ida");
            game.replace(OFFER_GAME, &OFFER_GAME.replace("7. h4 c5", "7. h4 a6"))
        })
        .collect();
    place.write("games.pgn", games);
    let mined = place.run(&["mine", "games.pgn", "--query", "knight-follow-up"]);
    assert_eq!(mined.status, 0, "{mined}");
    let verify = ["verify", "hecatomb-out", "--nodes=20000", "--threads=1", "--replace"];
    let ran = place.run(&verify);
    assert_eq!(ran.status, 0, "{ran}");
    let verdicts = "hecatomb-out/verdicts/knight-follow-up.csv";
    let alone = place.read(verdicts);
    for _ in 0..3 {
        let start = || {
            let mut verify = hecatomb(place.path(), &verify);
            verify.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap()
        };
        let both = [start(), start()];
        let ended: Vec<Ran> =
            both.into_iter().map(|one| one.wait_with_output().unwrap().into()).collect();
        assert!(ended.iter().any(|ran| ran.status == 0), "{ended:?}");
        for ran in ended.iter().filter(|ran| ran.status != 0) {
            assert!(ran.err.contains("another `mine` or `verify` is writing"), "{ran}");
        }
        assert_eq!(place.read(verdicts), alone);
    }
}
