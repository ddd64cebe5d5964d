//! Files that only look like tables or manifests are read without harm, and what is read of them once
//! is read again.

#![no_main]

use std::path::Path;
use std::sync::LazyLock;

use hecatomb::hits::{Reading, Run, Runs};
use hecatomb::statistics::{Continuations, Factors, Groups};
use hecatomb::tables::{TableFormat, TableReader};
use libfuzzer_sys::fuzz_target;
use tempfile::TempDir;

static FOLDER: LazyLock<TempDir> = LazyLock::new(|| {
    tempfile::tempdir_in("/dev/shm").or_else(|_| tempfile::tempdir()).expect("there is room")
});

/// The cells of a table up to its end or its first fault, and that.
fn cells(path: &Path, format: TableFormat) -> (Vec<Vec<String>>, Option<String>) {
    let mut table = match TableReader::open(path, format) {
        Ok(table) => table,
        Err(trouble) => return (Vec::new(), Some(trouble.to_string())),
    };
    let columns = table.columns().len();
    let mut cells = Vec::new();
    loop {
        match table.next_row() {
            Ok(Some(row)) => {
                let row = (0..columns).map(|column| {
                    let _ = (row.integer(column), row.truth(column));
                    row.text(column).to_owned()
                });
                cells.push(row.collect());
            }
            Ok(None) => return (cells, None),
            Err(trouble) => return (cells, Some(trouble.to_string())),
        }
    }
}

/// Counts whatever can be counted.
fn count() {
    let Ok(runs) = Runs::open(&[FOLDER.path().to_owned()], Reading::AsTheyAre) else { return };
    let query = "queen-lift";
    let _ = runs.pass(query, &mut [&mut Groups::default()]);
    let (mut factors, mut tree) = (Factors::default(), Continuations::new(5));
    let _ = runs.pass(query, &mut [&mut factors, &mut tree]);
}

fuzz_target!(|input: (u8, &[u8])| {
    let (kind, content) = input;
    let folder = FOLDER.path();
    std::fs::create_dir_all(folder.join("hits")).expect("there is room");
    match TableFormat::ALL.get(usize::from(kind) % 4) {
        None => {
            std::fs::write(folder.join("run.json"), content).expect("there is room");
            if let Ok(run) = Run::open(folder, Reading::AsWritten) {
                for query in &run.manifest.queries {
                    assert_eq!(
                        run.verdicts_place(&query.name).parent(),
                        Some(&*folder.join("verdicts"))
                    );
                }
            }
        }
        // What a Parquet file holds beyond its own checks is the matter of the library that reads it.
        Some(TableFormat::Parquet) => {}
        Some(&format) => {
            let path = folder.join(format!("hits/queen-lift.{}", format.ending()));
            std::fs::write(&path, content).expect("there is room");
            assert_eq!(cells(&path, format), cells(&path, format));
            write_sound_manifest();
            count();
            std::fs::remove_file(&path).expect("it was written");
        }
    }
});

/// Makes the folder that of a run of one query.
fn write_sound_manifest() {
    let manifest = r#"{"hecatomb":"0","ended":"at the end","sources":[],"queries":[{"name":"queen-lift",
        "sha256":"","hits":0,"overlooked":0}],"options":{},"counts":{"games":0,"left_out":0,"rejected":0,
        "passed_text":0,"duplicates":0,"replayed":0,"bytes":0},
        "tables":{"hits/queen-lift.csv":{"rows":0,"xxh3":""},"hits/queen-lift.jsonl":{"rows":0,"xxh3":""}},
        "seconds":0}"#;
    std::fs::write(FOLDER.path().join("run.json"), manifest).expect("there is room");
}
