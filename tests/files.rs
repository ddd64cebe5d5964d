//! A query that holds for every file finds what it would find written out for each of them.

use std::collections::BTreeMap;

use hecatomb::mining::{BlockReport, Hit, Miner, Scrutiny, Selection};
use hecatomb::query::{Pattern, Query};
use proptest::prelude::*;
use shakmaty::Square;

use crate::support::{Place, block, mine, package_games, pattern};

/// The queries of a test, of which `files` and the letters are told: `wings` and the sentences.
fn file(files: &str, rest: &str) -> String {
    format!("title = \"t\"\nchapter = \"any\"\nfiles = \"{files}\"\n{rest}")
}

/// The sentences with every letter of a file moved to the right, written as a person would; `None` if one
/// leaves the board.
fn moved(text: &str, by: i8) -> Option<String> {
    let letter = |letter: char| {
        let moved = (letter as u8).checked_add_signed(by)?;
        (b'a'..=b'h').contains(&moved).then_some(char::from(moved))
    };
    let word = |word: &str| -> Option<String> {
        let bare = word.trim_matches(|c| "\"[],".contains(c));
        let mut letters = bare.chars();
        let (first, rest) = (letters.next(), letters.as_str());
        let is_square = rest.len() == 1 && rest.starts_with(|c| ('1'..='8').contains(&c));
        match (first, bare) {
            (Some(first), _) if is_square || rest == "-file" => {
                Some(word.replace(bare, &format!("{}{rest}", letter(first)?)))
            }
            (_, "light") if by % 2 != 0 => Some(word.replace("light", "dark")),
            (_, "dark") if by % 2 != 0 => Some(word.replace("dark", "light")),
            _ => Some(word.to_owned()),
        }
    };
    let line =
        |line: &str| line.split(' ').map(word).collect::<Option<Vec<_>>>().map(|it| it.join(" "));
    text.lines().map(line).collect::<Option<Vec<_>>>().map(|lines| lines.join("\n"))
}

/// A hit: game, ply and square of the offer, whether it was made.
type Where = (u64, usize, Square, bool);
/// What is said of a hit, whatever query found it.
type Said = (Vec<Option<usize>>, Vec<bool>, Option<Square>, hecatomb::board::View);

fn places(
    report: &BlockReport,
    is_of: impl Fn(&Hit) -> bool,
) -> BTreeMap<Where, Vec<(usize, Said)>> {
    let mut found: BTreeMap<Where, Vec<(usize, Said)>> = BTreeMap::new();
    for game in &report.mined {
        for hit in game.hits.iter().filter(|hit| is_of(hit)) {
            let square = hit.offer.offered.1;
            let place = (game.info.number.0, hit.offer.ply, square, hit.offer.played().is_some());
            let said = (hit.follow_ups.clone(), hit.factors.clone(), hit.king_goes, hit.view);
            found.entry(place).or_default().push((hit.query, said));
        }
    }
    found
}

/// A square or a file, between the b- and the f-file, so that there is room on both sides.
fn lettered() -> impl Strategy<Value = String> {
    prop_oneof![3 => "[b-f][3-7]", 1 => "[c-e]-file"]
}

fn squares() -> impl Strategy<Value = String> {
    let other = prop::sample::select(vec![
        "6th rank",
        "light squares",
        "dark squares",
        "beside the king",
        "in front of the king",
    ]);
    prop_oneof![
        3 => lettered(),
        1 => (lettered(), lettered()).prop_map(|(one, other)| format!("{one} or {other}")),
        1 => (lettered(), other).prop_map(|(one, other)| format!("{one} or {other}")),
    ]
}

/// The sentences of a query.
fn sentences() -> impl Strategy<Value = String> {
    let men = prop::sample::select(vec!["knight", "rook", "bishop or queen", "pawn", "any man"]);
    let acts = prop::sample::select(vec!["takes pawn on", "takes on", "to", "moves to"]);
    let wings = prop::sample::select(vec!["as written", "both"]);
    let price = prop::sample::select(vec![" giving up 1 or more", ""]);
    let fact = || (prop::sample::select(vec!["on", "reaches", "guards"]), squares());
    let condition = fact().prop_map(|(how, where_)| format!("defender men {how} {where_}"));
    let factor = fact().prop_map(|(how, where_)| format!("attacker pawns {how} {where_}"));
    (wings, men, acts, squares(), price, prop::option::of(condition), factor, squares()).prop_map(
        |(wings, men, act, to, price, condition, factor, later)| {
            let when = condition.map_or(String::new(), |it| format!("when = [\"{it}\"]\n"));
            format!(
                "wings = \"{wings}\"\noffer = \"{men} {act} {to}{price}\"\n{when}[follow-ups]\n\
                 later = \"any man to {later} within 6 moves\"\n[factors]\nfact = \"{factor}\"\n"
            )
        },
    )
}

/// The first games of the package's masters.
fn games() -> &'static [u8] {
    static TEXT: std::sync::OnceLock<Vec<u8>> = std::sync::OnceLock::new();
    TEXT.get_or_init(|| {
        let mut text = std::fs::read(package_games()[0]).unwrap();
        text.truncate(120_000);
        let last = text.windows(7).rposition(|bytes| bytes == b"[Event ").unwrap();
        text.truncate(last);
        text
    })
}

/// Hits that two ways of looking find: with gates and without, and overlooked ones as well.
fn report(patterns: &[Pattern], scrutiny: Scrutiny) -> BlockReport {
    Miner::new(patterns, &Selection::default(), scrutiny).mine(&block(games()), u64::MAX)
}

/// One query for every file against as many as it stands for.
fn check(sentences: &str, scrutiny: Scrutiny) -> usize {
    let any = pattern(&file("any", sentences));
    let shifts: Vec<i8> = [0_i8].into_iter().chain((1..8).flat_map(|by| [-by, by])).collect();
    let texts: Vec<String> = shifts.iter().filter_map(|&by| moved(sentences, by)).collect();
    let written = texts.iter().map(|text| pattern(&file("as written", text)));
    let patterns: Vec<Pattern> = [any].into_iter().chain(written).collect();
    assert_eq!(patterns[0].query.shifts().len(), texts.len(), "{sentences}");
    let report = report(&patterns, scrutiny);
    let together = places(&report, |hit| hit.query == 0);
    let one_by_one = places(&report, |hit| hit.query > 0);
    assert_eq!(
        together.keys().collect::<Vec<_>>(),
        one_by_one.keys().collect::<Vec<_>>(),
        "{sentences}"
    );
    for (place, hits) in &together {
        assert_eq!(hits.len(), 1, "one offer is one hit: {place:?} {sentences}");
        let (_, said) = &hits[0];
        // Written as it stands before mirrored; in each the order of the shifts.
        let first = one_by_one[place].iter().min_by_key(|(query, said)| (said.3.wing, *query));
        assert_eq!(said, &first.unwrap().1, "{place:?} {sentences}");
    }
    together.len()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn query_for_every_file_finds_what_those_written_out_find_together(sentences in sentences()) {
        check(&sentences, Scrutiny::default());
    }

    #[test]
    fn gates_lose_no_hit_on_any_file(sentences in sentences()) {
        let patterns = [pattern(&file("any", &sentences))];
        let [gated, open] =
            [false, true].map(|audit| report(&patterns, Scrutiny { audit, overlooked: false }).mined);
        prop_assert_eq!(gated, open);
    }
}

#[test]
fn queries_for_every_file_find_many_offers_made_and_overlooked() {
    for (sentences, least) in [
        ("offer = \"rook takes knight on c6 giving up 1 or more\"\n", 3),
        (
            "wings = \"both\"\noffer = \"pawn moves to b4\"\nwhen = [\"attacker pawn on c3 or d4\"]\n",
            20,
        ),
        ("offer = \"bishop takes on f7\"\nwhen = [\"attacker bishop on light squares\"]\n", 20),
    ] {
        let found = check(sentences, Scrutiny::default());
        assert!(found >= least, "{found} of {sentences}");
        // A chance is one for each query and square, so they are compared where a file has one square.
        if !sentences.contains("both") {
            check(sentences, Scrutiny { audit: false, overlooked: true });
        }
    }
}

/// A rook for a knight on d6, told of the c-file: White's, and Black's on d3 with the board turned.
const ROOK: &str = "offer = \"rook takes knight on c6\"\nwhen = [\"defender pawn on b7\"]\n\
                    [follow-ups]\nback = \"defender pawn takes on c6 at once\"\n\
                    [factors]\nbishop = \"attacker bishop on light squares\"\n";
const WHITE: &str = "6k1/2p5/3n4/8/8/8/8/3R1BK1 w - - 0 1";
const BLACK: &str = "3r1bk1/8/8/8/8/3N4/2P5/6K1 b - - 0 1";

fn from(fen: &str, movetext: &str) -> String {
    format!("[Event \"x\"]\n[SetUp \"1\"]\n[FEN \"{fen}\"]\n\n{movetext}\n\n")
}

#[test]
fn shifted_hit_says_which_file_a_letter_stands_for() {
    let [white, black] = [from(WHITE, "1. Rxd6 cxd6 *"), from(BLACK, "1... Rxd3 cxd3 *")];
    // The same position with left and right exchanged: the rook takes on e6, the pawn stands on f7.
    let mirrored = from("1k6/5p2/4n3/8/8/8/8/1KB1R3 w - - 0 1", "1. Rxe6 fxe6 *");
    let place = Place::new();
    place.write("games.pgn", white + &black + &mirrored);
    place.write("exchange.toml", file("any", &format!("wings = \"both\"\n{ROOK}")));
    let ran = place.run(&["mine", "games.pgn", "--query", "exchange.toml", "--quiet"]);
    assert_eq!(ran.status, 0, "{ran}");
    let said = place.rows("hits/exchange.csv").into_iter().map(|row| {
        ["side", "wing", "offered", "f_back", "x_bishop"]
            .map(|column| row[column].to_owned())
            .join(" | ")
    });
    assert_eq!(
        said.collect::<Vec<_>>(),
        [
            // The bishop on f1 stands on a light square, but beside the c-file that would be e1, a dark one.
            "white | c as d | rook d6 | 2 | false",
            "black | c as d | rook d6 | 2 | false",
            "white | mirrored, c as e | rook d6 | 2 | false",
        ]
    );
    let ran = place.run(&["tally", "hecatomb-out", "--by", "wing"]);
    assert!(ran.out.contains("mirrored, c as e"), "{ran}");
}

#[test]
fn offer_that_several_shifts_fit_is_one_hit_as_written_first_and_then_the_nearest() {
    let both = "offer = \"rook takes knight on c6 or d6 or f6\"\n";
    let game = from(WHITE, "1. Rxd6 cxd6 *");
    let hits = |sentences: &str| {
        let mined = mine(&[pattern(&file("any", sentences))], game.as_bytes(), false).mined;
        mined[0].hits.iter().map(|hit| hit.shift.map(|shift| shift.to_string())).collect::<Vec<_>>()
    };
    assert_eq!(hits(both), [None]);
    assert_eq!(hits("offer = \"rook takes knight on c6 or e6\"\n"), [Some("c as b".to_owned())]);
}

#[test]
fn example_that_lacks_something_on_another_file_is_told_what() {
    let place = Place::new();
    let example = "[[example]]\nfen = \"6k1/2p5/3n4/8/8/8/8/3R1BK1 w - - 0 1\"\n\
                   line = \"Rxd6 cxd6\"\nhit = true\n";
    place.write("right.toml", file("any", &format!("{ROOK}{example}")));
    let ran = place.run(&["queries", "check", "right.toml"]);
    assert_eq!(ran.status, 0, "{ran}");
    let lacking = ROOK.replace("pawn on b7", "pawn on a7");
    place.write("wrong.toml", file("any", &format!("{lacking}{example}")));
    let ran = place.run(&["queries", "check", "wrong.toml"]);
    assert!(ran.err.contains("`Rxd6`: `when` 1 does not hold: `defender pawn on a7`"), "{ran}");
    let ran = place.run(&["queries", "show", "right.toml"]);
    let told = "files any: as written, c as b, c as d, c as e, c as f, c as g, c as h\n";
    assert!(ran.out.contains(told), "{ran}");
}

#[test]
fn query_that_cannot_be_moved_is_an_error_at_its_place() {
    for (sentences, message) in [
        (
            "offer = \"rook takes knight on 6th rank or beside the king\"\n",
            "no sentence names a file",
        ),
        ("offer = \"rook takes knight on a6 or h6\"\n", "both the a-file and the h-file"),
        (
            "offer = \"rook takes knight on a6\"\n[factors]\nfar = \"defender king on h-file\"\n",
            "both the a-file and the h-file",
        ),
    ] {
        let problems = Query::read("q", "q.toml", &file("any", sentences)).expect_err(sentences);
        assert!(problems.to_string().contains(message), "{problems}");
        let span = &problems.problems[0].span;
        assert_eq!(&problems.text[span.clone()], "\"any\"");
    }
    let problems = Query::read("q", "q.toml", &file("every", ROOK)).expect_err("no such word");
    assert!(problems.to_string().contains("one of as written, any"), "{problems}");
}

#[test]
fn lesson_rings_the_squares_that_the_letters_stand_for() {
    for (fen, movetext, rings) in [
        (WHITE, "1. Rxd6 cxd6 1-0", "Ringed: d6 and c7."),
        (BLACK, "1... Rxd3 cxd3 0-1", "Ringed: c2 and d3."),
        ("1k6/5p2/4n3/8/8/8/8/1KB1R3 w - - 0 1", "1. Rxe6 fxe6 1-0", "Ringed: e6 and f7."),
    ] {
        let place = Place::new();
        place.write("games.pgn", from(fen, movetext));
        place.write("exchange.toml", file("any", &format!("wings = \"both\"\n{ROOK}")));
        let ran = place.run(&["mine", "games.pgn", "--query", "exchange.toml", "--quiet"]);
        assert_eq!(ran.status, 0, "{ran}");
        let page = ["lesson", "hecatomb-out", "--query", "exchange", "-o", "-", "--nodes=1000"];
        let ran = place.run(&page);
        assert!(ran.status == 0 && ran.out.contains(rings), "{movetext}: {}", ran.err);
    }
}
