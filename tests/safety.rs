//! What comes from outside runs nothing and leads nowhere: names of queries, links in a folder, the
//! names of players in a spreadsheet, the words of an option.

use std::fs;

use hecatomb::query::{Query, names_query};
use hecatomb::tables::{Cell, Column, Kind, Meaning, TableFormat, TableReader, guarded};
use proptest::prelude::*;

use crate::support::{Place, game};

const MINE: [&str; 4] = ["mine", "games.pgn", "--query", "knight-follow-up"];

fn place() -> Place {
    let place = Place::new();
    place.write("games.pgn", game("Alder, Tom", "Birch, Ida"));
    place
}

// Names.

#[test]
fn names_that_lead_elsewhere_are_no_names() {
    for name in [
        "", ".", "..", "../up", "/etc/x", "a/b", "a\\b", "a\0b", "a b", "A", "-a", "a.b", "é",
        "con", "nul", "com1", "lpt9", "index",
    ] {
        assert!(!names_query(name), "{name:?}");
    }
    assert!(names_query("com10") && names_query("console") && names_query(&"a".repeat(64)));
    assert!(!names_query(&"a".repeat(65)));
}

proptest! {
    #[test]
    fn name_of_a_query_is_a_file_in_its_folder(name in ".{0,80}") {
        if names_query(&name) {
            let path = std::path::Path::new("hits").join(format!("{name}.csv"));
            prop_assert_eq!(path.parent(), Some(std::path::Path::new("hits")));
            prop_assert_eq!(path.file_stem().and_then(|stem| stem.to_str()), Some(&*name));
        }
    }
}

const QUERY: &str = "title = \"t\"\nchapter = \"bishop\"\noffer = \"bishop takes pawn on h7\"\n";

#[test]
fn query_of_an_unfit_name_is_refused() {
    let place = place();
    for stem in ["..", "nul", "index", "two words"] {
        place.write(&format!("q/{stem}.toml"), QUERY);
        let file = format!("q/{stem}.toml");
        let ran = place.run(&["mine", "games.pgn", "--query", &file]);
        assert_eq!(ran.status, 1, "{ran}");
        assert!(ran.err.contains("can't be the name of a query"), "{ran}");
        assert!(!place.path().join("hecatomb-out").exists());
    }
    assert!(Query::read("a", "a.toml", QUERY).is_ok());
}

#[test]
fn manifest_with_an_unfit_name_is_refused() {
    for name in ["../../gone", "/tmp/gone", "a\\u0000b"] {
        let place = place();
        assert_eq!(place.run(&MINE).status, 0);
        let manifest = place.read("hecatomb-out/run.json").replace("knight-follow-up", name);
        place.write("hecatomb-out/run.json", manifest);
        for command in ["verify", "tally"] {
            let ran = place.run(&[command, "hecatomb-out"]);
            assert_eq!(ran.status, 1, "{ran}");
            assert!(ran.err.contains("run.json`: no query can be called"), "{ran}");
        }
        assert!(!place.path().join("hecatomb-out/verdicts").exists());
    }
}

// Links.

/// A folder outside of the output folder, with a file that must stay as it is.
#[cfg(unix)]
fn with_link(inside: &str) -> Place {
    let place = place();
    place.write("elsewhere/knight-follow-up.csv", "precious");
    fs::create_dir(place.path().join("hecatomb-out")).unwrap();
    let link = place.path().join("hecatomb-out").join(inside);
    std::os::unix::fs::symlink(place.path().join("elsewhere"), link).unwrap();
    place
}

#[cfg(unix)]
#[test]
fn folder_that_leads_elsewhere_is_refused_before_anything_is_read() {
    for inside in ["hits", "verdicts", ".unfinished"] {
        let place = with_link(inside);
        let ran = place.run(&[&MINE[..], &["--replace"]].concat());
        assert_eq!(ran.status, 1, "{ran}");
        assert!(ran.err.contains(&format!("hecatomb-out/{inside}` is a link")), "{ran}");
        assert_eq!(place.read("elsewhere/knight-follow-up.csv"), "precious");
        assert_eq!(fs::read_dir(place.path().join("elsewhere")).unwrap().count(), 1);
    }
}

#[cfg(unix)]
#[test]
fn tables_take_the_place_of_links_and_leave_alone_what_these_lead_to() {
    use std::os::unix::fs::symlink;

    let place = place();
    place.write("precious", "precious");
    let link = |to: &str| {
        let to = place.path().join("hecatomb-out").join(to);
        let _ = fs::remove_file(&to);
        fs::create_dir_all(to.parent().unwrap()).unwrap();
        symlink(place.path().join("precious"), to).unwrap();
    };
    for table in [
        "hits/knight-follow-up.csv",
        "collection.csv",
        "duplicates.csv",
        "games.csv",
        "rejects.csv",
        "run.json",
    ] {
        link(table);
    }
    let ran = place.run(&[&MINE[..], &["--replace"]].concat());
    assert_eq!(ran.status, 0, "{ran}");
    let verdicts = ["terms.json", "knight-follow-up.csv", "knight-follow-up.csv.unfinished"];
    for file in verdicts {
        link(&format!("verdicts/{file}"));
    }
    let ran = place.run(&["verify", "hecatomb-out", "--nodes", "1000", "--replace"]);
    assert_eq!(ran.status, 0, "{ran}");
    link("verdicts/knight-follow-up.csv.unfinished");
    fs::remove_file(place.path().join("hecatomb-out/verdicts/knight-follow-up.csv")).unwrap();
    let ran = place.run(&["verify", "hecatomb-out", "--nodes", "1000", "--resume"]);
    assert_eq!(ran.status, 0, "{ran}");
    assert_eq!(place.read("precious"), "precious");
    assert_eq!(place.rows("verdicts/knight-follow-up.csv").len(), 1);
}

#[cfg(unix)]
#[test]
fn hidden_folder_of_a_run_holds_no_links() {
    for inside in ["lock", "checkpoint.part", "remembered", "hits/knight-follow-up.csv"] {
        let place = place();
        place.write("precious", "precious").write("hecatomb-out/.unfinished/hits/x", "");
        let link = place.path().join("hecatomb-out/.unfinished").join(inside);
        std::os::unix::fs::symlink(place.path().join("precious"), link).unwrap();
        let ran = place.run(&[&MINE[..], &["--replace"]].concat());
        assert_eq!(ran.status, 1, "{ran}");
        assert!(ran.err.contains(&format!(".unfinished/{inside}` is a link")), "{ran}");
        assert_eq!(place.read("precious"), "precious");
    }
}

#[cfg(unix)]
#[test]
fn verdicts_are_not_written_through_a_link() {
    let place = place();
    assert_eq!(place.run(&MINE).status, 0);
    place.write("elsewhere/keep", "precious");
    let link = place.path().join("hecatomb-out/verdicts");
    std::os::unix::fs::symlink(place.path().join("elsewhere"), link).unwrap();
    let ran = place.run(&["verify", "hecatomb-out", "--nodes", "1000"]);
    assert_eq!(ran.status, 1, "{ran}");
    assert!(ran.err.contains("hecatomb-out/verdicts` is a link"), "{ran}");
    assert_eq!(fs::read_dir(place.path().join("elsewhere")).unwrap().count(), 1);
}

#[cfg(unix)]
#[test]
fn no_command_writes_through_a_link_or_replaces_one() {
    use std::os::unix::fs::symlink;

    let place = place();
    assert_eq!(place.run(&MINE).status, 0);
    assert_eq!(place.run(&["verify", "hecatomb-out", "--nodes", "1000"]).status, 0);
    let query = ["--query", "knight-follow-up"];
    let lesson = [&["lesson", "hecatomb-out", "--nodes", "1000"][..], &query].concat();
    let course = [&["course", "hecatomb-out", "--nodes", "1000", "--replace"][..], &query].concat();
    let exercises = [
        &["exercises", "hecatomb-out", "--nodes", "1000", "--count", "1", "--kind", "find"][..],
        &query,
    ]
    .concat();
    let tally = [&["tally", "hecatomb-out"][..], &query].concat();
    let diagram = ["diagram", "--fen", "6k1/7p/8/8/8/3B4/8/6K1"];
    let completions = ["completions", "bash"];
    let commands: [(&[&str], &str, &str, &str); 8] = [
        (&lesson, "-o", "link", "link"),
        (&course, "-o", "c", "c/index.html"),
        (&course, "-o", "c", "c/knight-follow-up.html"),
        (&exercises, "-o", "link", "link"),
        (&tally, "--plot", "link", "link"),
        (&diagram, "-o", "link", "link"),
        (&completions, "-o", "link", "link"),
        (&["manual"], "-o", "m", "m/man1/hecatomb-mine.1"),
    ];
    for target in ["precious", "nowhere"] {
        place.write("precious", "precious");
        for (command, option, value, at) in commands {
            let link = place.path().join(at);
            fs::create_dir_all(link.parent().unwrap()).unwrap();
            symlink(place.path().join(target), &link).unwrap();
            let ran = place.run(&[command, &[option, value]].concat());
            assert_eq!(ran.status, 1, "{command:?} {ran}");
            assert!(ran.err.contains(&format!("can't write `{at}`: it is a link")), "{ran}");
            assert!(ran.err.contains("hint: remove the link"), "{ran}");
            assert!(fs::symlink_metadata(&link).unwrap().is_symlink(), "{command:?}");
            assert_eq!(place.read("precious"), "precious", "{command:?}");
            assert!(!place.path().join("nowhere").exists(), "{command:?}");
            fs::remove_file(&link).unwrap();
        }
    }
    // A whole folder that leads elsewhere.
    fs::create_dir(place.path().join("elsewhere")).unwrap();
    fs::remove_dir_all(place.path().join("m")).unwrap();
    fs::create_dir(place.path().join("m")).unwrap();
    symlink("../elsewhere", place.path().join("m/man7")).unwrap();
    let ran = place.run(&["manual", "-o", "m"]);
    assert_eq!(ran.status, 1, "{ran}");
    assert!(ran.err.contains("can't write into `m/man7`: it is a link"), "{ran}");
    assert_eq!(fs::read_dir(place.path().join("elsewhere")).unwrap().count(), 0);
}

#[cfg(target_os = "linux")]
#[test]
fn pipes_devices_and_redirected_output_are_written_to() {
    use std::process::Stdio;

    let place = place();
    let diagram = ["diagram", "--fen", "6k1/7p/8/8/8/3B4/8/6K1", "-o"];
    let to = |path: &'static str| [&diagram[..], &[path]].concat();
    let expected = place.run(&to("-")).out;
    assert!(expected.starts_with("<svg"), "{expected}");
    // Standard output is a pipe, by the link of the system and by one of the user's.
    std::os::unix::fs::symlink("/dev/stdout", place.path().join("out")).unwrap();
    std::os::unix::fs::symlink("/dev/null", place.path().join("null")).unwrap();
    for path in ["/dev/stdout", "/dev/fd/1", "out"] {
        let ran = place.run(&to(path));
        assert_eq!((ran.status, &ran.out), (0, &expected), "{path} {ran}");
    }
    assert_eq!(place.run(&to("null")).status, 0);
    // And a file that the shell has opened.
    let file = fs::File::create(place.path().join("redirected.svg")).unwrap();
    let mut command = crate::support::hecatomb(place.path(), &to("/dev/stdout"));
    assert!(command.stdout(Stdio::from(file)).status().unwrap().success());
    assert_eq!(place.read("redirected.svg"), expected);
    // What it holds already stays.
    let file = fs::File::options().append(true).open(place.path().join("redirected.svg")).unwrap();
    let mut command = crate::support::hecatomb(place.path(), &to("/dev/stdout"));
    assert!(command.stdout(Stdio::from(file)).status().unwrap().success());
    assert_eq!(place.read("redirected.svg"), expected.repeat(2));
    assert!(fs::symlink_metadata("/dev/stdout").unwrap().is_symlink());
}

// No shell.

#[cfg(unix)]
#[test]
fn engine_is_a_program_and_no_line_for_a_shell() {
    let place = place();
    assert_eq!(place.run(&MINE).status, 0);
    for engine in ["true; touch gone", "$(touch gone)", "`touch gone`", "|touch gone", "touch gone"]
    {
        let ran = place.run(&["verify", "hecatomb-out", "--nodes", "1000", "--engine", engine]);
        assert!(!place.path().join("gone").exists(), "{engine}: {ran}");
    }
}

// Spreadsheets.

/// Texts that a spreadsheet may take for formulas, and that look guarded.
fn text() -> impl Strategy<Value = String> {
    prop_oneof![
        "[=+@'\t\r\n-]{1,3}.{0,20}",
        "[\u{FF1D}\u{FF0B}\u{FF0D}\u{FF20}][a-z]{0,3}",
        "(?s).{0,30}",
        "-?[0-9]{1,3}(\\.[0-9]{1,2})?",
        Just("-".to_owned()),
        Just("'".to_owned()),
    ]
}

/// Whether a spreadsheet may take a cell for a formula.
fn is_formula(cell: &str) -> bool {
    cell != "-" && cell.starts_with(['=', '+', '-', '@', '\t', '\r', '\n', '＝', '＋', '－', '＠'])
}

fn columns() -> Vec<Column> {
    let column =
        |name: &str, kind| Column { name: name.to_owned(), kind, meaning: Meaning::default() };
    vec![
        column("first", Kind::Text),
        column("second", Kind::Text),
        column("whole", Kind::Integer),
        column("part", Kind::Hundredths),
        column("truth", Kind::Truth),
    ]
}

type Line = (String, String, i32, i32, bool);

fn written(folder: &Place, format: TableFormat, lines: &[Line]) -> std::path::PathBuf {
    let path = folder.path().join(format!("table.{}", format.ending()));
    let mut table = format.create(&path, &columns()).unwrap();
    for (first, second, whole, part, truth) in lines {
        let part = Cell::Hundredths((*part).into());
        table
            .row(&[(&**first).into(), (&**second).into(), (*whole).into(), part, (*truth).into()])
            .unwrap();
    }
    table.finish().unwrap();
    path
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn rows_that_are_written_and_read_are_the_same(
        lines in prop::collection::vec((text(), text(), any::<i32>(), any::<i32>(), any::<bool>()), 1..5)
    ) {
        for format in TableFormat::ALL {
            let folder = Place::new();
            let path = written(&folder, format, &lines);
            let mut table = TableReader::open(&path, format).unwrap();
            for (first, second, whole, part, truth) in &lines {
                let row = table.next_row().unwrap().unwrap();
                prop_assert_eq!(row.text(0), first);
                prop_assert_eq!(row.text(1), second);
                prop_assert_eq!(row.integer(2).unwrap(), Some((*whole).into()));
                prop_assert_eq!(row.text(3).parse().ok(), Some(f64::from(*part) / 100.0));
                prop_assert_eq!(row.truth(4).unwrap(), Some(*truth));
            }
            prop_assert!(table.next_row().unwrap().is_none());
        }
    }

    #[test]
    fn no_text_is_a_formula_and_numbers_are_numbers(first in text(), whole in any::<i32>()) {
        let folder = Place::new();
        let line = (first.clone(), first.clone(), whole, whole, true);
        let path = written(&folder, TableFormat::Csv, &[line]);
        let mut cells = csv::Reader::from_path(path).unwrap();
        let cells = cells.records().next().unwrap().unwrap();
        prop_assert!(!is_formula(&cells[0]) && cells[0] == *guarded(&first), "{:?}", &cells[0]);
        prop_assert_eq!(&cells[2], whole.to_string());
        prop_assert_eq!(cells[3].parse::<f64>().unwrap(), f64::from(whole) / 100.0);
    }
}

#[test]
fn names_of_players_are_no_formulas() {
    let names =
        ["=HYPERLINK(\\\"http://x\\\",\\\"y\\\")", "+1+1", "-2+3", "@SUM(A1)", "'quoted", "-"];
    let games: String = names.iter().map(|name| game(name, "Birch, Ida")).collect();
    let place = Place::new();
    place.write("games.pgn", games);
    assert_eq!(place.run(&[&MINE[..], &["--keep-duplicates"]].concat()).status, 0);
    let plain = names.map(|name| name.replace('\\', ""));
    let mut table =
        csv::Reader::from_path(place.path().join("hecatomb-out/hits/knight-follow-up.csv"))
            .unwrap();
    let white = table.headers().unwrap().iter().position(|column| column == "white").unwrap();
    let records: Vec<csv::StringRecord> = table.records().map(Result::unwrap).collect();
    assert_eq!(records.len(), names.len());
    for (record, name) in records.iter().zip(&plain) {
        for cell in record {
            assert!(!is_formula(cell) || cell.parse::<f64>().is_ok(), "{cell}");
        }
        assert_eq!(record[white], if name == "-" { "-".into() } else { format!("'{name}") });
    }
    let ran = place.run(&["tally", "hecatomb-out", "--by", "white", "--format", "json"]);
    for name in &plain[..names.len() - 1] {
        let quoted = serde_json::to_string(name).unwrap();
        assert!(ran.out.contains(&quoted), "{quoted} {ran}");
    }
    let ran = place.run(&["tally", "hecatomb-out", "--by", "white", "--format", "csv"]);
    let mut table = csv::Reader::from_reader(ran.out.as_bytes());
    for record in table.records().map(Result::unwrap) {
        for cell in &record {
            assert!(!is_formula(cell) || cell.parse::<f64>().is_ok(), "{cell}");
        }
    }
}

#[test]
fn source_that_looks_like_a_formula_is_verified_and_gone_on_with() {
    let place = Place::new();
    place.write("=1+1.pgn", [game("A", "B"), game("C", "D")].concat());
    let mine = ["mine", "=1+1.pgn", "--query", "knight-follow-up"];
    assert_eq!(place.run(&mine).status, 0);
    let verify = ["verify", "hecatomb-out", "--nodes", "1000"];
    assert_eq!(place.run(&verify).status, 0);
    let verdicts = "hecatomb-out/verdicts/knight-follow-up.csv";
    let whole = place.read(verdicts);
    let hits = place.read("hecatomb-out/hits/knight-follow-up.csv");
    assert!(hits.contains(",'=1+1.pgn,1,"), "{hits}");
    // What an interrupted run leaves: the heading and the first row.
    let begun: String = whole.split_inclusive('\n').take(2).collect();
    place.write(&format!("{verdicts}.unfinished"), begun);
    fs::remove_file(place.path().join(verdicts)).unwrap();
    let ran = place.run(&[&verify[..], &["--resume"]].concat());
    assert_eq!(ran.status, 0, "{ran}");
    assert_eq!(place.read(verdicts), whole);
    assert_eq!(place.run(&["tally", "hecatomb-out", "--by", "verdict"]).status, 0);
}

// Pages.

#[test]
fn words_of_a_query_are_text_on_a_page() {
    const EVIL: &str = "</script></style></svg><script>alert(1)</script><img src=x>&amp;";
    let place = place();
    let query = include_str!("../queries/knight-follow-up.toml");
    let title = query.lines().find(|line| line.starts_with("title")).unwrap();
    let query = query.replace(title, &format!("title = '{EVIL}'")).replacen(
        "\"\"\"\n",
        &format!("\"\"\"\n{EVIL} "),
        1,
    );
    assert_eq!(query.matches(EVIL).count(), 2);
    place.write("own.toml", query);
    assert_eq!(place.run(&["mine", "games.pgn", "--query", "own.toml"]).status, 0);
    let ran = place.run(&["lesson", "hecatomb-out", "--query", "own.toml", "-o", "-"]);
    assert_eq!(ran.status, 0, "{ran}");
    let page = scraper::Html::parse_document(&ran.out);
    let count = |selector| page.select(&scraper::Selector::parse(selector).unwrap()).count();
    assert_eq!((count("img"), count("script:not([type])")), (0, 1));
    let heading = page.select(&scraper::Selector::parse("h1").unwrap()).next().unwrap();
    assert!(heading.text().collect::<String>().contains(EVIL));
}

// Lints.

#[test]
fn unsafe_code_is_forbidden() {
    let manifest: toml::Table = toml::from_str(include_str!("../Cargo.toml")).unwrap();
    assert_eq!(manifest["lints"]["rust"]["unsafe_code"].as_str(), Some("forbid"));
}
