//! What a first plan says of a lesson, its games and its exercises.

use super::solution::{reference, sentence};
use super::template::{chapter_title, curly, whole};
use crate::hits::{JudgedHit, Sound};
use crate::plan::{WrittenExercise, WrittenGame, WrittenLesson};
use crate::query::Query;
use crate::statistics::counted;
use crate::teaching::{Exercise, Findings, Specimen, in_words, why};

/// A lesson of a first plan, on tables of so many games.
#[must_use]
pub fn in_plan(query: &Query, found: &Findings, games: u64) -> WrittenLesson {
    let game = |specimen: &Specimen| WrittenGame {
        id: specimen.hit.id.clone(),
        says: about_game(&specimen.hit, &why(specimen)),
    };
    let exercise = |one: &Exercise| WrittenExercise {
        kind: one.kind,
        id: one.hit.id.clone(),
        says: about_exercise(one),
    };
    let mut exercises: Vec<WrittenExercise> = found.exercises.iter().map(exercise).collect();
    // One hit can make several exercises of a kind, one for each answer of the king.
    exercises.dedup_by(|one, other| one.kind == other.kind && one.id == other.id);
    WrittenLesson {
        motif: query.name.clone(),
        says: about_motif(query, found, games),
        chapter: chapter_title(query.chapter).to_owned(),
        heading: curly(&query.title),
        games: found.specimens.iter().map(game).collect(),
        exercises,
    }
}

/// What an exercise is, in a line.
#[must_use]
pub fn about_exercise(one: &Exercise) -> String {
    format!("{} Level {}. {}", sentence(one), one.level.0, reference(&one.hit))
}

fn about_motif(query: &Query, found: &Findings, games: u64) -> String {
    let given_up = counted(found.tally.summary.given_up, "offer");
    let score = found.tally.outcomes().enough().and_then(|enough| enough.score());
    let score = score.map(|score| format!("; the attacker scored {} %", whole(score)));
    let (games, score) = (counted(games, "game"), score.unwrap_or_default());
    format!("{}: {given_up} in {games}{score}", query.title)
}

/// Players, year and offer; kind and verdict; what it shows; the rating of the weaker player.
fn about_game(hit: &JudgedHit, why: &str) -> String {
    let dots = if hit.view.attacker.is_white() { "." } else { "..." };
    let offer = format!("{}{dots}{}", hit.offer.move_number, hit.offer.san);
    let kind = hit.offer.kind.map(|kind| format!(", {}", kind.word())).unwrap_or_default();
    let known = hit.verdict.as_ref().filter(|verdict| verdict.sound() != Sound::Open);
    let verdict = known.map(in_words);
    let verdict = verdict.map(|verdict| format!("; it {verdict}")).unwrap_or_default();
    let rating = match hit.game.weaker_rating() {
        0 => String::new(),
        rating => format!(" The weaker player: {rating}."),
    };
    format!("{}: {offer}{kind}{verdict}. {why}{rating}", reference(hit))
}
