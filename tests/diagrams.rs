//! A diagram shows each man once and where it stands, is sound XML, and says in words what it shows.

use std::collections::BTreeMap;

use hecatomb::drawing::{Coordinates, DARK, Diagram, MarkError, Way, in_words, rings, symbols};
use hecatomb::words::Words;
use roxmltree::{Document, Node};
use shakmaty::fen::Fen;
use shakmaty::{Board, Color, Piece, Role, Setup, Square};

/// The initial position: FIDE Laws of Chess, article 2.3.
const START: &str = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1";
/// Made up: men of all sorts, unlike on both sides, Black to move.
const MIDDLE: &str = "2r2rk1/pb1q1pp1/1p2p2p/3n4/3P4/P2B1N2/1P3PPP/R2QR1K1 b - - 0 1";
/// Made up: kings and a rook.
const BARE: &str = "8/8/4k3/8/8/8/R7/4K3 w - - 0 1";

fn setup(fen: &str) -> Setup {
    fen.parse::<Fen>().unwrap().into_setup()
}

fn diagram(fen: &str) -> Diagram {
    Diagram::of(&setup(fen))
}

fn line(text: &str) -> Way {
    text.parse().unwrap()
}

fn elements<'a>(page: &'a Document<'_>, name: &str) -> Vec<Node<'a, 'a>> {
    page.descendants().filter(|node| node.tag_name().name() == name).collect()
}

fn number(node: Node<'_, '_>, attribute: &str) -> i32 {
    node.attribute(attribute).unwrap().parse().unwrap()
}

/// The men as drawn, read back from where the drawings stand, White at the bottom.
fn men_drawn(page: &Document<'_>) -> Vec<(Square, String)> {
    elements(page, "use")
        .into_iter()
        .filter(|node| node.has_attribute("x"))
        .map(|node| {
            let (file, row) = (number(node, "x") / 100, number(node, "y") / 100);
            let square = Square::new(u32::try_from((7 - row) * 8 + file).unwrap());
            (square, node.attribute("href").unwrap().trim_start_matches("#man-").to_owned())
        })
        .collect()
}

fn drawing(man: Piece) -> String {
    format!("{:?}-{:?}", man.color, man.role).to_lowercase()
}

#[test]
fn every_man_is_drawn_once_and_on_its_square() {
    for fen in [START, MIDDLE, BARE] {
        let board = setup(fen).board;
        let expected: Vec<(Square, String)> = Square::ALL
            .into_iter()
            .filter_map(|square| Some((square, drawing(board.piece_at(square)?))))
            .collect();
        let svg = diagram(fen).to_svg();
        assert_eq!(men_drawn(&Document::parse(&svg).unwrap()), expected, "{fen}");
    }
}

#[test]
fn black_at_the_bottom_turns_the_board_by_half() {
    let svg = diagram(MIDDLE).seen_by(Color::Black).to_svg();
    let turned: BTreeMap<Square, String> = men_drawn(&Document::parse(&svg).unwrap())
        .into_iter()
        .map(|(square, man)| (square.rotate_180(), man))
        .collect();
    let svg = diagram(MIDDLE).to_svg();
    assert_eq!(turned, men_drawn(&Document::parse(&svg).unwrap()).into_iter().collect());
}

#[test]
fn hatching_lies_on_the_dark_squares_and_on_all_of_them() {
    for width in [30, 80] {
        let svg = diagram(START).wide(width).to_svg();
        let page = Document::parse(&svg).unwrap();
        let hatching = elements(&page, "path")
            .into_iter()
            .find(|node| node.attribute("id").is_some_and(|id| id.ends_with("hatching")))
            .unwrap();
        let mut hatched: Vec<Square> =
            hatching.attribute("d").unwrap().split('M').skip(1).map(square_of_middle).collect();
        hatched.sort();
        hatched.dedup();
        let dark: Vec<Square> = Square::ALL.into_iter().filter(|square| square.is_dark()).collect();
        assert_eq!(hatched, dark);
    }
}

/// The square in which the middle of a rising stroke lies, written as `x yl run -run`.
fn square_of_middle(stroke: &str) -> Square {
    let (start, run) = stroke.split_once('l').unwrap();
    let (x, y) = start.split_once(' ').unwrap();
    let (run, _) = run.split_once(' ').unwrap();
    let [x, y, run] = [x, y, run].map(|number| number.parse::<i32>().unwrap());
    let (file, row) = ((x + run / 2) / 100, (y - run / 2) / 100);
    Square::new(u32::try_from((7 - row) * 8 + file).unwrap())
}

#[test]
fn rings_stand_around_their_squares_from_both_sides() {
    for (bottom, centre) in [(Color::White, ("650", "750")), (Color::Black, ("150", "50"))] {
        let svg = diagram(BARE).seen_by(bottom).ring([Square::G1]).to_svg();
        let page = Document::parse(&svg).unwrap();
        let circles = elements(&page, "circle");
        assert_eq!(circles.len(), 2, "the ring and the paper under it");
        for circle in circles {
            let seen = (circle.attribute("cx").unwrap(), circle.attribute("cy").unwrap());
            assert_eq!(seen, centre);
        }
    }
}

#[test]
fn lines_run_from_the_rim_of_a_man_to_the_middle_of_an_empty_square() {
    // The rook stands on a2, which White sees with its middle at 50, 650, and Black at 750, 150.
    for (bottom, path, dot) in [
        (Color::White, "M50 605L50 50", ("50", "50")),
        (Color::Black, "M750 195L750 750", ("750", "750")),
    ] {
        let svg = diagram(BARE).seen_by(bottom).line([line("a2a8")]).to_svg();
        let page = Document::parse(&svg).unwrap();
        let drawn = elements(&page, "path").into_iter();
        assert_eq!(drawn.filter(|node| node.attribute("d") == Some(path)).count(), 2, "{svg}");
        let circles = elements(&page, "circle");
        assert_eq!((circles[0].attribute("cx").unwrap(), circles[0].attribute("cy").unwrap()), dot);
    }
}

#[test]
fn line_to_a_man_stops_at_the_rim() {
    let svg = diagram(BARE).line([line("a2-e6")]).to_svg();
    // 45 units along the diagonal are 32 along each axis.
    assert!(svg.contains("M82 618L418 282"), "{svg}");
}

#[test]
fn line_from_a_square_to_itself_is_a_dot_and_no_fault() {
    let svg = diagram(BARE).line([Way { from: Square::A2, to: Square::A2 }]).to_svg();
    assert!(svg.contains("M50 650L50 650"), "{svg}");
}

#[test]
fn titles_are_escaped_and_read_back_the_same() {
    let title = r#"<b>"Rook & 'king'" ]]> é 象"#;
    let svg = diagram(BARE).titled(title).to_svg();
    let page = Document::parse(&svg).unwrap();
    assert_eq!(elements(&page, "title")[0].text(), Some(title));
    let svg = diagram(BARE).titled("bell\u{7} and \u{ffff}\nline").to_svg();
    let page = Document::parse(&svg).unwrap();
    assert_eq!(elements(&page, "title")[0].text(), Some("bell\u{fffd} and \u{fffd} line"));
}

#[test]
fn names_given_for_ids_are_escaped() {
    let diagram = diagram(BARE);
    let page = symbols("\"&<", [&diagram]) + &diagram.to_svg_sharing("\"&<", "'>");
    Document::parse(&format!("<page>{page}</page>")).unwrap();
}

#[test]
fn image_is_named_by_its_title_and_described_in_words() {
    let diagram = diagram(MIDDLE).titled("A knight in the middle").ring(rings("h7,g5").unwrap());
    let svg = diagram.to_svg();
    let page = Document::parse(&svg).unwrap();
    let root = page.root_element();
    assert_eq!(root.attribute("role"), Some("img"));
    let text_of = |attribute: &str| {
        let id = root.attribute(attribute).unwrap();
        page.descendants().find(|node| node.attribute("id") == Some(id)).unwrap().text().unwrap()
    };
    assert_eq!(text_of("aria-labelledby"), "A knight in the middle");
    assert_eq!(text_of("aria-describedby"), diagram.in_words());
}

#[test]
fn a_page_defines_each_drawing_once_and_refers_to_none_it_lacks() {
    let diagrams = [diagram(START).wide(30), diagram(MIDDLE), diagram(BARE).wide(100)];
    let mut page = symbols("man", &diagrams);
    for (number, diagram) in diagrams.iter().enumerate() {
        page += &diagram.to_svg_sharing("man", &format!("diagram-{number}"));
    }
    let page = format!("<page>{page}</page>");
    let page = Document::parse(&page).unwrap();
    let mut ids: BTreeMap<&str, usize> = BTreeMap::new();
    for id in page.descendants().filter_map(|node| node.attribute("id")) {
        *ids.entry(id).or_default() += 1;
    }
    assert!(ids.values().all(|times| *times == 1), "{ids:?}");
    for node in elements(&page, "use") {
        let id = node.attribute("href").unwrap().trim_start_matches('#');
        assert!(ids.contains_key(id), "{id}");
    }
}

#[test]
fn a_file_defines_no_man_it_does_not_show() {
    let svg = diagram(BARE).to_svg();
    let page = Document::parse(&svg).unwrap();
    let men = elements(&page, "g").into_iter().filter_map(|node| node.attribute("id"));
    assert_eq!(men.collect::<Vec<_>>(), ["man-white-rook", "man-white-king", "man-black-king"]);
}

#[test]
fn turned_men_are_the_same_left_and_right() {
    let svg = diagram(START).to_svg();
    let page = Document::parse(&svg).unwrap();
    for role in Role::ALL.into_iter().filter(|role| *role != Role::Knight) {
        let id = format!("man-{}", drawing(role.of(Color::White)));
        let man =
            page.descendants().find(|node| node.attribute("id") == Some(id.as_str())).unwrap();
        let outline = man.first_element_child().unwrap().attribute("d").unwrap();
        for part in outline.split('M').skip(1) {
            let there = points(part);
            let back: Vec<(f32, f32)> = there.iter().rev().map(|(x, y)| (100.0 - x, *y)).collect();
            assert!(there.len() > 10, "{role:?}");
            assert_eq!(there, back, "{role:?}");
        }
    }
}

#[test]
fn no_man_leaves_its_box() {
    let svg = diagram(START).to_svg();
    let page = Document::parse(&svg).unwrap();
    let outlines = elements(&page, "g").into_iter().filter(|node| node.has_attribute("id"));
    for man in outlines {
        let outline = man.first_element_child().unwrap().attribute("d").unwrap();
        for (x, y) in points(outline) {
            assert!((2.0..98.0).contains(&x) && (2.0..98.0).contains(&y), "{outline}");
        }
    }
}

/// The points and guides of path data without shorthands.
fn points(path: &str) -> Vec<(f32, f32)> {
    let numbers: Vec<f32> = path
        .split(|letter: char| "MLCz ".contains(letter))
        .filter(|word| !word.is_empty())
        .map(|word| word.parse().unwrap())
        .collect();
    numbers.chunks(2).map(|point| (point[0], point[1])).collect()
}

#[test]
fn mark_stands_where_the_side_to_move_sits() {
    let height_of_mark = |turn: Color, bottom: Color| {
        let mut position = setup(BARE);
        position.turn = turn;
        let svg = Diagram::of(&position).seen_by(bottom).to_svg();
        let page = Document::parse(&svg).unwrap();
        let mark = elements(&page, "path").pop().unwrap().attribute("d").unwrap().to_owned();
        let (_, rest) = mark.split_once(' ').unwrap();
        rest.split_once('l').unwrap().0.parse::<i32>().unwrap()
    };
    assert!(height_of_mark(Color::White, Color::White) > 700);
    assert!(height_of_mark(Color::Black, Color::White) < 100);
    assert!(height_of_mark(Color::White, Color::Black) < 100);
    assert!(height_of_mark(Color::Black, Color::Black) > 700);
}

#[test]
fn files_and_ranks_are_named_as_they_are_seen() {
    let names = |diagram: Diagram| {
        let svg = diagram.to_svg();
        let page = Document::parse(&svg).unwrap();
        let mut names: Vec<(i32, i32, String)> = elements(&page, "text")
            .into_iter()
            .map(|node| (number(node, "y"), number(node, "x"), node.text().unwrap().to_owned()))
            .collect();
        names.sort();
        names.into_iter().map(|(_, _, name)| name).collect::<String>()
    };
    assert_eq!(names(diagram(BARE)), "87654321abcdefgh");
    assert_eq!(names(diagram(BARE).seen_by(Color::Black)), "12345678hgfedcba");
    assert_eq!(names(diagram(BARE).coordinates(Coordinates::Hidden)), "");
}

#[test]
fn board_is_as_wide_as_asked_whatever_stands_beside_it() {
    for (width, coordinates) in [(30, Coordinates::Shown), (80, Coordinates::Hidden)] {
        let svg = diagram(BARE).coordinates(coordinates).wide(width).to_svg();
        let page = Document::parse(&svg).unwrap();
        let root = page.root_element();
        let millimetres = root.attribute("width").unwrap().strip_suffix("mm").unwrap();
        let units = root.attribute("viewBox").unwrap().split(' ').nth(2).unwrap();
        let [millimetres, units] = [millimetres, units].map(|text| text.parse::<f64>().unwrap());
        assert!((millimetres / units * 800.0 - f64::from(width)).abs() < 0.1, "{svg}");
    }
}

#[test]
fn a_board_without_a_turn_has_no_mark_and_says_nothing_of_it() {
    let board = setup(BARE).board;
    let diagram = Diagram::of_board(&board);
    assert_eq!(diagram.in_words(), "White: king e1, rook a2; Black: king e6.");
    let paths = |svg: &str| elements(&Document::parse(svg).unwrap(), "path").len();
    let marked = Diagram::of(&setup(BARE));
    assert_eq!(paths(&diagram.to_svg()) + 1, paths(&marked.to_svg()));
}

#[test]
fn positions_are_told_in_words() {
    insta::assert_snapshot!(
        diagram(MIDDLE).ring([Square::D5, Square::F4, Square::G2]).line([line("d5-f4")]).in_words(),
        @"White: king g1, queen d1, rooks a1 and e1, bishop d3, knight f3, pawns a3, b2, d4, f2, g2 and h2; Black: king g8, queen d7, rooks c8 and f8, bishop b7, knight d5, pawns a7, b6, e6, f7, g7 and h6; Black to move. Ringed: d5, f4 and g2. A line from d5 to f4."
    );
    assert_eq!(in_words(&Board::empty(), None, Words::ENGLISH), "White: no men; Black: no men");
}

#[test]
fn words_give_the_board_back() {
    for fen in [START, MIDDLE, BARE] {
        let board = setup(fen).board;
        assert_eq!(board_told(&in_words(&board, None, Words::ENGLISH)), board, "{fen}");
    }
}

/// Sets up what the words say: a noun of a man, then the squares it stands on.
fn board_told(words: &str) -> Board {
    let mut board = Board::empty();
    let (mut side, mut role) = (Color::White, Role::King);
    for word in words.split([' ', ',', ';', ':']).filter(|word| !["", "and"].contains(word)) {
        match word.trim_end_matches('s') {
            "White" => side = Color::White,
            "Black" => side = Color::Black,
            "king" => role = Role::King,
            "queen" => role = Role::Queen,
            "rook" => role = Role::Rook,
            "bishop" => role = Role::Bishop,
            "knight" => role = Role::Knight,
            "pawn" => role = Role::Pawn,
            square => board.set_piece_at(square.parse().unwrap(), role.of(side)),
        }
    }
    board
}

#[test]
fn rings_are_read_and_faults_named() {
    assert_eq!(rings("e4,f7"), Ok(vec![Square::E4, Square::F7]));
    assert_eq!(rings(" h1 , h1"), Ok(vec![Square::H1]));
    for (text, word) in [("e4,i9", "i9"), ("e4,", ""), ("e4f7", "e4f7"), ("é4", "é4")] {
        assert_eq!(rings(text), Err(MarkError::Square(word.to_owned())));
    }
}

#[test]
fn lines_are_read_and_faults_named() {
    let wanted = Way { from: Square::D3, to: Square::H7 };
    assert_eq!(line("d3h7"), wanted);
    assert_eq!(line("d3-h7"), wanted);
    assert_eq!(line("e7e8q"), Way { from: Square::E7, to: Square::E8 });
    for text in ["", "d3", "d3-", "d3--h7", "d3h", "d3h7x", "d3d3", "éé", "d3é", "d3h7-"] {
        assert_eq!(text.parse::<Way>(), Err(MarkError::Line(text.to_owned())));
    }
}

#[test]
fn colours_for_a_dark_page_are_those_a_drawing_asks_for() {
    let svg = diagram(START).to_svg();
    for declaration in DARK.split(';') {
        let (property, _) = declaration.split_once(':').unwrap();
        assert!(svg.contains(&format!("var({property},")), "{property}");
    }
}
