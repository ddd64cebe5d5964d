//! A plan's file: TOML to a checked plan, all problems at once.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

use clap::ValueEnum;
use toml::de::{DeTable, DeValue};

use super::course::{
    CoursePlan, GameSource, Part, PlannedExercise, PlannedGame, PlannedLesson, WordsAtMove,
};
use super::move_name::MoveName;
use super::planned::Planned;
use crate::advice::nearest;
use crate::teaching::{ExerciseKind, Levels, LevelsFault};
use crate::toml_files::{FileProblems, Problem, Text, TomlReader, Value};

/// The keys of a plan, of a lesson, of a game and of exercises.
const KEYS: [&str; 8] =
    ["title", "audience", "words", "language", "pieces", "lesson", "sheet", "given"];
const LESSON_KEYS: [&str; 7] =
    ["motif", "chapter", "heading", "words", "without", "game", "exercise"];
const GAME_KEYS: [&str; 7] = ["id", "file", "number", "opens", "before", "after", "at"];
const EXERCISE_KEYS: [&str; 4] = ["kind", "id", "count", "level"];
/// The parts that a lesson can do without.
const OPTIONAL: [(&str, Part); 5] = [
    ("numbers", Part::Numbers),
    ("rules", Part::Rules),
    ("tree", Part::Tree),
    ("games", Part::Games),
    ("exercises", Part::Exercises),
];
/// The most exercises of one entry.
const MOST_EXERCISES: i64 = 100;

impl CoursePlan {
    /// Reads and checks a plan; `path` is named in problems.
    ///
    /// # Errors
    ///
    /// All problems of the file, in its order.
    pub fn read(path: &str, source: &str) -> Result<CoursePlan, FileProblems> {
        let mut reader = TomlReader { source, problems: Vec::new() };
        match reader.plan() {
            Some(plan) if reader.problems.is_empty() => Ok(plan),
            _ => Err(FileProblems::new(path, source, reader.problems)),
        }
    }
}

impl TomlReader<'_> {
    fn plan(&mut self) -> Option<CoursePlan> {
        let table = self.whole()?;
        self.check_keys(&table, &KEYS, "a plan");
        let [title, audience, words] =
            ["title", "audience", "words"].map(|key| self.words(&table, key));
        let language = self.optional_text(&table, "language");
        let language = language.and_then(|text| self.choice(&text));
        let pieces = self.optional_text(&table, "pieces");
        let pieces = pieces.and_then(|text| self.choice(&text));
        let lessons = self.tables(&table, "lesson");
        let lessons: Vec<PlannedLesson> =
            lessons.into_iter().filter_map(|(place, lesson)| self.lesson(lesson, place)).collect();
        self.refuse_twice(&lessons);
        let (sheets, given) = (self.sheets(&table), self.given(&table));
        Some(CoursePlan { title, audience, words, language, pieces, lessons, sheets, given })
    }

    /// One of the words of an option of the command line.
    pub(super) fn choice<T: ValueEnum>(&mut self, text: &Text) -> Option<T> {
        let found = T::from_str(&text.value, false).ok();
        if found.is_none() {
            let message = format!("`{}` is not one of the choices here", text.value);
            let values = T::value_variants().iter().filter_map(ValueEnum::to_possible_value);
            let names: Vec<String> = values.map(|value| value.get_name().to_owned()).collect();
            let expected = Some(format!("one of {}", names.join(", ")));
            let problem = Problem { expected, ..Problem::new(text.span.clone(), message) };
            self.note(problem.with_nearest(nearest(&text.value, names.iter().map(String::as_str))));
        }
        found
    }

    pub(super) fn words(&mut self, table: &DeTable<'_>, key: &str) -> Option<String> {
        self.optional_text(table, key).map(|text| text.value)
    }

    /// Two lessons on one motif would be one page.
    fn refuse_twice(&mut self, lessons: &[PlannedLesson]) {
        for (index, lesson) in lessons.iter().enumerate() {
            let motif = &lesson.motif;
            if lessons[..index].iter().any(|known| known.motif.value == motif.value) {
                let message = format!("`{}` has a lesson already", motif.value);
                self.note(Problem::new(motif.place.clone(), message));
            }
        }
    }

    fn lesson(&mut self, table: &DeTable<'_>, place: Range<usize>) -> Option<PlannedLesson> {
        self.check_keys(table, &LESSON_KEYS, "a lesson");
        let Some(motif) = self.optional_text(table, "motif") else {
            if !table.contains_key("motif") {
                let problem = Problem::new(place, "this lesson has no `motif`");
                self.note(problem.with_hint("name the query that finds it: motif = \"NAME\""));
            }
            return None;
        };
        let [chapter, heading] = ["chapter", "heading"].map(|key| self.words(table, key));
        let words = self.words_before_parts(table);
        let games = self.tables(table, "game");
        let games: Vec<PlannedGame> =
            games.into_iter().filter_map(|(place, game)| self.game(game, place)).collect();
        let exercises = self.tables(table, "exercise");
        let exercises: Vec<PlannedExercise> = exercises
            .into_iter()
            .filter_map(|(place, exercise)| self.exercise(exercise, place))
            .collect();
        let named = [(Part::Games, !games.is_empty()), (Part::Exercises, !exercises.is_empty())];
        let without = self.without(table, named);
        Some(PlannedLesson {
            chapter,
            heading,
            words,
            games: (!games.is_empty()).then_some(games),
            exercises: (!exercises.is_empty()).then_some(exercises),
            without,
            motif: planned(motif),
        })
    }

    /// The parts that are left out, which must not be those of which the lesson names what they show.
    fn without(&mut self, table: &DeTable<'_>, named: [(Part, bool); 2]) -> BTreeSet<Part> {
        let texts = self.text_list(table, "without");
        let mut parts = BTreeSet::new();
        for text in texts {
            let Some(part) = self.one_of(&text, &OPTIONAL) else { continue };
            if named.contains(&(part, true)) {
                let message = format!("this lesson names its {}", text.value);
                self.note(Problem::new(text.span.clone(), message));
            }
            parts.insert(part);
        }
        parts
    }

    fn words_before_parts(&mut self, table: &DeTable<'_>) -> BTreeMap<Part, String> {
        let Some(words) = self.table(table, "words") else { return BTreeMap::new() };
        self.check_keys(words, &Part::ALL.map(|(word, _)| word), "a lesson's words");
        let of_part = |(word, part)| Some((part, self.optional_text(words, word)?.value));
        Part::ALL.into_iter().filter_map(of_part).collect()
    }

    fn game(&mut self, table: &DeTable<'_>, place: Range<usize>) -> Option<PlannedGame> {
        self.check_keys(table, &GAME_KEYS, "a game");
        let source = self.source(table, place);
        let opens = self.optional_text(table, "opens").and_then(|text| self.move_name(text));
        let [before, after] = ["before", "after"].map(|key| self.words(table, key));
        let at = self.words_at_moves(table);
        Some(PlannedGame { source: source?, opens, before, after, at })
    }

    fn source(&mut self, table: &DeTable<'_>, place: Range<usize>) -> Option<Planned<GameSource>> {
        let (id, file) = (self.optional_text(table, "id"), self.optional_text(table, "file"));
        let number = self.number(table, "number", 1..=i64::MAX);
        match (id, file) {
            (Some(id), None) => Some(Planned { value: GameSource::Hit(id.value), place: id.span }),
            (None, Some(file)) => {
                let number = number.map_or(1, |number| number as usize);
                let value = GameSource::File(file.value.into(), number);
                Some(Planned { value, place: file.span })
            }
            (id, _) => {
                let is_twice = id.is_some();
                let place = id.map_or(place, |id| id.span);
                let message = if is_twice {
                    "a game has an `id` or is in a `file`, not both"
                } else {
                    "this game has neither `id` nor `file`"
                };
                let hint =
                    "ids stand in the columns `id` and `game_id` of the hits; a `file` is in PGN";
                self.note(Problem::new(place, message).with_hint(hint));
                None
            }
        }
    }

    fn words_at_moves(&mut self, table: &DeTable<'_>) -> Vec<WordsAtMove> {
        let Some(at) = self.table(table, "at") else { return Vec::new() };
        let mut words = Vec::new();
        for (key, value) in at {
            let name =
                Text { value: key.get_ref().to_string(), span: key.span(), is_verbatim: false };
            let name = self.move_name(name);
            let said = self.text(value);
            if let (Some(name), Some(said)) = (name, said) {
                words.push(WordsAtMove { name, words: said.value });
            }
        }
        words.sort_by_key(|words| words.name.place.start);
        words
    }

    fn move_name(&mut self, text: Text) -> Option<Planned<MoveName>> {
        let name = MoveName::read(&text.value);
        if name.is_none() {
            let message = format!("`{}` does not name a move", text.value);
            let problem = Problem::new(text.span.clone(), message);
            self.note(problem.with_hint("write it with its number: \"16.Bxh7+\" or \"16...Kxh7\""));
        }
        Some(Planned { value: name?, place: text.span })
    }

    fn exercise(&mut self, table: &DeTable<'_>, place: Range<usize>) -> Option<PlannedExercise> {
        self.check_keys(table, &EXERCISE_KEYS, "an exercise");
        let kind = self.required_text(table, "kind", "this exercise");
        let kind = kind.and_then(|text| self.one_of(&text, &kinds()));
        let id = self.optional_text(table, "id");
        let count = self.number(table, "count", 1..=MOST_EXERCISES);
        let levels = self.levels(table);
        match (id, count) {
            (Some(id), None) => Some(PlannedExercise::One(kind?, planned(id))),
            (None, Some(count)) => Some(PlannedExercise::Some(kind?, count as usize, levels)),
            (id, _) => {
                let is_twice = id.is_some();
                let message = if is_twice {
                    "an exercise has an `id`, or there are so many by `count`, not both"
                } else {
                    "this exercise has neither `id` nor `count`"
                };
                self.note(Problem::new(id.map_or(place, |id| id.span), message));
                None
            }
        }
    }

    /// A level or a range of them; all if none is named.
    pub(super) fn levels(&mut self, table: &DeTable<'_>) -> Levels {
        let Some(value) = table.get("level") else { return Levels::ALL };
        let text = match value.get_ref() {
            DeValue::Integer(number) => number.as_str().to_owned(),
            DeValue::String(text) => text.to_string(),
            _ => String::new(),
        };
        text.parse().unwrap_or_else(|fault: LevelsFault| {
            let problem = Problem::new(value.span(), fault.to_string());
            self.note(problem.with_hint("write 2, or \"1-3\""));
            Levels::ALL
        })
    }

    /// The tables of a list, each with its place.
    pub(super) fn tables<'t, 'd>(
        &mut self,
        table: &'t DeTable<'d>,
        key: &str,
    ) -> Vec<(Range<usize>, &'t DeTable<'d>)> {
        let Some(value) = table.get(key) else { return Vec::new() };
        let DeValue::Array(items) = value.get_ref() else {
            let message = format!("each `{key}` is a table of its own: [[{key}]]");
            self.note(Problem::new(value.span(), message));
            return Vec::new();
        };
        let mut tables = Vec::new();
        for item in items.iter() {
            match item.get_ref() {
                DeValue::Table(table) => tables.push((item.span(), table)),
                _ => self.note(Problem::new(item.span(), "this must be a table")),
            }
        }
        tables
    }

    fn table<'t, 'd>(&mut self, table: &'t DeTable<'d>, key: &str) -> Option<&'t DeTable<'d>> {
        let value: &'t Value<'d> = table.get(key)?;
        let DeValue::Table(found) = value.get_ref() else {
            self.note(Problem::new(value.span(), format!("`{key}` must be a table: [{key}]")));
            return None;
        };
        Some(found)
    }

    /// A whole number within bounds.
    pub(super) fn number(
        &mut self,
        table: &DeTable<'_>,
        key: &str,
        bounds: std::ops::RangeInclusive<i64>,
    ) -> Option<i64> {
        let value = table.get(key)?;
        let number = match value.get_ref() {
            DeValue::Integer(number) => i64::from_str_radix(number.as_str(), number.radix()).ok(),
            _ => None,
        };
        let number = number.filter(|number| bounds.contains(number));
        if number.is_none() {
            let (least, most) = (bounds.start(), bounds.end());
            let range = if *most == i64::MAX {
                format!("from {least} on")
            } else {
                format!("from {least} to {most}")
            };
            self.note(Problem::new(value.span(), format!("`{key}` must be a number {range}")));
        }
        number
    }
}

/// The kinds of exercises with their words.
pub(super) fn kinds() -> Vec<(&'static str, ExerciseKind)> {
    ExerciseKind::value_variants().iter().map(|&kind| (kind.word(), kind)).collect()
}

pub(super) fn planned(text: Text) -> Planned<String> {
    Planned { value: text.value, place: text.span }
}
