//! What a first plan says of a lesson, its games and its exercises.

use super::solution::{reference, sentence};
use super::template::{chapter_title, curly, motif_title, whole};
use crate::hits::{JudgedHit, Sound};
use crate::plan::{WrittenExercise, WrittenGame, WrittenLesson};
use crate::query::Query;
use crate::teaching::{Exercise, Findings, Specimen, in_words, why};
use crate::words::Words;

/// A lesson of a first plan, on tables of this many games, in these words.
#[must_use]
pub fn in_plan(query: &Query, found: &Findings, games: u64, words: Words) -> WrittenLesson {
    let title = motif_title(&query.name, &query.title, words);
    let game = |specimen: &Specimen| WrittenGame {
        id: specimen.hit.id.clone(),
        says: about_game(&specimen.hit, &why(specimen, words), words),
    };
    let exercise = |one: &Exercise| WrittenExercise {
        kind: one.kind,
        id: one.hit.id.clone(),
        says: about_exercise(one, words),
    };
    let mut exercises: Vec<WrittenExercise> = found.exercises.iter().map(exercise).collect();
    // One hit can make several exercises of a kind, one for each answer of the king.
    exercises.dedup_by(|one, other| one.kind == other.kind && one.id == other.id);
    WrittenLesson {
        motif: query.name.clone(),
        says: about_motif(&title, found, games, words),
        chapter: chapter_title(query.chapter, words),
        heading: curly(&title),
        games: found.specimens.iter().map(game).collect(),
        exercises,
    }
}

fn about_motif(title: &str, found: &Findings, games: u64, words: Words) -> String {
    let score = found.tally.outcomes().enough().and_then(|enough| enough.score());
    let name = if score.is_some() { "plan-motif-scored" } else { "plan-motif" };
    let values = [
        ("title", title.into()),
        ("offers", found.tally.summary.given_up.into()),
        ("games", words.tell("games-counted", [("number", games.into())]).into()),
        ("score", score.map(whole).unwrap_or_default().into()),
    ];
    words.tell(name, values)
}

/// What an exercise is, in a line.
#[must_use]
pub fn about_exercise(one: &Exercise, words: Words) -> String {
    let values = [
        ("question", sentence(one, words).into()),
        ("level", one.level.0.into()),
        ("reference", reference(&one.hit, words).into()),
    ];
    words.tell("plan-exercise", values)
}

/// Players, year and offer; kind and verdict; what it shows; the rating of the weaker player.
fn about_game(hit: &JudgedHit, why: &str, words: Words) -> String {
    let dots = if hit.view.attacker.is_white() { "." } else { "..." };
    let offer = format!("{}{dots}{}", hit.offer.move_number, hit.offer.san);
    let kind = hit.offer.kind.map(|kind| words.say(&format!("kind-{}", kind.word())));
    let kind = kind.map(|kind| format!(", {kind}")).unwrap_or_default();
    let known = hit.verdict.as_ref().filter(|verdict| verdict.sound() != Sound::Open);
    let verdict =
        known.map(|verdict| words.tell("in-plan-it", [("does", in_words(verdict, words).into())]));
    let verdict = verdict.unwrap_or_default();
    let rating = match hit.game.weaker_rating() {
        0 => String::new(),
        rating => {
            let rating = ("rating", rating.to_string().into());
            format!(" {}", words.tell("plan-weaker", [rating]))
        }
    };
    format!("{}: {offer}{kind}{verdict}. {why}{rating}", reference(hit, words))
}
