//! What a user writes by hand is understood where that can be, and told for what it is where it can't: hidden
//! characters, ambiguous moves, positions with odd blanks, days that are none, files that are no text.

use crate::support::{Place, game};

#[test]
fn character_that_cant_be_seen_in_a_sentence_is_shown_with_a_caret() {
    let place = Place::new();
    for (hidden, code) in [("\u{200b}", "U+200B"), ("\u{a0}", "U+00A0"), ("\u{2060}", "U+2060")] {
        let sentence = format!("bishop{hidden} takes pawn on h7");
        place.write(
            "q.toml",
            format!("title = \"t\"\nchapter = \"bishop\"\noffer = \"{sentence}\"\n"),
        );
        let ran = place.run(&["queries", "check", "q.toml"]);
        assert_eq!(ran.status, 1, "{ran}");
        assert!(ran.err.contains(&format!("`{code}`")), "{ran}");
        assert!(ran.err.contains("q.toml:3:16"), "{ran}");
        let lines: Vec<&str> = ran.err.lines().collect();
        let shown = lines.iter().position(|line| line.contains("offer = ")).unwrap();
        let escaped = format!("\\u{{{:x}}}", u32::from(hidden.chars().next().unwrap()));
        let column = lines[shown].find(&escaped).unwrap_or_else(|| panic!("{ran}"));
        assert_eq!(lines[shown + 1].find('^'), Some(column), "{ran}");
    }
}

#[test]
fn query_file_that_is_empty_or_no_text_is_named() {
    let place = Place::new();
    place.write("empty.toml", "").write("blank.toml", " \n\n");
    place.write("latin.toml", b"title = \"Caf\xE9\"\n");
    place.write("wide.toml", b"\xFF\xFEt\0i\0t\0l\0e\0");
    for (file, reason) in [
        ("empty.toml", "`empty.toml` is empty"),
        ("blank.toml", "`blank.toml` is empty"),
        ("latin.toml", "`latin.toml` is not text in UTF-8: byte 13 is wrong"),
        ("wide.toml", "`wide.toml` is not text in UTF-8: byte 1 is wrong"),
    ] {
        for arguments in [&["queries", "check", file][..], &["mine", "x.pgn", "--query", file]] {
            let ran = place.run(arguments);
            assert_eq!(ran.status, 1, "{ran}");
            assert!(ran.err.contains(reason), "{ran}");
        }
    }
}

#[test]
fn ambiguous_move_is_called_so_with_the_moves_it_may_be() {
    let place = Place::new();
    // Knights on b8 and f6 can both go to d7.
    let fen = "rn1qkb1r/ppp1pppp/5n2/3p4/3P4/5N2/PPP1PPPP/RNBQKB1R b KQkq - 0 3";
    let ran = place.run(&["verify", "--fen", fen, "--offer", "Nd7"]);
    assert_eq!(ran.status, 1, "{ran}");
    assert!(ran.err.contains("`Nd7` is ambiguous: it may be `Nbd7` or `Nfd7`"), "{ran}");
    let example = format!("[[example]]\nfen = \"{fen}\"\nline = \"Nd7\"\nhit = false\n");
    let head = "title = \"t\"\nchapter = \"bishop\"\noffer = \"bishop takes pawn on h7\"\n";
    place.write("q.toml", format!("{head}{example}"));
    let ran = place.run(&["queries", "check", "q.toml"]);
    assert!(ran.err.contains("`Nd7` is ambiguous: it may be `Nbd7` or `Nfd7`"), "{ran}");
    place.write("game.pgn", format!("[FEN \"{fen}\"]\n\n3... Nd7 *\n"));
    let diagram = ["diagram", "--pgn", "game.pgn", "--ply", "1", "-o", "d.svg"];
    let ran = place.run(&diagram);
    assert!(ran.err.contains("`Nd7` is ambiguous: it may be `Nbd7` or `Nfd7`"), "{ran}");
}

#[test]
fn parts_of_a_fen_may_stand_far_apart() {
    let place = Place::new();
    let fen = "  6k1/5ppp/8/8/8/8/5PPP/3Q2K1\tw  -\t \t-   0 1 ";
    let ran = place.run(&["verify", "--fen", fen, "--offer", "Qd8#"]);
    assert_eq!(ran.status, 0, "{ran}");
    let ran = place.run(&["diagram", "--fen", fen, "-o", "d.svg"]);
    assert_eq!(ran.status, 0, "{ran}");
}

#[test]
fn day_that_is_none_is_a_wrong_option() {
    let place = Place::new();
    place.write("x.pgn", game("Alder, Tom", "Birch, Ida"));
    for date in ["2031-02-30", "2031.02.30", "2031-04-31"] {
        for option in ["--played-from", "--played-to"] {
            let ran = place.run(&["mine", "x.pgn", option, date]);
            assert_eq!(ran.status, 2, "{ran}");
            assert!(ran.err.contains(&format!("`{date}` is not a date")), "{ran}");
        }
    }
    assert_eq!(place.run(&["mine", "x.pgn", "--played-from", "2031-02-28"]).status, 0);
}
