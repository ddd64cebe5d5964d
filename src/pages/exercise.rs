//! An exercise as pages show it: what is asked, on a diagram, and the answer.

use minijinja::{Value, context};
use shakmaty::{Chess, EnPassantMode, Move, Position};

use super::solution::{
    Asks, Footing, comes_to, comes_to_sentence, features, introduced, judged, question, reference,
};
use super::template::{curly, drawn};
use crate::board::Replay;
use crate::drawing::{Diagram, Way};
use crate::teaching::{Exercise, ExerciseKind, Upshot};
use crate::words::Words;

/// What a page shows of an exercise with this number and the title of its motif.
pub(super) fn shown(
    exercise: &Exercise,
    number: usize,
    motif: &str,
    asks: Asks,
    words: Words,
) -> Value {
    let id = format!("exercise-{number}");
    let diagram = picture(exercise, number, words);
    let footing = Footing::of(exercise);
    let comes_to = |upshot| comes_to(upshot, footing, words);
    let also = exercise.also.iter().map(|&(m, upshot)| {
        context! { moves => moves(&exercise.start, &[m]), says => comes_to(upshot) }
    });
    let asides = exercise.asides.iter().map(|aside| {
        let start = exercise.start_of(aside);
        context! {
            moves => moves(&start, &aside.moves),
            says => comes_to(aside.comes_to),
            introduced => introduced(exercise.kind, aside.role, words),
        }
    });
    context! {
        number,
        id => &id,
        diagram => drawn(&diagram, &format!("{id}-board")),
        question => curly(&question(exercise, asks, words)),
        level => exercise.level.0,
        points => exercise.level.points(),
        features => features(exercise, words),
        judged => judged(exercise, words),
        moves => moves(&exercise.start, &exercise.line),
        says => comes_to(exercise.comes_to),
        sentence => comes_to_sentence(exercise.comes_to, footing, words),
        also => also.collect::<Vec<_>>(),
        asides => asides.collect::<Vec<_>>(),
        motif => curly(motif),
        from => reference(&exercise.hit, words).replace(" - ", " – "),
    }
}

/// The diagram of an exercise, with this number in its title.
pub(super) fn picture(exercise: &Exercise, number: usize, words: Words) -> Diagram {
    let title = words.tell("exercise-title", [("number", number.into())]);
    diagram(exercise).titled(title).told_in(words)
}

/// The same position in small.
pub(super) fn small_diagram(exercise: &Exercise, number: usize, words: Words) -> Value {
    drawn(&in_small(picture(exercise, number, words)), &format!("small-{number}"))
}

/// A diagram as it stands beside a text.
pub(super) fn in_small(diagram: Diagram) -> Diagram {
    diagram.wide(44)
}

/// The position from the side that is to find something.
fn diagram(exercise: &Exercise) -> Diagram {
    let setup = exercise.start.to_setup(EnPassantMode::Legal);
    let diagram = Diagram::of(&setup).seen_by(exercise.side());
    let shown = match exercise.kind {
        ExerciseKind::Judge | ExerciseKind::Check => exercise.line.first(),
        ExerciseKind::Defend | ExerciseKind::Reply | ExerciseKind::King => {
            exercise.lead.moves.last()
        }
        ExerciseKind::Find | ExerciseKind::Continue | ExerciseKind::Mate | ExerciseKind::Count => {
            None
        }
    };
    let diagram = diagram.line(shown.and_then(|&m| Way::of(m)));
    match exercise.comes_to {
        Upshot::Counted { square, .. } => diagram.ring([square]),
        _ => diagram,
    }
}

/// The moves of a line, each with the number that stands before it.
fn moves(start: &Chess, line: &[Move]) -> Vec<Value> {
    Replay::of(start, line)
        .in_print()
        .iter()
        .map(|one| context! { number => one.number_in_print(), san => &one.san })
        .collect()
}
