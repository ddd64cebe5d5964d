//! What hits came to: the same from any tables of the same games, in any format of output.
//!
//! Every figure is computed again with scipy and statsmodels by `.ci/tally_check.py`.

use std::collections::BTreeSet;
use std::fs;
use std::sync::OnceLock;

use hecatomb::statistics::adjusted;
use serde_json::Value;

use crate::support::{Place, Ran, game, repeat_offer};

const SEASON: &[u8] = include_bytes!("../sample-data/season.pgn.zst");
const CUP: &[u8] = include_bytes!("../sample-data/cup.pgn.zst");

/// The ways of counting that differ in what they read of a table.
const VIEWS: [&[&str]; 7] = [
    &[],
    &["--by", "rating"],
    &["--by", "balance"],
    &["--by", "side,king_goes"],
    &["--by", "year,time-category,eco-letter"],
    &["--factors"],
    &["--continuations"],
];

/// A folder with the sample data and its tables in `csv`, overlooked offers and all.
fn sample() -> &'static Place {
    static SAMPLE: OnceLock<Place> = OnceLock::new();
    SAMPLE.get_or_init(|| {
        let place = Place::new();
        place.write("games/cup.pgn.zst", CUP).write("games/season.pgn.zst", SEASON);
        mine(&place, &["games", "--overlooked", "--out", "csv"]);
        place
    })
}

fn mine(place: &Place, arguments: &[&str]) {
    let ran = place.run(&[&["mine", "--quiet"], arguments].concat());
    assert_eq!(ran.status, 0, "{ran}");
}

fn tally(place: &Place, arguments: &[&[&str]]) -> Ran {
    place.run(&[&["tally"], &arguments.concat()[..]].concat())
}

/// What a tally that must succeed writes.
fn told(place: &Place, arguments: &[&[&str]]) -> String {
    let ran = tally(place, arguments);
    assert_eq!((ran.status, &*ran.err), (0, ""), "{ran}");
    ran.out
}

fn json(place: &Place, arguments: &[&[&str]]) -> Vec<Value> {
    let text = told(place, &[arguments, &[&["--format", "json"]]].concat());
    serde_json::from_str(&text).unwrap()
}

#[test]
fn tables_of_every_format_come_to_the_same() {
    let place = sample();
    let queries =
        ["--query", "bishop-takes-h7", "--query", "smothered-mate", "--query", "queen-lift"];
    for format in ["jsonl", "parquet"] {
        let run = ["games", "--overlooked", "--table", format, "--out", format];
        mine(place, &[&run[..], &queries].concat());
        for view in VIEWS {
            let [from_csv, from_other] = ["csv", format]
                .map(|folder| told(place, &[&[folder, "--format", "json"], &queries, view]));
            assert!(from_csv.len() > 1_000, "{view:?}");
            assert_eq!(from_csv, from_other, "{format}, {view:?}");
        }
    }
}

/// A table of JSON lines without a row does not name its columns.
#[test]
fn tables_without_rows_come_to_the_same_in_every_format() {
    let place = Place::new();
    place.write("games.pgn", game("Alder, Tom", "Birch, Ida"));
    let queries = ["--query", "knight-follow-up", "--query", "smothered-mate"];
    for format in ["csv", "jsonl", "parquet"] {
        mine(&place, &[&["games.pgn", "--table", format, "--out", format], &queries[..]].concat());
    }
    for view in VIEWS {
        let [csv, jsonl, parquet] =
            ["csv", "jsonl", "parquet"].map(|folder| told(&place, &[&[folder], view]));
        assert_eq!(csv, jsonl, "{view:?}");
        assert_eq!(csv, parquet, "{view:?}");
    }
}

#[test]
fn two_runs_come_to_the_same_as_one_over_both() {
    let place = sample();
    for (games, out) in
        [("games/cup.pgn.zst", "cup"), ("games/season.pgn.zst", "season"), ("games", "both")]
    {
        mine(place, &[games, "--overlooked", "--keep-duplicates", "--out", out]);
    }
    for view in VIEWS {
        let [apart, together] = [&["cup", "season"][..], &["both"]]
            .map(|runs| told(place, &[runs, &["--format", "json"], view]));
        assert!(apart == together, "{view:?}");
    }
}

/// The same figures as CSV and as JSON, cell by cell.
#[test]
fn csv_and_json_agree() {
    for view in VIEWS {
        let rows = json(sample(), &[&["csv"], view]);
        let text = told(sample(), &[&["csv", "--format", "csv"], view]);
        let mut table = csv::Reader::from_reader(text.as_bytes());
        let columns = table.headers().unwrap().clone();
        let records: Vec<csv::StringRecord> = table.records().map(Result::unwrap).collect();
        assert_eq!(records.len(), rows.len(), "{view:?}");
        for (record, row) in records.iter().zip(&rows) {
            let row = row.as_object().unwrap();
            assert!(columns.iter().eq(row.keys()), "{view:?}");
            for (cell, (name, value)) in record.iter().zip(row) {
                let agrees = match value {
                    Value::Null => cell.is_empty(),
                    Value::String(text) => cell == text,
                    number => cell.parse().ok() == number.as_f64(),
                };
                assert!(agrees, "{view:?}, {name}: {cell} and {value}");
            }
        }
    }
}

#[test]
fn group_of_fewer_than_ten_games_shows_no_rate() {
    const RATES: [&str; 7] =
        ["score", "score_lower", "expected", "gain", "base", "median_moves_left", "mate_share"];
    let mut groups = [0, 0];
    for row in json(sample(), &[&["csv", "--by", "rating"]]) {
        // All games of the sample data have a result and ratings.
        let games: u64 =
            ["wins", "draws", "losses"].iter().map(|name| row[name].as_u64().unwrap()).sum();
        for rate in RATES {
            assert_eq!(row[rate].is_null(), games < 10, "{rate}: {row}");
        }
        groups[usize::from(games < 10)] += 1;
    }
    assert!(groups[0] > 10 && groups[1] > 100, "{groups:?}");
    let text = told(sample(), &[&["csv", "--query", "bishop-takes-h7", "--by", "rating"]]);
    let line = text.lines().find(|line| line.starts_with("2200 ")).unwrap();
    assert!(line.split_whitespace().eq("2200 8 8 - 8 0 0 - - - -".split(' ')), "{line}");
}

#[test]
fn text_keeps_to_80_columns() {
    for view in VIEWS {
        let text = told(sample(), &[&["csv"], view]);
        let widest = text.lines().max_by_key(|line| line.chars().count()).unwrap();
        assert!(widest.chars().count() <= 80, "{view:?}: {widest}");
    }
}

#[test]
fn text_of_each_view() {
    let query = ["csv", "--query", "bishop-takes-h7"];
    for (name, view) in [
        ("overview", &[][..]),
        ("by rating", &["--by", "rating"]),
        ("factors", &["--factors"]),
        ("continuations", &["--continuations"]),
    ] {
        insta::assert_snapshot!(name, told(sample(), &[&query, view]));
    }
}

#[test]
fn unknown_column_is_told_with_the_nearest_name() {
    for (name, near) in [
        ("ratng", "rating"),
        ("king-goes", "king_goes"),
        ("g5-hold", "g5-held"),
        ("f_mat", "f_mate"),
    ] {
        let query = ["csv", "--query", "bishop-takes-h7", "--by"];
        let ran = tally(sample(), &[&query, &[name]]);
        assert_eq!((ran.status, &*ran.out), (1, ""), "{ran}");
        let expected = format!(
            "error: the hits of `bishop-takes-h7` have no column `{name}`\n\
             hint: did you mean `{near}`?\n"
        );
        assert_eq!(ran.err, expected);
    }
}

/// The tables of two copies of a game, edited, and what is said of them where they are read as they are.
fn edited(table: &str, format: &str, edit: impl Fn(&str) -> String) -> String {
    let place = Place::new();
    place.write("games.pgn", game("Alder, Tom", "Birch, Ida") + &game("Cedar, Jo", "Dogwood, Al"));
    mine(&place, &["games.pgn", "--query", "knight-follow-up", "--table", format]);
    let table = format!("hecatomb-out/{table}.{format}");
    let text = place.read(&table);
    let changed = edit(&text);
    assert_ne!(text, changed);
    place.write(&table, changed);
    let ran = tally(&place, &[&["hecatomb-out", "--edited"]]);
    assert_eq!((ran.status, &*ran.out), (1, ""), "{ran}");
    let (error, hint) = ran.err.split_once('\n').unwrap();
    assert_eq!(
        hint,
        "hint: mine again with --replace, or verify again if it is a table of verdicts\n"
    );
    error.to_owned()
}

#[test]
fn edited_table_is_an_error_with_its_place() {
    const HITS: &str = "hits/knight-follow-up";
    let last = |text: &str, old: &str, new: &str| {
        let (before, after) = text.rsplit_once(old).unwrap();
        format!("{before}{new}{after}")
    };
    let in_hits = |edit: &dyn Fn(&str) -> String| edited(HITS, "csv", edit);
    insta::assert_snapshot!(
        in_hits(&|text| last(text, ",1850,", ",185o,")),
        @"error: `hecatomb-out/hits/knight-follow-up.csv`, line 3, column `white_elo`: `185o` is not a whole number of at most 15 digits"
    );
    insta::assert_snapshot!(
        in_hits(&|text| last(text, ",23,", ",9223372036854775807,")),
        @"error: `hecatomb-out/hits/knight-follow-up.csv`, line 3, column `plies`: `9223372036854775807` is not a whole number of at most 15 digits"
    );
    insta::assert_snapshot!(
        in_hits(&|text| last(text, ",true,,,bishop h7,", ",yes,,,bishop h7,")),
        @"error: `hecatomb-out/hits/knight-follow-up.csv`, line 3, column `played`: `yes` is not `true` or `false`"
    );
    insta::assert_snapshot!(
        in_hits(&|text| text.replacen(",plies,", ",", 1).replacen(",23,", ",", 2)),
        @"error: `hecatomb-out/hits/knight-follow-up.csv`, line 1: column 17 is `side` where `plies` was expected; the table is of another version, or was edited"
    );
    insta::assert_snapshot!(
        in_hits(&|text| last(text, ",1850,", ",")),
        @"error: `hecatomb-out/hits/knight-follow-up.csv`, line 3: the row has 57 cells, but the table has 58 columns"
    );
    insta::assert_snapshot!(
        edited(HITS, "jsonl", |text| last(text, "\"plies\":23", "\"plies\":\"2e3\"")),
        @"error: `hecatomb-out/hits/knight-follow-up.jsonl`, line 2, column `plies`: `2e3` is not a whole number of at most 15 digits"
    );
    insta::assert_snapshot!(
        edited(HITS, "jsonl", |text| last(text, "\"plies\":23,", "")),
        @"error: `hecatomb-out/hits/knight-follow-up.jsonl`, line 2: the row's keys differ from those of the first row"
    );
    insta::assert_snapshot!(
        edited(HITS, "jsonl", |text| last(text, "\"plies\":23", "\"plies\":[2,3]")),
        @"error: `hecatomb-out/hits/knight-follow-up.jsonl`, line 2: invalid type: sequence, expected a plain value of `plies`"
    );
    insta::assert_snapshot!(
        edited(HITS, "jsonl", |text| last(text, "\"plies\":23", "\"plies\" 23")),
        @"error: `hecatomb-out/hits/knight-follow-up.jsonl`, line 2: expected `:` at byte 318"
    );
    insta::assert_snapshot!(
        edited("collection", "csv", |text| text.replace(",1-0,", ",2-0,")),
        @"error: `hecatomb-out/collection.csv`, line 2, column `result`: `2-0` is not a result"
    );
}

/// Moves by which three games without ratings differ, each too rare for a line of its own: the game
/// that ended soonest stands for them, and of several the first.
#[test]
fn first_of_equal_games_is_the_model() {
    let place = Place::new();
    let games = ["Qh5", "Qg4", "Qd2"].map(|third| {
        format!(
            "[White \"{third}, A\"]\n[Black \"B, B\"]\n[Result \"1-0\"]\n\n1. e4 e6 2. d4 d5 3. Nc3 \
             Nf6 4. e5 Nfd7 5. Nf3 Be7 6. Bd3 O-O 7. h4 c5 8. Bxh7+ Kxh7 9. Ng5+ Kg8 10. {third} 1-0\n\n"
        )
    });
    let queen_d3 = games[0].replace("Qh5", "Qd3");
    place.write("games.pgn", games.concat() + &queen_d3.repeat(3).replace(" 1-0", " Bxg5 1-0"));
    mine(&place, &["games.pgn", "--query", "knight-follow-up", "--keep-duplicates"]);
    let tree = json(&place, &[&["hecatomb-out", "--continuations"]]);
    let folded = tree.iter().find(|row| row["move"] == "        other").unwrap();
    assert_eq!((&folded["games"], &folded["model_game"]), (&3.into(), &1.into()), "{folded}");
}

#[test]
fn plot_is_xml_with_an_error_bar_for_every_factor_that_has_games_enough() {
    let place = sample();
    let query = ["csv", "--query", "bishop-takes-h7", "--factors"];
    told(place, &[&query, &["--plot", "plot.svg"]]);
    let text = fs::read_to_string(place.path().join("plot.svg")).unwrap();
    let picture = roxmltree::Document::parse(&text).unwrap();
    let texts: Vec<&str> = picture.descendants().filter_map(|node| node.text()).collect();
    let is_said = |name: &str| texts.iter().any(|text| text.trim() == name);

    // The plot of the factors, by the dots in the middle of the bars.
    let is_of_factors = |node: &roxmltree::Node<'_, '_>| {
        let title = node.children().find(|child| child.has_tag_name("title"));
        title.and_then(|title| title.text()).is_some_and(|title| title.contains("factor"))
    };
    let plot = picture.descendants().find(is_of_factors).unwrap();
    let of_factors = plot.descendants().filter(|node| node.has_tag_name("circle")).count();

    let factors = json(place, &[&query]);
    let (known, unknown): (Vec<_>, Vec<_>) =
        factors.iter().partition(|row| !row["difference"].is_null());
    assert_eq!((of_factors, known.len(), unknown.len()), (8, 8, 1));
    assert!(known.iter().all(|row| is_said(row["factor"].as_str().unwrap())), "{texts:?}");
    assert!(!unknown.iter().any(|row| is_said(row["factor"].as_str().unwrap())), "{texts:?}");
}

#[test]
fn plot_needs_one_query() {
    let ran = tally(sample(), &[&["csv", "--plot", "many.svg"]]);
    assert_eq!(ran.status, 1, "{ran}");
    assert!(ran.err.contains("a plot shows one query; name it with --query"), "{ran}");
    assert!(!sample().path().join("many.svg").exists());
}

/// A date that is written with hyphens has its year in every figure.
#[test]
fn year_of_a_hit_is_that_of_the_base_rates() {
    let place = Place::new();
    let games: String = (0..12)
        .map(|number| {
            let date = ["2031-03-04", "2031.03.04", "2031", "20310304"][number % 4];
            game(&format!("Alder{number}, Tom"), "Birch, Ida").replace("2031.03.04", date)
        })
        .collect();
    place.write("games.pgn", games + &game("Cedar, Jo", "Dogwood, Al").replace("2031.", "31."));
    mine(&place, &["games.pgn", "--query", "knight-follow-up"]);
    let ran = place.run(&["tally", "hecatomb-out", "--by", "year", "--format", "csv"]);
    let groups: Vec<Vec<&str>> =
        ran.out.lines().skip(1).map(|line| line.split(',').take(4).collect()).collect();
    let expected = [["knight-follow-up", "2031", "12", "12"], ["knight-follow-up", "?", "1", "1"]];
    assert_eq!(groups, expected, "{ran}");
}

/// A run of two queries that find the same offer, in whose tables it is repeated with other names.
fn repeated(place: &Place, rows: [usize; 2]) {
    const QUERIES: [&str; 2] = ["knight-follow-up", "bishop-takes-h7"];
    place.write("games.pgn", game("Alder, Tom", "Birch, Ida"));
    let queries = QUERIES.map(|query| format!("--query={query}"));
    mine(place, &["games.pgn", "--replace", &queries[0], &queries[1]]);
    for (query, rows) in QUERIES.iter().zip(rows) {
        let table = format!("hecatomb-out/hits/{query}.csv");
        let text = place.read(&table);
        let (columns, row) = text.split_once('\n').unwrap();
        let (before, after) = row.split_once("Alder, Tom").unwrap();
        let rows = (0..rows).map(|number| format!("{before}Alder{number}, Tom{after}"));
        place.write(&table, format!("{columns}\n") + &rows.collect::<String>());
    }
}

#[test]
fn groups_beyond_any_use_are_refused_with_a_way_on() {
    let place = Place::new();
    let by_name = ["tally", "hecatomb-out", "--edited", "--by", "white", "--format", "csv"];
    repeated(&place, [50_001, 1]);
    let ran = place.run(&by_name);
    assert_eq!((ran.status, &*ran.out), (1, ""), "{ran}");
    insta::assert_snapshot!(ran.err, @"
    error: the hits of `knight-follow-up` fall into more than 50,000 groups by these columns
    hint: count by columns with fewer values, such as `rating` or `side`; for each hit by itself read its table
    ");
    repeated(&place, [25_001, 25_000]);
    let ran = place.run(&by_name);
    assert_eq!((ran.status, &*ran.out), (1, ""), "{ran}");
    insta::assert_snapshot!(ran.err, @"
    error: the hits fall into more than 50,000 groups by these columns
    hint: name one --query, or count by columns with fewer values, such as `rating` or `side`; for each hit by itself read its table
    ");
    let one = place.run(&[&by_name[..], &["--query", "knight-follow-up"]].concat());
    assert_eq!((one.status, one.out.lines().count()), (0, 25_002), "{}", one.err);
    repeated(&place, [25_000, 25_000]);
    let ran = place.run(&by_name);
    assert_eq!((ran.status, ran.out.lines().count()), (0, 50_001), "{}", ran.err);
}

/// The text of the factors in one line.
fn factors_in_a_line(place: &Place, arguments: &[&[&str]]) -> String {
    let text = told(place, &[arguments, &[&["--factors"]]].concat());
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn p_values_of_factors_are_corrected_for_those_of_all_queries_that_are_asked_for() {
    let queries = ["--query", "bishop-takes-h7", "--query", "smothered-mate", "--query=queen-lift"];
    let together = json(sample(), &[&["csv", "--factors"], &queries]);
    let alone = json(sample(), &[&["csv", "--factors"], &queries[..2]]);
    let known = |rows: &[Value], name: &str| -> Vec<f64> {
        rows.iter().filter_map(|row| row[name].as_f64()).collect()
    };
    let [p_values, p_values_alone] = [&together, &alone].map(|rows| known(rows, "p_alone"));
    assert!(p_values_alone[..] == p_values[..p_values_alone.len()]);
    let corrected = known(&together, "adjusted_p");
    for (seen, expected) in corrected.iter().zip(adjusted(&p_values)) {
        assert!((seen - expected).abs() < 2e-5, "{seen} is not {expected}");
    }
    assert_ne!(known(&alone, "adjusted_p")[..], corrected[..p_values_alone.len()]);

    let tested = together.iter().filter(|row| !row["p_alone"].is_null());
    let of: BTreeSet<&str> = tested.map(|row| row["query"].as_str().unwrap()).collect();
    assert!(of.len() > 1, "{of:?}");
    for (queries, note) in [
        (
            &queries[..],
            format!("p corrected for {} factors of {} queries)", p_values.len(), of.len()),
        ),
        (&queries[..2], format!("p corrected for {} factors)", p_values_alone.len())),
    ] {
        let text = factors_in_a_line(sample(), &[&["csv"], queries]);
        assert!(text.contains(&note), "{note}: {text}");
    }
}

/// A run of one offer that is repeated with other balances, results and factors.
fn with_balances(offers: &[(usize, &[(&str, &str)])]) -> Place {
    let place = Place::new();
    place.write("games.pgn", game("Alder, Tom", "Birch, Ida"));
    mine(&place, &["games.pgn", "--query", "knight-follow-up"]);
    repeat_offer(&place, "knight-follow-up", offers);
    place
}

/// Cells of an offer: the balance before, the result, and whether the rule holds.
const fn cells<'c>(balance: &'c str, result: &'c str, rule: &'c str) -> [(&'c str, &'c str); 3] {
    [("balance_before", balance), ("result", result), ("x_pawn-on-h4", rule)]
}

/// A rule that holds where the attacker is ahead anyway, and makes no difference there or elsewhere.
#[test]
fn rule_that_the_balance_before_explains_is_told_as_such() {
    let place = with_balances(&[
        (60, &cells("3", "1-0", "true")),
        (20, &cells("3", "0-1", "true")),
        (12, &cells("3", "1-0", "false")),
        (4, &cells("3", "0-1", "false")),
        (4, &cells("0", "1-0", "true")),
        (12, &cells("0", "0-1", "true")),
        (20, &cells("0", "1-0", "false")),
        (60, &cells("0", "0-1", "false")),
    ]);
    let folder = ["hecatomb-out", "--edited", "--factors"];
    let rows = json(&place, &[&folder]);
    let rule = rows.iter().find(|row| row["factor"] == "pawn-on-h4").unwrap();
    let number = |name: &str| rule[name].as_f64().unwrap();
    assert!(number("difference") > 0.3 && number("adjusted_p") < 0.001, "{rule}");
    assert_eq!([number("within_balance"), number("within_balance_p")], [0.0, 1.0], "{rule}");
    assert_eq!(number("odds_ratio"), 1.0, "{rule}");
    insta::assert_snapshot!(told(&place, &[&folder]));
}

/// The rule is worth as much ahead as behind.
#[test]
fn rule_that_holds_at_like_balance_is_named_as_the_strongest() {
    let place = with_balances(&[
        (36, &cells("1", "1-0", "true")),
        (4, &cells("1", "0-1", "true")),
        (20, &cells("1", "1-0", "false")),
        (20, &cells("1", "0-1", "false")),
        (20, &cells("-1", "1-0", "true")),
        (20, &cells("-1", "0-1", "true")),
        (4, &cells("-1", "1-0", "false")),
        (36, &cells("-1", "0-1", "false")),
    ]);
    let text = factors_in_a_line(&place, &[&["hecatomb-out", "--edited"]]);
    assert!(text.contains("Strongest factor: `pawn-on-h4`. With it"), "{text}");
    assert!(!text.contains("balance before"), "{text}");
}

/// A rule that holds ahead and only there.
#[test]
fn rule_that_can_not_be_told_from_the_balance_before_is_named() {
    let place = with_balances(&[
        (30, &cells("1", "1-0", "true")),
        (10, &cells("1", "0-1", "true")),
        (10, &cells("-1", "1-0", "false")),
        (30, &cells("-1", "0-1", "false")),
    ]);
    let text = factors_in_a_line(&place, &[&["hecatomb-out", "--edited"]]);
    let expected = "It may be the balance before that counts, too few games are of like balance: \
                    `pawn-on-h4` (+50.0).";
    assert!(text.contains(expected), "{text}");
}

/// A rule worth 40 points at any balance, which holds mostly behind.
#[test]
fn rule_that_the_balance_before_hides_is_named() {
    let place = with_balances(&[
        (9, &cells("3", "1-0", "true")),
        (1, &cells("3", "0-1", "true")),
        (20, &cells("3", "1-0", "false")),
        (20, &cells("3", "0-1", "false")),
        (20, &cells("-3", "1-0", "true")),
        (20, &cells("-3", "0-1", "true")),
        (1, &cells("-3", "1-0", "false")),
        (9, &cells("-3", "0-1", "false")),
    ]);
    let text = factors_in_a_line(&place, &[&["hecatomb-out", "--edited"]]);
    let expected = "The balance before hides it: `pawn-on-h4` (+16.0, at like balance +40.0).";
    assert!(text.contains(expected), "{text}");
}

#[test]
fn factors_that_never_vary_are_named_below_the_table_and_kept_for_programs() {
    let place = with_balances(&[(3, &[])]);
    let folder = ["hecatomb-out", "--edited", "--factors"];
    let rows = json(&place, &[&folder]);
    assert!(rows.len() > 4, "{rows:?}");
    for format in ["text", "markdown"] {
        let text = told(&place, &[&folder, &["--format", format]]);
        let never = text.find("; never true: `").unwrap();
        assert!(text.find("Always true here: `").unwrap() < never, "{text}");
        for row in &rows {
            let name = format!("`{}`", row["factor"].as_str().unwrap());
            assert_eq!(text.matches(&*name).count(), 1, "{name}: {text}");
            assert_eq!(text.find(&name).unwrap() < never, row["with_games"] == 3, "{name}: {text}");
        }
    }
}

#[test]
fn bands_of_the_balance_before_stand_from_behind_to_ahead_and_hold_what_they_say() {
    let query = ["csv", "--query", "bishop-takes-h7"];
    let by_column = json(sample(), &[&query, &["--by", "balance_before"]]);
    let bands = json(sample(), &[&query, &["--by", "balance"]]);
    let names = ["3+ behind", "1-2 behind", "level", "1-2 ahead", "3+ ahead"];
    let ends = [-99..=-3, -2..=-1, 0..=0, 1..=2, 3..=99];
    let mut expected = Vec::new();
    for (name, ends) in names.iter().zip(ends) {
        let meant = by_column.iter().filter(|row| {
            let balance: i32 = row["balance_before"].as_str().unwrap().parse().unwrap();
            ends.contains(&balance)
        });
        let sum =
            |column: &str| -> u64 { meant.clone().map(|row| row[column].as_u64().unwrap()).sum() };
        if meant.clone().count() > 0 {
            expected.push((*name, sum("hits"), sum("wins")));
        }
    }
    assert!(expected.len() > 2, "{expected:?}");
    let seen = bands.iter().map(|row| {
        let count = |column: &str| row[column].as_u64().unwrap();
        (row["balance"].as_str().unwrap(), count("hits"), count("wins"))
    });
    assert_eq!(seen.collect::<Vec<_>>(), expected);
}
