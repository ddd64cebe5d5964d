//! What is said about an exercise in words, the same in every format.

use shakmaty::{Bitboard, Color};

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
        _ => return question,
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
        ExerciseKind::Mate => {
            let moves = exercise.line.len().div_ceil(2);
            format!("{side} to move and mate in {}", in_words(moves))
        }
        ExerciseKind::Reply => {
            let moves = in_words(exercise.features.moves);
            format!("After {led}, which reply is not mated in {moves}?")
        }
        ExerciseKind::King => {
            let moves = in_words(exercise.features.moves);
            let fewer = if exercise.features.moves > 1 { " or fewer" } else { "" };
            format!("After {led}, which king’s moves run into mate in {moves}{fewer}?")
        }
        ExerciseKind::Check => {
            let check = line_in_san(&exercise.start, &exercise.line[..1]);
            format!("Is {side}’s {} mate?", check.trim_end_matches(['+', '#']))
        }
        ExerciseKind::Count => {
            let (attacker, defender) = (name(exercise.attacker), name(exercise.attacker.other()));
            let square = match exercise.comes_to {
                Upshot::Counted { square, .. } => square.to_string(),
                _ => "the square".to_owned(),
            };
            format!(
                "How many of {attacker}’s men attack {square}, and how many of {defender}’s guard it?"
            )
        }
    }
}

/// Whether the offer works, if that was the question.
pub(super) fn judged(exercise: &Exercise) -> Option<&'static str> {
    match (exercise.kind, exercise.works) {
        (ExerciseKind::Judge, true) => Some("It works"),
        (ExerciseKind::Judge, false) => Some("It does not work"),
        (ExerciseKind::Check, true) => Some("It is mate"),
        (ExerciseKind::Check, false) => Some("It is not mate"),
        (ExerciseKind::King, _) => Some("Into mate"),
        _ => None,
    }
}

/// What stands before moves that part from the solution of a kind.
pub(super) const fn introduced(kind: ExerciseKind, role: AsideRole) -> &'static str {
    match role {
        AsideRole::Mistake if matches!(kind, ExerciseKind::King) => "And:",
        AsideRole::Better if matches!(kind, ExerciseKind::King) => "Not so:",
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
        Upshot::Unmated(moves) => format!("no mate in {}", in_words(moves.into())),
        Upshot::Answered => format!("{} gets out of check", name(attacker.other())),
        Upshot::Counted { square, attackers, guards } => {
            let [attackers, guards] = [attackers, guards].map(men);
            let (side, other) = (name(attacker), name(attacker.other()));
            format!("{side} attacks {square} with {attackers}, {other} guards it with {guards}")
        }
    }
}

/// How many men stand there, and where.
fn men(squares: Bitboard) -> String {
    let count = squares.count();
    let places: Vec<String> = squares.into_iter().map(|square| square.to_string()).collect();
    let man = if count == 1 { "man" } else { "men" };
    format!("{} {man} ({})", in_words(count), places.join(", "))
}

/// A small number as it is written in a sentence.
fn in_words(number: usize) -> String {
    const WORDS: [&str; 11] =
        ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"];
    WORDS.get(number).map_or_else(|| number.to_string(), |word| (*word).to_owned())
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
pub(super) fn features(exercise: &Exercise) -> String {
    let Features { moves, quiet, offered, tempting, replies, looked_at } = exercise.features;
    let to_look_at = |one: &str| format!("{} to look at", number_of(looked_at as u64, one));
    match exercise.kind {
        ExerciseKind::Reply => return format!("{looked_at} replies to look at"),
        ExerciseKind::King => return to_look_at("move"),
        ExerciseKind::Check => return format!("{} beside the king", to_look_at("square")),
        ExerciseKind::Count => return format!("men to count: {looked_at}"),
        _ => {}
    }
    let quiet = match quiet {
        0 => "none quiet".to_owned(),
        1 => "one quiet".to_owned(),
        more => format!("{more} quiet"),
    };
    let tempting = match tempting {
        0 => "nothing else tempts".to_owned(),
        1 => "one other move may tempt".to_owned(),
        more => format!("{more} other moves may tempt"),
    };
    let (moves, offered) =
        (number_of(moves as u64, "move"), number_of(offered.unsigned_abs().into(), "pawn"));
    let told = format!("{moves}, {quiet}; {offered} offered; {tempting}");
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
