//! The query file: TOML to a checked query, all problems at once.

use std::ops::Range;

use shakmaty::fen::Fen;
use shakmaty::san::SanPlus;
use shakmaty::{CastlingMode, Chess, Move, Position};
use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::problem::{Problem, QueryProblems};
use super::reading::{self, Text};
use super::sentence::{Chapter, Condition, Factor, FollowUp, MoveSentence, Side, Window, Wings};
use super::words;

/// A motif written down and checked: every sentence is understood, every name is known.
#[derive(Clone, Debug)]
pub struct Query {
    /// The file's stem; names the table.
    pub name: String,
    /// One line for lists and headings.
    pub title: String,
    /// The piece that is given up.
    pub chapter: Chapter,
    /// The wings the motif is looked for on.
    pub wings: Wings,
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
    /// The later moves it watches for, in the order of the file.
    pub follow_ups: Vec<FollowUp>,
    /// What an offer needs to be a hit: of each of these sets of follow-ups, by index, one.
    pub requires: Vec<Vec<usize>>,
    /// The facts it records, in the order of the file.
    pub factors: Vec<Factor>,
    /// The file's own examples.
    pub examples: Vec<Example>,
    /// The file's text.
    pub source: String,
}

/// A position and a line that a query must find an offer in, or must not.
#[derive(Clone, Debug)]
pub struct Example {
    /// The position before the line.
    pub start: Chess,
    /// The legal moves of the line.
    pub line: Vec<Move>,
    /// The line as written.
    pub line_text: String,
    /// Whether the query must find an offer in it.
    pub is_hit: bool,
    /// What is to be proved of that offer, if it is said.
    pub worth: Option<Worth>,
    /// The example's line in the file, counted from 1.
    pub file_line: usize,
}

/// What an example says that its offer is worth against best play.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Worth {
    /// `mates in N`, the offer included.
    MatesIn(u8),
    /// `sound`: it mates or wins more than it gives.
    Sound,
    /// `holds`: it draws or comes out level.
    Holds,
    /// `not sound`: nothing of that can be proved.
    NotSound,
}

impl Worth {
    fn parse(text: &str) -> Option<Worth> {
        match text {
            "sound" => Some(Worth::Sound),
            "holds" => Some(Worth::Holds),
            "not sound" => Some(Worth::NotSound),
            _ => {
                let moves = text.strip_prefix("mates in ")?.parse().ok()?;
                (1..=30).contains(&moves).then_some(Worth::MatesIn(moves))
            }
        }
    }
}

impl std::fmt::Display for Worth {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Worth::MatesIn(moves) => write!(f, "mates in {moves}"),
            Worth::Sound => f.write_str("sound"),
            Worth::Holds => f.write_str("holds"),
            Worth::NotSound => f.write_str("not sound"),
        }
    }
}

impl Query {
    /// Reads and checks a query. `path` is named in problems; `name` becomes the query's name.
    ///
    /// # Errors
    ///
    /// All problems of the file, in its order.
    pub fn read(name: &str, path: &str, source: &str) -> Result<Query, QueryProblems> {
        let mut desk = Desk { source, problems: Vec::new() };
        let query = desk.query(name);
        match query {
            Some(query) if desk.problems.is_empty() => Ok(query),
            _ => {
                desk.problems.sort_by_key(|problem| problem.span.start);
                Err(QueryProblems {
                    path: path.to_owned(),
                    text: source.to_owned(),
                    problems: desk.problems,
                })
            }
        }
    }
}

/// The keys of a query file.
const KEYS: [&str; 10] = [
    "title",
    "chapter",
    "wings",
    "about",
    "offer",
    "when",
    "requires",
    "follow-ups",
    "factors",
    "example",
];

type Value<'a> = Spanned<DeValue<'a>>;

/// Where a file is read: takes values out of tables and notes what is wrong.
struct Desk<'s> {
    source: &'s str,
    problems: Vec<Problem>,
}

impl<'s> Desk<'s> {
    fn note(&mut self, problem: Problem) {
        self.problems.push(problem);
    }

    fn query(&mut self, name: &str) -> Option<Query> {
        let (table, errors) = DeTable::parse_recoverable(self.source);
        if !errors.is_empty() {
            for error in errors {
                let span = error.span().unwrap_or(0..0);
                self.note(Problem::new(span, error.message()));
            }
            return None;
        }
        let table = table.into_inner();
        self.check_name(name);
        self.check_keys(&table, &KEYS, "a query");
        let title = self.required_text(&table, "title")?.value;
        let chapter = self.chapter(&table);
        let wings = self.wings(&table);
        let about = self.optional_text(&table, "about").map_or_else(String::new, |text| text.value);
        let offer_text = self.required_text(&table, "offer")?;
        let offer = self.offer(&offer_text);
        let when_texts = self.text_list(&table, "when");
        let when = when_texts.iter().filter_map(|text| self.condition(text)).collect();
        let follow_ups = self.follow_ups(&table);
        let requires = self.requires(&table, &follow_ups);
        let factors = self.factors(&table);
        let examples = self.examples(&table);
        Some(Query {
            name: name.to_owned(),
            title,
            chapter: chapter?,
            wings: wings?,
            about: about.trim().to_owned(),
            offer_text: offer_text.value,
            offer: offer?,
            when_texts: when_texts.into_iter().map(|text| text.value).collect(),
            when,
            follow_ups,
            requires,
            factors,
            examples,
            source: self.source.to_owned(),
        })
    }

    /// A name must be fit for a file and a column.
    fn check_name(&mut self, name: &str) {
        if let Some(hint) = fault_of_name(name) {
            let message = format!("the file's stem `{name}` can't name a query");
            self.note(Problem::new(0..0, message).with_hint(hint));
        }
    }

    fn check_keys(&mut self, table: &DeTable<'_>, known: &[&str], what: &str) {
        for key in table.keys() {
            let word: &str = key.get_ref();
            if !known.contains(&word) {
                let message = format!("`{word}` is not a key of {what}");
                let nearest = words::nearest(word, known.iter().copied());
                let problem = Problem {
                    expected: Some(format!("one of {}", known.join(", "))),
                    ..Problem::new(key.span(), message)
                };
                self.note(problem.with_nearest(nearest));
            }
        }
    }

    fn required_text(&mut self, table: &DeTable<'_>, key: &str) -> Option<Text> {
        if !table.contains_key(key) {
            let message = format!("the query has no `{key}`");
            self.note(Problem::new(0..0, message));
            return None;
        }
        self.optional_text(table, key)
    }

    fn optional_text(&mut self, table: &DeTable<'_>, key: &str) -> Option<Text> {
        table.get(key).and_then(|value| self.text(value))
    }

    /// A string with its place, or a note that it is none.
    fn text(&mut self, value: &Value<'_>) -> Option<Text> {
        let span = value.span();
        let Some(text) = value.get_ref().as_str() else {
            self.note(Problem::new(span, "this must be a text in quotes"));
            return None;
        };
        let raw = self.source.get(span.clone()).unwrap_or_default();
        let quotes = if raw.starts_with("\"\"\"") || raw.starts_with("'''") { 3 } else { 1 };
        let inner = raw.get(quotes..raw.len().saturating_sub(quotes));
        let is_verbatim = inner == Some(text);
        let span = if is_verbatim { span.start + quotes..span.end - quotes } else { span };
        Some(Text { value: text.to_owned(), span, is_verbatim })
    }

    fn text_list(&mut self, table: &DeTable<'_>, key: &str) -> Vec<Text> {
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

    /// One of a few words, or a note which there are.
    fn one_of<T: Copy>(&mut self, text: &Text, choices: &[(&'static str, T)]) -> Option<T> {
        let found = choices.iter().find(|(word, _)| *word == text.value).map(|&(_, choice)| choice);
        if found.is_none() {
            let words = choices.iter().map(|&(word, _)| word);
            let problem = Problem {
                expected: Some(format!("one of {}", words.clone().collect::<Vec<_>>().join(", "))),
                ..Problem::new(text.span.clone(), format!("`{}` is not known here", text.value))
            };
            self.note(problem.with_nearest(words::nearest(&text.value, words)));
        }
        found
    }

    fn chapter(&mut self, table: &DeTable<'_>) -> Option<Chapter> {
        let text = self.required_text(table, "chapter")?;
        self.one_of(&text, &Chapter::ALL.map(|chapter| (chapter.word(), chapter)))
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

    fn offer(&mut self, text: &Text) -> Option<MoveSentence> {
        let offer = self.move_sentence(text)?;
        if offer.side == Side::Defender {
            self.note(Problem::new(text.span.clone(), "an offer is the attacker's move"));
        }
        if offer.window != Window::Anytime {
            self.note(Problem::new(
                text.span.clone(),
                "an offer can't have a time; only a follow-up can",
            ));
        }
        Some(offer)
    }

    fn move_sentence(&mut self, text: &Text) -> Option<MoveSentence> {
        reading::move_sentence(text).map_err(|problems| self.problems.extend(problems)).ok()
    }

    fn condition(&mut self, text: &Text) -> Option<Condition> {
        reading::condition(text).map_err(|problems| self.problems.extend(problems)).ok()
    }

    /// The named sentences of a table, in the order of the file.
    fn named_texts(&mut self, table: &DeTable<'_>, key: &str) -> Vec<(String, Text)> {
        let Some(value) = table.get(key) else {
            return Vec::new();
        };
        let DeValue::Table(sentences) = value.get_ref() else {
            self.note(Problem::new(value.span(), format!("`{key}` must be a table: [{key}]")));
            return Vec::new();
        };
        let mut named: Vec<(Range<usize>, String, Text)> = Vec::new();
        for (name, value) in sentences {
            let word: &str = name.get_ref();
            if !is_plain_name(word) {
                let problem = Problem::new(name.span(), format!("`{word}` can't name a column"));
                self.note(problem.with_hint("use lower-case letters, digits and hyphens"));
            }
            if let Some(text) = self.text(value) {
                named.push((name.span(), word.to_owned(), text));
            }
        }
        named.sort_by_key(|(span, _, _)| span.start);
        named.into_iter().map(|(_, name, text)| (name, text)).collect()
    }

    fn follow_ups(&mut self, table: &DeTable<'_>) -> Vec<FollowUp> {
        let named = self.named_texts(table, "follow-ups");
        let read = |(name, text): (String, Text)| {
            let sentence = self.move_sentence(&text)?;
            Some(FollowUp { name, text: text.value, sentence })
        };
        named.into_iter().filter_map(read).collect()
    }

    fn factors(&mut self, table: &DeTable<'_>) -> Vec<Factor> {
        let named = self.named_texts(table, "factors");
        let read = |(name, text): (String, Text)| {
            let condition = self.condition(&text)?;
            Some(Factor { name, text: text.value, condition })
        };
        named.into_iter().filter_map(read).collect()
    }

    /// The sets of follow-ups of which an offer needs one each, by index.
    fn requires(&mut self, table: &DeTable<'_>, follow_ups: &[FollowUp]) -> Vec<Vec<usize>> {
        let names: Vec<&str> = match table.get("follow-ups").map(Spanned::get_ref) {
            Some(DeValue::Table(sentences)) => {
                sentences.keys().map(|key| key.get_ref().as_ref()).collect()
            }
            _ => Vec::new(),
        };
        let mut requires = Vec::new();
        for text in self.text_list(table, "requires") {
            let words = words::split(&text.value);
            for (word, span) in &words {
                if !names.contains(word) && *word != "or" {
                    let message = format!("no follow-up is called `{word}`");
                    let nearest = words::nearest(word, names.iter().copied());
                    let place = text.place(span.start..span.end);
                    self.note(Problem::new(place, message).with_nearest(nearest));
                }
            }
            let alternates =
                words.iter().enumerate().all(|(at, (word, _))| (at % 2 == 1) == (*word == "or"));
            if !alternates || words.len().is_multiple_of(2) {
                let message = "this must be the name of a follow-up, or several with `or` between";
                self.note(Problem::new(text.span.clone(), message));
            }
            let index = |name| follow_ups.iter().position(|follow_up| follow_up.name == name);
            requires.push(words.iter().filter_map(|&(word, _)| index(word)).collect());
        }
        requires
    }

    fn examples(&mut self, table: &DeTable<'_>) -> Vec<Example> {
        let Some(value) = table.get("example") else {
            return Vec::new();
        };
        let DeValue::Array(items) = value.get_ref() else {
            self.note(Problem::new(value.span(), "examples are written as [[example]]"));
            return Vec::new();
        };
        items.iter().filter_map(|item| self.example(item)).collect()
    }

    fn example(&mut self, value: &Value<'_>) -> Option<Example> {
        let DeValue::Table(table) = value.get_ref() else {
            self.note(Problem::new(value.span(), "examples are written as [[example]]"));
            return None;
        };
        self.check_keys(table, &["fen", "line", "hit", "verdict"], "an example");
        let missing: Vec<&str> =
            ["fen", "line", "hit"].into_iter().filter(|key| !table.contains_key(*key)).collect();
        if !missing.is_empty() {
            self.note(Problem::new(
                value.span(),
                format!("the example has no `{}`", missing.join("` and no `")),
            ));
            return None;
        }
        let fen = self.optional_text(table, "fen");
        let line_text = self.optional_text(table, "line");
        let is_hit = table.get("hit").and_then(|hit| {
            let answer = hit.get_ref().as_bool();
            if answer.is_none() {
                self.note(Problem::new(hit.span(), "`hit` is true or false"));
            }
            answer
        });
        let worth = self.worth(table);
        let start = self.position(&fen?)?;
        let line_text = line_text?;
        let line = self.line(&start, &line_text)?;
        let file_line = 1 + self.source[..line_text.span.start].matches('\n').count();
        let (line_text, is_hit) = (line_text.value, is_hit?);
        Some(Example { start, line, line_text, is_hit, worth, file_line })
    }

    fn worth(&mut self, table: &DeTable<'_>) -> Option<Worth> {
        let text = self.optional_text(table, "verdict")?;
        let worth = Worth::parse(&text.value);
        if worth.is_none() {
            let problem = Problem {
                expected: Some("`mates in N`, `sound`, `holds` or `not sound`".to_owned()),
                ..Problem::new(text.span, format!("`{}` is no verdict", text.value))
            };
            self.note(problem);
        }
        worth
    }

    fn position(&mut self, text: &Text) -> Option<Chess> {
        let fen = text.value.parse::<Fen>().map_err(|error| error.to_string());
        let position = fen.and_then(|fen| {
            fen.into_position::<Chess>(CastlingMode::Standard).map_err(|error| error.to_string())
        });
        let note =
            |error| Problem::new(text.span.clone(), format!("not a legal position: {error}"));
        position.map_err(|error| self.note(note(error))).ok()
    }

    fn line(&mut self, start: &Chess, text: &Text) -> Option<Vec<Move>> {
        let mut pos = start.clone();
        let mut line = Vec::new();
        for (word, span) in words::split(&text.value) {
            let legal = SanPlus::from_ascii(word.as_bytes())
                .ok()
                .and_then(|san| san.san.to_move(&pos).ok());
            let Some(m) = legal else {
                let message = format!("`{word}` is not a legal move here");
                self.note(Problem::new(text.place(span.start..span.end), message));
                return None;
            };
            pos.play_unchecked(m);
            line.push(m);
        }
        Some(line)
    }
}

/// The longest name of a query, in bytes: with its ending and a folder it is far below what systems
/// allow.
const LONGEST_NAME: usize = 64;

/// Whether a query can have this name, so that a file can be called so on every system and lies in the
/// folder in which it is named.
#[must_use]
pub fn names_query(name: &str) -> bool {
    fault_of_name(name).is_none()
}

/// What to do about a name that no query can have.
fn fault_of_name(name: &str) -> Option<&'static str> {
    if !is_plain_name(name) {
        Some("name the file with lower-case letters, digits and hyphens")
    } else if name.len() > LONGEST_NAME {
        Some("name the file with 64 letters, digits and hyphens at most")
    } else if is_taken(name) {
        Some("name the file otherwise: devices and the first page of a course are called so")
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
fn is_plain_name(name: &str) -> bool {
    !name.is_empty()
        && !name.starts_with('-')
        && name
            .bytes()
            .all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit() || byte == b'-')
}
