//! Exercises as comma-separated values, for flash cards: a question, an answer, and the position.

use shakmaty::EnPassantMode;
use shakmaty::fen::Fen;

use super::SheetOfExercises;
use crate::board::{line_in_print, line_in_san};
use crate::pages::solution::{comes_to, introduced, judged, reference, sentence};
use crate::tables::{csv_text, guarded};
use crate::teaching::Exercise;

const COLUMNS: [&str; 10] =
    ["number", "kind", "level", "fen", "question", "answer", "line", "also", "motif", "from"];
/// A column more, where something must be said of the tables.
const CAUTION: &str = "tables";

pub(super) fn written(sheet: &SheetOfExercises<'_>) -> String {
    let rows = sheet.exercises.iter().zip(1..).map(|(one, number)| row(sheet, one, number));
    let with_caution = |row: [String; 10], caution: Option<&str>| {
        row.into_iter().chain(caution.map(str::to_owned)).collect::<Vec<String>>()
    };
    let heading = with_caution(COLUMNS.map(str::to_owned), sheet.caution.map(|_| CAUTION));
    csv_text(std::iter::once(heading).chain(rows.map(|row| with_caution(row, sheet.caution))))
}

fn row(sheet: &SheetOfExercises<'_>, exercise: &Exercise, number: usize) -> [String; 10] {
    let also: Vec<String> =
        exercise.also.iter().map(|(m, _)| line_in_san(&exercise.start, &[*m])).collect();
    [
        number.to_string(),
        exercise.kind.word().to_owned(),
        exercise.level.0.to_string(),
        Fen::from_position(&exercise.start, EnPassantMode::Legal).to_string(),
        sentence(exercise),
        answer(exercise),
        line_in_san(&exercise.start, &exercise.line),
        also.join(" "),
        guarded(sheet.motif_title(exercise)).into_owned(),
        format!("From {}", reference(&exercise.hit)),
    ]
}

/// The whole answer in one text.
fn answer(exercise: &Exercise) -> String {
    let comes_to = |upshot| comes_to(upshot, exercise.attacker);
    let mut parts: Vec<String> =
        judged(exercise).map(|word| format!("{word}.")).into_iter().collect();
    let line = line_in_print(&exercise.start, &exercise.line);
    parts.push(format!("{line}: {}.", comes_to(exercise.comes_to)));
    for &(m, upshot) in &exercise.also {
        let san = line_in_print(&exercise.start, &[m]);
        parts.push(format!("Also correct: {san} ({}).", comes_to(upshot)));
    }
    for aside in &exercise.asides {
        let lead = introduced(aside.role);
        let moves = line_in_print(&exercise.start_of(aside), &aside.moves);
        parts.push(format!("{lead} {moves} ({}).", comes_to(aside.comes_to)));
    }
    parts.join(" ")
}
