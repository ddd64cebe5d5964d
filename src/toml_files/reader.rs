//! Where a file is read: takes values out of its tables with their places, and notes what is wrong.

use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::problem::Problem;
use crate::advice::nearest;

pub(crate) type Value<'a> = Spanned<DeValue<'a>>;

/// A text value of a file and where it stands.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) struct Text {
    /// The value.
    pub(crate) value: String,
    /// The place of the value in the file: between the quotes if it stands there letter for letter,
    /// otherwise with them.
    pub(crate) span: Range<usize>,
    /// Whether the value stands in the file letter for letter.
    pub(crate) is_verbatim: bool,
}

impl Text {
    /// The place in the file of a part of the value.
    pub(crate) fn place(&self, part: Range<usize>) -> Range<usize> {
        if self.is_verbatim {
            self.span.start + part.start..self.span.start + part.end
        } else {
            self.span.clone()
        }
    }
}

/// A file's text, and what was found wrong with it so far.
pub(crate) struct TomlReader<'s> {
    pub(crate) source: &'s str,
    pub(crate) problems: Vec<Problem>,
}

impl<'s> TomlReader<'s> {
    /// The whole file as a table, unless it is no TOML.
    pub(crate) fn whole(&mut self) -> Option<DeTable<'s>> {
        let (table, errors) = DeTable::parse_recoverable(self.source);
        if errors.is_empty() {
            return Some(table.into_inner());
        }
        for error in errors {
            let span = error.span().unwrap_or(0..0);
            self.note(Problem::new(span, error.message()));
        }
        None
    }

    pub(crate) fn note(&mut self, problem: Problem) {
        self.problems.push(problem);
    }

    pub(crate) fn check_keys(&mut self, table: &DeTable<'_>, known: &[&str], what: &str) {
        for key in table.keys() {
            let word: &str = key.get_ref();
            if !known.contains(&word) {
                let message = format!("`{word}` is not a key of {what}");
                let near = nearest(word, known.iter().copied());
                let problem = Problem {
                    expected: Some(format!("one of {}", known.join(", "))),
                    ..Problem::new(key.span(), message)
                };
                self.note(problem.with_nearest(near));
            }
        }
    }

    /// `what` is what the table stands for, such as `the query`.
    pub(crate) fn required_text(
        &mut self,
        table: &DeTable<'_>,
        key: &str,
        what: &str,
    ) -> Option<Text> {
        if !table.contains_key(key) {
            let message = format!("{what} has no `{key}`");
            self.note(Problem::new(0..0, message));
            return None;
        }
        self.optional_text(table, key)
    }

    pub(crate) fn optional_text(&mut self, table: &DeTable<'_>, key: &str) -> Option<Text> {
        table.get(key).and_then(|value| self.text(value))
    }

    /// A string with its place, or a note that it is not one.
    pub(crate) fn text(&mut self, value: &Value<'_>) -> Option<Text> {
        let span = value.span();
        let Some(text) = value.get_ref().as_str() else {
            self.note(Problem::new(span, "this must be text in quotes"));
            return None;
        };
        let raw = self.source.get(span.clone()).unwrap_or_default();
        let quotes = if raw.starts_with("\"\"\"") || raw.starts_with("'''") { 3 } else { 1 };
        let inner = raw.get(quotes..raw.len().saturating_sub(quotes));
        let is_verbatim = inner == Some(text);
        let span = if is_verbatim { span.start + quotes..span.end - quotes } else { span };
        Some(Text { value: text.to_owned(), span, is_verbatim })
    }

    pub(crate) fn text_list(&mut self, table: &DeTable<'_>, key: &str) -> Vec<Text> {
        let Some(value) = table.get(key) else {
            return Vec::new();
        };
        match value.get_ref() {
            DeValue::Array(items) => items.iter().filter_map(|item| self.text(item)).collect(),
            _ => {
                self.note(Problem::new(
                    value.span(),
                    format!("`{key}` must be a list of texts in [ ]"),
                ));
                Vec::new()
            }
        }
    }

    /// One of a few words, or a note on which there are.
    pub(crate) fn one_of<T: Copy>(
        &mut self,
        text: &Text,
        choices: &[(&'static str, T)],
    ) -> Option<T> {
        let found = choices.iter().find(|(word, _)| *word == text.value).map(|&(_, choice)| choice);
        if found.is_none() {
            let words = choices.iter().map(|&(word, _)| word);
            let problem = Problem {
                expected: Some(format!("one of {}", words.clone().collect::<Vec<_>>().join(", "))),
                ..Problem::new(
                    text.span.clone(),
                    format!("`{}` is not one of the choices here", text.value),
                )
            };
            self.note(problem.with_nearest(nearest(&text.value, words)));
        }
        found
    }
}
