//! A verdict says how it is known: by proof, by an engine, by the game's comments, by a count; each in its
//! place, and what contradicts a proof is told.

use std::collections::BTreeSet;

use crate::engines::Staged;
use crate::support::{OFFER_GAME, Place, Ran, Row, game, hecatomb, season};

const TABLE: &str = "verdicts/bishop-takes-h7.csv";
const FEW: &str = "--nodes=1000";

/// A run of games by these queries.
fn mined(games: &str, queries: &[&str]) -> Place {
    let place = Place::new();
    place.write("games.pgn", games);
    let queries: Vec<&str> = queries.iter().flat_map(|query| ["--query", query]).collect();
    let ran = place.run(&[&["mine", "games.pgn", "--keep-duplicates"], &queries[..]].concat());
    assert_eq!(ran.status, 0, "{ran}");
    place
}

fn one_offer() -> Place {
    mined(&game("Alder, Tom", "Birch, Ida"), &["bishop-takes-h7"])
}

/// Verifies with a peer that misbehaves like that.
fn verified(place: &Place, fault: &str, options: &[&str]) -> Ran {
    let staged = Staged::new(fault);
    let engine = staged.program.path.to_str().unwrap();
    place.run(&[&["verify", "hecatomb-out", FEW, "--engine", engine], options].concat())
}

fn only_row(place: &Place, table: &str) -> Row {
    let mut rows = place.rows(table);
    assert_eq!(rows.len(), 1);
    rows.remove(0)
}

fn number(row: &Row, column: &str) -> f64 {
    row[column].parse().unwrap_or_else(|_| panic!("{column} is `{}`", &row[column]))
}

#[test]
fn engine_judges_against_the_best_other_move_and_explains_the_verdict() {
    let place = one_offer();
    let ran = verified(&place, "gloomy-chances", &[]);
    assert_eq!(ran.status, 0, "{ran}");
    let row = only_row(&place, TABLE);
    // The peer counts men: after the offer White has taken a pawn, of which this peer thinks little; with
    // another move all is even.
    assert_eq!((&row["sound"], &row["evidence"]), ("no", "judged"));
    let expected = ["expected_before", "expected_after", "expected_best", "loss"];
    assert_eq!(expected.map(|column| number(&row, column)), [50.0, 20.0, 50.0, 30.0]);
    assert_eq!((&row["contradicted"], &row["is_best"]), ("false", "false"));
    assert_eq!((&row["better"], &row["better_verdict"]), (&row["engine_instead"], ""));
    assert_eq!(
        (&row["best_reply"], &row["best_line"]),
        (&row["engine_reply"], &row["engine_line"])
    );
    assert!(ran.out.contains("1 of 1 hit decided: 1 judged"), "{ran}");
    assert!(!ran.out.contains("for want of an engine"), "{ran}");
}

#[test]
fn engine_without_figures_of_its_own_is_read_by_the_published_curve() {
    for fault in ["none", "nonsense-chances"] {
        let place = one_offer();
        assert_eq!(verified(&place, fault, &[]).status, 0);
        let row = only_row(&place, TABLE);
        // A pawn up, 1 / (1 + 10^(-1 / 4)) of a hundred, and even.
        let figures = ["expected_after", "expected_best"].map(|column| number(&row, column));
        assert_eq!((figures, &row["sound"]), ([64.0, 50.0], "yes"), "{fault}");
    }
}

#[test]
fn engine_looks_again_where_few_points_decide() {
    // 59 points would hold and 60 are sound; 45 and 50 hold either way.
    for (first, after, sound) in
        [(59, 70.0, "yes"), (61, 70.0, "yes"), (45, 45.0, "holds"), (50, 50.0, "holds")]
    {
        let place = one_offer();
        let fault = format!("chances-at-first-{first}");
        let ran = verified(&place, &fault, &["--engine-nodes=1000"]);
        assert_eq!(ran.status, 0, "{ran}");
        let row = only_row(&place, TABLE);
        assert_eq!((number(&row, "expected_after"), &row["sound"]), (after, sound), "{fault}");
    }
}

#[test]
fn verdicts_with_one_look_alone_are_not_resumed() {
    let place = one_offer();
    assert_eq!(verified(&place, "none", &[]).status, 0);
    let terms = place.read("hecatomb-out/verdicts/terms.json");
    assert!(terms.contains("\"second_look\": 4,"), "{terms}");
    place.write("hecatomb-out/verdicts/terms.json", terms.replace("\"second_look\": 4,", ""));
    let ran = verified(&place, "none", &["--resume"]);
    assert_eq!(ran.status, 1, "{ran}");
    assert!(ran.err.contains("made with other options or another version"), "{ran}");
}

#[test]
fn tables_of_a_judged_run_are_the_same_whatever_the_threads_and_the_format() {
    let tally = |format: &str, threads: &str| {
        let place = Place::new();
        let games: String =
            (0..6).map(|number| game(&format!("Alder {number}, Tom"), "Birch, Ida")).collect();
        place.write("games.pgn", games);
        let mine = ["mine", "games.pgn", "--query", "bishop-takes-h7", "--table", format];
        assert_eq!(place.run(&mine).status, 0);
        assert_eq!(verified(&place, "chances", &["--threads", threads]).status, 0);
        let columns = "sound,evidence,expected_before,expected_after,expected_best,loss,\
                       contradicted,better,best_line";
        let ran = place.run(&["tally", "hecatomb-out", "--by", columns, "--format", "csv"]);
        assert_eq!(ran.status, 0, "{ran}");
        ran.out
    };
    let csv = tally("csv", "1");
    assert!(csv.contains("yes,judged,80,80,50,0,false,"), "{csv}");
    for (format, threads) in [("csv", "2"), ("jsonl", "2"), ("parquet", "1")] {
        assert_eq!(tally(format, threads), csv, "{format}");
    }
}

#[test]
fn each_position_and_offer_is_judged_once_for_all_queries() {
    // After twelve searches this peer says no more what it thinks; an offer takes two.
    let games: String =
        (0..8).map(|number| game(&format!("Alder {number}, Tom"), "Birch, Ida")).collect();
    let place = mined(&games, &["bishop-takes-h7", "knight-follow-up"]);
    let ran = verified(&place, "weary", &["--threads", "1"]);
    assert_eq!((ran.status, &*ran.err), (0, ""), "{ran}");
    for query in ["bishop-takes-h7", "knight-follow-up"] {
        let rows = place.rows(&format!("verdicts/{query}.csv"));
        assert_eq!(rows.len(), 8);
        assert!(
            rows.iter().all(|row| &row["evidence"] == "judged" && row["engine_fault"].is_empty())
        );
    }
}

#[test]
fn engine_may_be_named_in_the_environment() {
    let place = one_offer();
    let staged = Staged::new("chances");
    let mut command = hecatomb(place.path(), &["verify", "hecatomb-out", FEW]);
    let ran = Ran::from(command.env("HECATOMB_ENGINE", &staged.program.path).output().unwrap());
    assert_eq!(ran.status, 0, "{ran}");
    assert_eq!(&only_row(&place, TABLE)["evidence"], "judged");
}

#[test]
fn without_an_engine_the_summary_tells_what_stays_open_and_how_to_name_one() {
    let place = losing_capture();
    let ran = place.run(&["verify", "hecatomb-out", FEW]);
    assert_eq!(ran.status, 0, "{ran}");
    assert!(ran.out.contains("1 of 1 hit decided: 1 proved"), "{ran}");
    assert!(!ran.out.contains("for want of an engine"), "{ran}");
    let place = one_offer();
    let ran = place.run(&["verify", "hecatomb-out", FEW]);
    let row = only_row(&place, TABLE);
    assert_eq!((&row["sound"], &row["evidence"]), ("open", ""), "{ran}");
    let told = "1 hit stays open for want of an engine: name one with --engine PROGRAM or in";
    assert!(ran.out.replace('\n', " ").contains(told), "{ran}");
}

/// White is a queen for a rook up, takes a pawn, and is mated on the back rank.
const BACK_RANK: &str = "3r2k1/p4ppp/8/8/8/8/5PPP/Q5K1 w - - 0 1";

/// A run of a game with that.
fn losing_capture() -> Place {
    let place = Place::new();
    place.write(
        "takes-a7.toml",
        "title = \"Taking on a7\"\nchapter = \"queen\"\noffer = \"queen takes pawn on a7\"\n",
    );
    let tags = "[White \"Alder, Tom\"]\n[Black \"Birch, Ida\"]\n[Result \"0-1\"]\n[SetUp \"1\"]";
    place.write("games.pgn", format!("{tags}\n[FEN \"{BACK_RANK}\"]\n\n1. Qxa7 Rd1# 0-1\n\n"));
    let ran = place.run(&["mine", "games.pgn", "--query", "takes-a7.toml"]);
    assert_eq!(ran.status, 0, "{ran}");
    place
}

#[test]
fn evaluations_of_the_game_speak_where_nothing_stronger_is_known() {
    let commented = OFFER_GAME
        .replace("7. h4 c5", "7. h4 c5 { [%eval 0.50] }")
        .replace("8. Bxh7+", "8. Bxh7+ { [%eval -3.00] }");
    let games = game("Alder, Tom", "Birch, Ida").replace(OFFER_GAME, &commented);
    let place = mined(&games, &["bishop-takes-h7"]);
    let ran = place.run(&["verify", "hecatomb-out", FEW]);
    let row = only_row(&place, TABLE);
    assert_eq!((&row["sound"], &row["evidence"]), ("no", "from game"), "{ran}");
    // By the published curve, computed apart.
    let expected = ["expected_before", "expected_after", "loss"];
    assert_eq!(expected.map(|column| number(&row, column)), [57.1, 15.1, 42.0]);
    assert_eq!(&row["expected_best"], "");
    // An engine's judgement is stronger.
    assert_eq!(verified(&place, "chances", &["--replace"]).status, 0);
    assert_eq!(&only_row(&place, TABLE)["evidence"], "judged");
}

#[test]
fn what_contradicts_a_proof_is_kept_and_told() {
    let staged = Staged::new("chances");
    let place = Place::new();
    let engine = staged.program.path.to_str().unwrap();
    let one = ["verify", "--fen", BACK_RANK, "--offer", "Qxa7", "--engine", engine];
    let ran = place.run(&one);
    assert_eq!(ran.status, 0, "{ran}");
    // White is four pawns up by the peer's count, and mated in one.
    let told = "Qxa7: not sound, proved: mated in 1; the engine contradicts the proof\n";
    assert!(ran.out.starts_with(told), "{ran}");
    // Without a proof against it, the engine's word stands.
    let ran = place.run(&[&one[..4], &["f3"], &one[5..]].concat());
    assert!(ran.out.contains("judged") && !ran.out.contains("contradicts"), "{ran}");
    assert!(ran.out.contains("of a hundred points"), "{ran}");
}

#[test]
fn contradictions_are_counted_in_the_summary() {
    let place = losing_capture();
    let ran = verified(&place, "chances", &[]);
    assert_eq!(ran.status, 0, "{ran}");
    let row = only_row(&place, "verdicts/takes-a7.csv");
    let told = ["sound", "evidence", "contradicted"].map(|column| row[column].to_owned());
    assert_eq!(told, ["no", "proved", "true"]);
    assert!(ran.out.contains("on 1 hit a proof and the engine contradict each other"), "{ran}");
}

#[test]
fn cells_that_do_not_fit_the_figures_are_noticed() {
    let place = one_offer();
    assert_eq!(verified(&place, "chances", &[]).status, 0);
    let table = format!("hecatomb-out/{TABLE}");
    let text = place.read(&table);
    let wrong = text.replace(",yes,judged,", ",holds,judged,");
    assert_ne!(text, wrong);
    place.write(&table, &wrong);
    let ran = place.run(&["tally", "hecatomb-out", "--by", "sound", "--edited"]);
    assert_eq!(ran.status, 1, "{ran}");
    assert!(ran.err.contains("`holds` is not what"), "{ran}");
}

#[test]
fn tables_tell_where_a_count_ends_why_it_is_open_and_who_draws() {
    let place = Place::new();
    place.write("season.pgn", season());
    let queries = ["bishop-takes-h7", "rook-takes-g7"];
    let named = queries.iter().flat_map(|query| ["--query", query]);
    let mine: Vec<&str> = ["mine", "season.pgn", "--quiet"].into_iter().chain(named).collect();
    assert_eq!(place.run(&mine).status, 0);
    assert_eq!(place.run(&["verify", "hecatomb-out", "--nodes=30000", "--quiet"]).status, 0);
    let mut met = BTreeSet::new();
    for query in queries {
        let hits = place.rows(&format!("hits/{query}.csv"));
        let verdicts = place.rows(&format!("verdicts/{query}.csv"));
        for (hit, row) in hits.iter().zip(&verdicts) {
            let is_counted = !row["balance"].is_empty();
            let ends = is_counted.then(|| number(hit, "balance_before") + number(row, "balance"));
            assert_eq!(ends, is_counted.then(|| number(row, "count_end")), "{}", &row["id"]);
            // Every open count says why, and nothing else does.
            let is_open = &row["verdict"] == "open";
            assert_eq!(is_counted && is_open, is_counted && !row["why_open"].is_empty());
            assert!(is_open || row["why_open"].is_empty(), "{}", &row["id"]);
            assert_eq!(&row["verdict"] == "draws", !row["drawn_by"].is_empty(), "{}", &row["id"]);
            met.insert(row["why_open"].to_owned());
        }
    }
    assert!(met.len() > 2, "{met:?}");
}
