//! The query file: TOML to a checked query, all problems at once.

use toml::de::DeTable;

use super::condition::{Condition, Factor};
use super::example::Example;
use super::reading;
use super::sentence::{Chapter, Files, Finds, FollowUp, MoveSentence, Requirement, Window, Wings};
use super::terms::Side;
use crate::toml_files::{FileProblems, Problem, Text, TomlReader};

/// A motif that was read and checked: every sentence is understood, every name is known.
#[derive(Clone, Debug)]
pub struct Query {
    /// The file's stem; names the table.
    pub name: String,
    /// One line for lists and headings.
    pub title: String,
    /// Other names that the trade has for it.
    pub also_called: Vec<String>,
    /// The piece that is given up.
    pub chapter: Chapter,
    /// The query of the more general motif, after which this one comes in lists and courses.
    pub form_of: Option<String>,
    /// What it finds.
    pub finds: Finds,
    /// The wings the motif is looked for on.
    pub wings: Wings,
    /// The files the motif is looked for on.
    pub files: Files,
    /// What the pupil should see, in prose; may be empty.
    pub about: String,
    /// The offer as written.
    pub offer_text: String,
    /// The offer.
    pub offer: MoveSentence,
    /// The conditions as written.
    pub when_texts: Vec<String>,
    /// What must hold just before the offer.
    pub when: Vec<Condition>,
    /// The conditions on the position after the offer as written.
    pub after_texts: Vec<String>,
    /// What must hold just after the offer.
    pub after: Vec<Condition>,
    /// The later moves it watches for, in the order of the file.
    pub follow_ups: Vec<FollowUp>,
    /// What must come of the follow-ups, each as written and as read.
    pub requires: Vec<(String, Requirement)>,
    /// The facts it records: first those of the position before the offer, then those of the one after it,
    /// each in the order of the file.
    pub factors: Vec<Factor>,
    /// The file's own examples.
    pub examples: Vec<Example>,
    /// The file's text.
    pub source: String,
}

impl Query {
    /// Reads and checks a query. `path` is named in problems; `name` becomes the query's name.
    ///
    /// # Errors
    ///
    /// All problems of the file, in its order.
    pub fn read(name: &str, path: &str, source: &str) -> Result<Query, FileProblems> {
        let mut reader = TomlReader { source, problems: Vec::new() };
        let query = reader.query(name);
        match query {
            Some(query) if reader.problems.is_empty() => Ok(query),
            _ => Err(FileProblems::new(path, source, reader.problems)),
        }
    }
}

/// The keys of a query file.
const KEYS: [&str; 16] = [
    "title",
    "also-called",
    "chapter",
    "form-of",
    "finds",
    "wings",
    "files",
    "about",
    "offer",
    "when",
    "after",
    "requires",
    "follow-ups",
    "factors",
    "factors-after",
    "example",
];

impl TomlReader<'_> {
    fn query(&mut self, name: &str) -> Option<Query> {
        let table = self.whole()?;
        self.check_name(name);
        self.check_keys(&table, &KEYS, "a query");
        let title = self.required_text(&table, "title", "the query")?.value;
        let also_called = self.also_called(&table);
        let chapter = self.chapter(&table);
        let form_of = self.form_of(&table, name);
        let finds = self.finds(&table);
        let wings = self.wings(&table);
        let files = self.files(&table);
        let about = self.optional_text(&table, "about").map_or_else(String::new, |text| text.value);
        let offer_text = self.required_text(&table, "offer", "the query")?;
        let offer = self.offer(&offer_text);
        let (when_texts, when) = self.conditions(&table, "when");
        let (after_texts, after) = self.conditions(&table, "after");
        let follow_ups = self.follow_ups(&table);
        let requires = self.requires(&table, &follow_ups);
        let factors = self.factors(&table);
        let examples = self.examples(&table);
        let query = Query {
            name: name.to_owned(),
            title,
            also_called,
            chapter: chapter?,
            form_of,
            finds: finds?,
            wings: wings?,
            files: files?,
            about: about.trim().to_owned(),
            offer_text: offer_text.value,
            offer: offer?,
            when_texts,
            when,
            after_texts,
            after,
            follow_ups,
            requires,
            factors,
            examples,
            source: self.source.to_owned(),
        };
        self.check_files(&query, &table);
        Some(query)
    }

    /// A name must be fit for a file and a column.
    fn check_name(&mut self, name: &str) {
        if let Some(hint) = fault_of_name(name) {
            let message = format!("`{name}` can't be the name of a query");
            self.note(Problem::new(0..0, message).with_hint(hint));
        }
    }

    /// The other names, each said once.
    fn also_called(&mut self, table: &DeTable<'_>) -> Vec<String> {
        let mut names: Vec<String> = Vec::new();
        for text in self.text_list(table, "also-called") {
            let is_one_line = !text.value.chars().any(char::is_control);
            if text.value.trim().is_empty() || text.value.trim() != text.value || !is_one_line {
                let message = "a name is one line, with no blank before or after it";
                self.note(Problem::new(text.span.clone(), message));
            } else if names.contains(&text.value) {
                let message = format!("`{}` is said twice", text.value);
                self.note(Problem::new(text.span.clone(), message));
            }
            names.push(text.value);
        }
        names
    }

    /// The name of the more general query.
    fn form_of(&mut self, table: &DeTable<'_>, name: &str) -> Option<String> {
        let text = self.optional_text(table, "form-of")?;
        if !names_query(&text.value) {
            let message = format!("`{}` can't be the name of a query", text.value);
            self.note(Problem::new(text.span.clone(), message));
        } else if text.value == name {
            self.note(Problem::new(text.span.clone(), "a query can't be a form of itself"));
        }
        Some(text.value)
    }

    fn chapter(&mut self, table: &DeTable<'_>) -> Option<Chapter> {
        let text = self.required_text(table, "chapter", "the query")?;
        self.one_of(&text, &Chapter::ALL.map(|chapter| (chapter.word(), chapter)))
    }

    fn finds(&mut self, table: &DeTable<'_>) -> Option<Finds> {
        let known = [("motif", Finds::Motif), ("every sacrifice", Finds::EverySacrifice)];
        match table.get("finds") {
            None => Some(Finds::Motif),
            Some(value) => {
                let text = self.text(value)?;
                self.one_of(&text, &known)
            }
        }
    }

    fn wings(&mut self, table: &DeTable<'_>) -> Option<Wings> {
        match table.get("wings") {
            None => Some(Wings::AsWritten),
            Some(value) => {
                let text = self.text(value)?;
                self.one_of(&text, &[("as written", Wings::AsWritten), ("both", Wings::Both)])
            }
        }
    }

    fn files(&mut self, table: &DeTable<'_>) -> Option<Files> {
        match table.get("files") {
            None => Some(Files::AsWritten),
            Some(value) => {
                let text = self.text(value)?;
                self.one_of(&text, &[("as written", Files::AsWritten), ("any", Files::Any)])
            }
        }
    }

    fn offer(&mut self, text: &Text) -> Option<MoveSentence> {
        let offer = self.move_sentence(text)?;
        if offer.side == Side::Defender {
            self.note(Problem::new(text.span.clone(), "the offer must be the attacker's move"));
        }
        if offer.window != Window::Anytime {
            self.note(Problem::new(
                text.span.clone(),
                "an offer can't have a time limit; only a follow-up can",
            ));
        }
        if offer.is_same_man {
            self.note(Problem::new(
                text.span.clone(),
                "an offer can't speak of `the same` man; only a follow-up can",
            ));
        }
        Some(offer)
    }

    /// The conditions of a list, as written and as read.
    fn conditions(&mut self, table: &DeTable<'_>, key: &str) -> (Vec<String>, Vec<Condition>) {
        let texts = self.text_list(table, key);
        let conditions = texts.iter().filter_map(|text| self.condition(text)).collect();
        (texts.into_iter().map(|text| text.value).collect(), conditions)
    }

    pub(super) fn move_sentence(&mut self, text: &Text) -> Option<MoveSentence> {
        reading::move_sentence(text).map_err(|problems| self.problems.extend(problems)).ok()
    }

    pub(super) fn condition(&mut self, text: &Text) -> Option<Condition> {
        reading::condition(text).map_err(|problems| self.problems.extend(problems)).ok()
    }
}

/// The longest name of a query, in bytes: with its ending and a folder it is far below what systems
/// allow.
const LONGEST_NAME: usize = 64;

/// Whether a query can have this name, so that a file can have it on every system and lies in the folder
/// in which it is named.
#[must_use]
pub fn names_query(name: &str) -> bool {
    fault_of_name(name).is_none()
}

/// What to do about a name that no query can have.
fn fault_of_name(name: &str) -> Option<&'static str> {
    if !is_plain_name(name) {
        Some("name the file with lower-case letters, digits and hyphens")
    } else if name.len() > LONGEST_NAME {
        Some("give the file a name of at most 64 letters, digits and hyphens")
    } else if is_taken(name) {
        Some("choose another name: this one belongs to a device or to the first page of a course")
    } else {
        None
    }
}

/// Whether a file of this name would be something else. Source: Microsoft, “Naming Files, Paths, and
/// Namespaces”, for the devices (from memory); a course's first page is `index.html`.
fn is_taken(name: &str) -> bool {
    let is_port = |kind| name.strip_prefix(kind).is_some_and(|number: &str| number.len() == 1);
    matches!(name, "con" | "prn" | "aux" | "nul" | "index") || is_port("com") || is_port("lpt")
}

/// Whether a name is fit for a column.
pub(super) fn is_plain_name(name: &str) -> bool {
    !name.is_empty()
        && !name.starts_with('-')
        && name
            .bytes()
            .all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit() || byte == b'-')
}
