//! Sentences, query files and their problems.

use std::collections::BTreeSet;

use hecatomb::mining::{holds, rehearse};
use hecatomb::query::{Library, Pattern, Query, built_in_names};
use shakmaty::fen::Fen;
use shakmaty::{CastlingMode, Chess, Color};

use crate::support::{Place, built_in, lenses_of, pattern};

#[test]
fn built_in_queries_bear_out_their_examples() {
    for pattern in built_in() {
        let name = &pattern.query.name;
        assert!(rehearse(&pattern).is_empty(), "{name}: {:?}", rehearse(&pattern));
        let hits = pattern.query.examples.iter().filter(|example| example.is_hit).count();
        assert!(
            hits > 0 && hits < pattern.query.examples.len(),
            "{name} has no example of each kind"
        );
        assert!(!pattern.query.about.is_empty(), "{name} says nothing for the lesson");
        assert!(!pattern.query.factors.is_empty(), "{name} has no factors");
    }
}

/// Players are "they", and a man other than the king is "it".
#[test]
fn built_in_queries_have_titles_of_their_own_and_call_no_queen_she() {
    let mut titles = BTreeSet::new();
    for Pattern { query, .. } in built_in() {
        let about = query.about.to_lowercase();
        let mut words = about.split(|letter: char| !letter.is_alphabetic());
        let wrong = words.find(|word| ["she", "her", "hers", "herself"].contains(word));
        assert_eq!(wrong, None, "{}: {about}", query.name);
        assert!(titles.insert(query.title), "two queries have the title of {}", query.name);
    }
}

fn position(fen: &str) -> Chess {
    fen.parse::<Fen>().unwrap().into_position(CastlingMode::Standard).unwrap()
}

/// Whether a factor holds for White in a position.
pub(crate) fn is_true(factor: &str, fen: &str) -> bool {
    let source = format!(
        "title = \"t\"\nchapter = \"any\"\noffer = \"any man\"\n[factors]\nx = \"{factor}\"\n"
    );
    let pattern = pattern(&source);
    let lens = lenses_of(&pattern, Color::White).next().unwrap();
    holds(&lens.factors[0], lens.view, &position(fen))
}

#[test]
fn facts_say_what_a_teacher_means() {
    let classical = "r1bq1rk1/pp1n1ppp/2n1p3/b2pP3/8/2PB1N2/PP3PPP/RNBQ1RK1 w - - 0 1";
    for (factor, truth) in [
        ("defender king on g8", true),
        ("defender king on g8 or h8", true),
        ("attacker king on g8", false),
        ("no defender knight reaches f6", false),
        ("no defender knight reaches f5", true),
        ("attacker queen reaches h5", false),
        ("attacker queen reaches e2", true),
        ("attacker queen guards f3", true),
        ("attacker queen reaches f3", false),
        ("attacker pawn on e5 and defender knight on d7", true),
        ("attacker pawn on e5 and defender knight on d8", false),
        ("at least 3 defender pawns on f-file or g-file or h-file", true),
        ("at least 4 defender pawns on f-file or g-file or h-file", false),
        ("at least 3 defender minor pieces on light squares", true),
        ("attacker pawn reaches h4", true),
        ("attacker pawn reaches h5", false),
        ("attacker pawn reaches d6", false),
        ("more attacker men guard g5 than defender men", true),
        ("more defender men guard g5 than attacker men", false),
        ("defender rook beside the king", false),
        ("defender rook on beside the king", true),
        ("attacker minor piece reaches beside the king", true),
        ("no defender man pinned on any square", true),
        ("attacker king on g8 or else attacker pawn on e5 and defender knight on d7", true),
        ("attacker king on g8 or else attacker pawn on e5 and defender knight on d8", false),
        ("defender king on g8 or else attacker king on a1", true),
    ] {
        let source = format!(
            "title = \"t\"\nchapter = \"any\"\noffer = \"any man\"\n[factors]\nx = \"{factor}\"\n"
        );
        if factor == "defender rook beside the king" {
            assert!(Query::read("q", "q.toml", &source).is_err());
        } else {
            assert_eq!(is_true(factor, classical), truth, "{factor}");
        }
    }
    let pinned = "4k3/4n3/8/3p4/2P5/8/8/4RK2 w - - 0 1";
    assert!(is_true("defender knight pinned on e7", pinned));
    assert!(!is_true("defender pawn pinned on d5", pinned));
    // A rook behind a rook and a queen behind a bishop, but no bishop behind a rook.
    let batteries = "k7/8/7p/8/5B2/4Q1R1/1B6/4R1RK w - - 0 1";
    for (factor, truth) in [
        ("attacker rook bears on g8", true),
        ("at least 2 attacker rooks bear on g8", true),
        ("at least 2 attacker rooks guard g8", false),
        ("attacker queen bears on h6", true),
        ("attacker queen guards h6", false),
        ("attacker queen bears on h3", true),
        ("attacker rook bears on e5", true),
        ("attacker rook guards e5", false),
        ("attacker bishop bears on h8", true),
        ("attacker king bears on h2", true),
        ("attacker king bears on h3", false),
    ] {
        assert_eq!(is_true(factor, batteries), truth, "{factor}");
    }
}

/// Whether a query finds an offer in a line.
pub(crate) fn finds(mut pattern: Pattern, fen: &str, line: &str) -> bool {
    let example = format!(
        "title = \"t\"\nchapter = \"any\"\noffer = \"any man\"\n\
         [[example]]\nfen = \"{fen}\"\nline = \"{line}\"\nhit = true\n"
    );
    pattern.query.examples = Query::read("example", "example.toml", &example).unwrap().examples;
    rehearse(&pattern).is_empty()
}

/// Pairs of positions that differ in one guard, the second a failure: the query, the factor that tells
/// them apart, and both positions. An offer that fails is found like one that works, or else no share of
/// success could be measured. The lines were checked with python-chess 1.11.2; in the second positions a
/// mate solver finds no mate in 4.
const TWINS: [(&str, &str, [&str; 2]); 6] = [
    (
        "knight-follow-up",
        "g5-held",
        [
            "r1bq1rk1/pp1n1ppp/2n1p3/b2pP3/8/2PB1N2/PP3PPP/RNBQ1RK1 w - - 0 1",
            "r1bq1rk1/pp1nbppp/2n1p3/3pP3/8/2PB1N2/PP3PPP/RNBQ1RK1 w - - 0 1",
        ],
    ),
    (
        "bishop-takes-h7",
        "no-knight-to-f6",
        [
            "r1bq1rk1/pp4pp/2n1p3/b2p1p2/8/2PB1N2/PP3PPP/RNBQ1RK1 w - - 0 1",
            "r1bq1rk1/pp3ppp/2n1pn2/b2p4/8/2PB1N2/PP3PPP/RNBQ1RK1 w - - 0 1",
        ],
    ),
    (
        "smothered-mate",
        "f7-free",
        [
            "r1b2r1k/pp4pp/2p4N/8/2Q5/8/PPP2PPP/4R1K1 w - - 0 1",
            "r1b2r1k/pp2q1pp/2p4N/8/2Q5/8/PPP2PPP/4R1K1 w - - 0 1",
        ],
    ),
    (
        "queen-back-rank",
        "no-air",
        [
            "3r2k1/pp3ppp/2p5/8/5q2/8/PP2QPPP/4R1K1 w - - 0 1",
            "3r2k1/pp3pp1/2p4p/8/5q2/8/PP2QPPP/4R1K1 w - - 0 1",
        ],
    ),
    (
        "queen-takes-c6-crossed-bishops",
        "a6-free",
        [
            "2kr3r/pp1n1ppp/2p1p3/4q3/3P1B2/2N2Q2/PPP1BPPP/R4RK1 w - - 0 1",
            "2kr3r/pp1n1ppp/2p1p3/q7/3P1B2/2N2Q2/PPP1BPPP/R4RK1 w - - 0 1",
        ],
    ),
    (
        "queen-takes-h7-knight-e7",
        "king-guards-alone",
        [
            "r4r1k/pb2Nppp/1p6/8/4Q3/3R4/PPP2PPP/6K1 w - - 0 1",
            "r4r1k/pb2Nppp/1p6/7q/4Q3/3R4/PPP2PPP/6K1 w - - 0 1",
        ],
    ),
];

#[test]
fn factors_tell_negative_twins_apart() {
    for (name, factor, fens) in TWINS {
        let pattern = built_in().into_iter().find(|pattern| pattern.query.name == name).unwrap();
        let factors = &pattern.query.factors;
        let index = factors.iter().position(|known| known.name == factor).unwrap();
        let lens = lenses_of(&pattern, Color::White).next().unwrap();
        let told = fens.map(|fen| holds(&lens.factors[index], lens.view, &position(fen)));
        assert_eq!(told, [true, false], "{name}: {factor}");
    }
}

#[test]
fn one_of_several_follow_ups_may_be_required() {
    let source = |requires: &str| {
        format!(
            "title = \"t\"\nchapter = \"any\"\noffer = \"bishop takes pawn on h7 with check\"\n\
             requires = [\"{requires}\"]\n[follow-ups]\njump = \"knight to g5\"\n\
             edge = \"queen to h5\"\nking = \"bishop to b5 and is taken by king\"\n"
        )
    };
    let classical = "r1bq1rk1/pp1n1ppp/2n1p3/b2pP3/8/2PB1N2/PP3PPP/RNBQ1RK1 w - - 0 1";
    let found = |requires: &str, line| finds(pattern(&source(requires)), classical, line);
    assert!(found("jump or edge", "Bxh7+ Kxh7 Ng5+ Kg8"));
    assert!(found("king or jump", "Bxh7+ Kxh7 Ng5+ Kg8"));
    assert!(!found("edge or king", "Bxh7+ Kxh7 Ng5+ Kg8"));
    let problem = |requires: &str| {
        Query::read("q", "q.toml", &source(requires)).unwrap_err().problems[0].message.clone()
    };
    assert_eq!(problem("jump or edg"), "no follow-up is called `edg`");
    assert!(problem("jump edge").contains("with `or` between"));
    assert!(problem("jump or").contains("with `or` between"));
}

#[test]
fn who_takes_can_be_said() {
    let offer = |by: &str| {
        pattern(&format!(
            "title = \"t\"\nchapter = \"any\"\noffer = \"bishop takes pawn on h7 and is taken{by}\"\n"
        ))
    };
    let classical = "r1bq1rk1/pp1n1ppp/2n1p3/b2pP3/8/2PB1N2/PP3PPP/RNBQ1RK1 w - - 0 1";
    for (by, found) in
        [("", true), (" by king", true), (" by rook or king", true), (" by rook", false)]
    {
        assert_eq!(finds(offer(by), classical, "Bxh7+ Kxh7"), found, "{by}");
        assert!(!finds(offer(by), classical, "Bxh7+ Kh8"), "{by}");
    }
}

#[test]
fn offers_that_cannot_be_are_problems() {
    let problem = |offer: &str| {
        let source = format!("title = \"t\"\nchapter = \"any\"\noffer = \"{offer}\"\n");
        Query::read("q", "q.toml", &source).unwrap_err().problems[0].message.clone()
    };
    assert!(problem("defender bishop to h7").contains("attacker's move"));
    assert!(problem("bishop to h7 within 3 moves").contains("can't have a time"));
    assert!(problem("bishop to h7 giving up 0 or more").contains("not a number from 1 to 999"));
    assert!(problem("bishop to").contains("not complete"));
}

/// A file with many things wrong in it.
const WRONG: &str = r#"titel    = "A wrong file"
title    = "A wrong file"
chapter  = "bischop"
wings    = "left"
offer    = "bishop takez pawn on h7 with check"
when     = ["defender king on g9", 7]
requires = ["knigth-jump"]

[follow-ups]
knight-jump = "knight moves to g-file within three moves"
Queen_Lift  = "queen to h-file within 5 moves with check with mate"

[factors]
ready = "attacker queen reach"

[[example]]
fen  = "8/8/8/8/8/8/8/8 w - - 0 1"
line = "Bxh7+"
hit  = "yes"

[[example]]
fen  = "r1bq1rk1/pp1n1ppp/2n1p3/b2pP3/8/2PB1N2/PP3PPP/RNBQ1RK1 w - - 0 1"
line = "Bxh7+ Kxh7 Qh5"
"#;

#[test]
fn all_problems_of_all_files_are_shown_in_one_go() {
    let place = Place::new();
    place
        .write("wrong.toml", WRONG)
        .write("No Name.toml", "title = 3\noffer = \"x\"")
        .write("broken.toml", "title = \"a\nb = ");
    let ran = place.run(&[
        "queries",
        "check",
        "wrong.toml",
        "No Name.toml",
        "broken.toml",
        "knight-folow-up",
    ]);
    insta::assert_snapshot!(ran);
}

#[test]
fn file_on_disk_wins_over_a_built_in_query_of_its_name() {
    let place = Place::new();
    place.write(
        "queen-lift.toml",
        "title = \"mine\"\nchapter = \"queen\"\noffer = \"queen to h8\"\n",
    );
    let ran = place.run(&["queries", "show", "queen-lift"]);
    assert!(ran.out.contains("queen to h8"), "{ran}");
    let ran = Place::new().run(&["queries", "show", "queen-lift"]);
    assert!(ran.out.contains("bishop takes pawn on h7"), "{ran}");
}

#[test]
fn example_that_is_not_borne_out_is_told_with_its_line() {
    let place = Place::new();
    let source = "title = \"t\"\nchapter = \"bishop\"\noffer = \"bishop takes pawn on h7\"\n\n[[example]]\n\
        fen = \"r1bq1rk1/pp1n1ppp/2n1p3/b2pP3/8/2PB1N2/PP3PPP/RNBQ1RK1 w - - 0 1\"\nline = \"Ng5\"\nhit = true\n";
    place.write("my-query.toml", source);
    let ran = place.run(&["queries", "check", "my-query.toml"]);
    assert_eq!(ran.status, 1);
    let error = "error: `my-query`, example on line 7: no offer was found in `Ng5`: no move in it is \
                 `bishop takes pawn on h7`\n";
    assert_eq!(ran.err, error);
}

/// A query whose example states this verdict on an offer that gives up a bishop for a pawn, and more.
#[cfg(unix)]
fn stated(verdict: &str) -> Place {
    let place = Place::new();
    let source = format!(
        "title = \"t\"\nchapter = \"bishop\"\noffer = \"bishop takes pawn on h7\"\n\n[[example]]\n\
         fen = \"r1bq1rk1/pp1n1ppp/2n1p3/b2pP3/8/2PB4/PP3PPP/RNB2RK1 w - - 0 1\"\nline = \"Bxh7+ Kxh7\"\n\
         hit = true\nverdict = \"{verdict}\"\n"
    );
    place.write("my-query.toml", source);
    place
}

#[cfg(unix)]
#[test]
fn engine_decides_the_stated_verdicts_that_are_no_mates() {
    // By this engine who has more men scores eighty of a hundred, by the gloomy one who has fewer.
    for (verdict, fault, says) in [
        ("not sound", "chances", None),
        ("sound", "chances", Some("with the engine it is `last try`")),
        ("sound", "gloomy-chances", None),
        ("not sound", "gloomy-chances", Some("with the engine it is `sound`")),
        ("mates in 2", "gloomy-chances", Some("but the searches say `")),
    ] {
        let place = stated(verdict);
        let staged = crate::engines::Staged::new(fault);
        let engine = staged.program.path.to_str().unwrap();
        let ran = place.run(&["queries", "check", "my-query.toml", "--verify", "--engine", engine]);
        assert_eq!(ran.status, i32::from(says.is_some()), "{ran}");
        let told = ran.err.contains(&format!("example on line 7: it states `{verdict}`, but"));
        assert_eq!(told, says.is_some(), "{ran}");
        assert!(says.is_none_or(|says| ran.err.contains(says)), "{ran}");
    }
    let place = stated("sound");
    let ran = place.run(&["queries", "check", "my-query.toml", "--verify", "--engine", "./none"]);
    assert_eq!(ran.status, 1);
    assert!(ran.err.contains("`./none` can't be asked"), "{ran}");
}

#[test]
fn general_motifs_stand_before_their_forms() {
    let mut library = Library::new();
    library.add_built_in();
    let queries = library.queries().unwrap();
    assert_eq!(queries.len(), built_in_names().count());
    for (index, form) in queries.iter().enumerate() {
        let Some(name) = &form.form_of else { continue };
        let place = queries.iter().position(|query| query.name == *name).unwrap();
        let general = &queries[place];
        assert_eq!((general.chapter, &general.form_of), (form.chapter, &None), "{}", form.name);
        assert!(place < index, "{}", form.name);
        let between = &queries[place + 1..index];
        assert!(between.iter().all(|query| query.form_of == form.form_of), "{}", form.name);
    }
    assert!(queries.iter().filter(|query| query.form_of.is_some()).count() >= 3);
}

#[test]
fn names_of_the_trade_lead_to_a_query() {
    let meant = |name| hecatomb::query::meant(name, built_in_names().collect::<Vec<_>>());
    for (name, query) in [
        ("greek", "`bishop-takes-h7` (Greek gift)"),
        ("greek-gift", "`bishop-takes-h7` (Greek gift)"),
        ("greek-gitf", "`bishop-takes-h7` (Greek gift)"),
        ("Boden", "`queen-takes-c6-crossed-bishops` (Boden's mate)"),
        ("double-bishp", "`double-bishop`"),
    ] {
        assert_eq!(meant(name), Some(format!("did you mean {query}?")), "{name}");
    }
    assert_eq!(meant("zugzwang"), None);
    let several = meant("mate").unwrap();
    assert!(several.ends_with("have such a name: see `hecatomb queries list`"), "{several}");
    // Only a query that is there is meant.
    assert_eq!(hecatomb::query::meant("greek", ["double-bishop"]), None);

    let place = Place::new();
    let ran = place.run(&["queries", "list"]);
    assert!(ran.out.contains("also called classical bishop sacrifice, Greek gift"), "{ran}");
    let ran = place.run(&["queries", "show", "double-bishop"]);
    let told = "also called Lasker's double bishop sacrifice\nchapter bishop, wings both\n\
                a form of bishop-takes-h7\n";
    assert!(ran.out.contains(told), "{ran}");
}

#[test]
fn other_names_and_general_motifs_are_checked() {
    let place = Place::new();
    let checked = |extra: &str| {
        let text = format!(
            "title = \"t\"\nchapter = \"bishop\"\n{extra}\n\
             offer = \"bishop takes pawn on h7 with check\"\n"
        );
        place.write("mine.toml", &text);
        place.run(&["queries", "check", "mine.toml"])
    };
    let ran = checked("also-called = [\"One\", \"Two\"]\nform-of = \"bishop-takes-h7\"");
    assert_eq!(ran.status, 0, "{ran}");
    for (extra, message) in [
        ("also-called = \"One\"", "`also-called` must be a list of texts in [ ]"),
        ("also-called = [\"One\", \"One\"]", "`One` is said twice"),
        ("also-called = [\" One\"]", "a name is one line, with no blank before or after it"),
        ("also-called = [\"\"]", "a name is one line, with no blank before or after it"),
        ("form-of = \"mine\"", "a query can't be a form of itself"),
        ("form-of = \"Greek gift\"", "`Greek gift` can't be the name of a query"),
        ("form-of = \"bishop-takes-h9\"", "`mine` is a form of `bishop-takes-h9`"),
    ] {
        let ran = checked(extra);
        assert_eq!(ran.status, 1, "{ran}");
        assert!(ran.err.contains(message), "{ran}");
    }
}

/// A query of one offer, and what its slip is taken to mean.
fn meant_by(offer: &str, rest: &str) -> Option<String> {
    let source = format!("title = \"t\"\nchapter = \"any\"\noffer = \"{offer}\"\n{rest}");
    pattern(&source).query.slip().map(|slip| slip.meant)
}

#[test]
fn offer_told_as_black_makes_it_is_noted_with_what_it_would_be() {
    for (offer, rest, meant) in [
        ("rook takes knight on c3", "", "rook takes knight on c6"),
        ("bishop takes pawn on h2 with check", "", "bishop takes pawn on h7 with check"),
        ("knight takes on e3 or f2", "", "knight takes on e6 or f7"),
        ("pawn takes on b3 from 2nd rank", "", "pawn takes on b6 from 7th rank"),
        // The other king there shows that White's end is meant for the defender's.
        ("rook takes on h2", "when = [\"defender king on g1\"]", "rook takes on h7"),
    ] {
        assert_eq!(meant_by(offer, rest).as_deref(), Some(meant), "{offer}");
    }
    let place = Place::new();
    place.write(
        "slip.toml",
        "title = \"t\"\nchapter = \"rook\"\noffer = \"rook takes knight on c3\"\n",
    );
    let told = "`slip`: the offer `rook takes knight on c3` takes on the attacker's own side of the board: \
                squares are told as if White attacked, Black's offers as well\n\
                hint: if Black's offer there is meant, write `rook takes knight on c6`\n";
    for command in ["check", "show"] {
        let ran = place.run(&["queries", command, "slip.toml"]);
        assert_eq!((ran.status, &*ran.err), (0, told), "{command}");
    }
}

#[test]
fn what_is_meant_on_the_own_side_is_not_noted() {
    for (offer, rest) in [
        ("rook takes knight on c6", ""),
        ("king takes on g3", ""),
        ("rook moves to c3", ""),
        ("bishop to e2 with discovered check", ""),
        ("rook takes on c-file", ""),
        ("minor piece takes pawn on 2nd rank or 3rd rank", ""),
        ("rook takes on c3 or beside the king", ""),
        ("rook takes knight on d3", "when = [\"attacker king on g1 or h1\"]"),
        ("rook takes knight on d3", "[factors]\nshort = \"defender king on g8\""),
        ("rook takes knight on c6", "[follow-ups]\nback = \"defender pawn takes on c3\""),
    ] {
        assert_eq!(meant_by(offer, rest), None, "{offer} {rest}");
    }
    for Pattern { query, .. } in built_in() {
        assert_eq!(query.slip(), None, "{}", query.name);
    }
}
