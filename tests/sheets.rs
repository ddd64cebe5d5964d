//! A sheet has what was asked for: so many of each kind, of these levels, the easiest first; and what can't be had is
//! said.

use std::collections::BTreeMap;

use scraper::Html;

use crate::exercises::{all, made, operation, text};

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
