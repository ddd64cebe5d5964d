//! The output folder: whole or not at all, never over another run.

use std::fs;

use crate::support::{Place, game};

fn place() -> Place {
    let place = Place::new();
    place.write("games.pgn", game("Alder, Tom", "Birch, Ida"));
    place
}

const MINE: [&str; 4] = ["mine", "games.pgn", "--query", "knight-follow-up"];

fn with<'a>(more: &[&'a str]) -> Vec<&'a str> {
    [&MINE[..], more].concat()
}

#[test]
fn same_run_is_written_again_and_another_is_refused() {
    let place = place();
    assert_eq!(place.run(&MINE).status, 0);
    let first = place.read("hecatomb-out/hits/knight-follow-up.csv");
    assert_eq!(place.run(&MINE).status, 0);
    assert_eq!(place.read("hecatomb-out/hits/knight-follow-up.csv"), first);
    for other in [
        with(&["--query", "queen-lift"]),
        with(&["--min-rating", "2000"]),
        with(&["--table", "jsonl"]),
    ] {
        let ran = place.run(&other);
        assert_eq!(ran.status, 1, "{ran}");
        assert!(
            ran.err.contains("holds the tables of another run") && ran.err.contains("--replace"),
            "{ran}"
        );
    }
    assert_eq!(place.read("hecatomb-out/hits/knight-follow-up.csv"), first);
    let ran = place.run(&with(&["--table", "jsonl", "--replace"]));
    assert_eq!(ran.status, 0, "{ran}");
    assert!(!place.path().join("hecatomb-out/hits/knight-follow-up.csv").exists());
    assert!(place.path().join("hecatomb-out/hits/knight-follow-up.jsonl").exists());
}

#[test]
fn folder_with_other_files_is_left_alone() {
    let place = place();
    place.write("notes/diary.txt", "dear diary");
    let ran = place.run(&with(&["--out", "notes"]));
    assert_eq!(ran.status, 1, "{ran}");
    assert!(ran.err.contains("`notes` is not empty"), "{ran}");
    assert_eq!(fs::read_dir(place.path().join("notes")).unwrap().count(), 1);
    assert_eq!(place.run(&with(&["--out", "notes", "--replace"])).status, 0);
    assert_eq!(place.read("notes/diary.txt"), "dear diary");
}

#[test]
fn file_in_the_place_of_the_folder_is_an_error() {
    let place = place();
    place.write("taken", "x");
    let ran = place.run(&with(&["--out", "taken"]));
    assert_eq!(ran.status, 1, "{ran}");
    assert!(ran.err.contains("can't write `taken`"), "{ran}");
}

/// A folder in which nothing can be made, even by root.
#[cfg(target_os = "linux")]
#[test]
fn read_only_folder_is_an_error() {
    let ran = place().run(&with(&["--out", "/proc/hecatomb-out"]));
    assert_eq!(ran.status, 1, "{ran}");
    assert!(ran.err.contains("can't write `/proc/hecatomb-out`"), "{ran}");
}

#[test]
fn nothing_is_left_behind_beside_the_tables() {
    let place = place();
    assert_eq!(place.run(&MINE).status, 0);
    let mut names: Vec<String> = fs::read_dir(place.path().join("hecatomb-out"))
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    assert_eq!(names, ["collection.csv", "hits", "rejects.csv", "run.json"]);
}

/// A full disk, by the device that is always full.
#[cfg(target_os = "linux")]
#[test]
fn full_disk_leaves_no_half_table() {
    let place = place();
    let script = format!(
        "ulimit -f 1; exec {} mine games.pgn --query knight-follow-up",
        env!("CARGO_BIN_EXE_hecatomb")
    );
    let many: String =
        (0..200).map(|number| game(&format!("White{number}, W"), "Black, B")).collect();
    place.write("games.pgn", many);
    // A file may not grow over 512 bytes, so that writing fails as on a full disk.
    let output = std::process::Command::new("bash")
        .args(["-c", &format!("trap '' XFSZ; {script}")])
        .current_dir(place.path())
        .output()
        .unwrap();
    let err = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(1), "{err}");
    assert!(err.contains("can't write `hecatomb-out`"), "{err}");
    assert_eq!(fs::read_dir(place.path().join("hecatomb-out")).unwrap().count(), 0);
}

#[test]
fn manifest_names_sources_queries_options_and_counts() {
    let place = place();
    assert_eq!(place.run(&with(&["--min-rating", "1700", "--limit", "5"])).status, 0);
    let mut manifest: serde_json::Value =
        serde_json::from_str(&place.read("hecatomb-out/run.json")).unwrap();
    manifest["seconds"] = 0.into();
    manifest["queries"][0]["sha256"] = "[HASH]".into();
    insta::assert_snapshot!(serde_json::to_string_pretty(&manifest).unwrap());
}

#[test]
fn row_says_everything_about_a_hit() {
    let place = place();
    assert_eq!(place.run(&MINE).status, 0);
    insta::assert_snapshot!(place.read("hecatomb-out/hits/knight-follow-up.csv"));
    insta::assert_snapshot!(place.read("hecatomb-out/collection.csv"));
    assert_eq!(place.run(&with(&["--table", "jsonl", "--out", "json"])).status, 0);
    let row: serde_json::Value =
        serde_json::from_str(&place.read("json/hits/knight-follow-up.jsonl")).unwrap();
    let csv = &place.rows("hits/knight-follow-up.csv")[0];
    for (column, value) in row.as_object().unwrap() {
        let text = match value {
            serde_json::Value::Null => String::new(),
            serde_json::Value::String(text) => text.clone(),
            other => other.to_string(),
        };
        assert_eq!(text, csv[column], "{column}");
    }
}

#[test]
fn parquet_tables_hold_the_same_cells_with_their_own_types() {
    use parquet::file::reader::{FileReader, SerializedFileReader};
    use parquet::record::Field;

    let place = Place::new();
    place.write("season.pgn.zst", include_bytes!("../sample-data/season.pgn.zst"));
    assert_eq!(place.run(&["mine", "season.pgn.zst"]).status, 0);
    let as_parquet = ["mine", "season.pgn.zst", "--table", "parquet", "--out", "typed"];
    assert_eq!(place.run(&as_parquet).status, 0);
    for table in ["hits/rook-pawn-bishop", "collection", "rejects"] {
        let file = fs::File::open(place.path().join(format!("typed/{table}.parquet"))).unwrap();
        let reader = SerializedFileReader::new(file).unwrap();
        let typed: Vec<_> = reader.get_row_iter(None).unwrap().map(Result::unwrap).collect();
        let plain = place.rows(&format!("{table}.csv"));
        assert_eq!(typed.len(), plain.len());
        for (typed, plain) in typed.iter().zip(&plain) {
            for (column, field) in typed.get_column_iter() {
                let text = match field {
                    Field::Null => String::new(),
                    Field::Str(text) => text.clone(),
                    Field::Long(number) => number.to_string(),
                    Field::Double(number) => number.to_string(),
                    Field::Bool(truth) => truth.to_string(),
                    other => panic!("{column} holds {other}"),
                };
                assert_eq!(text, plain[column], "{column}");
            }
        }
    }
    let file = fs::File::open(place.path().join("typed/hits/rook-pawn-bishop.parquet")).unwrap();
    let reader = SerializedFileReader::new(file).unwrap();
    let row = reader.get_row_iter(None).unwrap().next().unwrap().unwrap();
    let kind =
        |name: &str| row.get_column_iter().find(|(column, _)| *column == name).unwrap().1.clone();
    assert!(matches!(kind("ply"), Field::Long(_)) && matches!(kind("score"), Field::Double(_)));
    assert!(matches!(kind("accepted"), Field::Bool(_)) && matches!(kind("offer"), Field::Str(_)));
}
