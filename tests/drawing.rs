//! The command that draws: what it writes, and how it tells of a position or square that is none.

use roxmltree::Document;

use crate::support::Place;

/// Made up: a bishop that looks at h7.
const POSITION: &str = "6k1/5ppp/8/8/8/3B4/8/6K1 w - - 0 1";

#[test]
fn drawing_goes_to_a_file_or_to_standard_output() {
    let place = Place::new();
    let arguments = ["diagram", "--fen", POSITION, "--ring", "h7,g5", "--line", "d3h7", "-o"];
    let ran = place.run(&[&arguments[..], &["-"]].concat());
    assert_eq!((ran.status, &*ran.err), (0, ""), "{ran}");
    Document::parse(&ran.out).unwrap();
    assert!(ran.out.contains("Ringed: h7 and g5. A line from d3 to h7."), "{ran}");
    let to_file = place.run(&[&arguments[..], &["h7.svg"]].concat());
    assert_eq!((to_file.status, &*to_file.out), (0, ""), "{to_file}");
    assert_eq!(place.read("h7.svg"), ran.out);
    let left: Vec<_> = std::fs::read_dir(place.path()).unwrap().collect();
    assert_eq!(left.len(), 1, "nothing else is left behind");
}

#[test]
fn title_and_side_are_as_asked() {
    let place = Place::new();
    let arguments =
        ["diagram", "--fen", POSITION, "--view", "black", "--title", "<A & \"B\">", "-o", "-"];
    let ran = place.run(&arguments);
    let page = Document::parse(&ran.out).unwrap();
    let title =
        page.descendants().find(|node| node.has_tag_name(("http://www.w3.org/2000/svg", "title")));
    assert_eq!(title.unwrap().text(), Some("<A & \"B\">"));
    // The king on g1 stands on the second square of the top row.
    assert!(ran.out.contains("<use href=\"#man-white-king\" x=\"100\" y=\"0\"/>"), "{ran}");
}

#[test]
fn wrong_positions_and_squares_are_told_with_their_place() {
    let place = Place::new();
    for (fen, message) in [
        ("8/8/8/8/8/8/8 w - - 0 1", "`8/8/8/8/8/8/8` has 7 ranks, not 8"),
        ("8/8/8/8/8/ppp/8/8 w - - 0 1", "rank 3 (`ppp`) has 3 squares, not 8"),
        (
            "8/8/8/8/8/3X4/8/8 w - - 0 1",
            "`X` on rank 3 (`3X4`) is neither a man nor a number of squares",
        ),
        ("8/8/8/8/8/8/8/8 x - - 0 1", "`x` is not `w` or `b`, the side to move"),
        ("8/8/8/8/8/8/8/8 w qq9 - 0 1", "`qq9` is not the castling rights"),
        ("8/8/8/8/8/8/8/8 w - j9 0 1", "`j9` is not an en passant square"),
        ("8/8/8/8/8/8/8/8 w - - x 1", "`x` is not the number of plies"),
        ("8/8/8/8/8/8/8/8 w - - 0 x", "`x` is not the move number"),
        ("8/8/8/8/8/8/8/8 w - - 0 1 2", "`2` is one part too many"),
        ("", "a position is expected"),
    ] {
        let ran = place.run(&["diagram", "--fen", fen, "-o", "-"]);
        assert_eq!(ran.status, 2, "{fen}: {ran}");
        assert!(ran.err.contains(message) && ran.err.contains("--fen"), "{fen}: {ran}");
    }
    for (option, value, message) in [
        ("--ring", "h7,i9", "`i9` is not a square"),
        ("--line", "d3", "`d3` is not a line from one square to another, such as `f3-g5`"),
    ] {
        let ran = place.run(&["diagram", "--fen", POSITION, option, value, "-o", "-"]);
        assert_eq!(ran.status, 2, "{ran}");
        assert!(ran.err.contains(message) && ran.err.contains(option), "{ran}");
    }
}

/// Two games, the second from a set position, with comments, a variation and an annotation glyph.
const GAMES: &str = r#"[Event "Harbour League"]

1. e4 {common} e5 (1... c5 2. Nf3 {a branch (odd)}) 2. Nf3 $1 Nc6 *

[FEN "6k1/5ppp/8/8/8/3B4/8/6K1 w - - 0 1"]
[SetUp "1"]

1. Bxh7+ Kxh7 1-0
"#;

#[test]
fn positions_of_games_are_drawn_as_those_of_fen() {
    let place = Place::new();
    place.write("games.pgn", GAMES);
    for (game, ply, fen) in [
        ("1", "0", "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1"),
        ("1", "4", "r1bqkbnr/pppp1ppp/2n5/4p3/4P3/5N2/PPPP1PPP/RNBQKB1R w KQkq - 2 3"),
        ("2", "2", "8/5ppk/8/8/8/8/8/6K1 w - - 0 2"),
    ] {
        let drawn = ["diagram", "--pgn", "games.pgn", "--game", game, "--ply", ply, "-o", "-"];
        let drawn = place.run(&drawn);
        assert_eq!((drawn.status, &*drawn.err), (0, ""), "{drawn}");
        assert_eq!(drawn.out, place.run(&["diagram", "--fen", fen, "-o", "-"]).out, "{fen}");
    }
    for (text, game, ply, message) in [
        (GAMES, "3", "0", "`games.pgn`: there is no game 3; the file holds 2"),
        (GAMES, "0", "0", "there is no game 0"),
        (GAMES, "2", "3", "game 2 has only 2 plies"),
        ("1. e4 e5 2. Ke3 *\n", "1", "1", "game 1: `Ke3` on ply 3 is not legal"),
        // The library passes over such a move.
        ("1. e4 e5 2. Qh5++ Nc6 *\n", "1", "1", "game 1: `Qh5++` on ply 3 is not a move in SAN"),
        ("[FEN \"8/8 w - - 0 1\"]\n\n1. e4 *\n", "1", "1", "has 2 ranks, not 8"),
    ] {
        place.write("games.pgn", text);
        let options = ["--pgn", "games.pgn", "--game", game, "--ply", ply, "-o", "-"];
        let ran = place.run(&[&["diagram"], &options[..]].concat());
        assert_eq!((ran.status, &*ran.out), (1, ""), "{ran}");
        assert!(ran.err.contains(message), "{message}: {ran}");
    }
    assert_eq!(place.run(&["diagram", "-o", "-"]).status, 2);
    assert_eq!(place.run(&["diagram", "--pgn", "games.pgn", "-o", "-"]).status, 2);
}

#[test]
fn folder_that_is_not_there_is_told() {
    let place = Place::new();
    let ran = place.run(&["diagram", "--fen", POSITION, "-o", "none/h7.svg"]);
    assert_eq!(ran.status, 1, "{ran}");
    assert!(ran.err.contains("can't write `none/h7.svg`"), "{ran}");
}
