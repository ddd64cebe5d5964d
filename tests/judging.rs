//! Judging some of many: the first, some drawn by lot, the most promising; what was judged stays, and more
//! can be judged later.

use std::io::{BufRead, BufReader};
use std::process::Stdio;
use std::time::Duration;

use crate::engines::Staged;
use crate::support::{Place, Ran, game, game_from_move, hecatomb, interrupt};

const FEW: &str = "--nodes=3000";
const BISHOP: &str = "bishop-takes-h7";
const QUERIES: [&str; 2] = [BISHOP, "knight-follow-up"];

/// A run of games that begin with different move numbers, so that each position is another one; two queries
/// find the offer of each.
fn mined(games: usize) -> Place {
    let place = Place::new();
    let games: Vec<String> = (0..games)
        .map(|index| game_from_move(21 + index, &format!("Alder, Tom {index}"), "Birch, Ida"))
        .collect();
    place.write("games.pgn", games.join("\n"));
    let queries = QUERIES.iter().flat_map(|query| ["--query", query]);
    let mine: Vec<&str> =
        ["mine", "games.pgn", "--keep-duplicates"].into_iter().chain(queries).collect();
    let ran = place.run(&mine);
    assert_eq!(ran.status, 0, "{ran}");
    place
}

fn verify(place: &Place, more: &[&str]) -> Ran {
    place.run(&[&["verify", "hecatomb-out", FEW], more].concat())
}

fn done(place: &Place, more: &[&str]) -> Ran {
    let ran = verify(place, more);
    assert_eq!(ran.status, 0, "{ran}");
    ran
}

/// Which hits of a query are judged, by their place.
fn judged(place: &Place, query: &str) -> Vec<usize> {
    let rows = place.rows(&format!("verdicts/{query}.csv"));
    let judged = rows.iter().enumerate().filter(|(_, row)| !row["verdict"].is_empty());
    judged.map(|(index, _)| index).collect()
}

fn tables(place: &Place) -> Vec<String> {
    QUERIES.map(|query| place.read(&format!("hecatomb-out/verdicts/{query}.csv"))).to_vec()
}

#[test]
fn first_offers_are_judged_and_a_larger_limit_goes_on() {
    let place = mined(6);
    let ran = done(&place, &["--limit", "2"]);
    assert!(ran.out.contains("4 of 12 hits judged; --resume judges more"), "{ran}");
    // Each position and move counts once, in whatever hits it is.
    for query in QUERIES {
        assert_eq!(judged(&place, query), [0, 1], "{query}");
    }
    // What was not judged is not known.
    let by_sound = ["tally", "hecatomb-out", "--query", BISHOP, "--by", "sound", "--format", "csv"];
    let tally = place.run(&by_sound);
    assert_eq!(tally.status, 0, "{tally}");
    assert!(tally.out.lines().any(|line| line.starts_with("bishop-takes-h7,?,")), "{tally}");
    // Neither overwritten nor taken for whole unasked.
    for more in [&["--limit", "4"][..], &[]] {
        let ran = verify(&place, more);
        assert_eq!((ran.status, &*ran.out), (1, ""), "{ran}");
        assert!(ran.err.contains("are on some of its hits only"), "{ran}");
        assert!(ran.err.contains("hint: judge more with --resume"), "{ran}");
    }
    done(&place, &["--limit", "4", "--resume"]);
    assert_eq!(judged(&place, BISHOP), [0, 1, 2, 3]);
    let ran = done(&place, &["--resume"]);
    assert!(!ran.out.contains("judges more"), "{ran}");
    let gone_on = tables(&place);
    done(&place, &["--replace"]);
    assert_eq!(tables(&place), gone_on);
}

#[test]
fn drawn_offers_are_the_same_for_the_same_seed_and_a_larger_sample_goes_on() {
    let place = mined(9);
    let sample = |more: &[&str]| {
        done(&place, more);
        // One drawing over all queries.
        let drawn = judged(&place, BISHOP);
        assert_eq!(judged(&place, "knight-follow-up"), drawn);
        (drawn, tables(&place))
    };
    let first = sample(&["--sample", "3", "--seed", "7", "--threads", "1"]);
    assert_eq!(first.0.len(), 3);
    assert_eq!(sample(&["--sample", "3", "--seed", "7", "--threads", "3", "--replace"]), first);
    let others =
        (1..9).map(|seed| sample(&["--sample", "3", "--seed", &seed.to_string(), "--replace"]).0);
    assert!(others.collect::<std::collections::BTreeSet<_>>().len() > 2, "seeds draw differently");
    sample(&["--sample", "3", "--seed", "7", "--replace"]);
    let more = sample(&["--sample", "6", "--seed", "7", "--resume"]);
    assert!(more.0.len() == 6 && first.0.iter().all(|one| more.0.contains(one)), "{more:?}");
    assert_eq!(sample(&["--sample", "6", "--seed", "7", "--replace"]), more);
}

#[test]
fn queries_of_a_chapter_are_judged_alone() {
    let place = mined(1);
    let ran = verify(&place, &["--chapter", "queen"]);
    assert_eq!(ran.status, 1);
    assert!(ran.err.contains("no query of that chapter"), "{ran}");
    done(&place, &["--chapter", "bishop", "--query", BISHOP]);
    assert!(!place.path().join("hecatomb-out/verdicts/knight-follow-up.csv").exists());
    assert_eq!(judged(&place, BISHOP), [0]);
}

#[cfg(unix)]
#[test]
fn interrupted_part_keeps_what_was_judged_and_goes_on() {
    let place = mined(8);
    let arguments = ["verify", "hecatomb-out", "--nodes=300000", "--threads=1", "--sample=8"];
    let child = hecatomb(place.path(), &arguments).stderr(Stdio::piped()).spawn().unwrap();
    std::thread::sleep(Duration::from_millis(400));
    interrupt(&child);
    let ended = child.wait_with_output().unwrap();
    let err = String::from_utf8(ended.stderr).unwrap();
    assert_eq!(ended.status.code(), Some(130), "{err}");
    assert!(err.contains("of 16 hits are judged; continue with --resume"), "{err}");
    // Its tables can be read.
    assert_eq!(place.run(&["tally", "hecatomb-out", "--by", "sound"]).status, 0);
    assert_eq!(place.run(&[&arguments[..], &["--resume"]].concat()).status, 0);
    let gone_on = tables(&place);
    assert_eq!(place.run(&[&arguments[..], &["--replace"]].concat()).status, 0);
    assert_eq!(tables(&place), gone_on);
}

/// Rows that grew beside the place of a table are known, too.
#[test]
fn what_a_whole_run_left_counts_where_a_part_goes_on() {
    let place = mined(4);
    done(&place, &[]);
    let whole = tables(&place);
    let table = place.path().join("hecatomb-out/verdicts/bishop-takes-h7.csv");
    let part = table.with_extension("csv.unfinished");
    let three = whole[0].match_indices('\n').nth(3).unwrap().0 + 1;
    std::fs::remove_file(&table).unwrap();
    std::fs::write(&part, &whole[0][..three]).unwrap();
    crate::verify::note(&part, 3);
    done(&place, &["--resume", "--query", BISHOP, "--limit", "1"]);
    assert_eq!(judged(&place, BISHOP), [0, 1, 2]);
    assert!(!part.exists());
    done(&place, &["--resume"]);
    assert_eq!(tables(&place), whole);
}

/// Broken off after it was written down what a table is, and before the table was in its place.
#[test]
fn table_that_was_about_to_take_its_place_takes_it() {
    let place = mined(4);
    done(&place, &["--query", BISHOP, "--limit", "1"]);
    let table = place.path().join("hecatomb-out/verdicts/bishop-takes-h7.csv");
    let first = std::fs::read(&table).unwrap();
    done(&place, &["--query", BISHOP, "--limit", "2", "--resume"]);
    std::fs::rename(&table, table.with_extension("whole.unfinished")).unwrap();
    std::fs::write(&table, first).unwrap();
    done(&place, &["--query", BISHOP, "--limit", "3", "--resume"]);
    assert_eq!(judged(&place, BISHOP), [0, 1, 2]);
}

#[test]
fn time_is_told_after_the_first_offers_if_it_is_long() {
    let place = mined(200);
    // It thinks longer the higher the number of the move.
    let staged = Staged::new("none");
    let engine = staged.program.path.to_str().unwrap();
    let slowly = ["--engine", engine, "--engine-option", "Pace=250", "--threads", "1"];
    let arguments = [&["verify", "hecatomb-out", "--nodes=1000", "--query", BISHOP], &slowly[..]];
    let mut child = hecatomb(place.path(), &arguments.concat())
        .stdout(Stdio::null())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut lines = BufReader::new(child.stderr.take().unwrap()).lines();
    let (told, hint) = (lines.next().unwrap().unwrap(), lines.next().unwrap().unwrap());
    child.kill().unwrap();
    child.wait().unwrap();
    assert!(told.starts_with("judging 200 offers takes about "), "{told}");
    assert!(hint.starts_with("hint: --limit N judges the first N"), "{hint}");
    // What is short is not worth a word.
    let short = Place::new();
    short.write("games.pgn", game("Alder, Tom", "Birch, Ida"));
    assert_eq!(short.run(&["mine", "games.pgn", "--query", BISHOP]).status, 0);
    assert_eq!(verify(&short, &[]).err, "");
}
