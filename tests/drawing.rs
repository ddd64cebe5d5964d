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

#[test]
fn folder_that_is_not_there_is_told() {
    let place = Place::new();
    let ran = place.run(&["diagram", "--fen", POSITION, "-o", "none/h7.svg"]);
    assert_eq!(ran.status, 1, "{ran}");
    assert!(ran.err.contains("can't write `none/h7.svg`"), "{ran}");
}
