//! The output folder: whole or not at all, never over another run.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use hecatomb::board::{Replay, read_position};
use hecatomb::tables::{TableFormat, TableReader, TableTrouble};
use shakmaty::fen::Fen;
use shakmaty::{Chess, EnPassantMode};

use crate::support::{Place, game, game_from_move};

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
    assert_eq!(
        names,
        ["collection.csv", "duplicates.csv", "games.csv", "hits", "rejects.csv", "run.json"]
    );
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
    for table in ["hits/bishop-takes-h7", "collection", "rejects"] {
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
    let file = fs::File::open(place.path().join("typed/hits/bishop-takes-h7.parquet")).unwrap();
    let reader = SerializedFileReader::new(file).unwrap();
    let row = reader.get_row_iter(None).unwrap().next().unwrap().unwrap();
    let kind =
        |name: &str| row.get_column_iter().find(|(column, _)| *column == name).unwrap().1.clone();
    assert!(matches!(kind("ply"), Field::Long(_)) && matches!(kind("score"), Field::Double(_)));
    assert!(matches!(kind("accepted"), Field::Bool(_)) && matches!(kind("offer"), Field::Str(_)));
    let said = reader.metadata().file_metadata().key_value_metadata().unwrap();
    let said = said.iter().find(|pair| pair.key == "hecatomb.columns").unwrap();
    let said: serde_json::Value = serde_json::from_str(said.value.as_ref().unwrap()).unwrap();
    assert_eq!(said["cost"]["unit"], "pawns");
    assert_eq!(said["expected"]["blank"], "a rating is unknown");
}

/// A Parquet file of these columns and groups of rows, each row made from its number.
fn parquet_file(
    place: &Place,
    schema: &str,
    groups: &[usize],
    mut write: impl FnMut(&mut parquet::file::writer::SerializedColumnWriter<'_>, usize),
) -> PathBuf {
    use parquet::file::writer::SerializedFileWriter;
    let schema = parquet::schema::parser::parse_message_type(schema).unwrap();
    let path = place.path().join("foreign.parquet");
    let file = fs::File::create(&path).unwrap();
    let mut file = SerializedFileWriter::new(file, Arc::new(schema), Arc::default()).unwrap();
    for rows in groups {
        let mut group = file.next_row_group().unwrap();
        while let Some(mut column) = group.next_column().unwrap() {
            write(&mut column, *rows);
            column.close().unwrap();
        }
        group.close().unwrap();
    }
    file.close().unwrap();
    path
}

/// All rows, with blanks between cells, or what is wrong.
fn read_all(path: &Path) -> Result<Vec<String>, String> {
    let said = |error: TableTrouble| {
        error.to_string().rsplit_once("foreign.parquet`").unwrap().1.to_owned()
    };
    let mut table = TableReader::open(path, TableFormat::Parquet).map_err(said)?;
    let columns = table.columns().len();
    let mut rows = Vec::new();
    while let Some(row) = table.next_row().map_err(said)? {
        rows.push((0..columns).map(|column| row.text(column)).collect::<Vec<_>>().join(" "));
    }
    Ok(rows)
}

#[test]
fn parquet_of_others_is_read_or_said_to_be_something_else() {
    use parquet::data_type::{ByteArrayType, Int32Type, Int64Type};
    let place = Place::new();
    let numbers = parquet_file(
        &place,
        "message m { required int64 always; optional int64 odd; }",
        &[2500, 0, 3],
        |column, rows| {
            let all: Vec<i64> = (0..rows as i64).collect();
            let odd: Vec<i64> = all.iter().copied().filter(|number| number % 2 == 1).collect();
            let levels: Vec<i16> = (0..rows).map(|row| (row % 2) as i16).collect();
            let typed = column.typed::<Int64Type>();
            match typed.get_descriptor().max_def_level() {
                0 => typed.write_batch(&all, None, None).unwrap(),
                _ => typed.write_batch(&odd, Some(&levels), None).unwrap(),
            };
        },
    );
    let rows = read_all(&numbers).unwrap();
    let expected = [2500, 3].into_iter().flat_map(|rows| {
        (0..rows).map(|row| if row % 2 == 1 { format!("{row} {row}") } else { format!("{row} ") })
    });
    assert!(expected.eq(rows));
    let short = parquet_file(&place, "message m { required int32 n; }", &[1], |column, _| {
        column.typed::<Int32Type>().write_batch(&[7], None, None).unwrap();
    });
    insta::assert_snapshot!(read_all(&short).unwrap_err(), @", line 1: `n` has a type that no table of a run has");
    let bytes = parquet_file(&place, "message m { required binary text; }", &[1], |column, _| {
        let text = vec![0xff_u8].into();
        column.typed::<ByteArrayType>().write_batch(&[text], None, None).unwrap();
    });
    insta::assert_snapshot!(read_all(&bytes).unwrap_err(), @", line 1: the text of `text` is not UTF-8");
    let lists = parquet_file(&place, "message m { repeated int64 n; }", &[1], |column, _| {
        let typed = column.typed::<Int64Type>();
        typed.write_batch(&[7, 8], Some(&[1, 1]), Some(&[0, 1])).unwrap();
    });
    insta::assert_snapshot!(read_all(&lists).unwrap_err(), @", line 1: `n` has a type that no table of a run has");
    place.write("foreign.parquet", "PAR1 of no sort");
    insta::assert_snapshot!(read_all(&place.path().join("foreign.parquet")).unwrap_err(), @": Invalid Parquet file. Corrupt footer");
}

#[test]
fn damaged_parquet_is_an_error_and_nothing_worse() {
    let place = place();
    assert_eq!(place.run(&with(&["--table", "parquet"])).status, 0);
    let whole = fs::read(place.path().join("hecatomb-out/hits/knight-follow-up.parquet")).unwrap();
    let mut faults = std::collections::BTreeSet::new();
    for at in (0..whole.len()).step_by(5) {
        for byte in [0x00, 0x7f, 0xff] {
            let mut damaged = whole.clone();
            damaged[at] = byte;
            fs::write(place.path().join("foreign.parquet"), damaged).unwrap();
            faults.extend(read_all(&place.path().join("foreign.parquet")).err());
        }
    }
    // At some of these files the library panics.
    assert!(
        faults.contains(": the file is damaged")
            || faults.contains(", line 1: the file is damaged"),
        "{faults:?}"
    );
}

#[test]
fn each_game_with_hits_stands_whole_in_its_table() {
    let place = Place::new();
    let commented = "8. Bxh7+ { [%eval 0.5] } Kxh7 { [%eval #-3,18] }";
    let set_up = game_from_move(13, "E", "F").replace("8. Bxh7+ Kxh7", commented);
    place.write("games.pgn", [game("A", "B"), set_up, game("C", "D")].concat());
    let ran = place.run(&["mine", "games.pgn", "--chapter", "bishop"]);
    assert_eq!(ran.status, 0, "{ran}");
    let games = place.rows("games.csv");
    assert_eq!(games.len(), 3);
    let mut hits = 0;
    for table in fs::read_dir(place.path().join("hecatomb-out/hits")).unwrap() {
        for hit in crate::support::rows(&table.unwrap().path()) {
            let mut of_hit = games.iter().filter(|game| game["game_id"] == hit["game_id"]);
            let game = of_hit.next().unwrap();
            assert!(of_hit.next().is_none());
            let start = match &game["start"] {
                "" => Chess::default(),
                fen => read_position(fen).unwrap(),
            };
            let replay = Replay::read(&start, &game["moves"]).unwrap();
            let ply: usize = hit["ply"].parse().unwrap();
            assert_eq!(replay.moves.len().to_string(), hit["plies"]);
            assert_eq!(replay.san(ply - 1).to_string(), hit["offer"]);
            let fen = Fen::from_position(&replay.positions[ply - 1], EnPassantMode::Always);
            assert_eq!(fen.to_string(), hit["fen"]);
            hits += 1;
        }
    }
    assert!(hits >= 3, "{hits}");
    let worth: Vec<&str> = games.iter().map(|game| &game["evaluations"]).collect();
    let of_second = ["? ".repeat(14), "0.50 #-3".to_owned(), " ?".repeat(7)].concat();
    assert_eq!(worth, ["", &of_second, ""]);
}

#[test]
fn hits_keep_their_ids_whatever_the_file_is_called_and_stands_before_them() {
    let ids = |files: &[(&str, String)]| {
        let place = Place::new();
        for (name, text) in files {
            place.write(name, text);
        }
        assert_eq!(place.run(&["mine", ".", "--query", "bishop-takes-h7"]).status, 0);
        let rows = place.rows("hits/bishop-takes-h7.csv");
        rows.iter().map(|row| row["id"].to_owned()).collect::<Vec<String>>()
    };
    let (one, other) = (game("Alder, Tom", "Birch, Ida"), game("Cedar, Ann", "Birch, Ida"));
    let before = ids(&[("league.pgn", one.clone())]);
    let after = ids(&[("cup.pgn", other.clone() + &one)]);
    assert_eq!((before.len(), after.len()), (1, 2));
    assert_eq!(before[0], after[1]);
    assert_ne!(after[0], after[1]);
    // Another day is another game.
    let later = one.replace("2031.03.04", "2031.03.05");
    assert_ne!(ids(&[("league.pgn", later)]), before);
}
