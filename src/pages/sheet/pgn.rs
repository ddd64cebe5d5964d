//! Exercises as PGN.

use shakmaty::EnPassantMode;
use shakmaty::fen::Fen;

use super::SheetOfExercises;
use crate::board::Replay;
use crate::pages::pgn::{GOOD, MISTAKE, Movetext, tags, tags_of_nobody};
use crate::pages::solution::{comes_to, comes_to_sentence, features, judged, sentence};
use crate::pages::template::file_name;
use crate::statistics::counted;
use crate::teaching::{Aside, AsideRole, Exercise, ExerciseKind};

pub(super) fn written(sheet: &SheetOfExercises<'_>) -> String {
    let games = sheet.exercises.iter().zip(1..).map(|(exercise, number)| {
        let (tags, moves) = if sheet.audience.sees_solutions() {
            let moves = movetext(sheet, exercise, number);
            (tags(&exercise.hit.game, "*", &more_tags(exercise)), moves)
        } else {
            let mut text = Movetext::new();
            text.comment(&asked(exercise, number));
            (tags_of_nobody(sheet.title(), number, more_tags(exercise)), text.ended("*"))
        };
        tags + "\n" + &moves + "\n"
    });
    games.collect()
}

/// The question, and what it counts.
fn asked(exercise: &Exercise, number: usize) -> String {
    let (kind, question, level) = (exercise.kind.word(), sentence(exercise), exercise.level);
    let points = counted(level.points(), "point");
    format!("Exercise {number}, {kind}: {question} Level {} ({points}).", level.0)
}

fn more_tags(exercise: &Exercise) -> Vec<(&'static str, String)> {
    let fen = Fen::from_position(&exercise.start, EnPassantMode::Always).to_string();
    vec![
        ("FEN", fen),
        ("Kind", exercise.kind.word().to_owned()),
        ("Level", exercise.level.0.to_string()),
        ("Points", exercise.level.points().to_string()),
        ("SetUp", "1".to_owned()),
    ]
}

fn movetext(sheet: &SheetOfExercises<'_>, exercise: &Exercise, number: usize) -> String {
    let mut text = Movetext::new();
    let variation = |aside: &Aside| Replay::of(&exercise.start_of(aside), &aside.moves).in_print();
    let level = exercise.level.0;
    text.comment(&asked(exercise, number));
    for (index, one) in Replay::of(&exercise.start, &exercise.line).in_print().iter().enumerate() {
        text.one_move(one);
        if index == 0 {
            // A check that is no mate need be no mistake.
            if exercise.is_first_right() || exercise.kind != ExerciseKind::Check {
                text.glyph(if exercise.is_first_right() { GOOD } else { MISTAKE });
            }
            if let Some(judged) = judged(exercise) {
                text.comment(&format!("{judged}."));
            }
        }
        if index + 1 == exercise.line.len() {
            text.comment(&comes_to_sentence(exercise.comes_to, exercise.attacker));
        }
        if index == 0 {
            for &(m, upshot) in &exercise.also {
                let moves = vec![m];
                let also = Aside { at: 0, moves, comes_to: upshot, role: AsideRole::Reply };
                let comes_to = comes_to(upshot, exercise.attacker);
                let comment = format!("Also correct: {comes_to}.");
                text.variation(&variation(&also), Some(GOOD), &comment);
            }
        }
        for aside in exercise.asides.iter().filter(|aside| aside.at == index) {
            let nag = match aside.role {
                AsideRole::Reply => None,
                AsideRole::Mistake => Some(MISTAKE),
                AsideRole::Better => Some(GOOD),
            };
            let comes_to = comes_to_sentence(aside.comes_to, exercise.attacker);
            text.variation(&variation(aside), nag, &comes_to);
        }
    }
    if exercise.line.is_empty() {
        text.comment(&comes_to_sentence(exercise.comes_to, exercise.attacker));
    }
    // What would give the solution away comes last.
    text.comment(&format!(
        "{}: {} Level {level}: {}. From game {} of {}. {}",
        sheet.motif_title(exercise),
        sheet.statistics(exercise),
        features(exercise),
        exercise.hit.game.number,
        file_name(&exercise.hit.source),
        sheet.caution.unwrap_or_default()
    ));
    text.ended("*")
}
