//! Exercises as a page to print: diagrams with room to write, and the solutions on pages of their own.

use minijinja::{Value, context};

use super::SheetOfExercises;
use crate::drawing::{Diagram, symbols};
use crate::pages::exercise::shown;
use crate::pages::template::{curly, rendered_with};
use crate::teaching::ExerciseKind;

pub(super) fn written(sheet: &SheetOfExercises<'_>) -> Result<String, minijinja::Error> {
    let full = Diagram::of(&shakmaty::Setup::initial());
    let exercises: Vec<Value> = sheet
        .exercises
        .iter()
        .zip(1..)
        .map(|(one, number)| shown(one, number, sheet.motif_title(one), sheet.asks()))
        .collect();
    let sorts = sheet
        .motifs
        .iter()
        .filter(|(name, _)| sheet.exercises.iter().any(|exercise| *exercise.hit.query == **name));
    let motifs: Vec<Value> = sorts
        .map(|(_, motif)| context! { title => curly(&motif.title), says => &motif.statistics })
        .collect();
    let kinds = sheet.kinds();
    rendered_with(
        &[("sheet.html", include_str!("../templates/sheet.html"))],
        include_str!("../templates/sheet.css"),
        "sheet.html",
        context! {
            title => sheet.title(),
            asked => asked(&kinds),
            caution => caution(&kinds),
            symbols => Value::from_safe_string(symbols("man", [&full])),
            exercises,
            motifs,
            rests_on => sheet.rests_on,
            tables => sheet.caution,
        },
    )
}

/// What is to be done, for each kind.
fn asked(kinds: &[ExerciseKind]) -> Vec<Value> {
    let each = kinds.iter();
    each.map(|kind| context! { title => kind.title(), says => kind.instruction() }).collect()
}

/// What is to be kept in mind about the solutions.
fn caution(kinds: &[ExerciseKind]) -> String {
    let cautions = kinds.iter().map(|kind| kind.caution());
    cautions.filter(|caution| !caution.is_empty()).collect::<Vec<_>>().join(" ")
}
