//! What the sample data promises.

use std::collections::BTreeSet;

use hecatomb::collection::Scan;

use crate::support::{Place, Row, season};

/// The rows of a query's hits in the sample data.
fn hits(place: &Place, query: &str) -> Vec<Row> {
    place.rows(&format!("hits/{query}.csv"))
}

#[test]
fn every_query_has_hits_of_every_kind_in_the_sample_data() {
    let place = Place::new();
    let sample_data = concat!(env!("CARGO_MANIFEST_DIR"), "/sample-data");
    let ran = place.run(&["mine", sample_data, "--every-sacrifice", "--audit", "--quiet"]);
    assert_eq!(ran.status, 0, "{ran}");
    assert!(place.rows("rejects.csv").is_empty());
    let games: u64 =
        place.rows("collection.csv").iter().map(|row| row["games"].parse::<u64>().unwrap()).sum();
    assert!(games >= 150, "{games} games");
    let mut kinds = BTreeSet::new();
    for query in hecatomb::query::built_in_names() {
        let rows = hits(&place, query);
        assert!(rows.len() >= 3, "{query}");
        // A motif of the library names only what gives something up.
        assert!(rows.iter().all(|row| &row["cost"] != "0"), "{query}");
        kinds.extend(rows.iter().map(|row| row["kind"].to_owned()));
    }
    assert!(kinds.iter().eq(["declined", "desperado", "real", "sham"]), "{kinds:?}");
    let rows = hits(&place, "bishop-takes-h7");
    let any = |column: &str, value: &str| rows.iter().any(|row| &row[column] == value);
    for (column, value) in [
        ("score", "1"),
        ("score", "0.5"),
        ("score", "0"),
        ("accepted", "true"),
        ("accepted", "false"),
        ("kind", "sham"),
        ("kind", "real"),
        ("side", "white"),
        ("side", "black"),
        ("wing", "mirrored"),
    ] {
        assert!(any(column, value), "no hit has {column} = {value}");
    }
}

#[test]
fn no_two_games_of_the_season_start_alike_and_some_have_comments() {
    let text = String::from_utf8(season()).unwrap();
    let mut starts = BTreeSet::new();
    let games = text.split("\n\n").filter(|part| part.starts_with("1. "));
    for movetext in games {
        let mut scan = Scan::new();
        scan.read(movetext.as_bytes()).unwrap();
        let moves = scan.moves.iter().take(14);
        let start: Vec<Vec<u8>> =
            moves.map(|token| token.text(movetext.as_bytes()).to_vec()).collect();
        assert!(starts.insert(start), "{movetext}");
    }
    assert_eq!(starts.len(), 640);
    for comment in ["{ [%eval ", "{ [%clk "] {
        let annotated = text.split("\n\n").filter(|part| part.contains(comment)).count();
        assert!(annotated >= 30, "{comment}: {annotated}");
    }
}
