//! `hecatomb verify -`: hits in, a line each, and the verdicts of their runs out.

use std::io::{BufRead, BufReader, Write};
use std::process::{Child, Stdio};

use serde_json::Value;

use crate::engines::peer_in;
use crate::support::{OFFER_GAME, Place, Ran, game, hecatomb, interrupt, package_games};

const FEW: &str = "--nodes=1000";

/// What comes out for these lines.
fn piped(place: &Place, arguments: &[&str], lines: &[u8]) -> Ran {
    let mut command = hecatomb(place.path(), &[&["verify", "-"], arguments].concat());
    command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
    let mut child = command.spawn().unwrap();
    let (mut input, lines) = (child.stdin.take().unwrap(), lines.to_vec());
    // It may have ended before all is told.
    let telling = std::thread::spawn(move || drop(input.write_all(&lines)));
    let ended = child.wait_with_output().unwrap();
    telling.join().unwrap();
    ended.into()
}

/// A run in JSON: offers that were made and that were not, of real games, and one whose game is commented.
fn mined(queries: &[&str]) -> Place {
    let place = Place::new();
    let commented = game("Alder, Tom", "Birch, Ida")
        .replace("c5 8. Bxh7+", "c5 { [%eval 0.4] } 8. Bxh7+ { [%eval 2.5] }");
    assert!(commented.contains("eval"), "{OFFER_GAME}");
    place.write("games.pgn", commented);
    let real = package_games()[1].to_str().unwrap();
    let mut arguments = vec!["mine", "games.pgn", real, "--overlooked", "--table", "jsonl"];
    arguments.extend(queries.iter().flat_map(|query| ["--query", query]));
    assert_eq!(place.run(&arguments).status, 0);
    place
}

/// The verdicts on a run, and what comes out for its hits; both as text.
fn both(place: &Place, queries: &[&str], options: &[&str]) -> (String, String) {
    let ran = place.run(&[&["verify", "hecatomb-out", "--replace"], options].concat());
    assert_eq!(ran.status, 0, "{ran}");
    let all = |folder: &str| -> String {
        let table = |query| place.read(&format!("hecatomb-out/{folder}/{query}.jsonl"));
        queries.iter().map(table).collect()
    };
    let ran = piped(place, options, all("hits").as_bytes());
    assert_eq!(ran.status, 0, "{ran}");
    (all("verdicts"), ran.out)
}

#[test]
fn each_hit_has_the_verdict_of_its_run() {
    let queries = ["bishop-takes-h7", "rook-takes-g7"];
    let place = mined(&queries);
    let (verdicts, out) = both(&place, &queries, &[FEW, "--threads=2"]);
    assert!(verdicts.lines().count() > 60, "{verdicts}");
    assert!(verdicts.contains(r#""evidence":"from game""#), "{verdicts}");
    assert_eq!(out, verdicts);
    // With an engine, and whatever the threads.
    let engine = peer_in(&place, "weighs");
    let options = [FEW, "--engine", &engine, "--engine-nodes=300"];
    let (verdicts, out) = both(&place, &queries, &options);
    assert!(verdicts.contains(r#""expected_instead":"#), "{verdicts}");
    assert!(!verdicts.lines().all(|line| line.contains(r#""expected_instead":null"#)));
    assert_eq!(out, verdicts);
}

const HIT: &str =
    r#"{"id":"a","fen":"5rk1/pb4pp/1p6/q5N1/8/8/PP2QPPP/6K1 w - - 0 1","offer":"Qe6+"}"#;

#[test]
fn broken_line_is_a_row_with_its_reason_and_the_rest_goes_on() {
    let place = Place::new();
    let long = format!("{{\"id\":\"{}\"}}", "x".repeat(300_000));
    let illegal = HIT.replace("Qe6+", "Qe9+").replace("\"a\"", "\"b\"");
    let text = [HIT, "{]", "", &illegal, &long, HIT, "[]", HIT].join("\n");
    let ran = piped(&place, &["--threads=2"], text.as_bytes());
    let rows: Vec<Value> = ran.out.lines().map(|row| serde_json::from_str(row).unwrap()).collect();
    let faults = [
        (1, "key must be a string at byte 2"),
        (2, "the line is blank"),
        (3, "column `offer`: `Qe9+` is not a legal move in this position"),
        (4, "the line is longer than 262144 bytes"),
        (6, "invalid type: sequence, expected an object"),
    ];
    assert_eq!(rows.len(), 8, "{ran}");
    for (index, fault) in faults {
        let (line, told) = (&rows[index]["line"], &rows[index]["fault"]);
        assert_eq!((line, told), (&Value::from(index + 1), &Value::from(fault)), "{ran}");
    }
    assert_eq!((&rows[3]["id"], &rows[1]["id"]), (&Value::from("b"), &Value::Null));
    for index in [0, 5, 7] {
        let mates = (&rows[index]["verdict"], &rows[index]["mate_in"]);
        assert_eq!(mates, (&Value::from("mates"), &Value::from(5)), "{ran}");
    }
    assert_eq!(ran.status, 1, "{ran}");
    assert!(ran.err.contains("error: 5 of 8 lines can't be judged\nhint: "), "{ran}");
    // Nothing in, nothing out.
    let ran = piped(&place, &[], b"");
    assert_eq!((ran.status, &*ran.out, &*ran.err), (0, "", ""), "{ran}");
}

/// A process that waits for lines.
fn waiting(place: &Place, arguments: &[&str]) -> Child {
    let mut command = hecatomb(place.path(), &[&["verify", "-"], arguments].concat());
    command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap()
}

#[test]
fn rows_come_as_lines_come_and_an_interrupt_is_heard_while_none_does() {
    let place = Place::new();
    let mut child = waiting(&place, &["--threads=2"]);
    let mut input = child.stdin.take().unwrap();
    let mut output = BufReader::new(child.stdout.take().unwrap());
    for _ in 0..3 {
        writeln!(input, "{HIT}").unwrap();
        let mut row = String::new();
        output.read_line(&mut row).unwrap();
        assert!(row.starts_with(r#"{"id":"a","verdict":"mates""#), "{row}");
    }
    interrupt(&child);
    let ended: Ran = child.wait_with_output().unwrap().into();
    assert_eq!((ended.status, &*ended.err), (130, "interrupted: 3 lines are answered\n"));
}

#[test]
fn reader_that_goes_away_ends_it_quietly() {
    let place = Place::new();
    let mut child = waiting(&place, &[]);
    let mut input = child.stdin.take().unwrap();
    drop(child.stdout.take());
    writeln!(input, "{HIT}").unwrap();
    let ended: Ran = child.wait_with_output().unwrap().into();
    assert_eq!((ended.status, &*ended.err), (0, ""), "{ended}");
}

#[test]
fn options_that_mean_nothing_for_lines_are_refused() {
    let place = Place::new();
    for arguments in [
        &["--query", "bishop-takes-h7"][..],
        &["--chapter", "bishop"],
        &["--limit", "3"],
        &["--sample", "3"],
        &["--overlooked"],
        &["--resume"],
        &["--replace"],
        &["--edited"],
        &["--fen", "8/8/8/8/8/8/8/8 w - - 0 1", "--offer", "Ke2"],
    ] {
        let ran = piped(&place, arguments, HIT.as_bytes());
        assert_eq!((ran.status, &*ran.out), (2, ""), "{arguments:?}: {ran}");
        assert!(ran.err.contains("cannot be used with"), "{ran}");
    }
    assert_eq!(place.run(&["verify", "hecatomb-out", "--terms"]).status, 2);
}

#[test]
fn what_verdicts_depend_on_is_told() {
    let place = Place::new();
    let ran = piped(&place, &["--terms", FEW], b"");
    let version = env!("CARGO_PKG_VERSION");
    let told = format!(r#"{{"hecatomb":"{version}","nodes":1000,"depth":null,"engine":null}}"#);
    assert_eq!((ran.status, ran.out), (0, told + "\n"));
    let engine = peer_in(&place, "weighs");
    let ran = piped(&place, &["--terms", "--engine", &engine, "--depth=9"], b"");
    let told: Value = serde_json::from_str(&ran.out).unwrap();
    assert_eq!((&told["depth"], &told["engine"]["nodes"]), (&9.into(), &100_000.into()), "{ran}");
    assert!(told["engine"]["name"].is_string(), "{ran}");
    let ran = piped(&place, &["--terms", "--engine", "./nothing"], b"");
    assert_eq!((ran.status, &*ran.out), (1, ""), "{ran}");
    assert!(ran.err.starts_with("error: `./nothing` can't be asked"), "{ran}");
}
