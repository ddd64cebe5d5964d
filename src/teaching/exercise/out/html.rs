//! Exercises as a page to print: diagrams with room to write, and the solutions on pages of their own.

use minijinja::{Value, context};
use shakmaty::{Chess, EnPassantMode, Move, Position};

use super::SheetOfExercises;
use crate::board::destination;
use crate::teaching::diagram::{Diagram, symbols};
use crate::teaching::exercise::moves::printed;
use crate::teaching::exercise::words::{comes_to, features, judged, question, reference};
use crate::teaching::exercise::{Exercise, Task};
use crate::teaching::lesson::curly;
use crate::teaching::lesson::page::{drawn, rendered_with};
use crate::teaching::marks::Line;

pub(super) fn written(sheet: &SheetOfExercises<'_>) -> Result<String, minijinja::Error> {
    let full = Diagram::of(&shakmaty::Setup::initial());
    let exercises: Vec<Value> =
        sheet.exercises.iter().zip(1..).map(|(one, number)| exercise(sheet, one, number)).collect();
    let sorts = sheet
        .motifs
        .iter()
        .filter(|(name, _)| sheet.exercises.iter().any(|exercise| exercise.query == **name));
    let motifs: Vec<Value> = sorts
        .map(|(_, motif)| context! { title => curly(&motif.title), says => &motif.statistics })
        .collect();
    rendered_with(
        &[("sheet.html", include_str!("sheet.html"))],
        include_str!("sheet.css"),
        "sheet.html",
        context! {
            title => sheet.title,
            instruction => sheet.task.instruction(),
            caution => sheet.task.caution(),
            symbols => Value::from_safe_string(symbols("man", [&full])),
            exercises,
            motifs,
        },
    )
}

fn exercise(sheet: &SheetOfExercises<'_>, exercise: &Exercise, number: usize) -> Value {
    let id = format!("exercise-{number}");
    let diagram = diagram(exercise).titled(format!("Exercise {number}"));
    let comes_to = |verdict| comes_to(verdict, exercise.attacker);
    let also = exercise.also.iter().map(|&(m, verdict)| {
        context! { moves => moves(&exercise.start, &[m]), says => comes_to(verdict) }
    });
    let asides = exercise.asides.iter().map(|aside| {
        let start = exercise.start_of(aside);
        context! {
            moves => moves(&start, &aside.moves),
            says => comes_to(aside.verdict),
            is_mistake => aside.is_mistake,
        }
    });
    context! {
        number,
        id => &id,
        diagram => drawn(&diagram, &format!("{id}-board")),
        question => curly(&question(exercise)),
        level => exercise.level.0,
        features => features(&exercise.features),
        judged => judged(exercise),
        moves => moves(&exercise.start, &exercise.line),
        says => comes_to(exercise.verdict),
        also => also.collect::<Vec<_>>(),
        asides => asides.collect::<Vec<_>>(),
        motif => curly(sheet.motif_title(exercise)),
        from => reference(&exercise.game).replace(" - ", " – "),
    }
}

/// The position from the side that is to find something.
fn diagram(exercise: &Exercise) -> Diagram {
    let setup = exercise.start.to_setup(EnPassantMode::Legal);
    let diagram = Diagram::of(&setup).seen_by(exercise.side());
    let shown = match exercise.task {
        Task::Judge => exercise.line.first(),
        Task::Defend => exercise.lead.moves.last(),
        Task::Find | Task::Continue => None,
    };
    diagram.line(shown.and_then(|&m| way(m)))
}

fn way(m: Move) -> Option<Line> {
    Some(Line { from: m.from()?, to: destination(m) })
}

/// The moves of a line, each with the number that stands before it.
fn moves(start: &Chess, line: &[Move]) -> Vec<Value> {
    printed(start, line)
        .iter()
        .map(|one| context! { number => one.number_in_print(), san => &one.san })
        .collect()
}
