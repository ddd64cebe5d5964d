//! Runs that another version of the program wrote: they are read, or refused with the way on.

use std::fs;
use std::path::Path;

use crate::support::Place;

/// The folder of a run that version 0.1.0 wrote: two queries over the cup of the sample data, verified.
fn kept(place: &Place) {
    let from = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/kept/0.1.0");
    for folder in ["", "hits", "verdicts"] {
        fs::create_dir_all(place.path().join("run").join(folder)).unwrap();
        for entry in fs::read_dir(from.join(folder)).unwrap().map(Result::unwrap) {
            if entry.file_type().unwrap().is_file() {
                let to = place.path().join("run").join(folder).join(entry.file_name());
                fs::copy(entry.path(), to).unwrap();
            }
        }
    }
}

/// The manifest of the run with something else in it.
fn edit_manifest(
    place: &Place,
    change: impl FnOnce(&mut serde_json::Map<String, serde_json::Value>),
) {
    let mut manifest: serde_json::Value =
        serde_json::from_str(&place.read("run/run.json")).unwrap();
    change(manifest.as_object_mut().unwrap());
    place.write("run/run.json", manifest.to_string());
}

#[test]
fn a_run_of_the_first_version_serves_every_command() {
    let place = Place::new();
    kept(&place);
    let tally = place.run(&["tally", "run", "--format", "csv"]);
    assert_eq!((tally.status, &*tally.err), (0, ""), "{tally}");
    assert!(tally.out.contains("bishop-takes-h7"), "{tally}");
    for command in [
        &["lesson", "run", "--query", "bishop-takes-h7", "-o", "lesson.html"][..],
        &["games", "run", "--query", "smothered-mate", "-o", "games.pgn"],
        &["plan", "run", "--query", "smothered-mate", "--nodes", "2000", "-o", "course.toml"],
        &["exercises", "run", "--kind", "mate", "--nodes", "2000", "-o", "sheet.html"],
        &["verify", "run", "--nodes", "3000"],
    ] {
        let ran = place.run(command);
        assert_eq!(ran.status, 0, "{ran}");
    }
    // The same games in a run of today are the same hits.
    place.write("cup.pgn.zst", include_bytes!("../sample-data/cup.pgn.zst"));
    let today = ["mine", "cup.pgn.zst", "--query", "bishop-takes-h7", "--out", "today"];
    assert_eq!(place.run(&today).status, 0);
    let ids = |run: &str| -> Vec<String> {
        let path = place.path().join(run).join("hits/bishop-takes-h7.csv");
        crate::support::rows(&path).iter().map(|row| row["id"].to_owned()).collect()
    };
    assert!(!ids("run").is_empty());
    assert_eq!(ids("run"), ids("today"));
}

#[test]
fn a_manifest_of_another_version_is_refused_with_its_version_and_the_way_on() {
    let place = Place::new();
    kept(&place);
    edit_manifest(&place, |manifest| {
        manifest.insert("hecatomb".to_owned(), "0.0.9".into());
        manifest.remove("counts");
    });
    for command in [&["tally", "run"][..], &["verify", "run"], &["open", "run", "--no-browser"]] {
        let ran = place.run(command);
        assert_eq!((ran.status, &*ran.out), (1, ""), "{ran}");
        assert!(ran.err.contains("version 0.0.9 wrote it"), "{ran}");
        assert!(ran.err.contains("hint: mine again with --replace"), "{ran}");
    }
}

#[test]
fn a_table_of_another_version_is_refused_with_the_column_and_the_way_on() {
    let place = Place::new();
    kept(&place);
    let table = place.read("run/hits/smothered-mate.csv");
    place.write("run/hits/smothered-mate.csv", table.replacen(",eco,", ",opening,", 1));
    let ran = place.run(&["tally", "run", "--edited"]);
    assert_eq!(ran.status, 1, "{ran}");
    assert!(ran.err.contains("`opening` where `eco` was expected"), "{ran}");
    assert!(ran.err.contains("hint: mine again"), "{ran}");
}

#[test]
fn what_a_later_version_adds_to_the_manifest_does_no_harm() {
    let place = Place::new();
    kept(&place);
    edit_manifest(&place, |manifest| {
        manifest.insert("hecatomb".to_owned(), "9.9.9".into());
        manifest.insert("more".to_owned(), serde_json::json!({ "than": "today" }));
    });
    assert_eq!(place.run(&["tally", "run"]).status, 0);
}
