//! Exercises as PGN.

use shakmaty::EnPassantMode;
use shakmaty::fen::Fen;

use super::SheetOfExercises;
use crate::board::Replay;
use crate::pages::pgn::{GOOD, MISTAKE, Movetext, tags, tags_of_nobody};
use crate::pages::solution::{
    Footing, comes_to, comes_to_sentence, features, judged, of_kind, sentence,
};
use crate::pages::template::file_name;
use crate::teaching::{Aside, AsideRole, Exercise, ExerciseKind};
use crate::words::{Filling, Words};

pub(super) fn written(sheet: &SheetOfExercises<'_>) -> String {
    let games = sheet.exercises.iter().zip(1..).map(|(exercise, number)| {
        let (tags, moves) = if sheet.audience.sees_solutions() {
            let moves = movetext(sheet, exercise, number);
            (tags(&exercise.hit.game, "*", &more_tags(exercise)), moves)
        } else {
            let mut text = Movetext::new();
            text.comment(&asked(exercise, number, sheet.telling.words));
            (tags_of_nobody(&sheet.title(), number, more_tags(exercise)), text.ended("*"))
        };
        tags + "\n" + &moves + "\n"
    });
    games.collect()
}

/// The question, and what it counts.
fn asked(exercise: &Exercise, number: usize, words: Words) -> String {
    let number = ("number", number.into());
    words.tell_all("asked-in-pgn", asked_values(exercise, words).into_iter().chain([number]))
}

/// What is asked, and what it counts, to be filled in.
pub(super) fn asked_values(exercise: &Exercise, words: Words) -> [(&'static str, Filling<'_>); 4] {
    let level = exercise.level;
    [
        ("kind", words.say(&format!("{}.word", of_kind(exercise.kind))).into()),
        ("question", sentence(exercise, words).into()),
        ("level", level.0.into()),
        ("points", words.tell("points-counted", [("number", level.points().into())]).into()),
    ]
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
    let (words, footing) = (sheet.telling.words, Footing::of(exercise));
    text.comment(&asked(exercise, number, words));
    for (index, one) in Replay::of(&exercise.start, &exercise.line).in_print().iter().enumerate() {
        text.one_move(one);
        if index == 0 {
            // A check that is no mate need be no mistake.
            if exercise.is_first_right() || exercise.kind != ExerciseKind::Check {
                text.glyph(if exercise.is_first_right() { GOOD } else { MISTAKE });
            }
            if let Some(judged) = judged(exercise, words) {
                text.comment(&format!("{judged}."));
            }
        }
        if index + 1 == exercise.line.len() {
            text.comment(&comes_to_sentence(exercise.comes_to, footing, words));
        }
        if index == 0 {
            for &(m, upshot) in &exercise.also {
                let moves = vec![m];
                let also = Aside { at: 0, moves, comes_to: upshot, role: AsideRole::Reply };
                let comes_to = comes_to(upshot, footing, words);
                let comment = words.tell("also-correct-since", [("says", comes_to.into())]);
                text.variation(&variation(&also), Some(GOOD), &comment);
            }
        }
        for aside in exercise.asides.iter().filter(|aside| aside.at == index) {
            let nag = match aside.role {
                AsideRole::Reply => None,
                AsideRole::Mistake => Some(MISTAKE),
                AsideRole::Better => Some(GOOD),
            };
            let comes_to = comes_to_sentence(aside.comes_to, footing, words);
            text.variation(&variation(aside), nag, &comes_to);
        }
    }
    if exercise.line.is_empty() {
        text.comment(&comes_to_sentence(exercise.comes_to, footing, words));
    }
    // What would give the solution away comes last.
    let values = [
        ("motif", sheet.motif_title(exercise).into()),
        ("statistics", sheet.statistics(exercise).into()),
        ("level", exercise.level.0.into()),
        ("features", features(exercise, words).into()),
        ("number", exercise.hit.game.number.to_string().into()),
        ("file", file_name(&exercise.hit.source).into()),
        ("caution", sheet.telling.caution.as_deref().unwrap_or_default().into()),
    ];
    text.comment(&words.tell("from-in-pgn", values));
    text.ended("*")
}
