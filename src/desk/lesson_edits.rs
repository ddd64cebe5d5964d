//! Edits of a lesson, made in a plan's text.

use toml_edit::{Array, Value};

use super::apply::Editing;
use super::edit::{LessonEdit, ListEdit, Noted, Nth, WordsPlace};
use super::fault::{EditFault, Made};
use super::listing::{below, count_after, exercise_table, game_table, said};
use super::named::{exercise_names, game_names, place_of, words_key};
use super::splice::{List, NewTable, add};
use crate::plan::{GameSource, Part};

/// The key of the list that fills a part.
fn key_of(part: Part) -> &'static str {
    match part {
        Part::Games => "game",
        _ => "exercise",
    }
}

impl Editing<'_> {
    pub(super) fn of_lesson(&self, at: usize, edit: &LessonEdit) -> Made {
        let path = [("lesson".to_owned(), at)];
        let lesson = &self.plan.lessons[at];
        let set =
            |key, words: &Option<String>| self.set(&path, key, words.as_deref().and_then(said));
        match edit {
            LessonEdit::Chapter(words) => set("chapter", words),
            LessonEdit::Heading(words) => set("heading", words),
            LessonEdit::Words(part, words) => {
                let path = below(&path, "words", 0);
                self.set(&path, part.word(), words.as_deref().and_then(said))
            }
            LessonEdit::LeaveOut(part, is_left_out) => self.leave_out(at, *part, *is_left_out),
            LessonEdit::SettleGames(games) => {
                let is_open = lesson.games.is_none() && !lesson.without.contains(&Part::Games);
                self.settle(at, Part::Games, is_open, games.iter().map(game_table).collect())
            }
            LessonEdit::SettleExercises(exercises) => {
                let is_open =
                    lesson.exercises.is_none() && !lesson.without.contains(&Part::Exercises);
                let tables = exercises.iter().map(exercise_table).collect();
                self.settle(at, Part::Exercises, is_open, tables)
            }
            LessonEdit::Games(edit) => {
                let names = lesson.games.as_deref().map(game_names);
                self.listed_in_lesson(at, Part::Games, names, edit, game_table)
            }
            LessonEdit::Exercises(edit) => {
                let names = lesson.exercises.as_deref().map(exercise_names);
                self.listed_in_lesson(at, Part::Exercises, names, edit, exercise_table)
            }
            LessonEdit::GameWords(game, place, words) => self.game_words(at, game, place, words),
        }
    }

    /// Leaves a part of a lesson out, or no longer.
    fn leave_out(&self, at: usize, part: Part, is_left_out: bool) -> Made {
        let path = [("lesson".to_owned(), at)];
        let mut without: Vec<Part> = self.plan.lessons[at].without.iter().copied().collect();
        if without.contains(&part) == is_left_out {
            return Ok(self.text.to_owned());
        }
        without.retain(|one| *one != part);
        without.extend(is_left_out.then_some(part));
        let words: Array = without.iter().map(|part| part.word()).collect();
        let value = (!words.is_empty()).then_some(Value::Array(words));
        self.set(&path, "without", value)
    }

    /// Writes down what the program would choose.
    fn settle(&self, at: usize, part: Part, is_open: bool, tables: Vec<NewTable>) -> Made {
        if !is_open {
            return Ok(self.text.to_owned());
        }
        if tables.is_empty() {
            return self.leave_out(at, part, true);
        }
        let parent = [("lesson".to_owned(), at)];
        let key = key_of(part);
        tables.iter().enumerate().try_fold(self.text.to_owned(), |text, (index, table)| {
            let list = List { parent: &parent, key };
            add(&text, &list, index, table).ok_or_else(|| EditFault::Scattered("lesson".to_owned()))
        })
    }

    /// Changes the games or exercises of a lesson, which it names, or of which it has none.
    fn listed_in_lesson<K: PartialEq + Clone>(
        &self,
        at: usize,
        part: Part,
        names: Option<Vec<K>>,
        edit: &ListEdit<K>,
        table: fn(&Noted<K>) -> NewTable,
    ) -> Made {
        let lesson = &self.plan.lessons[at];
        let is_left_out = lesson.without.contains(&part);
        if names.is_none() && !is_left_out {
            let of = lesson.motif.value.clone();
            return Err(EditFault::LeftToProgram { what: part.word(), of });
        }
        let names = names.unwrap_or_default();
        let parent = [("lesson".to_owned(), at)];
        let list = self.list(&parent, key_of(part));
        let text = list.changed(&names, edit, table)?;
        let (plan, left) = (self.plan, count_after(names.len(), edit));
        // No entry at all would leave the choice to the program.
        Editing { text: &text, plan }.leave_out(at, part, left == 0)
    }

    fn game_words(
        &self,
        at: usize,
        game: &Nth<GameSource>,
        place: &WordsPlace,
        words: &Option<String>,
    ) -> Made {
        let lesson = &self.plan.lessons[at];
        let Some(games) = &lesson.games else {
            let of = lesson.motif.value.clone();
            return Err(EditFault::LeftToProgram { what: "games", of });
        };
        let index = place_of(&game_names(games), game, "game")?;
        let path = below(&[("lesson".to_owned(), at)], "game", index);
        let words = words.as_deref().and_then(said);
        match place {
            WordsPlace::Before => self.set(&path, "before", words),
            WordsPlace::After => self.set(&path, "after", words),
            WordsPlace::At(name) => {
                let key = words_key(&games[index], name, self.text);
                self.set(&below(&path, "at", 0), &key, words)
            }
        }
    }
}
