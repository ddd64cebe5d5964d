//! A table that was changed since it was written gives no figure and no page, unless it is to be read as it
//! is; then every output says so.

use std::fs;
use std::path::Path;

use crate::support::{Place, Ran};

const CUP: &[u8] = include_bytes!("../sample-data/cup.pgn.zst");
const HITS: &str = "hits/smothered-mate";
const FEW: &str = "--nodes=20000";
/// What is said of tables that were read as they are, however its lines are broken.
const AS_THEY_ARE: &str = "The tables were read as they are (--edited)";

/// A folder with a verified run of one query, in a format.
fn verified(format: &str) -> Place {
    let place = Place::new();
    place.write("cup.pgn.zst", CUP);
    let mine = ["mine", "cup.pgn.zst", "--query", "smothered-mate", "--table", format];
    for arguments in [&mine[..], &["verify", "hecatomb-out", FEW]] {
        let ran = place.run(arguments);
        assert_eq!(ran.status, 0, "{ran}");
    }
    place
}

fn path(place: &Place, table: &str, format: &str) -> std::path::PathBuf {
    place.path().join(format!("hecatomb-out/{table}.{format}"))
}

fn edit(path: &Path, edit: impl Fn(&[u8]) -> Vec<u8>) {
    let before = fs::read(path).unwrap();
    let after = edit(&before);
    assert_ne!(before, after);
    fs::write(path, after).unwrap();
}

/// The lines of a table from its start, half of them.
fn half(bytes: &[u8]) -> Vec<u8> {
    let lines: Vec<&[u8]> = bytes.split_inclusive(|byte| *byte == b'\n').collect();
    lines[..=lines.len() / 2].concat()
}

/// Two letters of the last event turned round, so that every cell still holds what it is for.
fn another_letter(bytes: &[u8]) -> Vec<u8> {
    let text = String::from_utf8(bytes.to_vec()).unwrap();
    let at = text.rfind("Harbour").unwrap();
    format!("{}Habrour{}", &text[..at], &text[at + 7..]).into_bytes()
}

/// The first letter of the event in a Parquet table.
fn another_byte(bytes: &[u8]) -> Vec<u8> {
    let mut bytes = bytes.to_vec();
    let at = bytes.windows(6).position(|six| six == b"Harbou").unwrap();
    bytes[at] = b'h';
    bytes
}

/// Every command that reads hits, and what it would write to.
const COMMANDS: [&[&str]; 7] = [
    &["tally", "hecatomb-out"],
    &["tally", "hecatomb-out", "--by", "side", "--format", "csv"],
    &["tally", "hecatomb-out", "--plot", "written"],
    &["lesson", "hecatomb-out", "--query", "smothered-mate", "-o", "written", FEW],
    &["course", "hecatomb-out", "-o", "written", FEW],
    &["exercises", "hecatomb-out", "--kind=find", "--format=csv", "-o", "written", FEW],
    &["verify", "hecatomb-out", FEW, "--replace"],
];

fn assert_refused(place: &Place, arguments: &[&str], table: &str, says: &str) -> Ran {
    let ran = place.run(arguments);
    assert_eq!((ran.status, &*ran.out), (1, ""), "{arguments:?}: {ran}");
    assert!(ran.err.contains(table) && ran.err.contains(says), "{arguments:?}: {ran}");
    assert!(ran.err.contains("changed since it was written"), "{arguments:?}: {ran}");
    assert!(ran.err.contains("--replace") && ran.err.contains("--edited"), "{ran}");
    assert!(!place.path().join("written").exists(), "{arguments:?}");
    ran
}

#[test]
fn changed_hits_give_no_figure_and_no_page() {
    let place = verified("csv");
    let (hits, verdicts) = (path(&place, HITS, "csv"), "hecatomb-out/verdicts/smothered-mate.csv");
    let (whole, judged) = (fs::read(&hits).unwrap(), place.read(verdicts));
    let table = "`hecatomb-out/hits/smothered-mate.csv`";
    for command in COMMANDS {
        edit(&hits, half);
        let says = if command[0] == "verify" { "" } else { " rows instead of " };
        assert_refused(&place, command, table, says);
        fs::write(&hits, &whole).unwrap();
        edit(&hits, another_letter);
        assert_refused(&place, command, table, "the table was changed");
        fs::write(&hits, &whole).unwrap();
        // Cut in the middle of a row.
        edit(&hits, |bytes| bytes[..bytes.len() - 50].to_vec());
        assert_refused(&place, command, table, "the table was changed");
        fs::write(&hits, &whole).unwrap();
        // A row more, the last one once again.
        edit(&hits, |bytes| {
            let last = bytes.trim_ascii_end().rsplit(|byte| *byte == b'\n').next().unwrap();
            [bytes, last, b"\n"].concat()
        });
        let refused = place.run(command);
        assert_eq!((refused.status, &*refused.out), (1, ""), "{refused}");
        fs::write(&hits, &whole).unwrap();
    }
    assert_eq!(place.read(verdicts), judged);
}

#[test]
fn changed_tables_of_every_format_are_noticed() {
    for format in ["jsonl", "parquet"] {
        let place = verified(format);
        let hits = path(&place, HITS, format);
        let table = format!("`hecatomb-out/hits/smothered-mate.{format}`");
        let whole = fs::read(&hits).unwrap();
        for command in COMMANDS {
            edit(&hits, if format == "jsonl" { another_letter } else { another_byte });
            assert_refused(&place, command, &table, "the table was changed");
            fs::write(&hits, &whole).unwrap();
        }
        if format == "jsonl" {
            // Without a row it does not even name its columns.
            edit(&hits, |_| Vec::new());
            assert_refused(&place, COMMANDS[0], &table, "the table has 0 rows instead of ");
        }
    }
}

/// Half of the collection, and a base rate of 100 games more.
#[test]
fn changed_collection_gives_no_base_rates() {
    let place = verified("csv");
    let collection = path(&place, "collection", "csv");
    let whole = fs::read(&collection).unwrap();
    for command in &COMMANDS[..6] {
        edit(&collection, half);
        assert_refused(&place, command, "`hecatomb-out/collection.csv`", " rows instead of ");
        fs::write(&collection, &whole).unwrap();
        edit(&collection, |bytes| {
            let text = String::from_utf8(bytes.to_vec()).unwrap();
            text.replacen(",1-0,", ",1-0,1", 1).into_bytes()
        });
        assert_refused(&place, command, "`hecatomb-out/collection.csv`", "the table was changed");
        fs::write(&collection, &whole).unwrap();
    }
}

/// Columns that a tally does not read are covered, too.
#[test]
fn score_that_was_edited_is_noticed() {
    let place = verified("csv");
    edit(&path(&place, HITS, "csv"), |bytes| {
        let mut table = csv::Reader::from_reader(bytes);
        let score = table.headers().unwrap().iter().position(|name| name == "score").unwrap();
        let mut edited = csv::Writer::from_writer(Vec::new());
        edited.write_record(table.headers().unwrap()).unwrap();
        for record in table.records().map(Result::unwrap) {
            let cells = record.iter().enumerate();
            let cells = cells.map(|(at, cell)| if at == score { "0.5" } else { cell });
            edited.write_record(cells).unwrap();
        }
        edited.into_inner().unwrap()
    });
    assert_refused(&place, COMMANDS[0], "smothered-mate.csv", "the table was changed");
}

#[test]
fn changed_verdicts_are_noticed_where_they_are_read() {
    let place = verified("csv");
    let verdicts = path(&place, "verdicts/smothered-mate", "csv");
    let whole = fs::read(&verdicts).unwrap();
    let table = "`hecatomb-out/verdicts/smothered-mate.csv`";
    let by_verdict = ["tally", "hecatomb-out", "--by", "verdict"];
    let edited = |bytes: &[u8]| {
        let text = String::from_utf8(bytes.to_vec()).unwrap();
        text.replacen(",mates,", ",mates,1", 1).into_bytes()
    };
    for command in [&by_verdict[..], COMMANDS[3], COMMANDS[4], COMMANDS[5]] {
        edit(&verdicts, edited);
        let ran = assert_refused(&place, command, table, "the table was changed");
        assert!(ran.err.contains("hint: verify again with --replace"), "{ran}");
        // With a row more than there are hits.
        fs::write(&verdicts, [&whole[..], b"x,open,,,,1,open,,,,,,,,1\n"].concat()).unwrap();
        let ran = place.run(command);
        assert_eq!((ran.status, &*ran.out), (1, ""), "{ran}");
        fs::write(&verdicts, &whole).unwrap();
    }
    // What is counted without them is counted.
    edit(&verdicts, edited);
    assert_eq!(place.run(COMMANDS[0]).status, 0);
    // Verdicts without a word on what they are on.
    fs::write(&verdicts, &whole).unwrap();
    fs::remove_file(place.path().join("hecatomb-out/verdicts/terms.json")).unwrap();
    let ran = place.run(&by_verdict);
    assert_eq!((ran.status, &*ran.out), (1, ""), "{ran}");
    assert!(ran.err.contains("nothing says which hits these verdicts are on"), "{ran}");
    assert_eq!(place.run(&[&by_verdict[..], &["--edited"]].concat()).status, 0);
}

/// Verdicts that were copied from another run, with and without the file that says what they are.
#[test]
fn verdicts_of_another_run_are_refused() {
    let place = verified("csv");
    let other = ["mine", "cup.pgn.zst", "--query", "smothered-mate", "--out", "other"];
    assert_eq!(place.run(&[&other[..], &["--limit", "216"]].concat()).status, 0);
    for files in [&["smothered-mate.csv"][..], &["smothered-mate.csv", "terms.json"]] {
        fs::create_dir_all(place.path().join("other/verdicts")).unwrap();
        for file in files {
            let from = place.path().join("hecatomb-out/verdicts").join(file);
            fs::copy(from, place.path().join("other/verdicts").join(file)).unwrap();
        }
        let resumed = place.run(&["verify", "other", FEW, "--resume"]);
        assert_eq!((resumed.status, &*resumed.out), (1, ""), "{resumed}");
        assert!(resumed.err.contains("replace them with --replace"), "{resumed}");
        let counted = place.run(&["tally", "other", "--by", "sound"]);
        assert_eq!((counted.status, &*counted.out), (1, ""), "{counted}");
        assert!(counted.err.contains("hint: verify again with --replace"), "{counted}");
        let again = place.run(&["verify", "other", FEW, "--replace"]);
        assert_eq!(again.status, 0, "{again}");
        assert_eq!(place.run(&["tally", "other", "--by", "sound"]).status, 0);
    }
}

#[test]
fn edited_tables_are_read_as_they_are_and_every_output_says_so() {
    let place = verified("csv");
    edit(&path(&place, HITS, "csv"), another_letter);
    let run = |arguments: &[&str]| {
        let ran = place.run(&[arguments, &["--edited"]].concat());
        assert_eq!(ran.status, 0, "{arguments:?}: {ran}");
        ran.out.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let page = |arguments: &[&str], file: &str| {
        run(arguments);
        place.read(file)
    };
    for view in [&[][..], &["--by", "side"], &["--factors"], &["--continuations"]] {
        let tally =
            |format: &str| run(&[&["tally", "hecatomb-out", "--format", format], view].concat());
        for format in ["text", "markdown"] {
            assert_eq!(tally(format).matches(AS_THEY_ARE).count(), 1, "{view:?}, {format}");
        }
        assert!(tally("csv").split(' ').next().unwrap().ends_with(",tables"), "{view:?}");
        assert!(tally("json").contains("\"tables\": \"unchecked\""), "{view:?}");
    }
    assert!(run(COMMANDS[6]).contains(AS_THEY_ARE));
    // The verdicts are on the hits as they are now, so that they must be read so, too.
    let unasked = place.run(&["tally", "hecatomb-out", "--by", "sound"]);
    assert_eq!(unasked.status, 1, "{unasked}");
    assert!(page(COMMANDS[3], "written").contains(AS_THEY_ARE));
    fs::remove_file(place.path().join("written")).unwrap();
    run(COMMANDS[4]);
    assert!(place.read("written/index.html").contains(AS_THEY_ARE));
    assert!(place.read("written/smothered-mate.html").contains(AS_THEY_ARE));
    for format in ["html", "pgn", "epd", "csv"] {
        let file = format!("sheet.{format}");
        let sheet = page(&["exercises", "hecatomb-out", "--kind=find", FEW, "-o", &file], &file);
        let sheet = sheet.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(sheet.contains(AS_THEY_ARE), "{sheet}");
    }
}

#[test]
fn outputs_of_tables_as_they_were_written_say_nothing_of_it() {
    let place = verified("csv");
    for command in COMMANDS {
        let _ = fs::remove_file(place.path().join("written"));
        let ran = place.run(command);
        assert_eq!(ran.status, 0, "{ran}");
        assert!(!ran.out.contains("--edited") && !ran.out.contains("unchecked"), "{ran}");
        let written = fs::read_to_string(place.path().join("written")).unwrap_or_default();
        assert!(!written.contains("--edited"), "{command:?}");
        let _ = fs::remove_dir_all(place.path().join("written"));
    }
}

/// The manifest names every table with its rows, as the package csv counts them, and with the XXH3 of its
/// bytes, as the package twox-hash calculates it in one go.
#[test]
fn manifest_holds_rows_and_checksums_of_all_tables() {
    let place = verified("csv");
    let manifest: serde_json::Value =
        serde_json::from_str(&place.read("hecatomb-out/run.json")).unwrap();
    let tables = manifest["tables"].as_object().unwrap();
    assert!(tables.keys().eq([
        "collection.csv",
        "duplicates.csv",
        "games.csv",
        "hits/smothered-mate.csv",
        "rejects.csv"
    ]));
    let check = |file: &str, table: &serde_json::Value| {
        let bytes = fs::read(place.path().join("hecatomb-out").join(file)).unwrap();
        let rows = csv::Reader::from_reader(&bytes[..]).records().count();
        assert_eq!(table["rows"], rows, "{file}");
        let xxh3 = format!("{:016x}", twox_hash::XxHash3_64::oneshot(&bytes));
        assert_eq!(table["xxh3"], xxh3, "{file}");
    };
    tables.iter().for_each(|(file, table)| check(file, table));
    let terms: serde_json::Value =
        serde_json::from_str(&place.read("hecatomb-out/verdicts/terms.json")).unwrap();
    let terms = &terms["smothered-mate"];
    check("verdicts/smothered-mate.csv", &terms["table"]);
    assert_eq!(terms["hits"], tables["hits/smothered-mate.csv"]["xxh3"]);
}

#[test]
fn manifest_without_checksums_is_of_another_version() {
    let place = verified("csv");
    let mut manifest: serde_json::Value =
        serde_json::from_str(&place.read("hecatomb-out/run.json")).unwrap();
    manifest.as_object_mut().unwrap().remove("tables");
    place.write("hecatomb-out/run.json", manifest.to_string());
    for command in COMMANDS {
        let ran = place.run(command);
        assert_eq!((ran.status, &*ran.out), (1, ""), "{ran}");
        let says = "this is not the manifest of a run of this version: missing field `tables`";
        assert!(ran.err.contains(says), "{ran}");
    }
}

#[test]
fn table_of_verdicts_that_is_gone_is_missed() {
    let place = verified("csv");
    fs::remove_file(path(&place, "verdicts/smothered-mate", "csv")).unwrap();
    let lesson = ["lesson", "hecatomb-out", "--query", "smothered-mate", "-o", "-"];
    for command in [&lesson[..], &["tally", "hecatomb-out"]] {
        let ran = place.run(command);
        assert_eq!((ran.status, &*ran.out), (1, ""), "{ran}");
        assert!(
            ran.err.contains("the table is missing, although the verdicts were finished"),
            "{ran}"
        );
        assert!(ran.err.contains("hint: verify again with --replace"), "{ran}");
    }
    assert_eq!(place.run(&["verify", "hecatomb-out", FEW]).status, 0);
    assert_eq!(place.run(&lesson).status, 0);
}

#[test]
fn picture_of_tables_read_as_they_are_says_so() {
    let place = verified("csv");
    let plot = |more: &[&str]| {
        let arguments =
            ["tally", "hecatomb-out", "--query", "smothered-mate", "--plot", "plot.svg"];
        assert_eq!(place.run(&[&arguments[..], more].concat()).status, 0);
        place.read("plot.svg")
    };
    assert!(!plot(&[]).contains("read as they are"));
    assert!(plot(&["--edited"]).contains("tables read as they are, --edited"));
}

#[test]
fn files_of_the_user_in_the_folder_of_a_run_stay() {
    let place = verified("csv");
    for own in ["hits/mine.csv", "verdicts/mine.csv", "notes.csv"] {
        place.write(&format!("hecatomb-out/{own}"), "mine");
    }
    let mine = ["mine", "cup.pgn.zst", "--query", "knight-follow-up", "--replace"];
    assert_eq!(place.run(&mine).status, 0);
    for own in ["hits/mine.csv", "verdicts/mine.csv", "notes.csv"] {
        assert_eq!(place.read(&format!("hecatomb-out/{own}")), "mine");
    }
    for old in [HITS, "verdicts/smothered-mate"] {
        assert!(!path(&place, old, "csv").exists());
    }
}

#[test]
fn no_output_takes_the_place_of_a_file_of_a_run() {
    let place = verified("csv");
    let before: Vec<String> =
        ["run.json", "collection.csv", "hits/smothered-mate.csv", "verdicts/terms.json"]
            .iter()
            .map(|file| format!("hecatomb-out/{file}"))
            .collect();
    let texts = || before.iter().map(|file| place.read(file)).collect::<Vec<_>>();
    let whole = texts();
    for file in &before {
        for command in [
            &["exercises", "hecatomb-out", "--kind", "find", FEW, "--format", "csv", "-o"][..],
            &["tally", "hecatomb-out", "--query", "smothered-mate", "--plot"],
            &["diagram", "--fen", "6k1/7p/8/8/8/3B4/8/6K1", "-o"],
            &["lesson", "hecatomb-out", "--query", "smothered-mate", FEW, "--replace", "-o"],
        ] {
            let ran = place.run(&[command, &[file]].concat());
            assert_eq!((ran.status, &*ran.out), (1, ""), "{ran}");
            assert!(ran.err.contains("it is a file of a run"), "{ran}");
        }
    }
    assert_eq!(texts(), whole);
    let ran =
        place.run(&["diagram", "--fen", "6k1/7p/8/8/8/3B4/8/6K1", "-o", "hecatomb-out/board.svg"]);
    assert_eq!(ran.status, 0, "{ran}");
}

#[test]
fn nothing_edited_is_written_over_unasked() {
    let place = verified("csv");
    let mine = ["mine", "cup.pgn.zst", "--query", "smothered-mate"];
    let verify = ["verify", "hecatomb-out", FEW];
    for (table, command) in [("verdicts/smothered-mate", &verify[..]), (HITS, &mine)] {
        let path = path(&place, table, "csv");
        edit(&path, |bytes| [bytes, b"\n"].concat());
        let edited = fs::read(&path).unwrap();
        let ran = place.run(command);
        assert_eq!((ran.status, &*ran.out), (1, ""), "{ran}");
        assert!(ran.err.contains("edited since") && ran.err.contains("--replace"), "{ran}");
        assert_eq!(fs::read(&path).unwrap(), edited);
        assert_eq!(place.run(&[command, &["--replace"]].concat()).status, 0);
        assert_ne!(fs::read(&path).unwrap(), edited);
    }
}

#[test]
fn a_file_of_exercises_or_games_is_written_over_only_if_asked() {
    let place = verified("csv");
    for command in [
        &["games", "hecatomb-out", "--query", "smothered-mate"][..],
        &["exercises", "hecatomb-out", "--kind", "mate", "--count", "1", FEW],
    ] {
        let command = [command, &["-o", "own.pgn"]].concat();
        place.write("own.pgn", "somebody's own");
        let ran = place.run(&command);
        assert_eq!((ran.status, &*ran.out), (1, ""), "{ran}");
        assert!(
            ran.err.contains("`own.pgn` is there already") && ran.err.contains("--replace"),
            "{ran}"
        );
        assert_eq!(place.read("own.pgn"), "somebody's own");
        assert_eq!(place.run(&[&command[..], &["--replace"]].concat()).status, 0);
        assert!(place.read("own.pgn").starts_with("[Event "));
    }
    let sheet =
        ["exercises", "hecatomb-out", "--kind", "mate", "--count", "1", FEW, "-o", "sheet.html"];
    assert_eq!((place.run(&sheet).status, place.run(&sheet).status), (0, 0));
    place.write("sheet.html", place.read("sheet.html") + "<!-- a word -->");
    let ran = place.run(&sheet);
    assert!(ran.status == 1 && ran.err.contains("was edited"), "{ran}");
}

#[test]
fn offers_that_nobody_made_are_not_asked_of_a_run_without_them() {
    let place = verified("csv");
    for command in
        [["verify", "hecatomb-out", "--overlooked"], ["tally", "hecatomb-out", "--overlooked"]]
    {
        let ran = place.run(&command);
        assert_eq!((ran.status, &*ran.out), (1, ""), "{ran}");
        assert!(ran.err.contains("hint: mine with --overlooked"), "{ran}");
    }
    // The verdicts that are there stay.
    assert_eq!(place.run(&["verify", "hecatomb-out", FEW]).status, 0);
}
