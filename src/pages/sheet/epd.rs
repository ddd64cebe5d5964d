//! Exercises as EPD (section 16.2 of the PGN standard): `bm` the best moves, or `am` an offer that does
//! not work, `pv` the solution, `dm` the moves to mate, `acn` the positions that the proof looked at, `c0`
//! the kind in words, `c1` what must be said of the tables.

use shakmaty::fen::Epd;
use shakmaty::{EnPassantMode, Position};

use super::SheetOfExercises;
use crate::board::line_in_san;
use crate::hits::Verdict;
use crate::pages::solution::{comes_to_sentence, sentence};
use crate::pages::template::file_name;
use crate::teaching::{Exercise, ExerciseKind, Upshot};

/// A string is shorter than this, in bytes.
const LONGEST: usize = 255;

pub(super) fn written(sheet: &SheetOfExercises<'_>) -> String {
    sheet.exercises.iter().map(|exercise| line(sheet, exercise) + "\n").collect()
}

/// The position, then the operations in ASCII order of their names.
fn line(sheet: &SheetOfExercises<'_>, exercise: &Exercise) -> String {
    let epd = Epd::from_position(&exercise.start, EnPassantMode::Legal);
    let mate = match exercise.comes_to {
        Upshot::Found(Verdict::Mates(moves)) if exercise.kind != ExerciseKind::Defend => {
            Some(moves.to_string())
        }
        _ => None,
    };
    let hit = &exercise.hit;
    let (source, game, ply) = (file_name(&hit.source), hit.game.number, hit.offer.ply);
    let id = format!("{source} {game}.{ply} {}", hit.query);
    let remark = format!(
        "{}: {} {} Level {}. {}",
        exercise.kind.word(),
        sentence(exercise),
        comes_to_sentence(exercise.comes_to, exercise.attacker),
        exercise.level.0,
        sheet.motif_title(exercise)
    );
    let operations = [
        ("acn", Some(exercise.nodes.to_string())),
        (if exercise.is_first_right() { "bm" } else { "am" }, Some(first_moves(exercise))),
        ("c0", Some(string(&remark))),
        ("c1", sheet.caution.map(string)),
        ("dm", mate),
        ("fmvn", Some(exercise.start.fullmoves().to_string())),
        ("hmvc", Some(exercise.start.halfmoves().to_string())),
        ("id", Some(string(&id))),
        ("pv", Some(line_in_san(&exercise.start, &exercise.line))),
    ];
    let said =
        operations.into_iter().filter_map(|(name, value)| Some(format!(" {name} {};", value?)));
    epd.to_string() + &said.collect::<String>()
}

/// The solution and what is as correct, in ASCII order.
fn first_moves(exercise: &Exercise) -> String {
    let firsts = exercise.line.first().into_iter().chain(exercise.also.iter().map(|(m, _)| m));
    let mut sans: Vec<String> = firsts.map(|m| line_in_san(&exercise.start, &[*m])).collect();
    sans.sort();
    sans.join(" ")
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
