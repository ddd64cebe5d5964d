//! The reference: the topics of `hecatomb help`, the pages for `man`, and what the README says of them.

use crate::support::{Place, game, rows};

/// The names that a heading of `hecatomb help` lists.
fn listed(place: &Place, heading: &str) -> Vec<String> {
    let help = place.run(&["help"]);
    assert_eq!((help.status, &*help.err), (0, ""), "{help}");
    let lines = help.out.lines().skip_while(|line| !line.starts_with(heading)).skip(1);
    let names = lines.map_while(|line| line.split_whitespace().next()).map(str::to_owned);
    names.collect()
}

#[test]
fn help_of_a_command_is_the_same_by_word_and_by_option() {
    let place = Place::new();
    for words in [&[][..], &["mine"], &["queries"], &["queries", "show"], &["help"]] {
        let by_word = place.run(&[&["help"], words].concat());
        let by_option = place.run(&[words, &["--help"]].concat());
        assert_eq!(by_word.status, 0, "{by_word}");
        assert_eq!(by_word.out, by_option.out);
    }
}

#[test]
fn every_topic_is_shown_is_a_page_and_is_named_in_the_readme() {
    let place = Place::new();
    let (topics, commands) = (listed(&place, "Topics"), listed(&place, "Commands"));
    assert!(topics.len() >= 7 && commands.len() >= 9, "{topics:?} {commands:?}");
    assert_eq!(place.run(&["manual", "-o", "man"]).status, 0);
    for topic in &topics {
        assert!(!commands.contains(topic), "{topic} is a command, too");
        let shown = place.run(&["help", topic]);
        assert_eq!((shown.status, &*shown.err), (0, ""), "{shown}");
        assert!(shown.out.lines().count() > 20, "{shown}");
        let page = place.read(&format!("man/man7/hecatomb-{topic}.7"));
        assert!(page.contains(".SH NAME"), "{page}");
        assert!(include_str!("../README.md").contains(&format!("\n| `{topic}` | ")), "{topic}");
    }
}

#[test]
fn unknown_topic_is_told_with_the_nearest_name() {
    let place = Place::new();
    for (wrong, meant) in [("colums", "columns"), ("talli", "tally")] {
        let ran = place.run(&["help", wrong]);
        assert_eq!((ran.status, &*ran.out), (2, ""), "{ran}");
        assert!(ran.err.contains(&format!("did you mean `{meant}`?")), "{ran}");
    }
    assert_eq!(place.run(&["help", "queries", "no"]).status, 2);
}

/// The column by which the topic explains one: follow-ups and factors have names of their own.
fn explained(column: &str) -> &str {
    match column.split_once('_') {
        Some(("f", _)) => "f_NAME",
        Some(("x", _)) => "x_NAME",
        _ => column,
    }
}

#[test]
fn every_column_of_every_table_is_explained() {
    let place = Place::new();
    place.write("games.pgn", game("Alder, Tom", "Birch, Ida"));
    let query = ["--query", "bishop-takes-h7"];
    assert_eq!(place.run(&[&["mine", "games.pgn"][..], &query].concat()).status, 0);
    let mut verify = vec!["verify", "hecatomb-out", "--nodes=3000"];
    // The peer does as it should under this name.
    let peer = place.path().join("0.none");
    #[cfg(unix)]
    {
        std::os::unix::fs::symlink(crate::engines::peer(), &peer).unwrap();
        verify.extend(["--engine", peer.to_str().unwrap()]);
    }
    let ran = place.run(&verify);
    assert_eq!(ran.status, 0, "{ran}");

    let topic = place.run(&["help", "columns"]).out;
    let dictionary = place.run(&["help", "columns", "--format", "csv"]).out;
    place.write("dictionary.csv", dictionary);
    let dictionary = rows(&place.path().join("dictionary.csv"));
    for table in
        ["hits/bishop-takes-h7", "verdicts/bishop-takes-h7", "collection", "games", "rejects"]
    {
        // The part of the topic on this table: its headings stand at the margin.
        let heading = table.replace("bishop-takes-h7", "QUERY") + ".csv:";
        let part = topic.lines().skip_while(|line| !line.starts_with(&heading)).skip(1);
        let part = part.take_while(|line| line.is_empty() || line.starts_with(' '));
        let terms = part.filter(|line| line.starts_with("  ") && !line.starts_with("   "));
        let terms: Vec<&str> = terms.flat_map(|line| line.trim().split(", ")).collect();
        let name = table.split('/').next().unwrap();
        let known = dictionary.iter().filter(|row| &row["table"] == name);
        let known: Vec<&str> = known.map(|row| &row["column"]).collect();
        let table = place.read(&format!("hecatomb-out/{table}.csv"));
        let columns: Vec<&str> = table.lines().next().unwrap().split(',').collect();
        assert!(columns.len() >= 6, "{columns:?}");
        for column in columns {
            assert!(terms.contains(&explained(column)), "{heading} {column}: {terms:?}");
            assert!(known.contains(&explained(column)), "{name} {column}: {known:?}");
        }
    }
    assert_eq!(place.run(&["help", "kinds", "--format", "csv"]).status, 2);
}
