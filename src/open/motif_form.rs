//! The form of an own motif, and the query file that it comes to: fields of sentences in, text out, with the place of
//! each sentence in the text, so that what is wrong can be told under the very words.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::ops::Range;

use toml_edit::{DocumentMut, Item, Value};

use super::address::{AddressWords, value};

/// How a field is written in the form and in the file.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum FieldKind {
    /// A text in a line.
    Text,
    /// A text in lines.
    Prose,
    /// Texts, a line each.
    List,
    /// Names with their sentences, a line each: `name = sentence`.
    Named,
}

/// The fields in the order of the file, by the keys that they have there.
pub(super) const FIELDS: [(&str, FieldKind); 15] = [
    ("title", FieldKind::Text),
    ("also-called", FieldKind::List),
    ("chapter", FieldKind::Text),
    ("form-of", FieldKind::Text),
    ("finds", FieldKind::Text),
    ("wings", FieldKind::Text),
    ("files", FieldKind::Text),
    ("about", FieldKind::Prose),
    ("offer", FieldKind::Text),
    ("when", FieldKind::List),
    ("after", FieldKind::List),
    ("requires", FieldKind::List),
    ("follow-ups", FieldKind::Named),
    ("factors", FieldKind::Named),
    ("factors-after", FieldKind::Named),
];
/// The field of what tries the query.
pub(super) const EXAMPLES: &str = "example";
/// What holds of wings and files if nothing is said.
const AS_WRITTEN: &str = "as written";
/// The fields that every query must have.
const REQUIRED: [&str; 3] = ["title", "chapter", "offer"];

/// A motif as it stands in the form.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub(super) struct MotifForm {
    /// The name of its file, without the ending.
    pub(super) name: String,
    fields: BTreeMap<&'static str, String>,
}

/// The file that a form comes to.
#[derive(Debug, Default)]
pub(super) struct MotifFile {
    /// Its text.
    pub(super) text: String,
    /// Where the lines of the form went.
    pub(super) places: Vec<LinePlace>,
}

/// Where a line of a field stands in the file.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct LinePlace {
    /// The field.
    pub(super) field: &'static str,
    /// All that came of the line.
    pub(super) whole: Range<usize>,
    /// Its words.
    pub(super) words: Range<usize>,
}

impl MotifForm {
    /// What a form holds.
    pub(super) fn of(words: &AddressWords) -> MotifForm {
        let said = |key: &str| value(words, key).unwrap_or_default().replace("\r\n", "\n");
        let keys = FIELDS.into_iter().map(|(key, _)| key).chain([EXAMPLES]);
        let fields = keys.map(|key| (key, said(key))).collect();
        MotifForm { name: said("name").trim().to_owned(), fields }
    }

    /// What a query file holds; nothing if it is no TOML.
    pub(super) fn of_file(name: &str, text: &str) -> Option<MotifForm> {
        let document: DocumentMut = text.parse().ok()?;
        let mut form = MotifForm { name: name.to_owned(), fields: BTreeMap::new() };
        for (key, _) in FIELDS {
            if let Some(item) = document.get(key) {
                form.fields.insert(key, lines_of(item));
            }
        }
        form.fields.insert(EXAMPLES, examples_of(text).to_owned());
        Some(form)
    }

    /// The same without what tries it: another motif has other examples.
    pub(super) fn without_examples(mut self) -> MotifForm {
        self.fields.remove(EXAMPLES);
        self
    }

    /// What stands in a field.
    pub(super) fn get(&self, key: &str) -> &str {
        self.fields.get(key).map_or("", |text| text.trim_end())
    }

    /// What stands in each field.
    pub(super) fn values(&self) -> &BTreeMap<&'static str, String> {
        &self.fields
    }

    /// The file.
    pub(super) fn file(&self) -> MotifFile {
        let mut file = MotifFile::default();
        for (key, kind) in FIELDS {
            let text = self.get(key);
            let goes_without_saying = ["", AS_WRITTEN].contains(&text.trim());
            if goes_without_saying && !REQUIRED.contains(&key) {
                continue;
            }
            match kind {
                FieldKind::Text => file.text_line(key, text.trim()),
                FieldKind::Prose => file.prose(key, text),
                FieldKind::List => file.list(key, text),
                FieldKind::Named => file.named(key, text),
            }
        }
        if !self.get(EXAMPLES).trim().is_empty() {
            file.tables(self.get(EXAMPLES));
        }
        file
    }
}

impl MotifFile {
    fn text_line(&mut self, key: &'static str, text: &str) {
        let start = self.text.len();
        let _ = write!(self.text, "{key} = ");
        self.quoted(key, start, text);
        self.text.push('\n');
    }

    fn prose(&mut self, key: &'static str, text: &str) {
        let start = self.text.len();
        let _ = writeln!(self.text, "{key} = \"\"\"");
        let words = self.text.len();
        for line in text.lines() {
            self.text += &escaped(line);
            self.text.push('\n');
        }
        let words = words..self.text.len();
        self.text += "\"\"\"\n";
        self.places.push(LinePlace { field: key, whole: start..self.text.len(), words });
    }

    fn list(&mut self, key: &'static str, text: &str) {
        let _ = writeln!(self.text, "{key} = [");
        for line in lines(text) {
            let start = self.text.len();
            self.text += "    ";
            self.quoted(key, start, line);
            self.text += ",\n";
        }
        self.text += "]\n";
    }

    fn named(&mut self, key: &'static str, text: &str) {
        let _ = writeln!(self.text, "\n[{key}]");
        for line in lines(text) {
            let (name, sentence) = line.split_once('=').unwrap_or(("", line));
            let (start, name) = (self.text.len(), name.trim());
            let is_plain = |letter: char| letter.is_ascii_alphanumeric() || letter == '-';
            if !name.is_empty() && name.chars().all(is_plain) {
                let _ = write!(self.text, "{name} = ");
            } else {
                let _ = write!(self.text, "\"{}\" = ", escaped(name));
            }
            let sentence = sentence.trim().trim_matches('"');
            self.quoted(key, start, sentence);
            self.text.push('\n');
        }
    }

    fn tables(&mut self, text: &str) {
        self.text.push('\n');
        let start = self.text.len();
        self.text += text.trim();
        let all = start..self.text.len();
        self.text.push('\n');
        self.places.push(LinePlace { field: EXAMPLES, whole: all.clone(), words: all });
    }

    /// Writes a text between quotation marks, and notes the place of all since `start`.
    fn quoted(&mut self, field: &'static str, start: usize, text: &str) {
        self.text.push('"');
        let words = self.text.len();
        self.text += &escaped(text);
        let words = words..self.text.len();
        self.text.push('"');
        self.places.push(LinePlace { field, whole: start..self.text.len(), words });
    }

    /// The line of the form at an offset of the file.
    pub(super) fn line_at(&self, offset: usize) -> Option<&LinePlace> {
        self.places.iter().find(|place| place.whole.start <= offset && offset < place.whole.end)
    }
}

fn lines(text: &str) -> impl Iterator<Item = &str> {
    text.lines().map(str::trim).filter(|line| !line.is_empty())
}

/// A text for between quotation marks (TOML 1.0, basic strings).
fn escaped(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '"' | '\\' => escaped.extend(['\\', letter]),
            letter if letter.is_control() => {
                let _ = write!(escaped, "\\u{:04X}", u32::from(letter));
            }
            letter => escaped.push(letter),
        }
    }
    escaped
}

/// A value of a file as a field has it.
fn lines_of(item: &Item) -> String {
    if let Some(table) = item.as_table_like() {
        let line = |(name, item): (&str, &Item)| {
            item.as_str().map(|sentence| format!("{name} = {sentence}"))
        };
        return table.iter().filter_map(line).collect::<Vec<_>>().join("\n");
    }
    if let Some(texts) = item.as_array() {
        return texts.iter().filter_map(Value::as_str).collect::<Vec<_>>().join("\n");
    }
    item.as_str().unwrap_or_default().trim().to_owned()
}

/// The tables at the end of a file that try the query, with the comments directly above the first.
fn examples_of(text: &str) -> &str {
    let header = text.find("\n[[example]]").map(|at| at + 1);
    let Some(mut start) = header.or_else(|| text.starts_with("[[example]]").then_some(0)) else {
        return "";
    };
    while let Some(line) = text[..start].trim_end_matches('\n').rfind('\n').map(|at| at + 1) {
        if !text[line..start].starts_with('#') || text[line..start].trim().is_empty() {
            break;
        }
        start = line;
    }
    text[start..].trim()
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that can't go on has failed")]
mod tests {
    use super::*;
    use crate::query::{Library, Query, built_in_names};

    fn source(name: &str) -> Query {
        let mut library = Library::new();
        library.add(name);
        library.queries().unwrap().pop().unwrap()
    }

    #[test]
    fn every_built_in_query_means_the_same_after_it_was_in_the_form() {
        for name in built_in_names() {
            let known = source(name);
            let form = MotifForm::of_file(name, &known.source).unwrap();
            let file = form.file();
            let read =
                Query::read(name, name, &file.text).unwrap_or_else(|fault| panic!("{fault}"));
            let told = |query: &Query| {
                let examples = query.examples.iter().map(|one| (&one.line_text, one.is_hit));
                let examples: Vec<_> = examples.map(|(line, hit)| (line.clone(), hit)).collect();
                let (chapter, wings, files) = (query.chapter, query.wings, query.files);
                let rest = format!("{:?}", (&query.offer, &query.when, &query.after, &query.about));
                let named = format!("{:?}", (&query.follow_ups, &query.factors, &query.requires));
                (query.title.clone(), chapter, wings, files, examples, rest, named, query.finds)
            };
            assert_eq!(told(&read), told(&known), "{name}");
            assert_eq!(
                MotifForm::of_file(name, &file.text).unwrap().file().text,
                file.text,
                "{name}"
            );
        }
    }

    #[test]
    fn words_are_found_again_in_the_file_whatever_they_hold() {
        let hostile = "a \"b\" \\ c\u{7}\n\n[offer]\nd = \"\"\"";
        let words = [("name", "mine"), ("title", hostile), ("offer", "rook tkaes on h7")];
        let words = words.map(|(word, value)| (word.to_owned(), value.to_owned())).to_vec();
        let form = MotifForm::of(&words);
        let file = form.file();
        let document: DocumentMut = file.text.parse().unwrap();
        assert_eq!(document["title"].as_str(), Some(hostile));
        let problems = Query::read("mine", "mine", &file.text).unwrap_err();
        let problem = problems.problems.iter().find(|one| file.text[one.span.clone()] == *"tkaes");
        let place = file.line_at(problem.unwrap().span.start).unwrap();
        assert_eq!((place.field, &file.text[place.words.clone()]), ("offer", "rook tkaes on h7"));
    }
}
