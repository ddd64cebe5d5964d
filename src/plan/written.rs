//! A first plan: what the program would choose, each entry with a comment that says what it is.

use std::fmt::Write as _;

use crate::teaching::ExerciseKind;
use crate::words::{Language, Words};

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

/// A first plan as a file, in a language, which it names unless that is English.
#[must_use]
pub fn written(title: &str, language: Language, lessons: &[WrittenLesson]) -> String {
    let words = Words::of(language);
    let mut plan = String::new();
    comment(&mut plan, &words.say("plan-keep"));
    comment(&mut plan, &words.say("plan-then"));
    plan.push('\n');
    value(&mut plan, "title", title);
    if language != Language::English {
        value(&mut plan, "language", language.code());
    }
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
