//! Runs that are read together: each once, of the same queries, and no offer counted twice.

use crate::support::{Place, game};

const QUERY: [&str; 2] = ["--query", "knight-follow-up"];

fn mine(place: &Place, arguments: &[&str]) {
    let ran = place.run(&[&["mine", "--quiet"], arguments].concat());
    assert_eq!(ran.status, 0, "{ran}");
}

/// The hits, and the games searched, of a tally.
fn counted(place: &Place, runs: &[&str]) -> (u64, u64, String) {
    let ran = place.run(&[&["tally", "--format", "json"], runs].concat());
    assert_eq!(ran.status, 0, "{ran}");
    let rows: serde_json::Value = serde_json::from_str(&ran.out).unwrap();
    let number = |name: &str| rows[0][name].as_u64().unwrap();
    (number("hits"), number("games"), ran.err)
}

#[test]
fn one_run_is_not_counted_twice() {
    let place = Place::new();
    place.write("games.pgn", game("Alder, Tom", "Birch, Ida"));
    mine(&place, &[&["games.pgn", "--out", "a"], &QUERY[..]].concat());
    let mut others = vec!["a", "./a", "a/../a"];
    #[cfg(unix)]
    {
        std::os::unix::fs::symlink(place.path().join("a"), place.path().join("link")).unwrap();
        others.push("link");
    }
    for other in others {
        for command in [
            &["tally", "a", other][..],
            &["lesson", "a", other, "--query", "knight-follow-up"],
            &["exercises", "a", other, "--kind", "find"],
        ] {
            let ran = place.run(command);
            assert_eq!((ran.status, &*ran.out), (1, ""), "{ran}");
            let says = format!(
                "error: `{other}`: this is the run in `a` again\nhint: name each run once\n"
            );
            assert_eq!(ran.err, says);
        }
    }
}

#[test]
fn copy_of_a_run_is_not_counted_beside_it() {
    let place = Place::new();
    place.write("games.pgn", game("Alder, Tom", "Birch, Ida"));
    for out in ["a", "b"] {
        mine(&place, &[&["games.pgn", "--out", out], &QUERY[..]].concat());
    }
    let ran = place.run(&["tally", "a", "b"]);
    assert_eq!((ran.status, &*ran.out), (1, ""), "{ran}");
    assert_eq!(ran.err, "error: `b`: this is a copy of the run in `a`\nhint: name one of them\n");
}

/// Two collections with games in common, under other file names, with given names written in another way
/// and a round that only one of them knows.
#[test]
fn hits_of_games_in_several_runs_are_counted_once() {
    let place = Place::new();
    let common = game("Cedar, Jo", "Dogwood, Al");
    let copy = common.replace("Cedar, Jo", "Cedar, J.").replace("[Round \"1\"]", "[Round \"?\"]");
    assert_ne!(copy, common);
    place.write("one.pgn", game("Alder, Tom", "Birch, Ida") + &common);
    // The same moves by other players, on another day, or longer, are other games.
    let another_day = common.replace("2031.03.04", "2031.03.05");
    let longer = common.replace("12. g6", "12. g6 Nxe5 13. dxe5 fxe5");
    place.write("two.pgn", game("Elm, Kit", "Fir, Lou") + &copy + &another_day + &longer);
    for (games, out) in [("one.pgn", "a"), ("two.pgn", "b")] {
        mine(&place, &[&[games, "--out", out, "--keep-duplicates"], &QUERY[..]].concat());
    }
    assert_eq!(counted(&place, &["a"]), (2, 2, String::new()));
    assert_eq!(counted(&place, &["b"]), (4, 4, String::new()));
    for runs in [["a", "b"], ["b", "a"]] {
        let (hits, games, says) = counted(&place, &runs);
        // The base rates count every copy, and the note says so.
        assert_eq!((hits, games), (5, 6));
        assert!(says.starts_with("left out: 1 hit of games that an earlier run holds"), "{says}");
        assert!(says.contains("still count such games in every run"), "{says}");
    }
    let lesson = ["lesson", "a", "b", "--query", "knight-follow-up", "--nodes=2000"];
    let ran = place.run(&lesson);
    assert_eq!(ran.status, 0, "{ran}");
    assert!(ran.err.contains("left out: 1 hit"), "{ran}");
    assert!(place.read("knight-follow-up.html").contains("the move was made 5 times"));
}

/// Copies that were kept within a run stay, and what earlier runs hold is left out as often as it comes.
#[test]
fn copies_within_a_run_are_not_left_out() {
    let place = Place::new();
    let (one, other) = (game("Alder, Tom", "Birch, Ida"), game("Cedar, Jo", "Dogwood, Al"));
    place.write("one.pgn", one.repeat(3)).write("two.pgn", one.repeat(2) + &other.repeat(2));
    for (games, out) in [("one.pgn", "a"), ("two.pgn", "b")] {
        mine(&place, &[&[games, "--out", out, "--keep-duplicates"], &QUERY[..]].concat());
    }
    let (hits, games, says) = counted(&place, &["a", "b"]);
    assert_eq!((hits, games), (5, 7));
    assert!(says.starts_with("left out: 2 hits"), "{says}");
}

#[test]
fn different_queries_of_one_name_are_not_mixed() {
    let place = Place::new();
    place.write("games.pgn", game("Alder, Tom", "Birch, Ida"));
    let query = |square: &str| {
        format!(
            "title = \"t\"\nchapter = \"bishop\"\noffer = \"bishop takes pawn on {square} with check\"\n"
        )
    };
    let mut hashes = Vec::new();
    for (square, out) in [("h7", "a"), ("h7 or g7", "b"), ("h7", "c")] {
        place.write("gift.toml", query(square));
        // The same games by another name, since a copy of a run is refused for that alone.
        let games = format!("{out}.pgn");
        place.write(&games, place.read("games.pgn"));
        mine(&place, &[&*games, "--query", "gift.toml", "--out", out]);
        let manifest: serde_json::Value =
            serde_json::from_str(&place.read(&format!("{out}/run.json"))).unwrap();
        hashes.push(manifest["queries"][0]["sha256"].as_str().unwrap()[..8].to_owned());
    }
    for command in [
        &["tally", "a", "b"][..],
        &["lesson", "a", "b", "--query", "gift.toml"],
        &["exercises", "a", "b", "--kind", "find"],
    ] {
        let ran = place.run(command);
        assert_eq!((ran.status, &*ran.out), (1, ""), "{ran}");
        let says = format!(
            "error: `gift` is not the same query in `a` ({}) as in `b` ({})\nhint: mine one of them \
             again with the query of the other, or read them one by one\n",
            hashes[0], hashes[1]
        );
        assert!(ran.err.ends_with(&says), "{ran}");
    }
    assert_eq!(counted(&place, &["a", "c"]).0, 1);
}
