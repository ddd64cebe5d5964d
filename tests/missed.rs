//! Overlooked offers: the most promising are judged first, a position and offer counts once, and only those are
//! shown that work and beat the move that was played instead.

use std::collections::BTreeSet;

use hecatomb::board::{legal_move, read_position};
use hecatomb::verdict::Scout;

use crate::engines::Staged;
use crate::support::{Place, Ran, Row};

/// The queries whose overlooked offers of the season are judged.
const QUERIES: [&str; 3] = ["bishop-takes-h7", "knight-follow-up", "knight-takes-f7"];

/// A run of the sample data that looked for overlooked offers.
fn mined() -> Place {
    let place = Place::new();
    let season = concat!(env!("CARGO_MANIFEST_DIR"), "/sample-data/season.pgn.zst");
    let queries = QUERIES.iter().flat_map(|query| ["--query", query]);
    let mine: Vec<&str> =
        ["mine", season, "--overlooked", "--limit", "300"].into_iter().chain(queries).collect();
    let ran = place.run(&mine);
    assert_eq!(ran.status, 0, "{ran}");
    place
}

fn verify(place: &Place, more: &[&str]) -> Ran {
    let verify = ["verify", "hecatomb-out", "--nodes=1000", "--overlooked"];
    let ran = place.run(&[&verify[..], more].concat());
    assert_eq!(ran.status, 0, "{ran}");
    ran
}

fn tables(place: &Place) -> Vec<String> {
    QUERIES.map(|query| place.read(&format!("hecatomb-out/verdicts/{query}.csv"))).to_vec()
}

/// A hit, and whether it is judged.
type Told = (Row, bool);

/// The hits of all queries.
fn told(place: &Place) -> Vec<Told> {
    let of_query = |query: &str| {
        let hits = place.rows(&format!("hits/{query}.csv"));
        let verdicts = place.rows(&format!("verdicts/{query}.csv"));
        hits.into_iter().zip(verdicts).map(|(hit, it)| (hit, !it["verdict"].is_empty())).collect()
    };
    QUERIES.iter().flat_map(|query| -> Vec<Told> { of_query(query) }).collect()
}

fn asked(hit: &Row) -> (String, String) {
    (hit["fen"].to_owned(), hit["offer"].to_owned())
}

#[test]
fn most_promising_offers_are_judged_first_whatever_the_threads() {
    let place = mined();
    verify(&place, &["--limit", "6", "--threads", "1"]);
    let first = tables(&place);
    verify(&place, &["--limit", "6", "--threads", "3", "--replace"]);
    assert_eq!(tables(&place), first);
    let hits = told(&place);
    assert!(hits.iter().all(|(hit, is_judged)| &hit["played"] == "false" || !is_judged));
    // Six positions and moves, in however many hits.
    let judged: BTreeSet<_> =
        hits.iter().filter(|(_, is_judged)| *is_judged).map(|(hit, _)| asked(hit)).collect();
    assert_eq!(judged.len(), 6);
    let mut scout = Scout::default();
    let mut promise = |(fen, san): &(String, String)| {
        let pos = read_position(fen).unwrap();
        scout.promise(&pos, legal_move(&pos, san).unwrap())
    };
    let all: BTreeSet<_> = hits
        .iter()
        .filter(|(hit, _)| &hit["played"] == "false")
        .map(|(hit, _)| asked(hit))
        .collect();
    assert!(all.len() > 20, "{}", all.len());
    let least = judged.iter().map(&mut promise).min().unwrap();
    assert!(all.difference(&judged).all(|other| promise(other) <= least));
    // A larger limit goes on as if it had been asked for at once.
    verify(&place, &["--limit", "11", "--resume"]);
    let gone_on = tables(&place);
    verify(&place, &["--limit", "11", "--replace"]);
    assert_eq!(tables(&place), gone_on);
}

#[test]
fn with_an_engine_the_order_does_not_depend_on_threads_or_interruptions() {
    let place = mined();
    let staged = Staged::new("weighs");
    let engine = ["--engine", staged.program.path.to_str().unwrap(), "--engine-nodes", "300"];
    let judge = |more: &[&str]| {
        verify(&place, &[&engine[..], more].concat());
        tables(&place)
    };
    let first = judge(&["--limit", "5", "--threads", "1"]);
    assert_eq!(judge(&["--limit", "5", "--threads", "2", "--replace"]), first);
    let gone_on = judge(&["--limit", "9", "--resume"]);
    assert_eq!(judge(&["--limit", "9", "--replace"]), gone_on);
    let all = judge(&["--resume"]);
    let judged: Vec<bool> = told(&place).iter().map(|(_, is_judged)| *is_judged).collect();
    let overlooked: Vec<bool> =
        told(&place).iter().map(|(hit, _)| &hit["played"] == "false").collect();
    assert_eq!(judged, overlooked);
    assert_eq!(judge(&["--replace", "--threads", "3"]), all);
}

#[test]
fn sample_is_drawn_among_offers_that_were_made_or_among_the_others() {
    let place = mined();
    for (more, made) in [(&[][..], "true"), (&["--overlooked"], "false")] {
        let sample = ["verify", "hecatomb-out", "--nodes=1000", "--replace", "--sample", "7"];
        let ran = place.run(&[&sample[..], more].concat());
        assert_eq!(ran.status, 0, "{ran}");
        let hits = told(&place);
        let judged: Vec<&Row> = hits.iter().filter(|(_, it)| *it).map(|(hit, _)| hit).collect();
        assert!(judged.iter().all(|hit| &hit["played"] == made), "{more:?}");
        let offers: BTreeSet<_> = judged.into_iter().map(asked).collect();
        assert_eq!(offers.len(), 7, "{more:?}");
    }
}

#[test]
fn mate_seen_at_a_glance_promises_more_than_a_loss() {
    let mut scout = Scout::default();
    let mut promise = |fen: &str, san: &str| {
        let pos = read_position(fen).unwrap();
        scout.promise(&pos, legal_move(&pos, san).unwrap())
    };
    let smothered = "5r1k/6pp/7N/8/2Q5/8/6PP/6K1 w - - 0 1";
    let (mates, loses) = (promise(smothered, "Qg8+"), promise(smothered, "Qf7"));
    assert!(mates > loses + 500, "{mates} {loses}");
}

/// A game in which White, after Black's first move, could have given the queen and mated, and played something
/// else; what the comments say after each of these moves.
fn missed(before: &str, after: &str) -> Place {
    missed_by(
        &[("one", "queen to g8", ""), ("other", "queen to g8 with check", "")],
        (before, after),
    )
}

/// The same, looked for by queries of these names, offers and further lines.
fn missed_by(queries: &[(&str, &str, &str)], (before, after): (&str, &str)) -> Place {
    let place = Place::new();
    for (name, offer, more) in queries {
        let query = format!(
            "title = \"t\"\nchapter = \"queen\"\noffer = \"{offer} giving up 1 or more\"\n{more}"
        );
        place.write(&format!("{name}.toml"), query);
    }
    let fen = "[Event \"?\"]\n[White \"Alder, Tom\"]\n[Black \"Birch, Ida\"]\n[SetUp \"1\"]\n\
               [FEN \"4r2k/6pp/7N/8/2Q5/8/6PP/6K1 b - - 0 1\"]\n\n";
    place.write("games.pgn", format!("{fen}1... Rf8 {before} 2. h3 {after} g5 *\n"));
    let files: Vec<String> = queries.iter().map(|(name, ..)| format!("{name}.toml")).collect();
    let queries = files.iter().flat_map(|file| ["--query", file]);
    let mine = ["mine", "games.pgn", "--overlooked"];
    let ran = place.run(&mine.into_iter().chain(queries).collect::<Vec<_>>());
    assert_eq!(ran.status, 0, "{ran}");
    place
}

#[test]
fn chance_of_a_motif_goes_on_as_the_motif_requires() {
    let sentences = "[follow-ups]\nmates = \"knight to f7 with mate\"\n\
                     takes = \"defender rook takes queen on g8\"\nlater = \"queen to a1\"\n";
    let of = |requires: &str| format!("requires = [{requires}]\n{sentences}");
    let more = [
        ("mates", of("\"takes then mates\"")),
        ("stays", of("\"no later\", \"mates or later\"")),
        ("takes", of("\"no takes\"")),
        ("late", of("\"mates then takes\"")),
        ("plain", sentences.to_owned()),
    ];
    let queries: Vec<_> = more.iter().map(|(name, more)| (*name, "queen to g8", &**more)).collect();
    let place = missed_by(&queries, ("", ""));
    verify(&place, &[]);
    let fits = |name: &str| {
        let rows = place.rows(&format!("verdicts/{name}.csv"));
        assert_eq!(&rows[0]["best_line"], "Rxg8 Nf7#", "{name}");
        rows[0]["line_fits"].to_owned()
    };
    let told = more.each_ref().map(|(name, _)| fits(name));
    assert_eq!(told, ["true", "true", "false", "false", ""]);
    let rows = shown(&place);
    assert!(rows.len() == 1 && rows[0].contains(",mates plain stays,"), "{rows:?}");
}

/// The rows that are shown of chances that nobody took, without the heading.
fn shown(place: &Place) -> Vec<String> {
    let ran = place.run(&["tally", "hecatomb-out", "--overlooked", "--format", "csv"]);
    assert_eq!(ran.status, 0, "{ran}");
    ran.out.lines().skip(1).map(str::to_owned).collect()
}

#[test]
fn chance_that_fits_several_queries_is_one_row() {
    let place = missed("", "");
    let unverified = place.run(&["tally", "hecatomb-out", "--overlooked"]);
    assert_eq!(unverified.status, 1);
    assert!(unverified.err.contains("`hecatomb verify DIR` adds it"), "{unverified}");
    let ran = verify(&place, &[]);
    assert!(ran.out.contains("2 hits are chances that work and nobody took"), "{ran}");
    let fen = "5r1k/6pp/7N/8/2Q5/8/6PP/6K1 w - - 1 2";
    let row =
        format!("2.Qg8+,h3,,proved,\"Alder, Tom\",\"Birch, Ida\",1,1,games.pgn,one other,{fen}");
    assert_eq!(shown(&place), [row]);
}

#[test]
fn chance_is_shown_only_if_it_beats_the_move_that_was_played() {
    // Nine pawns to the good are 99 points of a hundred, a draw is 50.
    for (before, after, loss) in [
        ("{ [%eval 9.0] }", "{ [%eval 8.5] }", None),
        ("{ [%eval 9.0] }", "{ [%eval 0.0] }", Some("49.4")),
        ("{ [%eval #2] }", "{ [%eval 0.0] }", Some("50")),
        ("", "{ [%eval 9.0] }", Some("")),
    ] {
        let place = missed(before, after);
        verify(&place, &[]);
        let rows = shown(&place);
        let told: Vec<&str> = rows.iter().filter_map(|row| row.split(',').nth(2)).collect();
        assert_eq!(told, loss.into_iter().collect::<Vec<_>>(), "{before} {after}");
        let find =
            ["exercises", "hecatomb-out", "--kind", "find", "--count", "1", "--format", "epd"];
        let find = place.run(&[&find[..], &["-o", "-"]].concat());
        assert_eq!(find.out.contains("Qg8"), loss.is_some(), "{find}");
    }
}

#[test]
fn engine_tells_what_the_move_that_was_played_is_worth() {
    // By its own chances who has more men scores eighty of a hundred; by the gloomy ones twenty.
    for (fault, expected) in [("chances", "80"), ("gloomy-chances", "20")] {
        let place = missed("{ [%eval 9.0] }", "{ [%eval 9.0] }");
        let staged = Staged::new(fault);
        verify(&place, &["--engine", staged.program.path.to_str().unwrap()]);
        let rows = place.rows("verdicts/one.csv");
        assert_eq!((&rows[0]["expected_after"], &rows[0]["expected_instead"]), ("100", expected));
        assert_eq!(shown(&place).len(), 1, "the engine's word counts, not the game's");
    }
}
