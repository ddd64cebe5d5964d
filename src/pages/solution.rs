//! What is said about an exercise in words, the same in every format.

use shakmaty::{Bitboard, Color};

use super::template::{date, file_name};
use crate::board::{balance, line_in_print, line_in_san};
use crate::collection::known;
use crate::engine::Points;
use crate::hits::{JudgedHit, Verdict};
use crate::teaching::{
    AsideRole, Exercise, ExerciseKind, Features, Upshot, Variation, VariationNote,
};
use crate::words::{Words, decimal, of_side};

/// The message with the title of a kind; its attributes are what else is said of it.
pub(super) fn of_kind(kind: ExerciseKind) -> String {
    format!("exercise-{}", kind.word())
}

/// What is asked, as a sentence with its stop.
pub(super) fn sentence(exercise: &Exercise, words: Words) -> String {
    let question = question(exercise, Asks::OneThing, words);
    let stop = if question.trim_end_matches('⟧').ends_with('?') { "" } else { "." };
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
pub(super) fn question(exercise: &Exercise, asks: Asks, words: Words) -> String {
    let Exercise { lead, .. } = exercise;
    let side = ("side", of_side(exercise.side()));
    let led = || ("moves", line_in_print(&lead.start, &lead.moves).into());
    let first = || line_in_san(&exercise.start, &exercise.line[..1]);
    let in_moves = ("number", exercise.features.moves.into());
    // Only these three ask the same in words where the diagram does not tell them apart.
    let among = if asks == Asks::AmongOthers { ".among-others" } else { "" };
    match exercise.kind {
        ExerciseKind::Find => words.tell(&format!("question-find{among}"), [side]),
        ExerciseKind::Judge => words.tell("question-judge", [side, ("move", first().into())]),
        ExerciseKind::Continue => words.tell(&format!("question-continue{among}"), [side, led()]),
        ExerciseKind::Defend => words.tell(&format!("question-defend{among}"), [side, led()]),
        ExerciseKind::Mate => {
            let moves = exercise.line.len().div_ceil(2);
            words.tell("question-mate", [side, ("number", moves.into())])
        }
        ExerciseKind::Reply => words.tell("question-reply", [led(), in_moves]),
        ExerciseKind::King => words.tell("question-king", [led(), in_moves]),
        ExerciseKind::Check => {
            let check = first().trim_end_matches(['+', '#']).to_owned();
            words.tell("question-check", [side, ("move", check.into())])
        }
        ExerciseKind::Count => {
            let square = match exercise.comes_to {
                Upshot::Counted { square, .. } => square.to_string(),
                _ => String::new(),
            };
            let [attacker, defender] = both(exercise.attacker);
            words.tell("question-count", [attacker, defender, ("square", square.into())])
        }
    }
}

/// Both sides, by what they do.
fn both(attacker: Color) -> [(&'static str, crate::words::Filling<'static>); 2] {
    [("attacker", of_side(attacker)), ("defender", of_side(attacker.other()))]
}

/// Whether the offer works, if that was the question.
pub(super) fn judged(exercise: &Exercise, words: Words) -> Option<String> {
    let name = match (exercise.kind, exercise.works) {
        (ExerciseKind::Judge, true) => "answer-works",
        (ExerciseKind::Judge, false) => "answer-fails",
        (ExerciseKind::Check, true) => "answer-mate",
        (ExerciseKind::Check, false) => "answer-no-mate",
        (ExerciseKind::King, _) => "answer-into-mate",
        _ => return None,
    };
    Some(words.say(name))
}

/// What stands before moves that part from the solution of a kind.
pub(super) fn introduced(kind: ExerciseKind, role: AsideRole, words: Words) -> String {
    words.say(match (role, kind) {
        (AsideRole::Mistake, ExerciseKind::King) => "aside-into-mate",
        (AsideRole::Better, ExerciseKind::King) => "aside-not-into-mate",
        (AsideRole::Reply, _) => "aside-reply",
        (AsideRole::Mistake, _) => "aside-mistake",
        (AsideRole::Better, _) => "aside-better",
    })
}

/// Who attacks, and what they were up before the offer, in pawns: counts start from there, and readers see the board.
#[derive(Clone, Copy)]
pub(super) struct Footing {
    attacker: Color,
    before: i32,
}

impl Footing {
    pub(super) fn of(exercise: &Exercise) -> Footing {
        let attacker = exercise.attacker;
        Footing { attacker, before: balance(&exercise.lead.start, attacker) }
    }
}

/// What a line leads to for the attacker.
pub(super) fn comes_to(comes_to: Upshot, footing: Footing, words: Words) -> String {
    let attacker = footing.attacker;
    match comes_to {
        Upshot::Found(verdict) => found(verdict, footing, words),
        Upshot::Judged(points) => expected(points, attacker, words),
        Upshot::Unmated(moves) => words.tell("comes-to-no-mate", [("moves", moves.into())]),
        Upshot::Answered => words.tell("comes-to-no-check", [("side", of_side(attacker.other()))]),
        Upshot::Counted { square, attackers, guards } => {
            let [attackers, guards] = [attackers, guards].map(|all| men(all, words).into());
            let [side, other] = both(attacker);
            let square = ("square", square.to_string().into());
            words.tell(
                "comes-to-count",
                [side, other, square, ("attackers", attackers), ("guards", guards)],
            )
        }
    }
}

/// How many men stand there, and where.
fn men(squares: Bitboard, words: Words) -> String {
    let places: Vec<String> = squares.into_iter().map(|square| square.to_string()).collect();
    let number = ("number", squares.count().into());
    words.tell("men-counted", [number, ("squares", places.join(", ").into())])
}

/// What our searches found.
fn found(verdict: Verdict, Footing { attacker, before }: Footing, words: Words) -> String {
    let [side, other] = [attacker, attacker.other()].map(|side| ("side", of_side(side)));
    let on_the_board = verdict.change().map(|change| Verdict::of_count(before + change));
    match on_the_board.unwrap_or(verdict) {
        Verdict::Mates(moves) => words.tell("comes-to-mates", [side, ("moves", moves.into())]),
        Verdict::Mated(moves) => words.tell("comes-to-mates", [other, ("moves", moves.into())]),
        Verdict::Gains(up) => words.tell("comes-to-gains", [side, ("pawns", up.into())]),
        Verdict::Down(down) => words.tell("comes-to-loses", [side, ("pawns", down.into())]),
        Verdict::Level => words.say("comes-to-level"),
        Verdict::Draws => words.say("comes-to-draw"),
        Verdict::Open => words.say("comes-to-open"),
    }
}

/// What an engine expects. From which points on a side is said to be better is our choice.
fn expected(points: Points, attacker: Color, words: Words) -> String {
    let is_ahead = points >= Points::HALF;
    let side = if is_ahead { attacker } else { attacker.other() };
    let own = if is_ahead { points } else { points.for_the_other_side() };
    let points = own.rounded();
    let name = match points {
        97.. => "comes-to-winning",
        90.. => "comes-to-winning-by-points",
        75.. => "comes-to-much-better",
        58.. => "comes-to-better",
        51.. => "comes-to-about-even",
        _ => "comes-to-even",
    };
    words.tell(name, [("side", of_side(side)), ("points", points.into())])
}

/// The same as a sentence.
pub(super) fn comes_to_sentence(comes_to: Upshot, footing: Footing, words: Words) -> String {
    let text = self::comes_to(comes_to, footing, words);
    let rest = text.char_indices().nth(1).map_or("", |(second, _)| &text[second..]);
    text.chars().take(1).flat_map(char::to_uppercase).collect::<String>() + rest + "."
}

/// What is known of a branch, in a sentence.
pub(super) fn says(branch: &Variation, attacker: Color, words: Words) -> Option<String> {
    Some(match branch.known? {
        VariationNote::BestPlay => words.say("best-play"),
        // What is counted is no answer to it.
        VariationNote::WhatIf(upshot) => {
            comes_to_sentence(upshot, Footing { attacker, before: 0 }, words)
        }
    })
}

/// What the level depends on.
pub(super) fn features(exercise: &Exercise, words: Words) -> String {
    let Features { moves, quiet, offered, tempting, replies, looked_at } = exercise.features;
    let told = |name: &str, number: u64| words.tell(name, [("number", number.into())]);
    let looked_at = looked_at as u64;
    match exercise.kind {
        ExerciseKind::Reply => return told("features-reply", looked_at),
        ExerciseKind::King => return told("features-king", looked_at),
        ExerciseKind::Check => return told("features-check", looked_at),
        ExerciseKind::Count => return told("features-count", looked_at),
        _ => {}
    }
    let moves = [told("features-moves", moves as u64), told("features-quiet", quiet as u64)];
    let offered = told("features-offered", offered.unsigned_abs().into());
    let mut parts = vec![moves.join(", "), offered, told("features-tempting", tempting as u64)];
    // A move that mates at once has no replies.
    if replies > 0 {
        let per_move = decimal(replies as f64 / 10.0);
        parts.push(words.tell("features-replies", [("number", per_move)]));
    }
    parts.join(&words.say("semicolon"))
}

/// Who played, where and when, and where the game is found.
pub(super) fn reference(hit: &JudgedHit, words: Words) -> String {
    let game = &hit.game;
    let named = |name: &str, side: &str| known(name).map_or_else(|| words.say(side), str::to_owned);
    let players = format!("{} - {}", named(&game.white, "white"), named(&game.black, "black"));
    let event = known(&game.event).map(str::to_owned);
    let (number, file) = (game.number.to_string(), file_name(&hit.source));
    let place = words.tell("game-of-file", [("number", number.into()), ("file", file.into())]);
    let parts = [Some(players), event, date(&game.date), Some(place)];
    parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
}
