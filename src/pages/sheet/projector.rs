//! Exercises for a projector: one at a time, with a board that fills the height, the answer behind a key, and a clock.

use minijinja::{Value, context};
use serde_json::json;
use shakmaty::{Color, Position};

use super::SheetOfExercises;
use crate::board::{Replay, destination};
use crate::drawing::{Diagram, symbols};
use crate::pages::exercise::shown;
use crate::pages::template::rendered_with;
use crate::teaching::Exercise;

pub(super) fn written(sheet: &SheetOfExercises<'_>) -> Result<String, minijinja::Error> {
    let full = Diagram::of(&shakmaty::Setup::initial());
    let sees_solutions = sheet.audience.sees_solutions();
    let slides = sheet.exercises.iter().zip(1..).map(|(one, number)| {
        let steps = sees_solutions.then(|| Value::from_safe_string(steps(one)));
        let motif = sheet.motif_title(one);
        context! { steps, can_step => !one.line.is_empty(), ..shown(one, number, motif, sheet.asks()) }
    });
    rendered_with(
        &[("projector.html", include_str!("../templates/projector.html"))],
        include_str!("../templates/projector.css"),
        "projector.html",
        context! {
            title => sheet.title(),
            slides => slides.collect::<Vec<_>>(),
            sees_solutions,
            symbols => Value::from_safe_string(symbols("man", [&full])),
            conduct => Value::from_safe_string(include_str!("../templates/projector.js").to_owned()),
            rests_on => sheet.rests_on(),
            tables => sheet.caution,
        },
    )
}

/// The solution's moves as JSON that may stand in a script element, as the boards of lessons read them.
fn steps(exercise: &Exercise) -> String {
    let replay = Replay::of(&exercise.start, &exercise.line);
    let printed = replay.in_print();
    let moves = printed.iter().zip(&replay.moves).zip(&replay.positions[1..]);
    let moves: Vec<_> = moves
        .map(|((one, m), after)| {
            let number = format!("{}{}", one.number, one.side.fold_wb(".", "…"));
            let from = m.from().map(|square| square.to_string()).unwrap_or_default();
            let way = format!("{from}{}", destination(*m));
            json!([number + &one.san, after.board().board_fen().to_string(), way])
        })
        .collect();
    let is_turned = exercise.side() == Color::Black;
    json!({ "turned": is_turned, "moves": moves }).to_string().replace('<', "\\u003c")
}
