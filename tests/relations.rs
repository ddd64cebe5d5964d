//! Relations that hold for any input.

use std::collections::BTreeSet;
use std::sync::atomic::AtomicBool;

use hecatomb::board::{Replay, destination};
use hecatomb::collection::{Games, Source, find_sources};
use hecatomb::mining::{
    MinedBlock, Plan, Scrutiny, Selection, Sink, SourceFailure, Watch, Waypoint, fits, run,
};
use hecatomb::query::{Lens, Pattern, Window};
use proptest::prelude::*;
use shakmaty::san::San;
use shakmaty::{Chess, File, Move, Position, Rank, Role, Square};

use crate::support::{
    OFFER_GAME, Place, built_in, cut, game, lenses_of, mine, package_games, pattern,
};

/// Parts of which a collection may consist, sound and broken.
fn part() -> impl Strategy<Value = String> {
    prop_oneof![
        4 => Just(game("Alder, Tom", "Birch, Ida")),
        2 => Just("[Event \"a\"]\n[Site \"{ not a comment\"]\n\n1. e4 { a [%clk 0:01:00] } e5 1-0\n\n".to_owned()),
        1 => Just("[Event \"crlf\"]\r\n[White \"A\"]\r\n\r\n1. d4 d5\r\n2. c4 *\r\n\r\n".to_owned()),
        1 => Just("1. e4 {a comment with a whole game in it\n\n[Event \"fake\"]\n\n1. d4 1-0\n} e5 0-1\n".to_owned()),
        1 => Just("[Event \"open\"]\n\n1. e4 { never closed\n\n".to_owned()),
        1 => Just("[Event \"glued\"]\n1. e4 e5 *\n".to_owned()),
        1 => Just("[Event \"only tags\"]\n\n".to_owned()),
        1 => Just("{ [%emt 0:00:05]}\n[%emt 0:00:05]}\n".to_owned()),
        1 => Just("; a line [Event \"x\"]\n% an escape { [Event \"y\"]\n".to_owned()),
        1 => Just("[Event \"two\"] [Site \"s\"]\n[Broken\n\"b\"]\n\n(1. e4 (1. d4)) 1. c4 }\n".to_owned()),
        1 => Just(format!("{OFFER_GAME}\n")),
        4 => "[\\[\\]{}();%\"a-h1-8x \n]{0,40}",
        4 => "([\\[\\]\"*; {}%\n]|\\[A \"b\"\\]|\"\\]\n|1\\. e4|\\[Event \"){0,20}",
    ]
}

fn collection() -> impl Strategy<Value = String> {
    prop::collection::vec(part(), 0..12).prop_map(|parts| parts.concat())
}

/// Where games start in a text, read whole and read block by block.
fn starts(text: &[u8], block_size: usize) -> Vec<usize> {
    let blocks = cut(text, block_size);
    let starts_of = |block: &hecatomb::collection::Block| -> Vec<usize> {
        let offset = usize::try_from(block.offset.0).unwrap();
        Games::of(block.text()).map(|game| offset + game.start).collect()
    };
    blocks.iter().flat_map(starts_of).collect()
}

/// Words of the query language.
const WORDS: [&str; 44] = [
    "attacker",
    "defender",
    "the same",
    "queen",
    "minor piece",
    "any man",
    "passed pawn",
    "pawns",
    "takes",
    "moves to",
    "to",
    "on",
    "g7",
    "h-file",
    "6th rank",
    "any square",
    "in front of the king",
    "the king's rank",
    "with stalemate",
    "giving up",
    "uncovering",
    "2",
    "999",
    "1000",
    "or more",
    "at most",
    "at least",
    "no",
    "or",
    "and",
    "then",
    "else",
    "was en prise",
    "is en prise",
    "between",
    "and is taken",
    "not taken back",
    "within",
    "moves",
    "past",
    "reaches",
    "bears on",
    "ahead by",
    "material is level",
];

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn blocks_joined_give_back_the_text(text in collection(), block_size in 1_usize..2000) {
        let joined: Vec<u8> = cut(text.as_bytes(), block_size).iter().flat_map(|block| block.text().to_vec()).collect();
        prop_assert_eq!(joined, text.as_bytes());
    }

    #[test]
    fn games_start_at_the_same_places_whatever_the_block_size(text in collection(), block_size in 1_usize..2000) {
        prop_assert_eq!(starts(text.as_bytes(), block_size), starts(text.as_bytes(), 1 << 20));
    }

    #[test]
    fn gates_lose_no_hit(text in collection()) {
        let patterns = built_in();
        let [gated, open] = [false, true].map(|audit| mine(&patterns, text.as_bytes(), audit).mined);
        prop_assert_eq!(gated, open);
    }

    #[test]
    fn sentences_of_the_languages_words_never_panic(words in prop::collection::vec(prop::sample::select(&WORDS[..]), 1..12)) {
        let sentence = words.join(" ");
        let source = format!(
            "title = \"t\"\nchapter = \"any\"\noffer = \"{sentence}\"\nafter = [\"{sentence}\"]\n\
             requires = [\"{sentence}\"]\n[follow-ups]\nno = \"{sentence}\"\n"
        );
        if let Err(problems) = hecatomb::query::Query::read("q", "q.toml", &source) {
            prop_assert!(problems.problems.iter().all(|problem| source.get(problem.span.clone()).is_some()));
        }
    }

    #[test]
    fn sentences_never_panic(sentence in "[a-h1-8 a-z]{0,60}") {
        let source = format!("title = \"t\"\nchapter = \"any\"\noffer = \"{sentence}\"\n");
        let _ = hecatomb::query::Query::read("q", "q.toml", &source);
    }
}

#[test]
fn comments_behind_a_result_belong_to_its_game() {
    for comment in ["; a comment\n", "{ a comment }\n", "; one {\n{ two ; }\n\n"] {
        let text = format!("1. e4 e5 1/2-1/2 {comment}[White \"A\"]\n\n1. d4 *\n");
        for block_size in 1..text.len() {
            let tagged = text.find("[White").unwrap();
            assert_eq!(starts(text.as_bytes(), block_size), [0, tagged], "{text:?}");
        }
    }
}

#[test]
fn line_of_tags_without_its_bracket_ends_a_run_of_games_without_tags() {
    for text in [
        "*\nx \"]\ny \"]\nz[A \"b\"]\n[White \"c\"]\n\n1. e4 *\n",
        "1. e4 *\nx \"]\n1. d4 *\n2. c4 *\n[A \"b\"]\n*\n",
        "1. e4 *\n\nx \"]\n\ny \"]\n1. d4 *\n",
    ] {
        let whole = starts(text.as_bytes(), 1 << 20);
        for block_size in 1..text.len() {
            assert_eq!(starts(text.as_bytes(), block_size), whole, "{text:?} {block_size}");
        }
    }
}

#[test]
fn broken_tag_lines_are_cut_nowhere_whatever_stands_before_them() {
    // White space of the standard that is none of ASCII's for Rust, and a byte order mark.
    for before in ["\x0B", "\u{FEFF}", " \x0B\t"] {
        for after in [
            "[\"\n[n",
            "[a \"\n\n[Event \"a\"]\n1. e4 *\n",
            "*\r\r[\n[E\n1. e4 *\n",
            "1. e4 * [Broken\n[b\"]\n1. e4 *\n",
            "[Event \"t\"]\n[Broken\n\"wo\"] [Site \"s\"~\n[b\"]\n1. e4 *\n",
            "[Event \"t\"]\n[Broken \"wo\"\n] [Site \"s\"~\n[b\"]\n1. e4 *\n",
            "[Event \"t\"]\n[\nBroken \"wo\"] [Site \"s\"~\n[b\"]\n1. e4 *\n",
        ] {
            let text = format!("{before}{after}");
            for block_size in 1..text.len() {
                let whole = starts(text.as_bytes(), 1 << 20);
                assert_eq!(starts(text.as_bytes(), block_size), whole, "{text:?}");
            }
        }
    }
}

/// A comment that is never closed is ended by the start of a game; what stands in its stead for a pair is
/// none to any reader.
#[test]
fn what_does_not_start_like_a_pair_ends_no_comment() {
    let text = "[Event \"a\"]\n\n1. e4 { never\n[1 \"b\"]\n\nd4 { closed } 0-1\n[Event \"c\"]\n\n1. d4 *\n";
    let whole = starts(text.as_bytes(), 1 << 20);
    for block_size in 1..text.len() {
        assert_eq!(starts(text.as_bytes(), block_size), whole, "{block_size}");
    }
}

#[test]
fn gates_lose_no_hit_in_real_games() {
    let patterns = [built_in(), many_kinds_of_offers()].concat();
    let mut unmet: BTreeSet<usize> = (built_in().len()..patterns.len()).collect();
    for path in package_games() {
        let text = std::fs::read(path).unwrap();
        let [gated, open] = [false, true].map(|audit| mine(&patterns, &text, audit));
        for hit in open.mined.iter().flat_map(|game| &game.hits) {
            unmet.remove(&hit.query);
        }
        assert_eq!(open.rejects, []);
        assert_eq!(gated.mined, open.mined);
        assert_eq!(gated.base, open.base);
    }
    let unmet: Vec<&str> = unmet.iter().map(|&index| &*patterns[index].query.source).collect();
    assert_eq!(unmet, [""; 0], "queries that find nothing try no gate");
}

/// Queries whose offers are quiet moves, captures by every man, castling and moves without squares, and
/// whose conditions speak of everything that there is a word for.
fn many_kinds_of_offers() -> Vec<Pattern> {
    let offers = [
        ("knight moves to d5 or f5 giving up 2 or more", ""),
        ("queen or rook to any square giving up 3 or more", ""),
        ("pawn takes on 8th rank", ""),
        ("king moves to g1", ""),
        ("any man with discovered check", ""),
        ("minor piece to beside the king and is taken", ""),
        ("rook takes knight on c6 or f6 giving up 2 or more", ""),
        ("bishop takes pawn on in front of the king giving up 1 to 2", ""),
        ("rook to the king's file or the king's rank", "defender pawn on in front of the king"),
        ("any man giving up at most 5 was en prise", "attacker ahead"),
        ("any man to any square", "attacker passed pawn on 6th rank or 7th rank"),
        ("rook takes on any square", "defender passed pawn or bishop on the king's file"),
        ("queen to any square with check", "defender knight on f6 or c6 is en prise"),
        ("knight to any square giving up 3", "attacker queen reaches h5 past knight"),
        ("pawn to any square", "at most 1 defender man on g-file and material is level"),
        (
            "any man takes on any square",
            "defender ahead by 3 or more or else attacker rook on 7th rank",
        ),
    ];
    let others = [
        "offer = \"any man to any square between piece and piece or king\"",
        "offer = \"bishop takes on f7 or h7 not taken back within 3 moves\"",
        "offer = \"knight to any square\"\nafter = [\"attacker knight on g5 is en prise\"]",
        "offer = \"rook to any square\"\nafter = [\"no attacker rook on 1st rank\"]\n\
         requires = [\"check then same\", \"no trade\"]\n[follow-ups]\n\
         check = \"rook to any square with check\"\nsame = \"the same rook takes on any square\"\n\
         trade = \"queen takes queen on any square\"\n",
        "offer = \"pawn to any square\"\nrequires = [\"castles or taken\", \"mate\"]\n[follow-ups]\n\
         castles = \"king moves to g1 or c1 within 3 moves\"\n\
         taken = \"defender any man takes pawn on any square at once\"\nmate = \"any man with mate\"\n",
        "offer = \"any man takes on any square\"\nrequires = [\"fled then check\"]\n[follow-ups]\n\
         fled = \"defender king moves to h8 or h1 within 2 moves\"\n\
         check = \"queen to beside the king with check within 4 moves\"\n",
    ];
    let query = |(offer, when): (&str, &str)| {
        let when = if when.is_empty() { String::new() } else { format!("when = [\"{when}\"]\n") };
        format!("offer = \"{offer}\"\n{when}")
    };
    let all = offers.map(query).into_iter().chain(others.map(str::to_owned));
    all.map(|rest| pattern(&format!("title = \"t\"\nchapter = \"any\"\n{rest}"))).collect()
}

/// Keeps every report, written out, in the order in which it comes.
#[derive(Default)]
struct Keeper(Vec<String>);

impl Sink for Keeper {
    type Error = std::convert::Infallible;

    fn block(&mut self, mined: MinedBlock<'_>) -> Result<(), Self::Error> {
        let MinedBlock { source, report, .. } = mined;
        let rows = report.mined.iter().map(|game| format!("{source} {game:?}"));
        self.0.extend(rows);
        self.0.extend(report.rejects.iter().map(|reject| format!("{source} {reject:?}")));
        Ok(())
    }

    fn failure(&mut self, failure: SourceFailure) -> Result<(), Self::Error> {
        panic!("{failure:?}");
    }
}

fn kept(
    sources: &[Source],
    patterns: &[Pattern],
    threads: usize,
    block_size: usize,
) -> Vec<String> {
    let plan = Plan {
        sources,
        patterns,
        selection: Selection::default(),
        threads,
        block_size,
        scrutiny: Scrutiny::default(),
        most_games: 1400,
        from: Waypoint::default(),
        until: None,
        is_timed: false,
    };
    let mut keeper = Keeper::default();
    static NEVER: AtomicBool = AtomicBool::new(false);
    run(&plan, &NEVER, &mut keeper).unwrap();
    keeper.0
}

#[test]
fn threads_and_block_sizes_change_nothing() {
    let found = find_sources(&package_games().map(Clone::clone));
    assert!(found.errors.is_empty());
    let sources = found.sources;
    let patterns = built_in();
    let reference = kept(&sources, &patterns, 1, 1 << 20);
    assert!(reference.len() > 15);
    for threads in [1, 2, 7] {
        for block_size in [1 << 10, 1 << 16, 4 << 20] {
            assert_eq!(
                kept(&sources, &patterns, threads, block_size),
                reference,
                "{threads} {block_size}"
            );
        }
    }
}

#[test]
fn command_writes_the_same_bytes_whatever_the_threads_and_block_size() {
    let place = Place::new();
    let text = std::fs::read(package_games()[1]).unwrap();
    place.write("games.pgn", text);
    let tables = ["hits/bishop-takes-h7", "hits/queen-lift", "collection", "games", "rejects"];
    for table in ["csv", "jsonl"] {
        let mut written = Vec::new();
        for (threads, block_size) in [("1", "1024"), ("2", "64"), ("7", "1"), ("7", "4096")] {
            let ran = place.run(&[
                "mine",
                "games.pgn",
                "--table",
                table,
                "--threads",
                threads,
                "--block-size",
                block_size,
                "--replace",
            ]);
            assert_eq!(ran.status, 0, "{ran}");
            written.push(tables.map(|name| place.read(&format!("hecatomb-out/{name}.{table}"))));
        }
        assert!(written.iter().all(|tables| *tables == written[0]));
    }
}

/// Sources in one frame and in many, several at once, and damaged ones, whose text ends where it ends.
#[test]
fn parts_that_are_decompressed_side_by_side_change_nothing() {
    let place = Place::new();
    let text = std::fs::read(package_games()[1]).unwrap();
    let frame = |part: &[u8]| zstd::encode_all(part, 3).unwrap();
    let whole = frame(&text);
    let mut frames: Vec<u8> = text.chunks(70_000).flat_map(frame).collect();
    // A frame that holds nothing, as RFC 8878 allows (section 3.1.2).
    frames.extend([0x50, 0x2A, 0x4D, 0x18, 2, 0, 0, 0, 7, 7]);
    let damaged = |packed: &[u8]| {
        let mut packed = packed.to_vec();
        let middle = packed.len() / 2;
        packed[middle..middle + 40].fill(0x5A);
        packed
    };
    place
        .write("games/a.pgn.zst", &frames)
        .write("games/b.pgn.zst", damaged(&frames))
        .write("games/c.pgn.zst", damaged(&whole))
        .write("games/d.pgn.zst", &frames[..frames.len() / 2])
        .write("games/e.pgn.zst", &whole[..whole.len() / 2])
        .write("games/f.pgn.zst", &whole);
    let mut written = Vec::new();
    for (threads, block_size) in
        [("1", "1024"), ("2", "64"), ("7", "1"), ("2", "4096"), ("7", "300")]
    {
        let ran = place.run(&[
            "mine",
            "games",
            "--keep-duplicates",
            "--replace",
            "--threads",
            threads,
            "--block-size",
            block_size,
        ]);
        assert_eq!(ran.status, 1, "four sources are damaged: {ran}");
        let tables = [
            "hits/bishop-takes-h7.csv",
            "hits/queen-lift.csv",
            "collection.csv",
            "duplicates.csv",
            "games.csv",
            "rejects.csv",
        ];
        let tables = tables.map(|name| place.read(&format!("hecatomb-out/{name}")));
        let mut run: serde_json::Value =
            serde_json::from_str(&place.read("hecatomb-out/run.json")).unwrap();
        run["seconds"] = 0.into();
        written.push((tables, run));
    }
    assert_eq!(written[0].1["sources"][0]["games"], 438);
    assert_eq!(written[0].1["sources"][5]["games"], 438);
    for other in &written[1..] {
        assert_eq!(other.1, written[0].1);
        assert!(other.0 == written[0].0);
    }
}

/// The follow-ups of a lens, each looked for again from the offer on.
fn one_by_one(lens: &Lens, replay: &Replay, offer: usize) -> Vec<Option<usize>> {
    let later = offer + 1..replay.moves.len();
    let moves_made = |index: usize| {
        let mover = replay.positions[index].turn();
        (offer + 1..=index).filter(|&earlier| replay.positions[earlier].turn() == mover).count()
    };
    let is_in_time = |window, index| match window {
        Window::Anytime => true,
        Window::Within(moves) => moves_made(index) <= usize::from(moves),
    };
    lens.follow_ups
        .iter()
        .map(|sentence| {
            let is_same = |index| !sentence.is_same_man || is_moved_by_same(replay, offer, index);
            let fitting = |&index: &usize| {
                is_in_time(sentence.window, index)
                    && is_same(index)
                    && fits(sentence, lens.view, replay, index)
            };
            later.clone().find(fitting)
        })
        .collect()
}

/// Whether the man that made an offer makes a later move: followed back from that move.
fn is_moved_by_same(replay: &Replay, offer: usize, later: usize) -> bool {
    let mut stood = replay.moves[later].from().unwrap();
    for index in (offer + 1..later).rev() {
        let m = replay.moves[index];
        let rook_to = |king, rook: Square| {
            Square::from_coords(if rook > king { File::F } else { File::D }, rook.rank())
        };
        match m {
            _ if destination(m) == stood => stood = m.from().unwrap(),
            Move::Castle { king, rook } if rook_to(king, rook) == stood => stood = rook,
            _ => {}
        }
    }
    let is_own = replay.positions[later].turn() == replay.positions[offer].turn();
    is_own && destination(replay.moves[offer]) == stood
}

/// A game of legal moves, each picked by a number.
fn picked_game(picks: &[u16]) -> Replay {
    let mut replay = Replay::of(&Chess::default(), &[]);
    for &pick in picks {
        let moves = replay.end().legal_moves();
        let Some(&m) = moves.get(usize::from(pick) % moves.len().max(1)) else { break };
        replay.play(m);
    }
    replay
}

/// Anything that can be written as SAN, with or without sense.
fn any_san() -> impl Strategy<Value = San> {
    let role = prop::sample::select(&Role::ALL[..]);
    let file = prop::option::weighted(0.3, prop::sample::select(&File::ALL[..]));
    let rank = prop::option::weighted(0.2, prop::sample::select(&Rank::ALL[..]));
    let to = prop::sample::select(Square::ALL.to_vec());
    let promotion = prop::option::weighted(0.1, role.clone());
    (role, file, rank, any::<bool>(), to, promotion).prop_map(
        |(role, file, rank, capture, to, promotion)| San::Normal {
            role,
            file,
            rank,
            capture,
            to,
            promotion,
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn written_moves_are_played_as_the_move_generator_has_them(
        picks in prop::collection::vec(any::<u16>(), 0..120),
        sans in prop::collection::vec(any_san(), 200),
    ) {
        let game = picked_game(&picks);
        for pos in &game.positions {
            let legal = pos.legal_moves();
            for &m in &legal {
                prop_assert_eq!(hecatomb::board::written(pos, m), San::from_move(pos, m));
            }
            let written = legal.iter().map(|&m| San::from_move(pos, m)).chain(sans.iter().copied());
            for san in written {
                let mut replay = Replay::of(pos, &[]);
                let played = replay.play_san(san);
                prop_assert_eq!(played, san.to_move(pos), "{} in {:?}", san, pos);
                if let Some(m) = replay.moves.first() {
                    let mut after = pos.clone();
                    after.play_unchecked(*m);
                    prop_assert_eq!(replay.end(), &after);
                }
            }
        }
    }

    #[test]
    fn watching_offer_by_offer_equals_looking_anew(
        choices in prop::collection::vec(any::<u16>(), 4..90),
        offer in 0_usize..20,
        step in 1_usize..6,
    ) {
        let replay = picked_game(&choices);
        prop_assume!(offer < replay.moves.len());
        let busy = pattern(
            "title = \"t\"\nchapter = \"any\"\noffer = \"any man\"\n[follow-ups]\n\
             a = \"knight to any square within 2 moves\"\nb = \"any man takes on any square\"\n\
             c = \"defender pawn moves to 5th rank or 4th rank at once\"\nd = \"any man with check\"\n\
             e = \"any man and is taken within 9 moves\"\nf = \"the same man to any square\"\n\
             g = \"the same knight or pawn takes on any square within 7 moves\"\n",
        );
        for lens in lenses_of(&busy, replay.positions[offer].turn()) {
            let mut watch = Watch::new(lens);
            for offer in (offer..replay.moves.len()).step_by(2 * step) {
                prop_assert_eq!(watch.after(&replay, offer), one_by_one(lens, &replay, offer));
            }
        }
    }
}
