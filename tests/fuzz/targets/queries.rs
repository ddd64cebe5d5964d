//! What is read as a query is read so again, blanks between words say nothing, to be turned twice is not
//! to be turned, and problems are told at places of the file.

#![no_main]

use hecatomb::board::{View, Wing};
use hecatomb::query::{Needs, Pattern, Query};
use hecatomb::toml_files::FileProblems;
use libfuzzer_sys::fuzz_target;
use shakmaty::Color;

fn read(source: &str) -> Result<Query, FileProblems> {
    Query::read("a-query", "a-query.toml", source)
}

/// A query file of one offer.
fn file_of(sentence: &str) -> Option<String> {
    let is_plain = !sentence.chars().any(|c| c.is_control() || c == '"' || c == '\\');
    is_plain.then(|| format!("title = \"t\"\nchapter = \"any\"\noffer = \"{sentence}\"\n"))
}

fn check_query(query: &Query) {
    let again = read(&query.source).expect("it was read before");
    assert_eq!(format!("{query:?}"), format!("{again:?}"));
    for attacker in Color::ALL {
        for wing in [Wing::Written, Wing::Mirrored] {
            let view = View { attacker, wing };
            assert_eq!(query.offer.turned(view).turned(view), query.offer);
            for condition in query.when.iter().chain(&query.after) {
                assert_eq!(condition.turned(view).turned(view), *condition);
            }
        }
    }
    if let Some(file) = file_of(&query.offer_text) {
        let spread = query.offer_text.split_whitespace().collect::<Vec<_>>().join("   ");
        let spread = file_of(&spread).expect("blanks are plain");
        let [once, again] = [file, spread].map(|file| read(&file).expect("the offer was read"));
        assert_eq!(once.offer, query.offer);
        assert_eq!(again.offer, query.offer);
    }
    let _ = Needs::of(&[Pattern::new(query.clone())]);
}

fn check(source: &str) {
    match read(source) {
        Ok(query) => check_query(&query),
        Err(problems) => {
            assert!(!problems.problems.is_empty());
            for problem in &problems.problems {
                assert!(source.get(problem.span.clone()).is_some(), "{problem:?}");
            }
            let _ = problems.render(false);
        }
    }
}

fuzz_target!(|source: &str| {
    check(source);
    if let Some(file) = file_of(source) {
        check(&file);
    }
});
