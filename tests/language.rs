//! Words of the query language, each with positions in which it is true and others in which it is not.

use hecatomb::mining::{Hit, Miner, Scrutiny, Selection};
use hecatomb::query::Query;
use hecatomb::toml_files::FileProblems;

use crate::exchange::LEFT_QUEEN;
use crate::queries::{finds, is_true};
use crate::support::{Place, block, mine, pattern};

const CLASSICAL: &str = "r1bq1rk1/pp1n1ppp/2n1p3/b2pP3/8/2PB1N2/PP3PPP/RNBQ1RK1 w - - 0 1";

/// Each fact holds in the position or does not.
#[track_caller]
fn facts(fen: &str, told: &[(&str, bool)]) {
    for &(fact, truth) in told {
        assert_eq!(is_true(fact, fen), truth, "{fact}");
    }
}

/// A file of one offer and more lines.
fn file(offer: &str, rest: &str) -> String {
    format!("title = \"t\"\nchapter = \"any\"\noffer = \"{offer}\"\n{rest}")
}

/// Each offer is found in the line or is not.
#[track_caller]
fn offers(fen: &str, line: &str, told: &[(&str, bool)]) {
    for &(offer, found) in told {
        assert_eq!(finds(pattern(&file(offer, "")), fen, line), found, "{offer}");
    }
}

fn problems(source: &str) -> FileProblems {
    Query::read("q", "q.toml", source).expect_err(source)
}

#[test]
fn amounts_have_an_upper_end() {
    let pawns = "defender pawns on f-file or g-file or h-file";
    facts(
        CLASSICAL,
        &[
            (&format!("at most 3 {pawns}"), true),
            (&format!("at most 2 {pawns}"), false),
            ("at most 1 attacker knight on any square", false),
            ("at most 2 attacker knights on any square", true),
            ("at most 1 attacker pawn on a8", true),
        ],
    );
    // The bishop for a pawn: it gives up 2.
    offers(
        CLASSICAL,
        "Bxh7+ Kxh7",
        &[
            ("bishop takes pawn on h7 giving up 2 or more", true),
            ("bishop takes pawn on h7 giving up 2", true),
            ("bishop takes pawn on h7 giving up 1", false),
            ("bishop takes pawn on h7 giving up 3", false),
            ("bishop takes pawn on h7 giving up 1 to 2", true),
            ("bishop takes pawn on h7 giving up 3 to 5", false),
            ("bishop takes pawn on h7 giving up at most 2", true),
            ("bishop takes pawn on h7 giving up at most 1", false),
            ("bishop takes pawn on h7 uncovering at most 1", true),
        ],
    );
    // The queen for a bishop: it uncovers 6.
    offers(
        LEFT_QUEEN,
        "Nxe5 Bxd1",
        &[
            ("knight takes on e5 uncovering 6", true),
            ("knight takes on e5 uncovering 5", false),
            ("knight takes on e5 uncovering 6 to 9", true),
            ("knight takes on e5 uncovering at most 5", false),
        ],
    );
    for (offer, message) in [
        ("bishop to h7 giving up 3 to 2", "the second number must not be below the first"),
        ("bishop to h7 giving up at most 0", "`0` is not a number from 1 to 999"),
        ("bishop to h7 giving up 1 giving up 2", "this, or its opposite, was said already"),
    ] {
        assert_eq!(problems(&file(offer, "")).problems[0].message, message);
    }
}

#[test]
fn material_is_compared() {
    facts(
        CLASSICAL,
        &[("material is level", true), ("attacker ahead", false), ("defender ahead", false)],
    );
    facts(
        "4k3/8/8/8/8/8/4P3/4K2R w - - 0 1",
        &[
            ("attacker ahead", true),
            ("attacker ahead by 6 or more", true),
            ("attacker ahead by 7 or more", false),
            ("attacker ahead by 6", true),
            ("attacker ahead by 5", false),
            ("attacker ahead by 5 to 6", true),
            ("defender ahead", false),
            ("material is level", false),
            ("material is level or else attacker ahead and attacker rook on h1", true),
        ],
    );
    facts(
        "4k2r/8/8/8/8/8/4P3/4K3 w - - 0 1",
        &[
            ("defender ahead by 4 or more", true),
            ("defender ahead by 5 or more", false),
            ("defender ahead by 1 to 3", false),
            ("defender ahead by 1 to 4", true),
            ("attacker ahead", false),
        ],
    );
}

#[test]
fn men_are_seen_past_own_men() {
    facts(
        CLASSICAL,
        &[
            ("attacker queen reaches h5", false),
            ("attacker queen reaches h5 past knight", true),
            ("attacker queen reaches h5 past bishop", false),
            ("attacker queen reaches h5 past bishop or knight or else attacker king on a1", true),
            ("no attacker queen reaches h5 past knight", false),
            ("attacker queen guards h5 past knights", true),
            ("attacker queen bears on h5 past knight and attacker king on g1", true),
            ("attacker queen reaches f3 past knight", true),
            ("attacker queen reaches d4 past bishop", true),
            // The other side's men stay.
            ("attacker queen reaches d6 past any man", false),
            ("defender queen reaches d6", false),
            ("defender queen reaches d6 past knight", true),
            // A man does not stand aside for itself.
            ("attacker knight reaches d4 past knight", true),
            ("attacker rook reaches h1 past king", true),
            ("more attacker men guard h5 past knight than defender men", true),
            ("more attacker men guard h5 than defender men", false),
        ],
    );
    let unread = problems(&file("any man", "when = [\"attacker queen on h5 past knight\"]\n"));
    assert!(unread.problems[0].message.contains("`past` is not understood here"), "{unread}");
}

#[test]
fn men_can_be_en_prise() {
    let fork = "4k3/6p1/8/3p4/4N3/5P2/8/4K3 w - - 0 1";
    facts(
        fork,
        &[
            ("attacker knight is en prise", true),
            ("attacker knight on e4 is en prise", true),
            ("attacker knight on e4 or e5 is en prise", true),
            ("attacker knight on e5 is en prise", false),
            ("no attacker men are en prise", false),
            ("at least 2 attacker men are en prise", false),
            ("defender man is en prise", false),
            ("more attacker men on any square are en prise than defender men", true),
            (
                "attacker knight on e4 and attacker knight is en prise or else attacker king on a1",
                true,
            ),
        ],
    );
    // The guard of the pawn is worth more than the knight, and a queen that takes a guarded pawn is lost.
    facts("3qk3/8/8/8/3P4/4P3/8/4K3 w - - 0 1", &[("attacker pawn on d4 is en prise", false)]);
    // The man that could take is pinned, but not while it stays on the line.
    facts("4k3/4r3/8/8/8/8/3N4/1B2R1K1 w - - 0 1", &[("attacker knight is en prise", false)]);
    facts("4k3/4r3/8/8/4R3/8/8/4R1K1 w - - 0 1", &[("attacker rook on e4 is en prise", false)]);
    // A king in check is not.
    facts(
        "4k3/8/8/8/8/8/8/K3R3 b - - 0 1",
        &[("attacker king is en prise", false), ("defender king is en prise", false)],
    );
    offers(
        fork,
        "Nf6+ gxf6",
        &[("knight moves to f6 was en prise", true), ("knight moves to f6", true)],
    );
    let free = "4k3/6p1/8/8/4N3/5P2/8/4K3 w - - 0 1";
    offers(free, "Nf6+ gxf6", &[("knight moves to f6 was en prise", false)]);
    offers(
        "4k3/8/8/8/8/8/8/4K2R w K - 0 1",
        "O-O",
        &[("king to g1 was en prise", false), ("king to g1", true)],
    );
}

#[test]
fn pawns_can_be_passed() {
    facts(
        "4k3/8/P1P2p2/1p6/8/6P1/8/4K3 w - - 0 1",
        &[
            ("attacker passed pawn on 6th rank", true),
            ("at least 2 attacker passed pawns on any square", true),
            ("at least 3 attacker passed pawns on any square", false),
            ("attacker passed pawn on g3", false),
            ("attacker passed pawn or king on g3", false),
            ("attacker king or passed pawn on c6", true),
            ("attacker passed pawn guards b7", true),
            ("attacker passed pawn reaches c7", true),
            ("defender passed pawn on b5", true),
            ("defender passed pawn on f6", false),
            ("more attacker passed pawns on any square than defender passed pawns", true),
        ],
    );
    facts("4k3/1p6/P1P5/8/8/8/8/4K3 w - - 0 1", &[("no attacker passed pawn on any square", true)]);
    let problem = &problems(&file("passed pawn to 8th rank", "")).problems[0].message;
    assert_eq!(problem, "`passed` is not understood here");
}

#[test]
fn move_can_stalemate() {
    let fen = "7k/8/5K2/8/8/8/8/6Q1 w - - 0 1";
    let told = [("queen to g6 with stalemate", true), ("queen to any square with mate", false)];
    offers(fen, "Qg6", &told);
    offers(fen, "Qg7#", &[("queen to g7 with stalemate", false), ("queen to g7 with mate", true)]);
}

#[test]
fn squares_are_told_by_the_defenders_king() {
    facts(
        CLASSICAL,
        &[
            ("attacker pawn on the king's file", true),
            ("attacker rook on the king's file", false),
            ("at least 3 defender pawns on in front of the king", true),
            ("at least 4 defender pawns on in front of the king", false),
            ("at least 2 defender rooks on the king's rank", true),
            ("attacker man on the king's rank", false),
            ("attacker bishop guards in front of the king", true),
            ("attacker king on the king's rank or the king's file", true),
            ("defender king on the king's file", true),
            ("attacker pawn on in front of the king or e5", true),
        ],
    );
    offers(CLASSICAL, "Bxh7+ Kxh7", &[("bishop takes pawn on in front of the king", true)]);
    offers(
        CLASSICAL,
        "Bg6 fxg6",
        &[("bishop to the king's file", true), ("bishop to the king's rank", false)],
    );
    // Black attacks down the board, so that the squares in front of White's king are above it.
    let black = "rnbq1rk1/pp3ppp/2pb1n2/8/3P4/2N1P3/PPP2PPP/R1BQ1RK1 b - - 0 1";
    offers(black, "Bxh2+ Kxh2", &[("bishop takes pawn on in front of the king", true)]);
}

/// The hits of a query in a game from a position, overlooked ones included.
fn hits(source: &str, fen: &str, movetext: &str) -> Vec<Hit> {
    let game = format!("[Event \"x\"]\n[SetUp \"1\"]\n[FEN \"{fen}\"]\n\n{movetext} *\n");
    let scrutiny = Scrutiny { audit: false, overlooked: true };
    let (patterns, selection) = ([pattern(source)], Selection::default());
    let miner = Miner::new(&patterns, &selection, scrutiny);
    let mined = miner.mine(&block(game.as_bytes()), u64::MAX).mined;
    mined.into_iter().flat_map(|game| game.hits).collect()
}

#[test]
fn conditions_may_be_about_the_position_after_the_offer() {
    let offer = "bishop takes pawn on h7 giving up 2 or more";
    for (after, is_hit) in [
        ("attacker bishop on h7", true),
        ("defender pawn on h7", false),
        ("no defender pawn on h7 and defender king reaches h7", true),
        ("attacker bishop is en prise", true),
        ("attacker ahead by 1", true),
        ("defender king is en prise", false),
        ("attacker bishop on in front of the king", true),
    ] {
        let source =
            file(offer, &format!("when = [\"material is level\"]\nafter = [\"{after}\"]\n"));
        assert_eq!(finds(pattern(&source), CLASSICAL, "Bxh7+ Kxh7"), is_hit, "{after}");
        // Made, and overlooked.
        for line in ["1. Bxh7+ Kxh7", "1. a3 a6"] {
            assert_eq!(
                hits(&source, CLASSICAL, line).len(),
                usize::from(is_hit),
                "{after}: {line}"
            );
        }
    }
    let black = "rnbq1rk1/pp3ppp/2pb1n2/8/3P4/2N1P3/PPP2PPP/R1BQ1RK1 b - - 0 1";
    let source = file(offer, "wings = \"both\"\nafter = [\"attacker bishop guards g8\"]\n");
    assert!(finds(pattern(&source), black, "Bxh2+ Kxh2"));
    assert!(!finds(pattern(&source.replace("g8", "f8")), black, "Bxh2+ Kxh2"));
}

#[test]
fn factors_may_be_about_the_position_after_the_offer() {
    let rest = "[factors-after]\nthere = \"attacker bishop on h7\"\nhere = \"attacker bishop on d3\"\n\
                [factors]\nready = \"attacker bishop on d3\"\ngone = \"no attacker bishop on d3\"\n";
    let source = file("bishop takes pawn on h7 giving up 2 or more", rest);
    let query = pattern(&source).query;
    let names: Vec<&str> = query.factors.iter().map(|factor| &*factor.name).collect();
    assert_eq!(names, ["ready", "gone", "there", "here"]);
    for line in ["1. Bxh7+ Kxh7", "1. a3 a6"] {
        let hits = hits(&source, CLASSICAL, line);
        assert_eq!(hits[0].factors, [true, false, true, false], "{line}");
    }
    let twice = problems(&source.replace("there", "ready"));
    assert_eq!(twice.problems[0].message, "`ready` is a factor already");
}

/// The plies of the follow-ups of the only hit in a line.
#[track_caller]
fn follow_ups(offer: &str, table: &str, fen: &str, line: &str) -> Vec<Option<usize>> {
    let source = file(offer, &format!("[follow-ups]\n{table}"));
    let game = format!("[Event \"x\"]\n[SetUp \"1\"]\n[FEN \"{fen}\"]\n\n{line} *\n");
    let mined = mine(&[pattern(&source)], game.as_bytes(), false).mined;
    mined[0].hits[0].follow_ups.clone()
}

#[test]
fn follow_up_may_be_of_the_same_man() {
    let table = "one = \"knight to any square\"\nsame = \"the same knight to any square\"\n\
                 soon = \"the same man to any square within 1 move\"\n";
    let knights = "4k3/8/8/8/8/8/8/N3K2N w - - 0 1";
    let line = "1. Nb3 Kd8 2. Ng3 Kc8 3. Nd4 Kd8 4. Nc6+";
    assert_eq!(follow_ups("knight moves to b3", table, knights, line), [Some(3), Some(5), None]);
    // A pawn that promotes is the same man; one that is captured moves no more.
    let table = "queen = \"the same queen to b2\"\npawn = \"the same pawn to any square\"\n";
    let pawn = "1r5k/2P5/8/8/8/8/Kp6/8 w - - 0 1";
    let line = "1. cxb8=Q+ Kg7 2. Qxb2+ Kg6";
    assert_eq!(follow_ups("pawn takes on 8th rank", table, pawn, line), [Some(3), None]);
    let table = "same = \"the same bishop to any square\"\none = \"bishop to any square\"\n";
    let line = "1. Bxh7+ Kxh7 2. Bg5 f6";
    assert_eq!(follow_ups("bishop takes on h7", table, CLASSICAL, line), [None, Some(3)]);
    let line = "1. Bxh7+ Kh8 2. Bg5 f6 3. Bg6 Kg8";
    assert_eq!(follow_ups("bishop takes on h7", table, CLASSICAL, line), [Some(5), Some(3)]);
    let problem = problems(&file("the same bishop to h7", ""));
    assert!(problem.problems[0].message.contains("an offer can't speak of `the same` man"));
}

#[test]
fn follow_ups_may_be_required_in_order_or_not_to_come() {
    let source = |requires: &str| {
        let table = "jump = \"knight to g5\"\nqueen = \"queen to any square\"\n\
                     soon = \"queen to any square within 2 moves\"\nedge = \"queen to h5\"\n";
        file("bishop takes on h7", &format!("requires = [\"{requires}\"]\n[follow-ups]\n{table}"))
    };
    let straight = "Bxh7+ Kxh7 Ng5+ Kg8 Qh5";
    let round = "Bxh7+ Kxh7 Qd3+ Kg8 Ng5 g6 Qh3";
    for (requires, is_straight, is_round) in [
        ("jump then edge", true, false),
        ("edge then jump", false, false),
        ("edge then jump or jump", true, true),
        ("queen then jump", false, true),
        ("queen then jump then queen", false, true),
        // The second move of the queen fits, too late though for the window, which counts from the offer.
        ("jump then queen", true, true),
        ("jump then soon", true, false),
        ("no edge", false, true),
        ("no jump", false, false),
    ] {
        let found = |line| finds(pattern(&source(requires)), CLASSICAL, line);
        assert_eq!([found(straight), found(round)], [is_straight, is_round], "{requires}");
    }
    for (requires, message) in [
        ("no edge or jump", "`no` speaks of one follow-up only"),
        ("no", "`no` speaks of one follow-up only"),
        ("jump then", "this must be the name of a follow-up"),
        ("jump then no edge", "`no` speaks of one follow-up only"),
        ("no jum", "no follow-up is called `jum`"),
    ] {
        let problems = problems(&source(requires));
        assert!(problems.problems[0].message.starts_with(message), "{problems}");
    }
}

#[test]
fn material_that_is_given_may_stay_away() {
    let told = |line: &str, within: &[(u16, bool)]| {
        for &(moves, found) in within {
            let offer = format!("bishop takes on h7 not taken back within {moves} moves");
            assert_eq!(
                finds(pattern(&file(&offer, "")), CLASSICAL, line),
                found,
                "{moves}: {line}"
            );
        }
    };
    // The bishop for a pawn, another pawn, and the queen for a knight: 2 down, 1 down, 5 up.
    let whole = "Bxh7+ Kxh7 Ng5+ Kh6 Nxf7+ Kg6 Nxd8 Rxd8";
    told(whole, &[(1, true), (2, true), (3, false), (9, false)]);
    // In the middle of an exchange nothing is told, unless the game ends there.
    told("Bxh7+ Kxh7 Ng5+ Kh6 Nxf7+ Kg6 Nxd8", &[(2, true), (3, false)]);
    told("Bxh7+ Kxh7 Ng5+ Kh6 Nxf7+", &[(1, true), (9, true)]);
    told("Bxh7+ Kh8 Bg6 Kg8", &[(1, false)]);
    told("Bxh7+", &[(1, false)]);
    let source = file(
        "bishop takes on h7",
        "[follow-ups]\na = \"knight to g5 not taken back within 3 moves\"\n",
    );
    assert!(problems(&source).problems[0].message.starts_with("only an offer can be"));
}

#[test]
fn man_may_come_between_two_that_see_each_other() {
    offers(
        "4r2k/8/8/6N1/4r3/8/8/K7 w - - 0 1",
        "Ne6 Kg8",
        &[
            ("knight moves to e6 between rook and rook", true),
            ("knight moves to e6 between rook and queen", false),
            ("knight moves to e6 between rook or queen and piece and is taken", false),
            ("knight moves to any square between rook or queen and piece", true),
        ],
    );
    let between = "any man to any square between bishop or rook and king or rook";
    for (fen, line, found) in [
        ("7k/8/8/8/6N1/8/8/b3K3 w - - 0 1", "Ne5", true),
        // A rook does not move along a diagonal.
        ("7k/8/8/8/6N1/8/4K3/r7 w - - 0 1", "Ne5", false),
        // Something stood there already: a pawn, the very man, or what it takes.
        ("4r2k/4p3/8/6N1/4r3/8/8/K7 w - - 0 1", "Ne6", false),
        ("4r2k/8/4R3/8/4r3/8/8/K7 w - - 0 1", "Re5", false),
        ("4r2k/8/4p3/6N1/4r3/8/8/K7 w - - 0 1", "Nxe6", false),
    ] {
        offers(fen, line, &[(between, found)]);
    }
    // Seen from Black.
    offers(
        "k7/8/8/4R3/6n1/8/8/4R2K b - - 0 1",
        "Ne3",
        &[("knight to e6 between rook and rook", true)],
    );
}

#[test]
fn words_that_people_try_lead_to_those_of_the_language() {
    for (sentence, hint) in [
        ("white rook on e8", "a query speaks of `attacker` and `defender`"),
        ("Black king on g8", "a query speaks of `attacker` and `defender`"),
        ("attacker bishop attacks h7", "say `guards`"),
        ("attacker pawn promotes", "say `pawn to 8th rank`"),
        ("attacker knight hangs", "say `is en prise`"),
        ("no queens", "say `no attacker queen on any square and no defender queen on any square`"),
        (
            "no pawn on e4",
            "say `no attacker pawn on any square and no defender pawn on any square`",
        ),
    ] {
        let problems = problems(&file("any man", &format!("when = [\"{sentence}\"]\n")));
        let shown = problems.problems[0].hint.clone();
        assert!(shown.is_some_and(|shown| shown.starts_with(hint)), "{problems}");
    }
    for (offer, hint) in [
        ("white bishop to h7", "a query speaks of"),
        ("bishop captures pawn on h7", "say `takes`"),
        ("pawn promotes", "say `pawn to 8th rank`"),
        ("bishop takes pawn on h7 check", "say `with check`"),
        ("bishop takez pawn on h7", "did you mean `takes`?"),
    ] {
        let problems = problems(&file(offer, ""));
        let shown = problems.problems[0].hint.clone();
        assert!(shown.is_some_and(|shown| shown.starts_with(hint)), "{problems}");
    }
}

#[test]
fn example_that_fails_says_what_is_lacking() {
    let place = Place::new();
    let reason = |offer: &str, rest: &str, line: &str, is_hit: bool| {
        let example =
            format!("[[example]]\nfen = \"{CLASSICAL}\"\nline = \"{line}\"\nhit = {is_hit}\n");
        place.write("q.toml", file(offer, &format!("{rest}\n{example}")));
        let ran = place.run(&["queries", "check", "q.toml"]);
        assert_eq!(ran.status, 1, "{ran}");
        let (_, reason) = ran.err.trim_end().split_once(&format!("`{line}`: ")).expect("a reason");
        reason.to_owned()
    };
    let line = "Bxh7+ Kxh7 Ng5+ Kg8 Qh5";
    let follow_ups = "[follow-ups]\nedge = \"queen to h5\"\nback = \"queen to d1\"";
    for (offer, rest, lacking) in [
        ("rook takes on h7", "", "no move in it is `rook takes on h7`"),
        (
            "bishop takes on h7",
            "when = [\"defender king on g8\", \"attacker queen on h5\"]",
            "`Bxh7+`: `when` 2 does not hold: `attacker queen on h5`",
        ),
        ("bishop takes on h7 without check", "", "`Bxh7+`: it is not `without check`"),
        ("bishop takes on h7 giving up 3 or more", "", "`Bxh7+`: it gives up 2, not 3 or more"),
        ("bishop takes on h7 giving up at most 1", "", "`Bxh7+`: it gives up 2, not at most 1"),
        (
            "bishop takes on h7",
            "after = [\"attacker bishop on d3\"]",
            "`Bxh7+`: `after` 1 does not hold: `attacker bishop on d3`",
        ),
        (
            "bishop takes on h7 and is taken by rook",
            "",
            "`Bxh7+`: the next move does not take it, or not with such a man",
        ),
        (
            "bishop takes on h7",
            &format!("requires = [\"edge\", \"edge then back or back\"]\n{follow_ups}"),
            "`Bxh7+`: `requires` 2: `edge then back or back` did not come",
        ),
        (
            "bishop takes on h7",
            &format!("requires = [\"no edge\"]\n{follow_ups}"),
            "`Bxh7+`: `requires` 1: `edge` came",
        ),
    ] {
        assert_eq!(reason(offer, rest, line, true), lacking);
    }
    assert_eq!(reason("bishop takes on h7", "", line, false), "`Bxh7+`");
    // Of several moves the one that comes nearest is spoken of.
    let nearest =
        reason("any man to any square with mate", "after = [\"attacker ahead\"]", line, true);
    assert_eq!(nearest, "`Bxh7+`: it is not `with mate`");
}

#[test]
fn shown_query_tells_the_order_and_what_holds_after_the_offer() {
    let rest = "after = [\"attacker bishop on h7\"]\nrequires = [\"jump then edge\", \"no trade\"]\n\
                [follow-ups]\njump = \"knight to g5\"\nedge = \"queen to h5\"\n\
                trade = \"queen takes queen on any square\"\n\
                [factors-after]\nguarded = \"attacker knight guards in front of the king\"\n";
    let place = Place::new();
    place.write("q.toml", file("bishop takes on h7", rest));
    let ran = place.run(&["queries", "show", "q.toml"]);
    let words = |line: &str| line.split_whitespace().collect::<Vec<_>>().join(" ");
    let lines: Vec<String> = ran.out.lines().map(words).collect();
    for line in [
        "after attacker bishop on h7",
        "factor after guarded attacker knight guards in front of the king",
        "required jump then edge",
        "required no trade",
        "Squares told by the defender's king move with it.",
    ] {
        assert!(lines.iter().any(|shown| shown == line), "{line}: {ran}");
    }
}
