//! What an edit is about, as it stands in a plan: two plans that say the same there can both be edited so.

use super::edit::{CourseField, Edit, LessonEdit, ListEdit, Nth, WordsPlace};
use super::listing::below;
use super::named::{
    exercise_names, game_names, lesson_index, place_of, sheet_exercise_names, sheet_index,
};
use super::splice::entry_text;
use crate::plan::{CoursePlan, GameSource, Given, PlannedLesson, SheetWanted};

/// What an edit would change, as it stands in a plan; nothing if that is not there, or if the edit only adds or moves.
pub(super) fn touched(text: &str, plan: &CoursePlan, edit: &Edit) -> Option<String> {
    match edit {
        Edit::Course(CourseField::Title, _) => plan.title.clone(),
        Edit::Course(CourseField::Audience, _) => plan.audience.clone(),
        Edit::Course(CourseField::Words, _) => plan.words.clone(),
        Edit::AddLesson(..) | Edit::MoveLesson(..) | Edit::AddSheet(_) | Edit::MoveSheet(..) => {
            None
        }
        Edit::DropLesson(motif) => {
            entry_text(text, &below(&[], "lesson", lesson_index(plan, motif).ok()?))
        }
        Edit::Lesson(motif, edit) => {
            let at = lesson_index(plan, motif).ok()?;
            in_lesson(text, &below(&[], "lesson", at), &plan.lessons[at], edit)
        }
        // What is given is the sheet as it was seen, and what its class had so far.
        Edit::Give(given) => {
            let at = sheet_index(plan, &given.sheet).ok();
            let sheet = at.and_then(|at| entry_text(text, &below(&[], "sheet", at)));
            let has = |known: &&Given| known.class == given.class && known.sheet == given.sheet;
            let times = plan.given.iter().filter(has).count();
            Some(format!("{}\n{} had it {times} times", sheet.unwrap_or_default(), given.class))
        }
        Edit::DropSheet(name) | Edit::ChangeSheet(name, _) | Edit::SettleSheet(name, _) => {
            entry_text(text, &below(&[], "sheet", sheet_index(plan, name).ok()?))
        }
        Edit::SheetExercises(name, edit) => {
            let at = sheet_index(plan, name).ok()?;
            let SheetWanted::These(these) = &plan.sheets[at].wanted else { return None };
            let names = sheet_exercise_names(these);
            in_list(text, &below(&[], "sheet", at), "exercise", &names, edit)
        }
    }
}

fn in_lesson(
    text: &str,
    path: &[(String, usize)],
    lesson: &PlannedLesson,
    edit: &LessonEdit,
) -> Option<String> {
    match edit {
        LessonEdit::Chapter(_) => lesson.chapter.clone(),
        LessonEdit::Heading(_) => lesson.heading.clone(),
        LessonEdit::Words(part, _) => lesson.words.get(part).cloned(),
        LessonEdit::LeaveOut(part, _) => {
            lesson.without.contains(part).then(|| part.word().to_owned())
        }
        LessonEdit::SettleGames(_) | LessonEdit::SettleExercises(_) => None,
        LessonEdit::Games(edit) => {
            in_list(text, path, "game", &game_names(lesson.games.as_ref()?), edit)
        }
        LessonEdit::Exercises(edit) => {
            let names = exercise_names(lesson.exercises.as_ref()?);
            in_list(text, path, "exercise", &names, edit)
        }
        LessonEdit::GameWords(game, place, _) => words(lesson, game, place),
    }
}

fn in_list<K: PartialEq>(
    text: &str,
    parent: &[(String, usize)],
    key: &str,
    names: &[K],
    edit: &ListEdit<K>,
) -> Option<String> {
    match edit {
        ListEdit::Add(..) | ListEdit::Move(..) => None,
        ListEdit::Drop(one) | ListEdit::Replace(one, _) => {
            entry_text(text, &below(parent, key, place_of(names, one, key).ok()?))
        }
    }
}

fn words(lesson: &PlannedLesson, game: &Nth<GameSource>, place: &WordsPlace) -> Option<String> {
    let games = lesson.games.as_ref()?;
    let game = &games[place_of(&game_names(games), game, "game").ok()?];
    match place {
        WordsPlace::Before => game.before.clone(),
        WordsPlace::After => game.after.clone(),
        WordsPlace::At(name) => {
            let at = game.at.iter().find(|at| at.name.value == *name)?;
            Some(at.words.clone())
        }
    }
}

/// What an edit would put there, if it is a text.
pub(super) fn meant(edit: &Edit) -> Option<&str> {
    match edit {
        Edit::Course(_, words) => words.as_deref(),
        Edit::Lesson(_, LessonEdit::Chapter(words) | LessonEdit::Heading(words)) => {
            words.as_deref()
        }
        Edit::Lesson(_, LessonEdit::Words(_, words)) => words.as_deref(),
        Edit::Lesson(_, LessonEdit::GameWords(_, _, words)) => words.as_deref(),
        _ => None,
    }
}
