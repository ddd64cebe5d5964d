//! Exercises as EPD (section 16.2 of the PGN standard): `bm` the best moves, or `am` an offer that does
//! not work, `pv` the solution, `dm` the moves to mate, `acn` the positions that the proof looked at, `c0`
//! the kind in words, `c1` what must be said of the tables.

use shakmaty::fen::Epd;
use shakmaty::{EnPassantMode, Position};

use super::SheetOfExercises;
use super::pgn::asked_values;
use crate::board::line_in_san;
use crate::hits::Verdict;
use crate::pages::solution::{Footing, comes_to_sentence};
use crate::pages::template::file_name;
use crate::teaching::{AsideRole, Exercise, ExerciseKind, Upshot};
use crate::words::Words;

/// A string is shorter than this, in bytes.
const LONGEST: usize = 255;

pub(super) fn written(sheet: &SheetOfExercises<'_>) -> String {
    let numbered = sheet.exercises.iter().zip(1..);
    let lines = numbered.map(|(exercise, number)| {
        let operations = if sheet.audience.sees_solutions() {
            solved(sheet, exercise)
        } else {
            unsolved(exercise, number, sheet.telling.words)
        };
        line(exercise, operations)
    });
    lines.collect()
}

/// An operation, unless it has nothing to say.
type Operation = (&'static str, Option<String>);

/// The position, then the operations, which are in ASCII order of their names.
fn line(exercise: &Exercise, operations: Vec<Operation>) -> String {
    let epd = Epd::from_position(&exercise.start, EnPassantMode::Legal);
    let said =
        operations.into_iter().filter_map(|(name, value)| Some(format!(" {name} {};", value?)));
    epd.to_string() + &said.collect::<String>() + "\n"
}

/// What may be told to whoever is to find the solution.
fn unsolved(exercise: &Exercise, number: usize, words: Words) -> Vec<Operation> {
    let [full_moves, half_moves] = clocks(exercise);
    let id = format!("exercise {number}");
    let asked = string(&asked(exercise, words));
    vec![("c0", Some(asked)), full_moves, half_moves, ("id", Some(string(&id)))]
}

/// The kind, the question and what it counts.
fn asked(exercise: &Exercise, words: Words) -> String {
    words.tell("asked-in-epd", asked_values(exercise, words))
}

fn clocks(exercise: &Exercise) -> [Operation; 2] {
    let start = &exercise.start;
    [("fmvn", Some(start.fullmoves().to_string())), ("hmvc", Some(start.halfmoves().to_string()))]
}

/// All that is known.
fn solved(sheet: &SheetOfExercises<'_>, exercise: &Exercise) -> Vec<Operation> {
    let mate = match exercise.comes_to {
        Upshot::Found(Verdict::Mates(moves)) if exercise.side() == exercise.attacker => {
            Some(moves.to_string())
        }
        _ => None,
    };
    let hit = &exercise.hit;
    let (source, game, ply) = (file_name(&hit.source), hit.game.number, hit.offer.ply);
    let id = format!("{source} {game}.{ply} {}", hit.query);
    let remark = format!(
        "{} {} {}",
        asked(exercise, sheet.telling.words),
        comes_to_sentence(exercise.comes_to, Footing::of(exercise), sheet.telling.words),
        sheet.motif_title(exercise)
    );
    let [full_moves, half_moves] = clocks(exercise);
    vec![
        ("acn", Some(exercise.nodes.to_string())),
        (if exercise.is_first_right() { "bm" } else { "am" }, first_moves(exercise)),
        ("c0", Some(string(&remark))),
        ("c1", sheet.telling.caution.as_deref().map(string)),
        ("dm", mate),
        full_moves,
        half_moves,
        ("id", Some(string(&id))),
        ("pv", Some(line_in_san(&exercise.start, &exercise.line)).filter(|line| !line.is_empty())),
    ]
}

/// The solution and what is as correct, or as wrong, in ASCII order; nothing if the question is not what to play.
fn first_moves(exercise: &Exercise) -> Option<String> {
    let is_about_moves = exercise.kind != ExerciseKind::Check || exercise.works;
    let also = exercise.also.iter().map(|(m, _)| m);
    let are_wrong = exercise.kind == ExerciseKind::King;
    let wrong =
        exercise.asides.iter().filter(|aside| are_wrong && aside.role == AsideRole::Mistake);
    let wrong = wrong.filter_map(|aside| aside.moves.first());
    let firsts = exercise.line.first().into_iter().chain(also).chain(wrong);
    let mut sans: Vec<String> = firsts.map(|m| line_in_san(&exercise.start, &[*m])).collect();
    sans.sort();
    (is_about_moves && !sans.is_empty()).then(|| sans.join(" "))
}

/// A string operand. Readers differ in what they make of quotes, backslashes and semicolons within one, so
/// there are none.
fn string(text: &str) -> String {
    let mut safe = String::from("\"");
    for letter in text.chars() {
        let letter = match letter {
            '…' => {
                safe.push_str("...");
                continue;
            }
            '"' => '\'',
            '\\' => '/',
            ';' => ',',
            letter if letter.is_control() => ' ',
            letter => letter,
        };
        if safe.len() + letter.len_utf8() > LONGEST {
            break;
        }
        safe.push(letter);
    }
    safe + "\""
}
