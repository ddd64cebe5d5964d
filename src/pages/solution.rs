//! What is said about an exercise in words, the same in every format.

use shakmaty::Color;

use super::template::{date, file_name, known};
use crate::board::{line_in_print, line_in_san};
use crate::drawing::name;
use crate::engine::Points;
use crate::hits::{JudgedHit, Verdict};
use crate::statistics::counted as number_of;
use crate::teaching::{
    AsideRole, Exercise, ExerciseKind, Features, Upshot, Variation, VariationNote,
};

/// What is asked, as a sentence with its stop.
pub(super) fn sentence(exercise: &Exercise) -> String {
    let question = question(exercise, Asks::OneThing);
    let stop = if question.ends_with('?') { "" } else { "." };
    question + stop
}

/// How much a question must say.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Asks {
    /// All exercises ask for the same, which is said elsewhere.
    OneThing,
    /// Exercises next to it ask for something else.
    AmongOthers,
}

/// What is asked, in one or two sentences, without a full stop at the end.
pub(super) fn question(exercise: &Exercise, asks: Asks) -> String {
    let question = plain_question(exercise);
    let what = match exercise.kind {
        ExerciseKind::Find => "find the offer",
        ExerciseKind::Continue => "what now?",
        ExerciseKind::Defend => "find the best defence",
        ExerciseKind::Judge => return question,
    };
    match asks {
        Asks::OneThing => question,
        Asks::AmongOthers => format!("{question}: {what}"),
    }
}

fn plain_question(exercise: &Exercise) -> String {
    let Exercise { lead, .. } = exercise;
    let side = name(exercise.side());
    let led = line_in_print(&lead.start, &lead.moves);
    match exercise.kind {
        ExerciseKind::Find => format!("{side} to move"),
        ExerciseKind::Judge => {
            format!("Does {side}'s {} work?", line_in_san(&exercise.start, &exercise.line[..1]))
        }
        ExerciseKind::Continue | ExerciseKind::Defend => format!("After {led}, {side} to move"),
    }
}

/// Whether the offer works, if that was the question.
pub(super) fn judged(exercise: &Exercise) -> Option<&'static str> {
    (exercise.kind == ExerciseKind::Judge).then_some(if exercise.works {
        "It works"
    } else {
        "It does not work"
    })
}

/// What stands before moves that part from the solution.
pub(super) const fn introduced(role: AsideRole) -> &'static str {
    match role {
        AsideRole::Reply => "Or:",
        AsideRole::Mistake => "A mistake:",
        AsideRole::Better => "Better:",
    }
}

/// What a line leads to for the attacker.
pub(super) fn comes_to(comes_to: Upshot, attacker: Color) -> String {
    match comes_to {
        Upshot::Found(verdict) => found(verdict, attacker),
        Upshot::Judged(points) => expected(points, attacker),
    }
}

/// What our searches found.
fn found(verdict: Verdict, attacker: Color) -> String {
    let (side, other) = (name(attacker), name(attacker.other()));
    let pawns = |pawns: i32| {
        if pawns == 1 { "a pawn".to_owned() } else { format!("{pawns} pawns") }
    };
    match verdict {
        Verdict::Mates(1) => format!("{side} mates"),
        Verdict::Mates(moves) => format!("{side} mates in {moves}"),
        Verdict::Gains(gain) => format!("{side} comes out {} up", pawns(gain)),
        Verdict::Level => "the material comes out level".to_owned(),
        Verdict::Draws => "a draw".to_owned(),
        Verdict::Down(loss) => format!("{side} comes out {} down", pawns(loss)),
        Verdict::Mated(1) => format!("{other} mates"),
        Verdict::Mated(moves) => format!("{other} mates in {moves}"),
        Verdict::Open => "the fight goes on".to_owned(),
    }
}

/// What an engine expects. From which points on a side is said to be better is our choice.
fn expected(points: Points, attacker: Color) -> String {
    let is_ahead = points >= Points::HALF;
    let side = if is_ahead { attacker } else { attacker.other() };
    let own = if is_ahead { points } else { points.for_the_other_side() };
    let (side, points) = (name(side), own.rounded());
    match points {
        97.. => format!("{side} is winning"),
        90.. => format!("{side} is winning, {points} of 100 points"),
        75.. => format!("{side} is much better, {points} of 100 points"),
        58.. => format!("{side} is better, {points} of 100 points"),
        51.. => format!("the chances are about even, {points} of 100 points for {side}"),
        _ => "the chances are even".to_owned(),
    }
}

/// The same as a sentence.
pub(super) fn comes_to_sentence(comes_to: Upshot, attacker: Color) -> String {
    let text = self::comes_to(comes_to, attacker);
    let rest = text.char_indices().nth(1).map_or("", |(second, _)| &text[second..]);
    text.chars().take(1).flat_map(char::to_uppercase).collect::<String>() + rest + "."
}

/// What is known of a branch, in a sentence.
pub(super) fn says(branch: &Variation, attacker: Color) -> Option<String> {
    Some(match branch.known? {
        VariationNote::BestPlay => "Best play, as far as it was found.".to_owned(),
        VariationNote::WhatIf(upshot) => comes_to_sentence(upshot, attacker),
    })
}

/// What the level depends on.
pub(super) fn features(features: &Features) -> String {
    let Features { moves, quiet, offered, tempting, replies } = *features;
    let told = format!(
        "{}, {quiet} quiet; {} offered; {} that may tempt",
        number_of(moves as u64, "move"),
        number_of(offered.unsigned_abs().into(), "pawn"),
        number_of(tempting as u64, "other move"),
    );
    // A move that mates at once has no replies.
    if replies == 0 {
        told
    } else {
        format!("{told}; {}.{} replies per move", replies / 10, replies % 10)
    }
}

/// Who played, where and when, and where the game is found.
pub(super) fn reference(hit: &JudgedHit) -> String {
    let game = &hit.game;
    let players = format!("{} - {}", named(&game.white, "White"), named(&game.black, "Black"));
    let event = known(&game.event).map(str::to_owned);
    let place = format!("game {} of {}", game.number, file_name(&hit.source));
    let parts = [Some(players), event, date(&game.date), Some(place)];
    parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

fn named<'n>(name: &'n str, side: &'n str) -> &'n str {
    known(name).unwrap_or(side)
}
