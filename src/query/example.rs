//! The examples of a query file: positions and lines in which the query must find an offer, or must not.

use shakmaty::{Chess, Move};
use toml::de::{DeTable, DeValue};

use super::words;
use crate::board::{Replay, read_move, read_position};
use crate::toml_files::{Problem, Text, TomlReader, Value};

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
    /// The verdict to be proved, if one is stated.
    pub worth: Option<Worth>,
    /// The example's line in the file, counted from 1.
    pub file_line: usize,
}

/// What an example says that its offer is worth against best play.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Worth {
    /// `mates in N`, the offer included.
    MatesIn(u8),
    /// `sound`: it mates, or is up where the count ends.
    Sound,
    /// `holds`: it draws, or is level where the count ends.
    Holds,
    /// `not sound`: it is mated, or down where the count ends.
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

impl TomlReader<'_> {
    pub(super) fn examples(&mut self, table: &DeTable<'_>) -> Vec<Example> {
        let Some(value) = table.get("example") else {
            return Vec::new();
        };
        let DeValue::Array(items) = value.get_ref() else {
            self.note(Problem::new(value.span(), "examples must be written as [[example]]"));
            return Vec::new();
        };
        items.iter().filter_map(|item| self.example(item)).collect()
    }

    fn example(&mut self, value: &Value<'_>) -> Option<Example> {
        let DeValue::Table(table) = value.get_ref() else {
            self.note(Problem::new(value.span(), "examples must be written as [[example]]"));
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
                self.note(Problem::new(hit.span(), "`hit` must be true or false"));
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
                ..Problem::new(text.span, format!("`{}` is not a verdict", text.value))
            };
            self.note(problem);
        }
        worth
    }

    fn position(&mut self, text: &Text) -> Option<Chess> {
        let note =
            |fault| Problem::new(text.span.clone(), format!("not a legal position: {fault}"));
        read_position(&text.value).map_err(|fault| self.note(note(fault))).ok()
    }

    fn line(&mut self, start: &Chess, text: &Text) -> Option<Vec<Move>> {
        let mut replay = Replay::of(start, &[]);
        for (word, span) in words::split(&text.value) {
            match read_move(replay.end(), word) {
                Ok(m) => replay.play(m),
                Err(fault) => {
                    let place = text.place(span.start..span.end);
                    self.note(Problem::new(place, fault.to_string()));
                    return None;
                }
            }
        }
        Some(replay.moves)
    }
}
