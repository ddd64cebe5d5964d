//! The named sentences of a query file: follow-ups, which of them an offer needs, and factors.

use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::condition::{Factor, Moment};
use super::file::is_plain_name;
use super::sentence::{FollowUp, Requirement};
use super::words::{self, Word};
use crate::advice::nearest;
use crate::toml_files::{Problem, Text, TomlReader};

/// A sentence with its name, and where that stands.
struct Named {
    name: String,
    place: Range<usize>,
    text: Text,
}

impl TomlReader<'_> {
    /// The named sentences of a table, in the order of the file.
    fn named_texts(&mut self, table: &DeTable<'_>, key: &str) -> Vec<Named> {
        let Some(value) = table.get(key) else {
            return Vec::new();
        };
        let DeValue::Table(sentences) = value.get_ref() else {
            self.note(Problem::new(value.span(), format!("`{key}` must be a table: [{key}]")));
            return Vec::new();
        };
        let mut named: Vec<Named> = Vec::new();
        for (name, value) in sentences {
            let word: &str = name.get_ref();
            if !is_plain_name(word) {
                let problem =
                    Problem::new(name.span(), format!("`{word}` can't be the name of a column"));
                self.note(problem.with_hint("use lower-case letters, digits and hyphens"));
            }
            if let Some(text) = self.text(value) {
                named.push(Named { name: word.to_owned(), place: name.span(), text });
            }
        }
        named.sort_by_key(|named| named.place.start);
        named
    }

    pub(super) fn follow_ups(&mut self, table: &DeTable<'_>) -> Vec<FollowUp> {
        let named = self.named_texts(table, "follow-ups");
        let read = |Named { name, text, .. }: Named| {
            let sentence = self.move_sentence(&text)?;
            if sentence.not_taken_back.is_some() {
                let message = "only an offer can be `not taken back`; a follow-up can't";
                self.note(Problem::new(text.span.clone(), message));
            }
            Some(FollowUp { name, text: text.value, sentence })
        };
        named.into_iter().filter_map(read).collect()
    }

    /// The factors of the position before the offer and those of the one after it. They share their
    /// columns, so no two may have one name.
    pub(super) fn factors(&mut self, table: &DeTable<'_>) -> Vec<Factor> {
        let mut factors: Vec<Factor> = Vec::new();
        for (key, moment) in [("factors", Moment::Before), ("factors-after", Moment::After)] {
            for Named { name, place, text } in self.named_texts(table, key) {
                if factors.iter().any(|known| known.name == name) {
                    let message = format!("`{name}` is a factor already");
                    let hint = "a name may stand in `factors` or in `factors-after`, not in both";
                    self.note(Problem::new(place, message).with_hint(hint));
                }
                if let Some(condition) = self.condition(&text) {
                    factors.push(Factor { name, text: text.value, condition, moment });
                }
            }
        }
        factors
    }

    /// What must come of the follow-ups, each as written and as read.
    pub(super) fn requires(
        &mut self,
        table: &DeTable<'_>,
        follow_ups: &[FollowUp],
    ) -> Vec<(String, Requirement)> {
        let names: Vec<&str> = match table.get("follow-ups").map(Spanned::get_ref) {
            Some(DeValue::Table(sentences)) => {
                sentences.keys().map(|key| key.get_ref().as_ref()).collect()
            }
            _ => Vec::new(),
        };
        let texts = self.text_list(table, "requires");
        let read = |text: Text| {
            let requirement = self.requirement(&text, &names, follow_ups)?;
            Some((text.value, requirement))
        };
        texts.into_iter().filter_map(read).collect()
    }

    /// `no NAME`, or rows of names: `then` between those of a row, `or` between rows.
    fn requirement(
        &mut self,
        text: &Text,
        names: &[&str],
        follow_ups: &[FollowUp],
    ) -> Option<Requirement> {
        let words = words::split(&text.value);
        let is_no = |word: &str| word == "no" && !names.contains(&"no");
        let is_absence = matches!(words[..], [(first, _), _] if is_no(first));
        if !is_absence && words.iter().any(|(word, _)| is_no(word)) {
            let problem = Problem::new(text.span.clone(), "`no` speaks of one follow-up only");
            self.note(problem.with_hint("write a text of its own for each that must not come"));
            return None;
        }
        let listed = if is_absence { &words[1..] } else { &words[..] };
        let is_link = |word: &str| word == "or" || word == "then";
        for (word, span) in listed {
            if !names.contains(word) && !is_link(word) {
                let message = format!("no follow-up is called `{word}`");
                let near = nearest(word, names.iter().copied());
                let place = text.place(span.start..span.end);
                self.note(Problem::new(place, message).with_nearest(near));
            }
        }
        let alternates =
            listed.iter().enumerate().all(|(at, (word, _))| (at % 2 == 1) == is_link(word));
        if !alternates || listed.len().is_multiple_of(2) {
            let message = "this must be the name of a follow-up, or several with `or` between";
            let problem = Problem::new(text.span.clone(), message);
            self.note(problem.with_hint(
                "`then` between two asks for them in this order, and `no` before one that it does not come",
            ));
            return None;
        }
        let index =
            |&(name, _): &Word<'_>| follow_ups.iter().position(|follow_up| follow_up.name == name);
        if is_absence {
            return index(&listed[0]).map(Requirement::StaysAway);
        }
        let rows = listed.split(|&(word, _)| word == "or");
        let row =
            |row: &[Word<'_>]| row.iter().step_by(2).map(index).collect::<Option<Vec<usize>>>();
        rows.map(row).collect::<Option<Vec<Vec<usize>>>>().map(Requirement::Comes)
    }
}
