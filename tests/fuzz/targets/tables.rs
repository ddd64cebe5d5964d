//! Rows that are written and read again are the same, in every format, and no text of a table of
//! comma-separated values is a formula.

#![no_main]

use std::sync::LazyLock;

use arbitrary::Arbitrary;
use hecatomb::tables::{Cell, Column, Kind, Meaning, TableFormat, TableReader, guarded};
use libfuzzer_sys::fuzz_target;
use tempfile::TempDir;

#[derive(Arbitrary, Debug)]
struct Line {
    first: String,
    second: String,
    whole: Option<i32>,
    part: Option<i32>,
    truth: Option<bool>,
}

/// A folder in memory, where there is one.
static FOLDER: LazyLock<TempDir> = LazyLock::new(|| {
    tempfile::tempdir_in("/dev/shm").or_else(|_| tempfile::tempdir()).expect("there is room")
});

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

fn check(format: TableFormat, lines: &[Line]) {
    let path = FOLDER.path().join(format!("table.{}", format.ending()));
    let _ = std::fs::remove_file(&path);
    let mut table = format.create(&path, &columns()).expect("there is room");
    for line in lines {
        let part = line.part.map_or(Cell::Blank, |part| Cell::Hundredths(part.into()));
        let cells = [
            Cell::from(&*line.first),
            Cell::from(&*line.second),
            line.whole.into(),
            part,
            line.truth.into(),
        ];
        table.row(&cells).expect("there is room");
    }
    table.finish().expect("there is room");
    let mut table = TableReader::open(&path, format).expect("it was written");
    for line in lines {
        let row = table.next_row().expect("it is sound").expect("it is there");
        assert_eq!(row.text(0), line.first);
        assert_eq!(row.text(1), line.second);
        assert_eq!(row.integer(2).expect("a number"), line.whole.map(i64::from));
        let part = line.part.map(|part| f64::from(part) / 100.0);
        assert_eq!(row.text(3).parse().ok(), part);
        assert_eq!(row.truth(4).expect("a truth"), line.truth);
    }
    assert!(table.next_row().expect("it is sound").is_none());
}

fuzz_target!(|lines: Vec<Line>| {
    for format in TableFormat::ALL {
        check(format, &lines);
    }
    for line in &lines {
        let cell = guarded(&line.first);
        assert!(cell == "-" || !cell.starts_with(['=', '+', '-', '@', '\t', '\r', '\n']));
    }
});
