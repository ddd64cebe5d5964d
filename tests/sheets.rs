//! A sheet has what was asked for: so many of each kind, of these levels, the easiest first; and what can't be had is
//! said.

use std::collections::BTreeMap;

use scraper::Html;

use crate::exercises::{all, judged, made, operation, text};

/// The rows of a sheet as CSV, by column.
fn rows(options: &str) -> Vec<BTreeMap<String, String>> {
    let sheet = made(&format!("{options} --format csv")).out;
    let mut reader = csv::Reader::from_reader(sheet.as_bytes());
    let columns = reader.headers().unwrap().clone();
    let row = |record: csv::StringRecord| {
        columns.iter().map(str::to_owned).zip(record.iter().map(str::to_owned)).collect()
    };
    reader.records().map(|record| row(record.unwrap())).collect()
}

fn count(rows: &[BTreeMap<String, String>], kind: &str) -> usize {
    rows.iter().filter(|row| row["kind"] == kind).count()
}

#[test]
fn sheet_has_so_many_of_each_kind_the_easiest_first() {
    let rows = rows("--of find:4 --of continue:3 --of judge:2");
    assert_eq!([count(&rows, "find"), count(&rows, "continue"), count(&rows, "judge")], [4, 3, 2]);
    // Those of one offer stay together, and so may come after an easier one.
    let single: Vec<&String> =
        rows.iter().filter(|row| row["kind"] != "continue").map(|row| &row["level"]).collect();
    assert!(single.is_sorted(), "{single:?}");
    let kinds: Vec<&String> = rows.iter().map(|row| &row["kind"]).collect();
    assert!(
        !kinds.is_sorted_by_key(|kind| ["find", "continue", "judge"]
            .iter()
            .position(|one| one == kind))
    );
    let games: Vec<&String> =
        rows.iter().filter(|row| row["kind"] != "continue").map(|row| &row["from"]).collect();
    let mut each = games.clone();
    each.sort();
    each.dedup();
    assert_eq!(each.len(), games.len(), "no game serves twice, whatever the kinds");
}

#[test]
fn kind_and_count_are_short_for_one_quota() {
    let long = made("--of find:5 --format epd").out;
    assert_eq!(made("--kind find --count 5 --format epd").out, long);
    assert_eq!(made("--of find:2 --of find:3 --format epd").out, long, "the same kind adds up");
}

#[test]
fn levels_may_be_a_range() {
    let rows = rows("--of find:12 --of continue:6 --level 2-3");
    let levels: Vec<u8> = rows.iter().map(|row| row["level"].parse().unwrap()).collect();
    assert!(levels.iter().all(|level| (2..=3).contains(level)), "{levels:?}");
    assert!(levels.contains(&2) && levels.contains(&3), "{levels:?}");
}

#[test]
fn quota_that_can_not_be_filled_is_named_with_the_reasons() {
    let ran = made("--of find:2 --of continue:300 --format epd");
    let lines = ran.out.lines().filter(|line| operation(line, "c0").unwrap().starts_with("\"find"));
    assert_eq!(lines.count(), 2);
    assert!(ran.err.contains("could not make 300 of `continue`: only "), "{ran}");
    assert!(ran.err.contains("passed; left out: ") && !ran.err.contains("of `find`"), "{ran}");
}

#[test]
fn page_of_several_kinds_says_what_each_asks() {
    let page = Html::parse_document(&made("--of find:2 --of judge:2 --of continue:2").out);
    let head: Vec<String> = all(&page, ".asked dt").into_iter().map(text).collect();
    assert_eq!(head, ["Find the offer", "Does it work?", "Accepted: what now?"]);
    let questions: Vec<String> = all(&page, ".tasks figcaption").into_iter().map(text).collect();
    let says = |words: &str| questions.iter().filter(|it| it.contains(words)).count();
    assert_eq!([says(": find the offer"), says("what now?"), says(" work?")], [2, 2, 2]);
    let page = Html::parse_document(&made("--of find:2").out);
    assert!(all(&page, ".asked").is_empty() && !text(all(&page, ".tasks")[0]).contains("find"));
}

/// What names the game, the motif or the solution in any format, as the teacher's sheet has it.
fn secrets(options: &str) -> Vec<String> {
    let rows = rows(options);
    let of = |row: &BTreeMap<String, String>| {
        let players = row["from"].trim_start_matches("From ").to_owned();
        let players: Vec<String> =
            players.split([',', '-']).map(|part| part.trim().to_owned()).collect();
        let line: Vec<String> = row["answer"].split(". ").map(str::to_owned).collect();
        [players, line, vec![row["motif"].clone()]].concat()
    };
    let all = rows.iter().flat_map(of);
    all.filter(|secret| secret.len() > 4 && secret.chars().any(char::is_alphabetic)).collect()
}

#[test]
fn pupils_sheet_has_no_trace_of_a_solution() {
    let options = "--of find:4 --of judge:4 --of continue:3";
    let secrets = secrets(options);
    assert!(secrets.len() > 30, "{secrets:?}");
    for format in ["html", "pgn", "epd", "csv"] {
        let whole = made(&format!("{options} --format {format}")).out;
        let sheet = made(&format!("{options} --for pupil --format {format}")).out;
        // The same text with its lines filled otherwise.
        let [whole, sheet] =
            [whole, sheet].map(|text| text.split_whitespace().collect::<Vec<_>>().join(" "));
        let told = secrets.iter().filter(|secret| sheet.contains(&***secret)).collect::<Vec<_>>();
        assert!(told.is_empty(), "{format}: {told:?}");
        assert!(secrets.iter().any(|secret| whole.contains(&**secret)), "{format}");
        let sheet = sheet.split("</style>").last().unwrap();
        for word in ["season", "cup.pgn", "works.", "mates", "olution", "scored"] {
            assert!(!sheet.contains(word), "{format}: {word}");
        }
    }
}

#[test]
fn pupils_formats_hold_the_question_and_no_more() {
    let options = "--of find:2 --of judge:2 --for pupil --format";
    let pgn = made(&format!("{options} pgn")).out;
    for game in pgn.trim_end().split("\n\n").skip(1).step_by(2) {
        assert!(
            game.starts_with('{') && game.ends_with("} *") && game.matches('{').count() == 1,
            "{game}"
        );
    }
    assert!(pgn.contains("[White \"?\"]\n") && pgn.contains("[Round \"4\"]\n"), "{pgn}");
    for line in made(&format!("{options} epd")).out.lines() {
        let known = |name: &str| operation(line, name).is_some();
        assert!(["c0", "fmvn", "hmvc", "id"].into_iter().all(known), "{line}");
        assert!(!["acn", "am", "bm", "dm", "pv"].into_iter().any(known), "{line}");
    }
    let csv = made(&format!("{options} csv")).out;
    assert_eq!(csv.lines().next().unwrap(), "number,kind,level,points,fen,question");
}

#[test]
fn teachers_page_has_each_solution_beside_its_diagram_and_the_points() {
    let page = Html::parse_document(&made("--of find:4 --of judge:2 --for teacher").out);
    assert!(all(&page, ".tasks").is_empty());
    let answers = all(&page, ".answers > li");
    assert_eq!(answers.len(), 6);
    let mut total = 0;
    for answer in &answers {
        let words = text(*answer);
        assert!(answer.html().contains("<svg") && words.contains("Level "), "{words}");
        let points = text(all(&Html::parse_fragment(&answer.html()), ".worth")[0]);
        total += points.split(' ').next().unwrap().parse::<u32>().unwrap();
    }
    assert_eq!(text(all(&page, "#solutions-title")[0]), format!("6 solutions, {total} points"));
}

#[test]
fn points_go_by_level_and_are_the_same_in_every_format() {
    let options = "--of find:6 --level 1-3";
    let rows = rows(options);
    assert!(rows.iter().all(|row| row["points"] == row["level"]));
    let total: u32 = rows.iter().map(|row| row["points"].parse::<u32>().unwrap()).sum();
    let page = Html::parse_document(&made(options).out);
    assert_eq!(text(all(&page, "#exercises-title")[0]), format!("6 exercises, {total} points"));
    assert!(text(all(&page, ".pupil")[0]).ends_with(&format!("Points, of {total}")));
    let pgn = made(&format!("{options} --format pgn")).out;
    let in_pgn = pgn.lines().filter_map(|line| line.strip_prefix("[Points \""));
    assert_eq!(in_pgn.map(|rest| rest[..1].parse::<u32>().unwrap()).sum::<u32>(), total);
    let epd = made(&format!("{options} --format epd")).out;
    assert!(
        epd.lines()
            .zip(&rows)
            .all(|(line, row)| line.contains(&format!("({} point", row["points"])))
    );
}

#[test]
fn page_has_as_many_diagrams_as_were_asked_for() {
    for (options, count) in
        [("--per-page 2", 2), ("--per-page 4", 4), ("--per-page 6", 6), ("--large", 2)]
    {
        let page = Html::parse_document(&made(&format!("--of find:7 {options}")).out);
        let leaves = all(&page, ".leaf").into_iter();
        let sizes: Vec<usize> =
            leaves.map(|leaf| leaf.html().matches("<li id=\"exercise-").count()).collect();
        assert!(sizes.iter().rev().skip(1).all(|size| *size == count), "{options}: {sizes:?}");
        assert_eq!(sizes.iter().sum::<usize>(), 7, "{options}: {sizes:?}");
    }
    let ran = judged().run(&["exercises", "hecatomb-out", "--kind=find", "--per-page=5"]);
    assert!(ran.status == 2 && ran.err.contains("expected one of 1, 2, 4, 6, 9, 12"), "{ran}");
}

/// The positions of a sheet, each as the men that its side to move sees.
fn positions(sheet: &str) -> Vec<String> {
    sheet.lines().map(|line| line.split(' ').take(2).collect::<Vec<_>>().join(" ")).collect()
}

/// The same position mirrored left to right, without castling, which mirrors no better than it would be of use.
fn mirrored(line: &str) -> String {
    let fields: Vec<&str> = line.split(' ').collect();
    let ranks = fields[0].split('/').map(|rank| rank.chars().rev().collect::<String>());
    format!("{} {} - -", ranks.collect::<Vec<_>>().join("/"), fields[1])
}

/// The same position with the colours exchanged.
fn exchanged(line: &str) -> String {
    let fields: Vec<&str> = line.split(' ').collect();
    let other = |letter: char| {
        if letter.is_uppercase() {
            letter.to_ascii_lowercase()
        } else {
            letter.to_ascii_uppercase()
        }
    };
    let ranks = fields[0].split('/').rev().map(|rank| rank.chars().map(other).collect::<String>());
    let turn = if fields[1] == "w" { "b" } else { "w" };
    format!("{} {turn} - -", ranks.collect::<Vec<_>>().join("/"))
}

#[test]
fn positions_that_were_given_are_not_given_again_nor_their_mirror_images() {
    let options = "--kind find --count 2 --format";
    let first = made(&format!("{options} epd")).out;
    let given = positions(&first);
    let place = judged();
    made(&format!("{options} pgn -o given.pgn"));
    made(&format!("{options} csv --for pupil -o given.csv"));
    made(&format!("{options} epd -o given.epd"));
    let changed = |change: fn(&str) -> String| {
        first.lines().map(|line| change(line) + "\n").collect::<String>()
    };
    place.write("mirrored.epd", changed(mirrored));
    place.write("exchanged.epd", changed(|line| mirrored(&exchanged(line))));
    // As others write it: one column under another name and case, and a byte order mark.
    let table: String =
        first.lines().map(|line| format!("x,\"{} 0 1\"\n", mirrored(line))).collect();
    place.write("others.csv", format!("\u{feff}name,FEN\n{table}"));
    let mut sheets = Vec::new();
    for file in
        ["given.pgn", "given.csv", "given.epd", "mirrored.epd", "exchanged.epd", "others.csv"]
    {
        let ran = made(&format!("{options} epd --exclude {file}"));
        let again = positions(&ran.out);
        assert!(!again.is_empty() && again.iter().all(|one| !given.contains(one)), "{file}: {ran}");
        sheets.push(ran.out);
    }
    sheets.dedup();
    assert_eq!(sheets.len(), 1, "every format says the same");
    made(&format!("{options} epd --exclude given.epd -o second.epd"));
    let third = made(&format!("{options} epd --exclude given.epd --exclude second.epd")).out;
    let both = positions(&(first + &place.read("second.epd")));
    assert!(positions(&third).iter().all(|one| !both.contains(one)));
}

#[test]
fn what_is_wrong_with_a_file_of_given_positions_is_told_with_its_place() {
    let place = judged();
    place.write("wrong.pgn", "[Event \"x\"]\n[FEN \"8/8/8 w - - 0 1\"]\n\n*\n");
    place.write("wrong.epd", "8/8/8/8/8/5k2/8/5K2 w - - bm Kg1;\n\nno position at all\n");
    place.write("wrong.csv", "number,fen\n1,8/8/8/8/8/5k2/8/5K2 w - - 0 1\n2,nothing\n");
    place.write("none.pgn", "[Event \"x\"]\n\n1. e4 *\n");
    for (file, message) in [
        ("wrong.pgn", "line 2 of `wrong.pgn`: `8/8/8 w - - 0 1` is not a position: "),
        ("wrong.epd", "line 3 of `wrong.epd`: `no position at all 0 1` is not a position: "),
        ("wrong.csv", "line 3 of `wrong.csv`: `nothing` is not a position: "),
        ("none.pgn", "there is no position in `none.pgn`"),
        ("missing.pgn", "can't read `missing.pgn`"),
    ] {
        let ran = place.run(&["exercises", "hecatomb-out", "--kind", "find", "--exclude", file]);
        assert!(
            ran.status == 1 && ran.out.is_empty() && ran.err.contains(message),
            "{file}: {ran}"
        );
    }
}

#[test]
fn projector_shows_one_exercise_and_keeps_its_answer_back() {
    let options = "--of find:3 --of judge:2 --of count:2 --format projector";
    let source = made(options).out;
    let page = Html::parse_document(&source);
    assert_eq!(page.errors, Vec::<&str>::new());
    for word in ["http:", "https:", "@import", "url(", "<link", "<img", " src=", "data:"] {
        let without_namespaces = source.replace("xmlns=\"http://www.w3.org/2000/svg\"", "");
        assert!(!without_namespaces.contains(word), "{word}");
    }
    assert_eq!(all(&page, ".slide").len(), 7);
    assert_eq!(all(&page, ".slide .told").len(), 7);
    // What can be stepped through has a board that moves; a count has no moves.
    assert_eq!(all(&page, ".slide.game").len(), 5);
    for script in all(&page, "script[type]:not(#words)") {
        let steps: serde_json::Value = serde_json::from_str(&script.inner_html()).unwrap();
        assert!(!steps["lines"][0]["moves"].as_array().unwrap().is_empty());
    }
    let buttons: Vec<&str> =
        all(&page, "[data-do]").into_iter().filter_map(|it| it.attr("data-do")).collect();
    assert_eq!(buttons, ["back", "tell", "next", "clock"]);
    let pupils = Html::parse_document(&made(&format!("{options} --for pupil")).out);
    assert_eq!(all(&pupils, ".slide").len(), 7);
    assert!(all(&pupils, ".told, .game, script[type]:not(#words), [data-do=tell]").is_empty());
}

#[test]
fn solutions_have_the_letters_that_were_asked_for_where_people_read_them() {
    let options = "--of find:3 --of judge:2 --of mate:2";
    let is_english = |text: &str| {
        let is_move = |pair: &[u8]| b"BQRN".contains(&pair[0]) && b"abcdefghx".contains(&pair[1]);
        text.as_bytes().windows(2).any(is_move)
    };
    let solutions = |more: &str| {
        let page = Html::parse_document(&made(format!("{options} {more}").trim()).out);
        let moves: Vec<String> =
            all(&page, ".answers .moves").into_iter().map(|it| it.text().collect()).collect();
        moves.join(" ")
    };
    assert!(is_english(&solutions("")));
    let german = solutions("--pieces german");
    assert!(german.len() > 100 && !is_english(&german), "{german}");
    let epd = made(&format!("{options} --pieces german --format epd")).out;
    assert!(is_english(&epd), "programs read English letters: {epd}");
}

/// A PDF is built in on request only; what it holds is read by `.ci/pdf_check.py`.
#[cfg(not(feature = "pdf"))]
#[test]
fn pdf_is_refused_at_once_where_it_is_not_built_in() {
    let place = judged();
    let sheet = ["exercises", "nowhere", "--kind=mate", "--count=2", "-o", "one.pdf"];
    let ran = place.run(&sheet);
    assert_eq!((ran.status, &*ran.out), (1, ""), "{ran}");
    let error = "error: this program was built without PDF\nhint: build it with `cargo install ";
    assert!(ran.err.starts_with(error) && !place.path().join("one.pdf").exists(), "{ran}");
    let ran = place.run(&["exercises", "hecatomb-out", "--kind=mate", "--paper=a3"]);
    assert_eq!(ran.status, 2, "a paper that is none of the two: {ran}");
}
