//! A first plan: what the program would choose, each entry with a comment that says what it is.

use std::fmt::Write as _;

use crate::teaching::ExerciseKind;

/// A lesson of a first plan.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct WrittenLesson {
    /// The query that finds its motif.
    pub motif: String,
    /// What is known of the motif, in a line.
    pub says: String,
    /// The heading of its chapter.
    pub chapter: String,
    /// Its heading.
    pub heading: String,
    /// Its games.
    pub games: Vec<WrittenGame>,
    /// Its exercises.
    pub exercises: Vec<WrittenExercise>,
}

/// A game of a first plan.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct WrittenGame {
    /// The id of its hit.
    pub id: String,
    /// What it is, in a line.
    pub says: String,
}

/// An exercise of a first plan.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct WrittenExercise {
    /// What is asked.
    pub kind: ExerciseKind,
    /// The id of its hit.
    pub id: String,
    /// What it is, in a line.
    pub says: String,
}

/// A first plan as a file.
#[must_use]
pub fn written(title: &str, lessons: &[WrittenLesson]) -> String {
    let mut plan = String::new();
    comment(
        &mut plan,
        "The plan of a course. Keep, move, delete and add what you like, and say what you want to say;",
    );
    comment(
        &mut plan,
        "then `hecatomb course DIR --plan FILE` makes the course. `hecatomb help plans` tells more.",
    );
    plan.push('\n');
    value(&mut plan, "title", title);
    for lesson in lessons {
        plan.push_str("\n\n[[lesson]]\n");
        comment(&mut plan, &lesson.says);
        value(&mut plan, "motif", &lesson.motif);
        value(&mut plan, "chapter", &lesson.chapter);
        value(&mut plan, "heading", &lesson.heading);
        for game in &lesson.games {
            plan.push_str("\n[[lesson.game]]\n");
            comment(&mut plan, &game.says);
            value(&mut plan, "id", &game.id);
        }
        for exercise in &lesson.exercises {
            plan.push_str("\n[[lesson.exercise]]\n");
            comment(&mut plan, &exercise.says);
            value(&mut plan, "kind", exercise.kind.word());
            value(&mut plan, "id", &exercise.id);
        }
    }
    plan
}

/// A comment; what would end its line is a blank.
fn comment(plan: &mut String, text: &str) {
    let line: String = text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
    let _ = writeln!(plan, "# {}", line.trim());
}

fn value(plan: &mut String, key: &str, text: &str) {
    let text = toml::Value::String(text.to_owned());
    let _ = writeln!(plan, "{key} = {text}");
}
