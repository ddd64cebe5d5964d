//! Exercises as comma-separated values, for flash cards: a question, an answer, and the position.

use shakmaty::EnPassantMode;
use shakmaty::fen::Fen;

use super::SheetOfExercises;
use crate::board::{line_in_print, line_in_san};
use crate::pages::solution::{
    Footing, comes_to, comes_to_sentence, introduced, judged, reference, sentence,
};
use crate::tables::{csv_text, guarded};
use crate::teaching::Exercise;
use crate::words::Words;

/// What a pupil may see.
const QUESTION: [&str; 6] = ["number", "kind", "level", "points", "fen", "question"];
const SOLUTION: [&str; 5] = ["answer", "line", "also", "motif", "from"];
/// A column more, where something must be said of the tables.
const CAUTION: &str = "tables";

pub(super) fn written(sheet: &SheetOfExercises<'_>) -> String {
    let rows = sheet.exercises.iter().zip(1..).map(|(one, number)| row(sheet, one, number));
    csv_text(std::iter::once(heading(sheet)).chain(rows))
}

fn heading(sheet: &SheetOfExercises<'_>) -> Vec<String> {
    let question = QUESTION.iter().copied();
    let all: Vec<&str> = if sheet.audience.sees_solutions() {
        question.chain(SOLUTION).chain(sheet.telling.caution.as_ref().map(|_| CAUTION)).collect()
    } else {
        question.collect()
    };
    all.into_iter().map(str::to_owned).collect()
}

fn row(sheet: &SheetOfExercises<'_>, exercise: &Exercise, number: usize) -> Vec<String> {
    let question = [
        number.to_string(),
        exercise.kind.word().to_owned(),
        exercise.level.0.to_string(),
        exercise.level.points().to_string(),
        Fen::from_position(&exercise.start, EnPassantMode::Legal).to_string(),
        sheet.telling.letters.in_text(&sentence(exercise, sheet.telling.words)).into_owned(),
    ];
    if !sheet.audience.sees_solutions() {
        return question.into();
    }
    let also: Vec<String> =
        exercise.also.iter().map(|(m, _)| line_in_san(&exercise.start, &[*m])).collect();
    let solution = [
        sheet.telling.letters.in_text(&answer(exercise, sheet.telling.words)).into_owned(),
        line_in_san(&exercise.start, &exercise.line),
        also.join(" "),
        guarded(&sheet.motif_title(exercise)).into_owned(),
        sheet.telling.words.tell(
            "from-in-csv",
            [("reference", reference(&exercise.hit, sheet.telling.words).into())],
        ),
    ];
    question.into_iter().chain(solution).chain(sheet.telling.caution.clone()).collect()
}

/// The whole answer in one text.
fn answer(exercise: &Exercise, words: Words) -> String {
    let footing = Footing::of(exercise);
    let comes_to = |upshot| comes_to(upshot, footing, words);
    let mut parts: Vec<String> =
        judged(exercise, words).map(|word| format!("{word}.")).into_iter().collect();
    let line = line_in_print(&exercise.start, &exercise.line);
    parts.push(match exercise.line[..] {
        [] => comes_to_sentence(exercise.comes_to, footing, words),
        _ => {
            let says = ("says", comes_to(exercise.comes_to).into());
            words.tell("moves-come-to", [("moves", line.into()), says])
        }
    });
    for &(m, upshot) in &exercise.also {
        let san = line_in_print(&exercise.start, &[m]);
        let lead = words.say("also-correct");
        parts.push(format!("{lead} {san} ({}).", comes_to(upshot)));
    }
    for aside in &exercise.asides {
        let lead = introduced(exercise.kind, aside.role, words);
        let moves = line_in_print(&exercise.start_of(aside), &aside.moves);
        parts.push(format!("{lead} {moves} ({}).", comes_to(aside.comes_to)));
    }
    parts.join(" ")
}
