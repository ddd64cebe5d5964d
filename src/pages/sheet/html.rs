//! Exercises as a page to print: diagrams with room to write, and the solutions on pages of their own.

use minijinja::{Value, context};

use super::{Motif, SheetOfExercises};
use crate::drawing::{Diagram, symbols};
use crate::pages::exercise::{in_small, shown, small_diagram};
use crate::pages::solution::of_kind;
use crate::pages::template::{curly, motif_title, rendered_with};
use crate::plan::{Audience, PerPage};
use crate::teaching::ExerciseKind;
use crate::words::Words;

pub(super) fn written(sheet: &SheetOfExercises<'_>) -> Result<String, minijinja::Error> {
    let full = Diagram::of(&shakmaty::Setup::initial());
    rendered_with(
        &[("sheet.html", include_str!("../templates/sheet.html"))],
        include_str!("../templates/sheet.css"),
        "sheet.html",
        (sheet.telling.words, sheet.telling.letters),
        context! {
            symbols => Value::from_safe_string(symbols("man", [&full, &in_small(full.clone())])),
            small => small(sheet),
            ..content(sheet)
        },
    )
}

/// What stands on a sheet, whatever it is printed with.
pub(super) fn content(sheet: &SheetOfExercises<'_>) -> Value {
    let words = sheet.telling.words;
    let exercises: Vec<Value> = sheet
        .exercises
        .iter()
        .zip(1..)
        .map(|(one, number)| shown(one, number, &sheet.motif_title(one), sheet.asks(), words))
        .collect();
    let kinds = sheet.kinds();
    let per_page = sheet.layout.per_page();
    let leaf = per_page.map_or(exercises.len(), PerPage::count);
    let leaves: Vec<Vec<Value>> = exercises.chunks(leaf.max(1)).map(<[Value]>::to_vec).collect();
    let sees_solutions = sheet.audience.sees_solutions();
    context! {
        title => sheet.title(),
        asked => asked(&kinds, words),
        caution => caution(&kinds, words),
        leaves,
        points => sheet.points(),
        count => exercises.len(),
        columns => per_page.map(PerPage::columns),
        rows => per_page.map(PerPage::rows),
        is_large => sheet.layout.is_large,
        has_questions => sheet.audience != Audience::Teacher,
        sees_solutions,
        exercises,
        motifs => if sees_solutions { motifs(sheet) } else { Vec::new() },
        rests_on => sheet.rests_on(),
        tables => &sheet.telling.caution,
    }
}

/// The diagrams beside the solutions, where each stands with its own.
fn small(sheet: &SheetOfExercises<'_>) -> Vec<Value> {
    if sheet.audience != Audience::Teacher {
        return Vec::new();
    }
    let numbered = sheet.exercises.iter().zip(1..);
    numbered.map(|(one, number)| small_diagram(one, number, sheet.telling.words)).collect()
}

/// How the offers of the motifs that are used score.
fn motifs(sheet: &SheetOfExercises<'_>) -> Vec<Value> {
    let is_used = |name: &str| sheet.exercises.iter().any(|exercise| *exercise.hit.query == *name);
    let used = sheet.motifs.iter().filter(|(name, _)| is_used(name));
    let shown = |(name, motif): (&String, &Motif)| {
        let title = curly(&motif_title(name, &motif.title, sheet.telling.words));
        context! { title, says => &motif.statistics }
    };
    used.map(shown).collect()
}

/// What is to be done, for each kind.
fn asked(kinds: &[ExerciseKind], words: Words) -> Vec<Value> {
    let each = kinds.iter().map(|&kind| of_kind(kind));
    let says = |kind: String| {
        context! { title => words.say(&kind), says => words.say(&format!("{kind}.asks")) }
    };
    each.map(says).collect()
}

/// What is to be kept in mind about the solutions.
fn caution(kinds: &[ExerciseKind], words: Words) -> Option<String> {
    // Only there do the words need one.
    kinds.contains(&ExerciseKind::Judge).then(|| words.say("exercise-judge.caution"))
}
