//! Parts add up: what several machines mined of a collection, joined, is what one machine would have mined.

use std::collections::BTreeMap;
use std::fs;
use std::io::Write;
use std::process::Stdio;
use std::time::Duration;

use hecatomb::collection::{
    Edge, Games, Origin, PartOf, Share, Source, Strand, Strands, find_sources,
};
use proptest::prelude::*;

use crate::support::{OFFER_GAME, Place, files, game, hecatomb, season};

/// Fails unless two runs are the same bytes.
fn assert_same(place: &Place, one: &str, other: &str) {
    let [one, other] = [one, other].map(|run| files(&place.path().join(run)));
    assert!(one.keys().eq(other.keys()), "{:?}\n{:?}", one.keys(), other.keys());
    for (name, bytes) in &one {
        let [one, other] = [bytes, &other[name]].map(|bytes| String::from_utf8_lossy(bytes));
        if one != other {
            let mut lines = one.lines().zip(other.lines()).enumerate();
            let line = lines.find(|(_, (one, other))| one != other);
            panic!("{name}: {line:#?} of {} and {}", one.lines().count(), other.lines().count());
        }
    }
}

/// The folders of so many parts.
fn folders(parts: u32) -> Vec<String> {
    (1..=parts).map(|number| format!("part-{number}")).collect()
}

/// Mines a collection in parts, which end with this status at most.
fn mine_parts(place: &Place, terms: &[&str], parts: u32, worst: i32) {
    for (number, out) in (1..).zip(folders(parts)) {
        let part = format!("{number}/{parts}");
        let ran = place.run(&[terms, &["--part", &part, "--out", &out, "--replace"]].concat());
        assert!(ran.status <= worst, "{ran}");
    }
}

fn join(place: &Place, runs: &[String], out: &str) -> String {
    let runs: Vec<&str> = runs.iter().map(String::as_str).collect();
    let ran = place.run(&[&["join"], &runs[..], &["-o", out, "--replace"]].concat());
    assert_eq!(ran.status, 0, "{ran}");
    ran.out
}

/// Fails unless parts of a collection, joined, are what one run makes of it, which ends with this status.
fn assert_add_up(place: &Place, terms: &[&str], status: i32) {
    assert_add_up_by(place, terms, status, &[1, 2, 3, 7]);
}

fn assert_add_up_by(place: &Place, terms: &[&str], status: i32, parts: &[u32]) {
    let ran = place.run(&[terms, &["--out", "whole", "--replace"]].concat());
    assert_eq!(ran.status, status, "{ran}");
    for &parts in parts {
        mine_parts(place, terms, parts, status);
        join(place, &folders(parts), "joined");
        assert_same(place, "whole", "joined");
    }
}

/// How many games a part of the run in a folder read.
fn games_of(place: &Place, run: &str) -> u64 {
    let run: serde_json::Value =
        serde_json::from_str(&place.read(&format!("{run}/run.json"))).unwrap();
    run["counts"]["games"].as_u64().unwrap()
}

/// The rows of a table of a run.
fn rows(place: &Place, table: &str) -> Vec<BTreeMap<String, String>> {
    let mut reader = csv::Reader::from_path(place.path().join(table)).unwrap();
    reader.deserialize().map(|row| row.unwrap()).collect()
}

/// A text in zstd frames of so many bytes of it each.
fn frames(text: &[u8], bytes: usize) -> Vec<u8> {
    let pack = |part: &[u8]| {
        let mut frame = zstd::Encoder::new(Vec::new(), 1).unwrap();
        frame.include_checksum(true).unwrap();
        frame.write_all(part).unwrap();
        frame.finish().unwrap()
    };
    text.chunks(bytes).flat_map(pack).collect()
}

/// A season with broken games in it, and duplicates: the same season again, with less known of its games.
fn seasons() -> Vec<u8> {
    let season = season();
    let text = String::from_utf8(season.clone()).unwrap();
    let again = text.replace("[Round ", "[Rund ").replace("{", "{ \\ ");
    let broken = game("Alder, Tom", "Birch, Ida").replace("8. Bxh7+", "8. Bxh9+");
    [&season[..], broken.as_bytes(), again.as_bytes(), broken.as_bytes(), &season[..200_000]]
        .concat()
}

const BISHOP: [&str; 7] =
    ["mine", "games", "--query", "bishop-hits-rook", "--query", "bishop-takes-h7", "--quiet"];

/// A folder with games in every way in which they may be packed, with broken games and duplicates.
fn folder(place: &Place) {
    let season = season();
    let mut gzip = flate2::write::GzEncoder::new(Vec::new(), flate2::Compression::fast());
    gzip.write_all(&season[..400_000]).unwrap();
    place
        .write("games/a.pgn", seasons())
        .write("games/b.pgn.zst", frames(&season, 5_000))
        .write("games/c.pgn.gz", gzip.finish().unwrap())
        .write("games/d/e.pgn.zst", zstd::encode_all(&season[..], 1).unwrap())
        .write("games/f.pgn", game("Cedar, Jo", "Dogwood, Al"));
}

#[test]
fn parts_of_a_folder_add_up() {
    let place = Place::new();
    folder(&place);
    assert_add_up(&place, &BISHOP, 0);
    let duplicates = rows(&place, "joined/duplicates.csv");
    assert!(duplicates.len() > 100, "{}", duplicates.len());
    assert!(rows(&place, "joined/rejects.csv").len() > 1);
}

#[test]
fn parts_of_one_long_file_add_up_and_share_its_games() {
    let place = Place::new();
    place.write("games/long.pgn", seasons());
    assert_add_up(&place, &BISHOP, 0);
    let games: Vec<u64> = folders(7).iter().map(|run| games_of(&place, run)).collect();
    let (least, most) = (games.iter().min().unwrap(), games.iter().max().unwrap());
    assert!(most - least < 50, "{games:?}");
}

#[test]
fn parts_of_a_file_in_many_frames_add_up_and_share_its_games() {
    let place = Place::new();
    place.write("games/frames.pgn.zst", frames(&seasons(), 3_000));
    assert_add_up(&place, &BISHOP, 0);
    let games = folders(7).into_iter().filter(|run| games_of(&place, run) > 100).count();
    assert!(games > 4, "{games}");
}

#[test]
fn parts_add_up_in_every_format_with_overlooked_offers_and_with_every_copy() {
    let place = Place::new();
    let text = &seasons()[500_000..900_000];
    place.write("games/a.pgn", &text[..300_000]).write("games/b.pgn.zst", frames(text, 2_000));
    for more in [
        &["--table", "jsonl", "--overlooked"][..],
        &["--table", "parquet", "--overlooked", "--audit"],
        &["--table", "parquet", "--keep-duplicates", "--min-rating", "1800"],
    ] {
        let queries =
            ["mine", "games", "--query", "bishop-takes-h7", "--query", "bishop-hits-rook"];
        // The last game of a source that breaks off is rejected, and that is all.
        assert_add_up(&place, &[&queries, &["--quiet"][..], more].concat(), 0);
    }
}

/// A source that breaks off costs what comes after that in all parts, as it does in one run.
#[test]
fn parts_of_a_damaged_file_add_up() {
    let place = Place::new();
    let mut packed = frames(&seasons(), 3_000);
    for damage in [packed.len() / 3, 2 * packed.len() / 3] {
        let whole = packed[damage];
        packed[damage] ^= 0xFF;
        place.write("games/a.pgn.zst", &packed).write("games/b.pgn", season());
        assert_add_up_by(&place, &BISHOP, 1, &[2, 7]);
        packed[damage] = whole;
    }
}

/// Files that have few games, none, or none that can be told from each other.
#[test]
fn parts_of_odd_files_add_up() {
    let place = Place::new();
    let tagged = game("Alder, Tom", "Birch, Ida");
    let without_tags = format!("{OFFER_GAME}\n").repeat(60);
    let in_comments =
        format!("1. e4 {{ as in\n2. Nf3 *\n\n{tagged}\n}} e5 *\n\n{tagged}").repeat(60);
    let unclosed = format!("{tagged}1. e4 {{ never closed\n\n{tagged}").repeat(60);
    let old_lines = tagged.repeat(60).replace('\n', "\r");
    let new_lines = tagged.repeat(60).replace('\n', "\r\n");
    for text in [without_tags, in_comments, unclosed, old_lines, new_lines, tagged, String::new()] {
        place
            .write("games/odd.pgn", &text)
            .write("games/packed.pgn.zst", frames(text.as_bytes(), 500));
        let status = i32::from(text.is_empty());
        let query = ["mine", "games", "--query", "knight-follow-up", "--quiet"];
        assert_add_up_by(&place, &query, status, &[1, 3, 7]);
    }
}

/// A copy may fit two games that do not fit each other. Which of them it is a copy of depends on what came before
/// it, and so does what is kept after it.
#[test]
fn game_that_was_left_out_in_a_part_comes_back_where_its_first_copy_is_left_out() {
    let place = Place::new();
    let one = game("Alder, Tom", "Birch, Ida");
    let undated = one.replace("2031.03.04", "????.??.??");
    let another_day = one.replace("2031.03.04", "2031.03.05");
    let filler = "[Event \"Filler\"]\n\n1. e4 e5 *\n\n".repeat(20);
    place.write("games/a.pgn", format!("{one}{filler}{filler}"));
    place.write("games/b.pgn", format!("{filler}{undated}{another_day}{filler}{one}"));
    let query = ["mine", "games", "--query", "knight-follow-up", "--quiet"];
    assert_add_up(&place, &query, 0);
    mine_parts(&place, &query, 2, 0);
    let dates = |run: &str| {
        let rows = rows(&place, &format!("{run}/games.csv")).into_iter();
        rows.map(|row| row["date"].clone()).collect::<Vec<String>>()
    };
    assert_eq!(dates("part-1"), ["2031.03.04"]);
    assert_eq!(dates("part-2"), ["????.??.??"]);
    assert!(join(&place, &folders(2), "joined").contains("2 duplicates left out"));
    assert_eq!(dates("joined"), ["2031.03.04", "2031.03.05"]);
}

/// A month that is mined later is added to what is there, and no copy is counted twice.
#[test]
fn whole_runs_joined_are_one_run_over_both_collections() {
    let place = Place::new();
    let text = seasons();
    let month = String::from_utf8(text[600_000..].to_vec()).unwrap();
    let month = &month[month.find("\n\n[Event").unwrap() + 2..];
    place.write("old/a.pgn", &text[..700_000]).write("old/b.pgn.zst", frames(&text, 4_000));
    place.write("new/c.pgn", month).write("later/d.pgn", game("Alder, Tom", "Birch, Ida"));
    for table in ["csv", "jsonl", "parquet"] {
        let terms =
            ["--query", "bishop-hits-rook", "--quiet", "--table", table, "--replace", "--out"];
        let mine = |collections: &[&str], out: &str| {
            let ran = place.run(&[&["mine"], collections, &terms[..], &[out]].concat());
            assert_eq!(ran.status, 0, "{ran}");
        };
        mine(&["old", "new", "later"], "whole");
        for folder in ["old", "new", "later"] {
            mine(&[folder], &format!("run-{folder}"));
        }
        join(&place, &["run-old".into(), "run-new".into(), "run-later".into()], "joined");
        assert_same(&place, "whole", "joined");
        // What was joined can be joined.
        join(&place, &["run-old".into(), "run-new".into()], "first");
        join(&place, &["first".into(), "run-later".into()], "joined");
        assert_same(&place, "whole", "joined");
    }
}

/// What was found out of hits that remain stays, and is what would have been found out of the whole run.
#[test]
fn verdicts_are_carried_over() {
    let place = Place::new();
    place.write("games/a.pgn", season()).write("games/b.pgn", &seasons()[..400_000]);
    let query = ["--query", "knight-follow-up", "--quiet"];
    for table in ["csv", "jsonl", "parquet"] {
        let terms = [&["mine", "games", "--table", table], &query[..]].concat();
        let verify = |run: &str| {
            let ran = place.run(&["verify", run, "--nodes", "1000", "--quiet"]);
            assert_eq!(ran.status, 0, "{ran}");
        };
        let ran = place.run(&[&terms[..], &["--out", "whole", "--replace"]].concat());
        assert_eq!(ran.status, 0, "{ran}");
        verify("whole");
        mine_parts(&place, &terms, 3, 0);
        folders(3).iter().for_each(|run| verify(run));
        let said = join(&place, &folders(3), "joined");
        assert!(said.contains("verdicts carried over; tables in joined"), "{said}");
        assert_same(&place, "whole", "joined");
        // Where one part has none, its hits have their places.
        fs::remove_dir_all(place.path().join("part-2/verdicts")).unwrap();
        let ran = place.run(&["join", "part-1", "part-2", "part-3", "-o", "joined", "--replace"]);
        assert_eq!(ran.status, 0, "{ran}");
        assert!(ran.err.contains("have no verdict\nhint: judge them with"), "{ran}");
        let ran = place.run(&["verify", "joined", "--nodes", "1000", "--quiet", "--resume"]);
        assert_eq!(ran.status, 0, "{ran}");
        assert_same(&place, "whole", "joined");
    }
}

/// A part that is killed and resumed is the part that nothing happened to.
#[test]
fn part_that_was_cut_short_is_resumed() {
    let place = Place::new();
    folder(&place);
    let part = [&BISHOP[..], &["--block-size", "16", "--checkpoint-every", "0"]].concat();
    let ran = place.run(&[&part[..], &["--out", "whole"]].concat());
    assert_eq!(ran.status, 0, "{ran}");
    for (number, out) in (1..).zip(folders(3)) {
        let number = format!("{number}/3");
        let terms = [&part[..], &["--part", &number, "--out", &out]].concat();
        let mut arguments = terms.clone();
        for wait in [30, 60, 90] {
            let mut child = hecatomb(place.path(), &arguments);
            let mut child = child.stdout(Stdio::null()).stderr(Stdio::null()).spawn().unwrap();
            std::thread::sleep(Duration::from_millis(wait));
            let _ = child.kill();
            child.wait().unwrap();
            arguments = [&terms[..], &["--resume"]].concat();
        }
        if place.path().join(&out).join(".unfinished/checkpoint.json").exists() {
            let other = [&part[..], &["--part", "1/7", "--out", &out, "--resume"]].concat();
            let ran = place.run(&other);
            assert!(ran.err.contains("it was started with another --part"), "{ran}");
        }
        let ran = place.run(&arguments);
        assert_eq!(ran.status, 0, "{ran}");
    }
    join(&place, &folders(3), "joined");
    assert_same(&place, "whole", "joined");
}

/// What is wrong with what is to be joined, in words; and nothing is written.
#[test]
fn what_does_not_add_up_is_refused() {
    let place = Place::new();
    place.write("games/a.pgn", season()).write("games/b.pgn", game("Alder, Tom", "Birch, Ida"));
    let terms = ["mine", "games", "--query", "knight-follow-up", "--quiet"];
    mine_parts(&place, &terms, 3, 0);
    let mine = |collection: &str, more: &[&str], out: &str| {
        let terms = ["mine", collection, "--quiet", "--out", out];
        let ran = place.run(&[&terms[..], more].concat());
        assert_eq!(ran.status, 0, "{ran}");
    };
    let query = &["--query", "knight-follow-up"][..];
    let part = |more: &[&'static str]| [query, more].concat();
    mine("games", query, "whole");
    mine("games", &part(&["--part", "2/3", "--overlooked"]), "overlooked");
    mine("games", &part(&["--part", "2/2"]), "of-two");
    mine("games", &["--query", "queen-lift", "--part", "2/3"], "other-query");
    mine("games/a.pgn", &part(&["--part", "2/3"]), "other-sources");
    mine("games", &part(&["--limit", "5"]), "limited");
    fs::copy(place.path().join("games/b.pgn"), place.path().join("c.pgn")).unwrap();
    mine("c.pgn", query, "other-file");
    for (runs, says) in [
        (&["part-1", "part-3"][..], "part 2 of 3 is missing\nhint: every part is needed"),
        (&["part-2"], "parts 1 and 3 of 3 are missing\n"),
        (&["part-1", "part-2", "./part-1"], "`./part-1` is the run in `part-1` again\n"),
        (
            &["part-1", "copy", "part-2", "part-3"],
            "part 1 of 3 is there twice: `part-1` and `copy`\nhint: name one of them\n",
        ),
        (
            &["part-1", "overlooked", "part-3"],
            "`overlooked` was mined with another --overlooked than `part-1`\n",
        ),
        (
            &["part-1", "other-query", "part-3"],
            "`other-query` does not look for `knight-follow-up`\n",
        ),
        (&["part-1", "other-sources", "part-3"], "`other-sources` does not read `games/b.pgn`\n"),
        (&["part-1", "of-two"], "`of-two` is one of 2 parts, and `part-1` is one of 3\n"),
        (&["part-1", "whole"], "`part-1` is a part of a collection, and `whole` is a whole run\n"),
        (&["whole", "limited"], "`limited` was mined with --limit"),
        (&["whole", "of-none"], "of-none"),
        (&["part-1", "part-2", "older"], "`older` was mined by version 0.0.1, and this is version"),
        (&["part-1", "part-2", "edited"], "the table was changed since it was written"),
        (&["part-1", "part-2", "stopped"], "the run in `stopped` was cut short\nhint: end it with"),
        (&["whole", "whole-copy"], "`games/a.pgn` is a source of both `whole` and `whole-copy`\n"),
    ] {
        for copy in runs.iter().filter(|run| !place.path().join(run).exists()) {
            let from = match *copy {
                "copy" => "part-1",
                "whole-copy" => "whole",
                "of-none" => continue,
                _ => "part-3",
            };
            copy_run(&place, from, copy);
        }
        change(
            &place,
            "older",
            "run.json",
            "\"hecatomb\": \"",
            "\"hecatomb\": \"0.0.1\", \"was\": \"",
        );
        change(&place, "stopped", "run.json", "at the end", "interrupted");
        change(&place, "edited", "hits/knight-follow-up.csv", "Bxh7+", "Bxh6+");
        let ran = place.run(&[&["join"], runs, &["-o", "joined"]].concat());
        assert_eq!((ran.status, &*ran.out), (1, ""), "{ran}");
        assert!(ran.err.contains(says), "{ran}");
        assert!(!place.path().join("joined/run.json").exists());
    }
    let ran = place.run(&["join", "whole", "other-file", "-o", "whole"]);
    assert!(ran.err.contains("`whole` is one of the runs that are to be joined"), "{ran}");
    join(&place, &["whole".into(), "other-file".into()], "joined");
    let ran = place.run(&["join", "part-1", "part-2", "part-3", "-o", "joined"]);
    assert!(
        ran.err.starts_with("error: `joined` holds the tables of another run\nhint: "),
        "{ran}"
    );
    // A file that was changed between two parts, though its size is the same.
    let text = game("Alder, Tom", "Birch, Ida").replace("Tom", "Tim");
    place.write("games/b.pgn", text);
    mine("games", &part(&["--part", "3/3", "--replace"]), "part-3");
    let ran = place.run(&["join", "part-1", "part-2", "part-3", "-o", "joined", "--replace"]);
    let says =
        "error: `games/b.pgn` was not the same for `part-3` as for `part-2`\nhint: mine all parts";
    assert!(ran.status == 1 && ran.err.starts_with(says), "{ran}");
}

fn copy_run(place: &Place, from: &str, to: &str) {
    for (name, _) in files(&place.path().join(from)) {
        let to = place.path().join(to).join(&name);
        fs::create_dir_all(to.parent().unwrap()).unwrap();
        fs::copy(place.path().join(from).join(&name), to).unwrap();
    }
}

/// Changes the first place of a text in a file of a run, if that is there.
fn change(place: &Place, run: &str, file: &str, from: &str, to: &str) {
    let path = place.path().join(run).join(file);
    if let Ok(text) = fs::read_to_string(&path) {
        fs::write(path, text.replacen(from, to, 1)).unwrap();
    }
}

#[test]
fn what_can_not_be_parted_is_refused() {
    let place = Place::new();
    place.write("games.pgn", game("Alder, Tom", "Birch, Ida"));
    for (arguments, says) in [
        (&["-", "--part", "1/2"][..], "standard input can't be parted"),
        (&["games.pgn", "--part", "3/2"], "a part is written like 2/7, the second of seven"),
        (&["games.pgn", "--part", "1/2", "--limit", "5"], "cannot be used with"),
    ] {
        let ran = place.run(&[&["mine"], arguments].concat());
        assert_eq!((ran.status, &*ran.out), (2, ""), "{ran}");
        assert!(ran.err.contains(says), "{ran}");
    }
}

/// Pieces of which texts are made that are hard to cut: games, and what looks like one.
const PIECES: [&str; 16] = [
    "[Event \"Harbour League\"]\n[White \"Alder, Tom\"]\n\n1. e4 e5 *\n\n",
    "[Event \"Harbour League\"]\n[Round \"2\"]\n\n1. e4 {why not} e5 1-0\n",
    "[White \"Birch, Ida\"]\n",
    "[Event \"broken]\n",
    "\n1. d4 d5 2. c4 *\n",
    "1. e4 { as in\n",
    "} e5 0-1\n",
    "; a line with a { in it\n",
    "; and one with a } in it\n",
    "% [Event \"escaped\"] }\n",
    "\n[",
    "\n",
    "{",
    "}",
    "\"]\n",
    "1/2-1/2\r\n\r\n",
];

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    /// Whatever the text is, parts are cut where one reader from its first byte on finds a game.
    #[test]
    fn parts_are_cut_where_games_start(
        pieces in proptest::collection::vec(0..PIECES.len(), 0..60),
        parts in 2_u32..9,
        frame in 30_usize..400,
    ) {
        let text: String = pieces.iter().map(|&piece| PIECES[piece]).collect();
        let place = Place::new();
        place.write("a.pgn", &text).write("b.pgn.zst", frames(text.as_bytes(), frame));
        let starts: Vec<u64> =
            Games::of(text.as_bytes()).map(|game| game.start as u64).collect();
        for name in ["a.pgn", "b.pgn.zst"] {
            let sources = find_sources(&[place.path().join(name)]).sources;
            let share = |number| Share::of(PartOf { number, of: parts }, &sources);
            let shares: Vec<Share> = (1..=parts).map(share).collect();
            prop_assert_eq!(shares[0].from, Edge::before(0));
            prop_assert_eq!(shares[shares.len() - 1].to, Edge::before(1));
            prop_assert!(shares.windows(2).all(|pair| pair[0].to == pair[1].from));
            for edge in shares.iter().map(|share| share.to).filter(Edge::is_inside) {
                let before = text_before(&sources, edge);
                prop_assert!(starts.contains(&before), "{} {:?} {:?}", before, edge, text);
            }
        }
    }
}

/// How many bytes of the text of a source are before an edge.
fn text_before(sources: &[Source], edge: Edge) -> u64 {
    let strands = Strands::of(sources, 0, 0).take_while(|strand| strand.start < edge.start);
    let is_plain = edge.base > 0;
    let length = |strand: Strand<'_>| {
        let mut archive = strand.open(Origin::open).unwrap();
        std::io::copy(&mut archive, &mut std::io::sink()).unwrap()
    };
    edge.offset + if is_plain { 0 } else { strands.map(length).sum() }
}
