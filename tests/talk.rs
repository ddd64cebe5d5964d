//! What is said reaches people, does nothing to their terminal, and stops no run when it can't be said.

use std::process::Stdio;

use crate::support::{Place, game, hecatomb};

/// Characters that must never reach a terminal from a name.
const WILD: [char; 4] = ['\u{1b}', '\u{202e}', '\u{200b}', '\u{9b}'];

fn is_tame(text: &str) -> bool {
    !text.contains(WILD)
}

#[test]
fn talk_that_cant_be_said_stops_no_run() {
    let arguments = ["mine", "missing-1.pgn", "missing-2.pgn", "missing-3.pgn", "games.pgn"];
    let full = std::fs::OpenOptions::new().write(true).open("/dev/full");
    let full = full.ok().map(Stdio::from);
    let (reader, closed) = std::io::pipe().unwrap();
    drop(reader);
    for stderr in [full, Some(Stdio::from(closed))].into_iter().flatten() {
        let place = Place::new();
        place.write("games.pgn", game("Alder, Tom", "Birch, Ida"));
        let mut command = hecatomb(place.path(), &arguments);
        let status = command.stderr(stderr).stdout(Stdio::null()).status().unwrap();
        assert_eq!(status.code(), Some(1));
        assert_eq!(place.rows("hits/knight-follow-up.csv").len(), 1);
        assert!(place.path().join("hecatomb-out/run.json").exists());
    }
}

#[test]
fn wrong_options_that_cant_be_told_are_wrong_options() {
    let Ok(full) = std::fs::OpenOptions::new().write(true).open("/dev/full") else { return };
    let place = Place::new();
    let mut command = hecatomb(place.path(), &["mine", "--no-such-option"]);
    assert_eq!(command.stderr(full.try_clone().unwrap()).status().unwrap().code(), Some(2));
    let mut command = hecatomb(place.path(), &["mine", "--help"]);
    assert_eq!(command.stdout(full).status().unwrap().code(), Some(1));
}

/// A run whose games name these players as White.
fn mined(whites: &[&str]) -> Place {
    let place = Place::new();
    let games: String = whites.iter().map(|white| game(white, "Birch, Ida")).collect();
    place.write("games.pgn", games);
    let ran = place.run(&["mine", "games.pgn", "--query", "knight-follow-up"]);
    assert_eq!(ran.status, 0, "{ran}");
    place
}

#[test]
fn name_of_any_length_is_cut_for_people_and_kept_for_programs() {
    let long = "x".repeat(70_000);
    let place = mined(&[&long, "Alder, Tom"]);
    let tally = |format: &str| {
        let ran = place.run(&["tally", "hecatomb-out", "--by", "white", "--format", format]);
        assert_eq!(ran.status, 0, "{format}: {}", ran.err);
        ran.out
    };
    let text = tally("text");
    assert!(text.contains("xxx…") && text.contains("Alder, Tom"), "{text}");
    assert!(text.lines().all(|line| line.chars().count() < 200), "{text}");
    // More than this is cut when a game is read, or not at all.
    let kept = "x".repeat(900);
    assert!(tally("csv").contains(&kept) && tally("json").contains(&kept));
}

#[test]
fn names_do_nothing_to_the_terminal() {
    let wild = "Red\u{1b}[31m\u{202e}\u{200b}\u{9b}2J";
    let place = mined(&[wild, "<b>Zoë</b> & 桜", "שלום"]);
    for format in ["text", "markdown"] {
        let ran = place.run(&["tally", "hecatomb-out", "--by", "white", "--format", format]);
        assert_eq!(ran.status, 0, "{ran}");
        assert!(is_tame(&ran.out) && ran.out.contains("Red"), "{:?}", ran.out);
        assert!(ran.out.contains("Zoë") && ran.out.contains("桜"), "{ran}");
        assert!(ran.out.contains("שלום"), "{ran}");
        let is_html = ran.out.contains("<b>");
        assert_eq!(is_html, format == "text", "{ran}");
    }
    let markdown = place.run(&["tally", "hecatomb-out", "--by", "white", "--format", "markdown"]);
    assert!(markdown.out.contains("&lt;b&gt;Zoë&lt;/b&gt; &amp; 桜"), "{markdown}");
}

#[test]
fn file_names_and_queries_do_nothing_to_the_terminal() {
    let place = Place::new();
    place.write("games.pgn", game("Alder, Tom", "Birch, Ida"));
    let ran = place.run(&["mine", "no\u{1b}[2Jfile\u{202e}\nhint: none.pgn", "games.pgn"]);
    assert_eq!(ran.status, 1, "{ran}");
    assert!(is_tame(&ran.err) && !ran.err.contains("\nhint: none"), "{:?}", ran.err);
    assert!(ran.err.contains("`no\\u{1b}[2Jfile\\u{202e}\\nhint: none.pgn`"), "{ran}");

    let ran = place.run(&["mine", "--a\u{1b}[31m\u{202e}b"]);
    assert_eq!(ran.status, 2, "{ran}");
    assert!(is_tame(&ran.err) && ran.err.contains("--a\\u{202e}b"), "{:?}", ran.err);

    let query = "title = \"Red \\u001b[31m\\u202e\"\nchapter = \"bishop\"\n\
                 about = \"One\\u001b[2J two\"\noffer = \"bishop takes pawn on h7\"\n";
    place.write("wild.toml", query);
    let ran = place.run(&["queries", "show", "wild.toml"]);
    assert_eq!(ran.status, 0, "{ran}");
    assert!(is_tame(&ran.out) && ran.out.contains("Red \\u{1b}[31m\\u{202e}"), "{:?}", ran.out);

    place.write("broken.toml", query.replace("bishop\"", "\u{1b}]0;x\u{9b}2Jbishop\u{202e}\""));
    let ran = place.run(&["queries", "check", "broken.toml"]);
    assert_eq!(ran.status, 1, "{ran}");
    assert!(is_tame(&ran.err) && ran.err.contains("\\u{1b}]0;x"), "{:?}", ran.err);
}
