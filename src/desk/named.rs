//! Which entry of a plan a name means.

use super::edit::{ExerciseName, Nth};
use super::fault::EditFault;
use crate::plan::{CoursePlan, GameSource, MoveName, PlannedExercise, PlannedGame, SheetExercise};

/// The names of the lessons of a plan, in order.
#[must_use]
pub fn lesson_names(plan: &CoursePlan) -> Vec<String> {
    plan.lessons.iter().map(|lesson| lesson.motif.value.clone()).collect()
}

/// The names of its sheets, in order.
#[must_use]
pub fn sheet_names(plan: &CoursePlan) -> Vec<String> {
    plan.sheets.iter().map(|sheet| sheet.name.value.clone()).collect()
}

/// The names of the games of a lesson, in order.
#[must_use]
pub fn game_names(games: &[PlannedGame]) -> Vec<GameSource> {
    games.iter().map(|game| game.source.value.clone()).collect()
}

/// The names of the exercises of a lesson, in order.
#[must_use]
pub fn exercise_names(exercises: &[PlannedExercise]) -> Vec<ExerciseName> {
    let name = |exercise: &PlannedExercise| match exercise {
        PlannedExercise::One(kind, id) => ExerciseName::One(*kind, id.value.clone()),
        PlannedExercise::Some(kind, count, levels) => ExerciseName::Some(*kind, *count, *levels),
    };
    exercises.iter().map(name).collect()
}

/// The names of the exercises of a sheet, in order.
#[must_use]
pub fn sheet_exercise_names(exercises: &[SheetExercise]) -> Vec<ExerciseName> {
    exercises.iter().map(|one| ExerciseName::One(one.kind, one.id.value.clone())).collect()
}

pub(super) fn lesson_index(plan: &CoursePlan, motif: &str) -> Result<usize, EditFault> {
    let place = plan.lessons.iter().position(|lesson| lesson.motif.value == motif);
    place.ok_or_else(|| EditFault::Gone(format!("lesson on `{motif}`")))
}

pub(super) fn sheet_index(plan: &CoursePlan, name: &str) -> Result<usize, EditFault> {
    let place = plan.sheets.iter().position(|sheet| sheet.name.value == name);
    place.ok_or_else(|| EditFault::Gone(format!("sheet `{name}`")))
}

/// The index of an entry in a list whose entries name these.
pub(super) fn place_of<K: PartialEq>(
    names: &[K],
    one: &Nth<K>,
    what: &str,
) -> Result<usize, EditFault> {
    let same = names.iter().enumerate().filter(|(_, name)| **name == one.name);
    let place = same.map(|(index, _)| index).nth(one.nth);
    place.ok_or_else(|| EditFault::Gone(format!("such {what}")))
}

/// The key under which words at a move stand in a text, or are to stand.
pub(super) fn words_key(game: &PlannedGame, name: &MoveName, text: &str) -> String {
    let written = game.at.iter().find(|words| words.name.value == *name);
    let written = written.and_then(|words| text.get(words.name.place.clone()));
    let read = |raw: &str| Some(raw.parse::<toml_edit::Key>().ok()?.get().to_owned());
    written.and_then(read).unwrap_or_else(|| name.to_string())
}
