//! Exercises for a projector: one at a time, with a board that fills the height, the answer behind a key, and a clock.

use minijinja::{Value, context};
use shakmaty::Color;

use super::SheetOfExercises;
use crate::board::{PieceLetters, Replay};
use crate::drawing::{Diagram, symbols};
use crate::pages::exercise::shown;
use crate::pages::printed_game::steps_of_line;
use crate::pages::template::rendered_with;
use crate::teaching::Exercise;

pub(super) fn written(sheet: &SheetOfExercises<'_>) -> Result<String, minijinja::Error> {
    let words = sheet.telling.words;
    let full = Diagram::of(&shakmaty::Setup::initial());
    let sees_solutions = sheet.audience.sees_solutions();
    let slides = sheet.exercises.iter().zip(1..).map(|(one, number)| {
        let steps = sees_solutions.then(|| Value::from_safe_string(steps(one, sheet.telling.letters)));
        let motif = sheet.motif_title(one);
        context! { steps, can_step => !one.line.is_empty(), ..shown(one, number, &motif, sheet.asks(), words) }
    });
    rendered_with(
        &[("projector.html", include_str!("../templates/projector.html"))],
        include_str!("../templates/projector.css"),
        "projector.html",
        (words, sheet.telling.letters),
        context! {
            title => sheet.title(),
            slides => slides.collect::<Vec<_>>(),
            sees_solutions,
            symbols => Value::from_safe_string(symbols("man", [&full])),
            conduct => Value::from_safe_string(include_str!("../templates/projector.js").to_owned()),
            rests_on => sheet.rests_on(),
            tables => &sheet.telling.caution,
        },
    )
}

/// The solution's moves as JSON that may stand in a script element.
fn steps(exercise: &Exercise, letters: PieceLetters) -> String {
    let replay = Replay::of(&exercise.start, &exercise.line);
    steps_of_line(&replay, exercise.side() == Color::Black, letters)
}
