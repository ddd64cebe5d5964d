//! Exercises have one solution, which is proved; no two are alike; and whatever names a game has does no
//! harm.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::OnceLock;

use cozy_chess::{Board, GameStatus, Move};
use hecatomb::board::{exchange, read_san};
use hecatomb::teaching::{Features, Level, Likeness};
use hecatomb::verdict::{Budget, WeighedScore, Weigher};
use scraper::{ElementRef, Html, Selector};
use shakmaty::fen::Fen;
use shakmaty::{CastlingMode, Chess, Color, Position};

use crate::engines::peer_in;
use crate::support::{Place, Ran, season};

pub(crate) const FEW: &str = "--nodes=20000";
const ENGINE_FEW: &str = "--engine-nodes=4000";
/// The tests' own engine: as it counts material after best play, and as it counts what stands on the board.
const WEIGHS: &str = "./peer.weighs";
pub(crate) const COUNTS: &str = "./peer.counts";
/// Some motifs of the sample data: enough for a sheet of each kind.
const QUERIES: [&str; 16] = [
    "bishop-takes-h7",
    "bishop-takes-f7",
    "knight-takes-g7",
    "knight-to-g6",
    "queen-back-rank",
    "queen-for-fork",
    "queen-takes-g8",
    "queen-takes-h7",
    "queen-to-corner",
    "rook-beside-king",
    "rook-decoy-corner",
    "rook-deflection-back-rank",
    "rook-takes-f8",
    "rook-takes-g7",
    "rook-takes-guard-of-h7",
    "smothered-mate",
];

/// A folder with the sample season mined and judged, shared by the tests.
pub(crate) fn judged() -> &'static Place {
    static PLACE: OnceLock<Place> = OnceLock::new();
    PLACE.get_or_init(|| {
        let place = Place::new();
        place.write("season.pgn", season());
        place.write("cup.pgn.zst", include_bytes!("../sample-data/cup.pgn.zst"));
        let named = QUERIES.iter().flat_map(|query| ["--query", query]);
        let mine = ["mine", "season.pgn", "cup.pgn.zst", "--quiet"].into_iter().chain(named);
        let ran = place.run(&mine.collect::<Vec<_>>());
        assert_eq!(ran.status, 0, "{ran}");
        assert_eq!([peer_in(&place, "weighs"), peer_in(&place, "counts")], [WEIGHS, COUNTS]);
        let asked = ["--engine", WEIGHS, ENGINE_FEW];
        let verify = ["verify", "hecatomb-out", FEW, "--quiet"].into_iter().chain(asked);
        let ran = place.run(&verify.collect::<Vec<_>>());
        assert_eq!(ran.status, 0, "{ran}");
        place
    })
}

/// A sheet whose solutions an engine has seen that counts material after best play.
pub(crate) fn made(options: &str) -> Ran {
    run(&["--engine", WEIGHS, ENGINE_FEW], options)
}

pub(crate) fn run(asked: &[&str], options: &str) -> Ran {
    let arguments = ["exercises", "hecatomb-out", FEW].into_iter().chain(asked.iter().copied());
    let arguments = arguments.chain(options.split(' '));
    let ran = judged().run(&arguments.collect::<Vec<_>>());
    assert_eq!(ran.status, 0, "{ran}");
    ran
}

/// The operands of an operation of an EPD line.
pub(crate) fn operation<'l>(line: &'l str, name: &str) -> Option<&'l str> {
    let (_, rest) = line.split_once(&format!(" {name} "))?;
    rest.split_once(';').map(|(operands, _)| operands)
}

pub(crate) fn position(line: &str) -> Board {
    let fen: Vec<&str> = line.split(' ').take(4).collect();
    format!("{} 0 1", fen.join(" ")).parse().unwrap()
}

pub(crate) fn legal_moves(board: &Board) -> Vec<Move> {
    let mut all = Vec::new();
    board.generate_moves(|moves| {
        all.extend(moves);
        false
    });
    all
}

pub(crate) fn after(board: &Board, m: Move) -> Board {
    let mut after = board.clone();
    after.play(m);
    after
}

pub(crate) fn is_mate(board: &Board) -> bool {
    board.status() == GameStatus::Won
}

/// Whether a move mates within `moves` moves against every reply, by trying everything.
pub(crate) fn mates(board: &Board, m: Move, moves: u32) -> bool {
    let after_move = after(board, m);
    let replies = legal_moves(&after_move);
    is_mate(&after_move)
        || moves > 1
            && !replies.is_empty()
            && replies.iter().all(|&reply| {
                let replied = after(&after_move, reply);
                legal_moves(&replied).into_iter().any(|m| mates(&replied, m, moves - 1))
            })
}

/// Every first move that mates within two moves or at once is among the correct ones, and no other is,
/// by plain recursion over cozy-chess, another move generator.
#[test]
fn short_mates_have_the_solutions_that_are_listed_and_no_others() {
    let mut checked = 0;
    for kind in ["find", "continue"] {
        for line in made(&format!("--kind {kind} --count 12 --format epd")).out.lines() {
            let Some(moves) = operation(line, "dm").map(|moves| moves.parse::<u32>().unwrap())
            else {
                continue;
            };
            if moves > 2 {
                continue;
            }
            let board = position(line);
            let said: BTreeSet<String> =
                operation(line, "bm").unwrap().split(' ').map(key).collect();
            let keys = legal_moves(&board).into_iter().filter(|&m| mates(&board, m, moves));
            let keys: BTreeSet<String> = keys.map(|m| key(&san(&board, m))).collect();
            assert!(keys.is_subset(&said), "{line}: {keys:?}");
            let first = key(operation(line, "pv").unwrap().split(' ').next().unwrap());
            assert!(keys.contains(&first), "{line}: {keys:?}");
            checked += 1;
        }
    }
    assert!(checked >= 6, "{checked}");
}

/// A SAN without its check mark.
pub(crate) fn key(san: &str) -> String {
    san.trim_end_matches(['+', '#']).to_owned()
}

pub(crate) fn san(board: &Board, m: Move) -> String {
    cozy_chess::util::display_san_move(board, m).to_string()
}

/// Whether an exercise of the offer itself comes to a mate, or to a clear gain that leaves the attacker ahead, as its
/// remark says of the board in the end.
fn is_clear(line: &str) -> bool {
    let remark = operation(line, "c0").unwrap();
    let end =
        remark.split_once("comes out ").and_then(|(_, rest)| match rest.split_once(" up")?.0 {
            "a pawn" => Some(1),
            pawns => pawns.strip_suffix(" pawns")?.parse().ok(),
        });
    remark.contains("mates") || end.is_some_and(|end: i32| end - balance(line) >= 3)
}

/// The material of the side to move less that of the other, in pawns.
fn balance(line: &str) -> i32 {
    let (board, rest) = line.split_once(' ').unwrap();
    let worth = |man: char| match man.to_ascii_lowercase() {
        'p' => 1,
        'n' | 'b' => 3,
        'r' => 5,
        'q' => 9,
        _ => 0,
    };
    let white: i32 =
        board.chars().map(|man| if man.is_uppercase() { worth(man) } else { -worth(man) }).sum();
    if rest.starts_with('w') { white } else { -white }
}

#[test]
fn without_an_engine_only_proofs_and_clear_gains_are_shown() {
    let sheet = run(&[], "--kind find --count 40 --format epd");
    assert!(sheet.out.lines().count() > 3 && sheet.out.lines().all(is_clear), "{sheet}");
    let page = run(&[], "--kind find --count 3").out;
    assert!(page.contains("No engine was asked"), "{page}");
}

#[test]
fn what_an_engine_contradicts_is_left_out() {
    // Who counts what stands on the board takes every offer for a loss; mates are proved all the same, and what it
    // likes rests on its word alone.
    let sheet = run(&["--engine", COUNTS], "--kind find --count 40 --format epd");
    assert!(sheet.out.lines().all(|line| !line.contains("comes out")), "{sheet}");
    assert!(sheet.out.lines().any(|line| operation(line, "dm").is_some()), "{sheet}");
    assert!(sheet.err.contains(" with another move nearly as good"), "{sheet}");
    let page = made("--kind find --count 3").out;
    assert!(page.contains("put to Quarry 1.2, which agrees (4,000 positions"), "{page}");
}

#[test]
fn first_fault_of_an_engine_is_told() {
    let sheet = |fault: &str| {
        let engine = peer_in(judged(), fault);
        let asked = ["--engine", &engine, ENGINE_FEW, "--threads=1"];
        let sheet = ["exercises", "hecatomb-out", FEW, "--kind=find", "--count=40", "--format=epd"];
        judged().run(&[&sheet[..], &asked].concat())
    };
    let ran = sheet("weary");
    assert!(
        ran.err.contains(" no score") && ran.err.contains("; the first time, it gave no score"),
        "{ran}"
    );
    assert!(ran.err.contains("`./peer.weary` gave no answer on "), "{ran}");
    let ran = sheet("crash-in-search-always");
    assert_eq!(ran.status, 1, "{ran}");
    assert!(ran.err.contains("`./peer.crash-in-search-always` answered none of "), "{ran}");
    assert!(
        ran.err.contains(" questions (") && ran.err.contains("it ended with exit status: 3"),
        "{ran}"
    );
    assert!(ran.err.contains("hint: once it answers, ask it again"), "{ran}");
}

#[test]
fn another_seed_begins_with_other_offers() {
    let positions = |seed: &str| {
        let sheet = made(&format!("--kind continue --count 6 --format epd --seed {seed}")).out;
        let position = |line: &str| line.split(' ').take(2).collect::<Vec<_>>().join(" ");
        sheet.lines().map(position).collect::<std::collections::BTreeSet<String>>()
    };
    let (first, second) = (positions("1"), positions("2"));
    assert!(first.len() == 6 && second.len() == 6);
    assert!(first.intersection(&second).count() <= 1, "{first:?} {second:?}");
}

#[test]
fn same_seed_gives_the_same_bytes_on_any_number_of_threads() {
    let sheet = |more: &str| made(&format!("--kind find --count 6 --format pgn {more}")).out;
    let whole = sheet("--seed 7 --threads 1");
    assert_eq!(sheet("--seed 7 --threads 3"), whole);
    assert_ne!(sheet("--seed 8"), whole);
}

#[test]
fn half_of_the_offers_to_be_judged_fail() {
    let ran = made("--kind judge --count 9 --format epd");
    let works = ran.out.lines().filter(|line| operation(line, "bm").is_some()).count();
    let fails = ran.out.lines().filter(|line| operation(line, "am").is_some()).count();
    assert!(works.abs_diff(fails) <= 1 && works + fails >= 6, "{works} {fails}");
}

/// Chances that nobody took, of a motif that tempts the defender, as the tests' own engine judges them.
fn chances() -> &'static Place {
    static PLACE: OnceLock<Place> = OnceLock::new();
    PLACE.get_or_init(|| {
        let place = Place::new();
        place.write("season.pgn", season());
        let engine = peer_in(&place, "weighs");
        let asked = ["--engine", &engine, ENGINE_FEW, FEW];
        let mine = ["mine", "season.pgn", "--query", "queen-back-rank", "--overlooked", "--quiet"];
        assert_eq!(place.run(&mine).status, 0);
        assert_eq!(place.run(&[&["verify", "hecatomb-out"], &asked[..]].concat()).status, 0);
        place
    })
}

/// The rows of a sheet made of the chances, by column.
fn of_chances(options: &[&str]) -> Vec<BTreeMap<String, String>> {
    let sheet =
        ["exercises", "hecatomb-out", FEW, "--engine", WEIGHS, ENGINE_FEW, "--format", "csv"];
    let ran = chances().run(&[&sheet[..], options].concat());
    assert_eq!(ran.status, 0, "{ran}");
    rows(&ran.out)
}

/// The rows of a sheet as CSV, by column.
fn rows(sheet: &str) -> Vec<BTreeMap<String, String>> {
    let mut reader = csv::Reader::from_reader(sheet.as_bytes());
    let columns = reader.headers().unwrap().clone();
    let row = |record: csv::StringRecord| {
        columns.iter().map(str::to_owned).zip(record.iter().map(str::to_owned)).collect()
    };
    reader.records().map(|record| row(record.unwrap())).collect()
}

/// What a move comes to in pawns for whoever plays it, by a count of its own that the engine of the tests makes too;
/// a mate counts for more than any man.
fn weighed(fen: &str, san: &str) -> i32 {
    let pos = board(fen);
    let m = read_san(san.as_bytes()).unwrap().to_move(&pos).unwrap();
    let after = pos.play(m).unwrap();
    let moves = after.legal_moves();
    let weighing = Weigher::with_entries(1 << 12).weigh(&after, &moves, 8, &mut Budget::of(4_000));
    match weighing.map(|weighing| weighing.score) {
        Some(WeighedScore::Pawns(pawns)) => -pawns,
        Some(WeighedScore::Mates(_)) => -100,
        Some(WeighedScore::Mated(_)) => 100,
        None => {
            if after.is_check() {
                100
            } else {
                0
            }
        }
    }
}

/// The first moves of what is introduced by these words in an answer.
fn first_moves_after(answer: &str, words: &str) -> Vec<String> {
    let moves = answer.split(words).skip(1).map(|rest| {
        let first = rest.trim_start().split([' ', ':']).next().unwrap();
        first.trim_start_matches(|letter: char| letter.is_ascii_digit() || ".…".contains(letter))
    });
    moves.map(|san| san.trim_end_matches(['+', '#']).to_owned()).collect()
}

/// Two pawns are 26 points of a hundred where all is level, and more than a mistake loses anywhere else.
#[test]
fn one_defence_is_best_and_what_tempts_is_refuted() {
    let rows = of_chances(&["--kind", "defend", "--count", "30"]);
    assert!(rows.len() >= 2, "{rows:?}");
    let (mut takes, mut mistakes) = (BTreeSet::new(), 0);
    for row in &rows {
        let fen = &row["fen"];
        let reply = key(row["line"].split(' ').next().unwrap());
        let best = weighed(fen, &reply);
        for mistake in first_moves_after(&row["answer"], "A mistake:") {
            assert!(weighed(fen, &mistake) < best, "{row:?}");
            mistakes += 1;
        }
        takes.insert(reply.contains('x'));
    }
    assert!(mistakes >= rows.len(), "each has one at least");
    // So nobody knows beforehand that what is offered must not be taken.
    assert_eq!(takes.len(), 2, "{rows:?}");
}

/// With an engine it decides, also where our own count is open or down: what works is best or nearly so, and what
/// fails throws away what another move keeps, which is named.
#[test]
fn offers_to_be_judged_rest_on_the_engine() {
    let rows = of_chances(&["--kind", "judge", "--count", "12"]);
    let (mut works, mut fails) = (0, 0);
    for row in &rows {
        let (fen, answer) = (&row["fen"], &row["answer"]);
        let offer = key(row["line"].split(' ').next().unwrap());
        if answer.starts_with("It works.") {
            works += 1;
            continue;
        }
        let better = first_moves_after(answer, "Better:");
        let is_mated = answer.contains(" mates");
        assert!(is_mated || !better.is_empty(), "{row:?}");
        assert!(better.iter().all(|san| weighed(fen, san) > weighed(fen, &offer)), "{row:?}");
        fails += 1;
    }
    assert!(fails >= 3 && works >= 1, "{works} {fails}");
}

/// Where no count of ours decides, an engine does: then every other move loses at least 20 points, which is more than a
/// pawn.
#[test]
fn offers_to_be_found_and_gone_on_with_may_rest_on_the_engine() {
    for kind in ["find", "continue"] {
        let sheet = made(&format!("--kind {kind} --count 60 --format csv"));
        let mut judged = rows(&sheet.out);
        let words = [" is better", " is much better", " is winning"];
        judged.retain(|row| words.iter().any(|words| row["answer"].contains(words)));
        assert!(!judged.is_empty(), "{sheet}");
        for row in judged {
            let fen = &row["fen"];
            let solution = key(row["line"].split(' ').next().unwrap());
            let best = weighed(fen, &solution);
            let board: Board = fen.parse().unwrap();
            let others = legal_moves(&board).into_iter().map(|m| key(&san(&board, m)));
            for other in others.filter(|other| *other != solution) {
                assert!(weighed(fen, &other) < best, "{other}: {row:?}");
            }
        }
    }
}

/// A man that is not guarded is taken without a thought.
#[test]
fn taking_what_hangs_is_no_exercise_unless_it_mates() {
    let sheet = made("--kind continue --count 60 --format epd");
    for line in sheet.out.lines().filter(|line| operation(line, "dm").is_none()) {
        let pos = board(&(line.split(' ').take(4).collect::<Vec<_>>().join(" ") + " 0 1"));
        let solution = operation(line, "bm").unwrap().split(' ').next().unwrap();
        let m = read_san(solution.as_bytes()).unwrap().to_move(&pos).unwrap();
        assert!(!m.is_capture() || exchange(&pos, m) < 2, "{line}");
    }
    assert!(sheet.err.contains(" where simply taking something wins"), "{sheet}");
}

#[test]
fn order_does_not_tell_which_offers_work() {
    let sheet = made("--kind judge --count 30 --format epd").out;
    let mut by_level: BTreeMap<String, Vec<bool>> = BTreeMap::new();
    for line in sheet.lines() {
        let (_, level) = line.split_once(" Level ").unwrap();
        let works = operation(line, "bm").is_some();
        by_level.entry(level[..1].to_owned()).or_default().push(works);
    }
    let is_sorted = |works: &Vec<bool>| works.is_sorted() || works.is_sorted_by(|a, b| a >= b);
    let mixed: Vec<&Vec<bool>> =
        by_level.values().filter(|works| works.len() > 3 && works.contains(&true)).collect();
    assert!(!mixed.is_empty() && mixed.into_iter().any(|works| !is_sorted(works)), "{by_level:?}");
}

#[test]
fn both_colours_come_equally_often_and_one_if_it_is_asked_for() {
    let sides = |options: &str| {
        let ran = made(&format!("--kind judge --format epd {options}"));
        let white = ran.out.lines().filter(|line| line.contains(" w ")).count();
        (white, ran.out.lines().count() - white)
    };
    let (white, black) = sides("--count 8");
    assert_eq!((white, black), (4, 4));
    let (white, black) = sides("--count 5 --side black");
    assert!(white == 0 && black > 0);
}

#[test]
fn only_exercises_of_the_level_that_is_asked_for() {
    let ran = made("--kind find --count 20 --level 2 --format pgn");
    assert!(ran.out.contains("[Level \"2\"]"));
    assert!([1, 3, 4, 5].iter().all(|level| !ran.out.contains(&format!("[Level \"{level}\"]"))));
}

#[test]
fn fewer_than_asked_for_are_written_with_the_reasons() {
    let ran = made("--kind find --count 500 --format epd --query smothered-mate");
    assert!((1..500).contains(&ran.out.lines().count()));
    assert!(
        ran.err.contains("could not make 500: only ") && ran.err.contains("passed; left out: "),
        "{ran}"
    );
}

/// However many are asked for, a sheet is short only if there is no more to be had.
#[test]
fn sheets_are_short_only_if_nothing_is_left() {
    for kind in ["find", "judge"] {
        let count = |wanted: usize| {
            let ran = made(&format!("--kind {kind} --count {wanted} --format epd"));
            ran.out.lines().count()
        };
        let most = count(150);
        assert!((6..150).contains(&most), "{kind}: {most}");
        for wanted in [3, most / 2, most - 1, most] {
            assert_eq!(count(wanted), wanted, "{kind}, {most} in all");
        }
    }
}

fn board(fen: &str) -> Chess {
    fen.parse::<Fen>().unwrap().into_position(CastlingMode::Standard).unwrap()
}

fn likeness(fen: &str, attacker: Color, san: &str) -> Likeness {
    let pos = board(fen);
    let m = read_san(san.as_bytes()).unwrap().to_move(&pos).unwrap();
    Likeness::at(pos.board(), attacker, [m])
}

#[test]
fn positions_are_alike_with_colours_exchanged_mirrored_and_with_pawns_moved_far_away() {
    let one = likeness("6k1/5ppp/8/8/8/8/PP3PPP/4R1K1 w - - 0 1", Color::White, "Re8#");
    for (fen, attacker, san, is_like) in [
        ("6k1/5ppp/8/8/8/8/PP3PPP/4R1K1 w - - 0 1", Color::White, "Re8#", true),
        ("4r1k1/pp3ppp/8/8/8/8/5PPP/6K1 b - - 0 1", Color::Black, "Re1#", true),
        ("1k6/ppp5/8/8/8/8/PPP3PP/1K1R4 w - - 0 1", Color::White, "Rd8#", true),
        ("6k1/5ppp/8/8/1P6/P7/5PPP/4R1K1 w - - 0 1", Color::White, "Re8#", true),
        // A pawn beside the king was moved.
        ("6k1/5pp1/7p/8/8/8/PP3PPP/4R1K1 w - - 0 1", Color::White, "Re8+", false),
        // Too many men elsewhere were.
        ("6k1/5ppp/8/8/PPP4P/8/5PP1/4R1K1 w - - 0 1", Color::White, "Re8#", false),
    ] {
        let other = likeness(fen, attacker, san);
        assert_eq!(one.is_like(&other), is_like, "{fen}");
        assert_eq!(other.is_like(&one), is_like, "{fen}");
    }
}

#[test]
fn no_two_on_a_sheet_are_equal() {
    let mut seen = BTreeSet::new();
    for line in made("--kind judge --count 12 --format epd").out.lines() {
        let pos: Chess = line
            .parse::<shakmaty::fen::Epd>()
            .ok()
            .and_then(|epd| epd.into_position(CastlingMode::Standard).ok())
            .unwrap_or_else(|| {
                let fields: Vec<&str> = line.split(' ').take(4).collect();
                board(&format!("{} 0 1", fields.join(" ")))
            });
        let mut men = pos.board().clone();
        if pos.turn() == Color::Black {
            men.flip_vertical();
            men.swap_colors();
        }
        let one = men.board_fen().to_string();
        men.flip_horizontal();
        assert!(!seen.contains(&one) && !seen.contains(&men.board_fen().to_string()), "{line}");
        seen.insert(one);
    }
    assert!(seen.len() > 6);
}

#[test]
fn no_feature_makes_an_exercise_easier() {
    let easiest =
        Features { moves: 1, quiet: 0, offered: 1, tempting: 0, replies: 0, looked_at: 0 };
    assert_eq!(easiest.level(), Level(1));
    let hardest =
        Features { moves: 9, quiet: 9, offered: 9, tempting: 9, replies: 900, looked_at: 0 };
    assert_eq!(hardest.level(), Level(5));
    let some = Features { moves: 3, quiet: 1, offered: 3, tempting: 2, replies: 30, looked_at: 0 };
    for harder in [
        Features { moves: 4, ..some },
        Features { quiet: 2, ..some },
        Features { offered: 9, ..some },
        Features { tempting: 7, ..some },
        Features { replies: 90, ..some },
    ] {
        assert!(harder.level() >= some.level());
        assert!(harder.weights().iter().sum::<usize>() > some.weights().iter().sum());
    }
}

/// A game of one smothered mate between players of these names.
pub(crate) fn smothered(white: &str, event: &str) -> String {
    format!(
        "[Event \"{event}\"]\n[Site \"Ombrequay\"]\n[Date \"2031.03.04\"]\n[Round \"1\"]\n\
         [White \"{white}\"]\n[Black \"Birch, Ida\"]\n[Result \"1-0\"]\n[SetUp \"1\"]\n\
         [FEN \"r1b2r1k/pp4pp/2p4N/q7/2Q5/8/PPP2PPP/6K1 w - - 0 1\"]\n\n\
         1. Qg8+ Rxg8 2. Nf7# 1-0\n\n"
    )
}

pub(crate) fn one_exercise(white: &str, event: &str) -> Place {
    let place = Place::new();
    place.write("games.pgn", smothered(white, event));
    place.run(&["mine", "games.pgn", "--query", "smothered-mate", "--quiet"]);
    let ran = place.run(&["verify", "hecatomb-out", FEW, "--quiet"]);
    assert_eq!(ran.status, 0, "{ran}");
    place
}

#[test]
fn names_from_games_do_no_harm() {
    const EVIL: &str = "</p><script>alert('x')</script>\"'\\} [%x] &amp;";
    let name = EVIL.replace('\\', "\\\\").replace('"', "\\\"");
    let place = one_exercise(&name, &name);
    let write = |format: &str| {
        let ran =
            place.run(&["exercises", "hecatomb-out", FEW, "--kind", "find", "--format", format]);
        assert_eq!(ran.status, 0, "{ran}");
        ran.out
    };
    let page = Html::parse_document(&write("html"));
    assert_eq!(page.errors, Vec::<&str>::new());
    assert!(all(&page, "script").is_empty());
    assert!(text(all(&page, ".answers")[0]).contains(EVIL));

    let pgn = write("pgn");
    assert!(pgn.contains(&format!("[White \"{name}\"]\n")), "{pgn}");
    let (_, movetext) = pgn.split_once("\n\n").unwrap();
    assert_eq!(movetext.matches('{').count(), movetext.matches('}').count());
    assert!(!movetext.contains("script"), "names stand in tags alone");

    let csv = write("csv");
    let mut rows = csv::Reader::from_reader(csv.as_bytes());
    let row = rows.records().next().unwrap().unwrap();
    assert!(row.iter().any(|cell| cell.contains(EVIL)));
    assert!(row.iter().all(|cell| !cell.starts_with(['=', '+', '-', '@'])), "{row:?}");
}

#[test]
fn format_is_told_by_the_ending_of_the_file_unless_it_is_named() {
    for (options, start) in [
        ("-o ending.pgn", "[Event "),
        ("-o ending.csv", "number,kind,"),
        ("-o ending", "<!doctype html>"),
        ("-o ending.htm --format pgn", "[Event "),
    ] {
        let file = options.split(' ').nth(1).unwrap();
        made(&format!("--kind find --count 1 {options}"));
        let text = judged().read(file);
        assert!(text.starts_with(start), "{options}: {}", &text[..20]);
    }
}

/// Whoever opens the file sees the tags and the first comment before they have solved anything, and the offer
/// in question without its move number, which may tell how long the game had gone on.
#[test]
fn nothing_before_the_solution_gives_it_away() {
    let pgn = made("--kind judge --count 6 --format pgn").out;
    let titles = ["sacrifice", "works", "scored", "up", "mates"];
    let shown = pgn.split("[Event ").skip(1).map(|game| game.split_once('}').unwrap().0);
    for shown in shown {
        let comment = shown.split_once('{').unwrap().1.replace('\n', " ");
        let (question, _) = comment.split_once(" work? Level ").unwrap();
        assert!(!question.contains('.'), "{comment}");
        assert!(titles.iter().all(|word| !comment.contains(word)), "{comment}");
        assert!(QUERIES.iter().all(|query| !shown.contains(query)), "{shown}");
    }
    assert!(pgn.contains("the attacker "));
}

#[test]
fn pgn_is_in_export_format() {
    let pgn = made("--kind find --count 6 --format pgn").out;
    for block in pgn.trim_end().split("\n\n") {
        let lines: Vec<&str> = block.lines().collect();
        if lines[0].starts_with('[') {
            let names: Vec<&str> =
                lines.iter().map(|line| line[1..].split(' ').next().unwrap()).collect();
            assert_eq!(
                names[..7],
                ["Event", "Site", "Date", "Round", "White", "Black", "Result"],
                "section 8.1.1"
            );
            assert!(names[7..].is_sorted(), "{names:?}");
            assert!(names.contains(&"FEN") && names.contains(&"SetUp"));
        } else {
            assert!(lines.iter().all(|line| line.chars().count() < 80), "section 8.2.1: {block}");
            assert!(block.ends_with('*'));
        }
    }
}

#[test]
fn longest_names_fit_the_standard() {
    let place = one_exercise(&"N\\\"".repeat(200), "Harbour League");
    let ran = place.run(&["exercises", "hecatomb-out", FEW, "--kind", "find", "--format", "pgn"]);
    let tag = ran.out.lines().find(|line| line.starts_with("[White ")).unwrap();
    let value = tag.strip_prefix("[White \"").unwrap().strip_suffix("\"]").unwrap();
    // Section 7: at most 255 characters; an escape is not cut in two.
    assert!(value.chars().count() <= 255 && value.ends_with(['N', '"']), "{value}");
}

pub(crate) fn all<'p>(page: &'p Html, selector: &str) -> Vec<ElementRef<'p>> {
    page.select(&Selector::parse(selector).unwrap()).collect()
}

pub(crate) fn text(element: ElementRef<'_>) -> String {
    element.text().collect::<Vec<_>>().join(" ").split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn page_is_sound_has_all_it_needs_and_its_solutions_at_the_end() {
    let source = made("--kind judge --count 6").out;
    let page = Html::parse_document(&source);
    assert_eq!(page.errors, Vec::<&str>::new());
    let without_namespaces = source.replace("xmlns=\"http://www.w3.org/2000/svg\"", "");
    for word in ["http:", "https:", "@import", "url(", "<link", "<img", " src=", "data:", "<script"]
    {
        assert!(!without_namespaces.contains(word), "{word}");
    }
    let mut ids = BTreeSet::new();
    for element in all(&page, "[id]") {
        assert!(ids.insert(element.attr("id").unwrap()), "{:?}", element.attr("id"));
    }
    for element in all(&page, "a, use") {
        let target = element.attr("href").unwrap().strip_prefix('#').unwrap();
        assert!(ids.contains(target), "{target}");
    }
    let (tasks, answers) = (all(&page, ".tasks > li"), all(&page, ".answers > li"));
    assert!(tasks.len() == answers.len() && tasks.len() >= 4);
    assert!(
        tasks.iter().all(|task| !text(*task).contains("works")),
        "no answer beside its question"
    );
    let (questions, solutions) = source.split_once("id=\"solutions\"").unwrap();
    assert!(questions.contains("id=\"exercise-1\"") && solutions.contains("id=\"solution-1\""));
}

#[test]
fn what_can_not_be_made_is_told() {
    let place = one_exercise("Alder, Tom", "Harbour League");
    for (options, status, message) in [
        ("--kind find --query smotherd-mate", 1, "did you mean `smothered-mate`?"),
        ("--kind find --chapter pawn", 1, "this run has no query of that chapter"),
        ("--kind defend", 1, "could not make any"),
        ("--kind find --level 6", 2, "6 is not in 1..=5"),
        ("--kind find --level 3-1", 2, "the easier level comes first"),
        (
            "--kind find --level easy",
            2,
            "expected a level, such as 2, or a range of them, such as 1-3",
        ),
        ("--of find", 2, "expected a kind and a number, such as find:6"),
        ("--of solve:2", 2, "there is no kind `solve`; the kinds are find, judge,"),
        ("--of find:0", 2, "0 is not in 1..=1000"),
        ("--of find:2 --count 3", 2, "cannot be used with"),
        ("--kind find --level 0", 2, "0 is not in 1..=5"),
        ("--kind find --count 0", 2, "0 is not in 1..=1000"),
        ("--kind solve", 2, "invalid value 'solve'"),
        ("--kind find -o sheet.txt", 2, "name the format with --format"),
        ("--kind find -o nowhere/sheet.pgn", 1, "there is no folder `nowhere`"),
        ("--kind find -o hecatomb-out", 1, "`hecatomb-out`: it is a folder"),
        ("--count 3", 2, "--kind <KIND>"),
        ("--seed 3", 2, "--kind <KIND>"),
    ] {
        let arguments = ["exercises", "hecatomb-out"].into_iter().chain(options.split(' '));
        let ran = place.run(&arguments.collect::<Vec<_>>());
        assert_eq!(ran.status, status, "{options}: {ran}");
        assert!(ran.err.contains(message), "{options}: {ran}");
        assert_eq!(ran.out, "");
    }
    std::fs::remove_dir_all(place.path().join("hecatomb-out/verdicts")).unwrap();
    let ran = place.run(&["exercises", "hecatomb-out", "--kind", "find"]);
    assert_eq!(ran.status, 1, "{ran}");
    assert!(
        ran.err.contains("there are no verdicts on the hits of `smothered-mate`\nhint: run `hecatomb verify hecatomb-out` first"),
        "{ran}"
    );
}

#[test]
fn verdict_that_does_not_hold_makes_no_exercise() {
    let place = one_exercise("Alder, Tom", "Harbour League");
    // The rook stands elsewhere, so that the king escapes, and the table still says mate.
    let hits = "hecatomb-out/hits/smothered-mate.csv";
    place.write(hits, place.read(hits).replace("r1b2r1k/pp4pp", "r1b2r1k/pp4p1"));
    let ran = place.run(&["exercises", "hecatomb-out", FEW, "--kind", "find", "--edited"]);
    assert_eq!(ran.status, 1, "{ran}");
    assert!(ran.err.contains("could not make any"), "{ran}");
}
