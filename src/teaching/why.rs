//! Why a game is shown, in a sentence of facts.

use super::specimen::Specimen;
use crate::board::SacrificeKind;
use crate::hits::Sound;
use crate::statistics::counted;

/// Up to here numbers are words.
const NUMBERS: [&str; 13] = [
    "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
    "twelve",
];

/// What a game shows, as a sentence.
pub(crate) fn why(specimen: &Specimen) -> String {
    let shows = if specimen.traits.is_won { win(specimen) } else { failure(specimen) };
    let mut letters = shows.chars();
    let first = letters.next().map(char::to_uppercase).into_iter().flatten();
    first.chain(letters).chain(['.']).collect()
}

fn win(specimen: &Specimen) -> String {
    let hit = &specimen.hit;
    let king = specimen.king_goes().map(|square| format!("the king takes and goes to {square}"));
    let lead = match (hit.is_accepted(), king) {
        (Some(true), Some(king)) => king,
        (Some(true), None) => "the offer is accepted".to_owned(),
        _ => "the offer is declined".to_owned(),
    };
    // The offer itself is the first of the attacker's moves.
    let more = hit.moves_left().saturating_sub(1);
    let is_soon = more < NUMBERS.len() as u64;
    if hit.gives_mate() && is_soon {
        return match more {
            0 => "the offer mates".to_owned(),
            _ => format!("{lead}; mate follows {}", in_moves(more)),
        };
    }
    let recovered = specimen.recovered().filter(|_| specimen.is_recovered_soon());
    match (hit.offer.kind, recovered) {
        (Some(SacrificeKind::Sham), Some(ply)) => {
            let moves = ply.saturating_sub(hit.offer.ply).div_ceil(2) as u64;
            format!("{lead}; the material is made good {}", in_moves(moves))
        }
        (Some(SacrificeKind::Sham), None) if is_soon => {
            format!("{lead}; the game is won {}", in_moves(more))
        }
        (Some(SacrificeKind::Real), _) => {
            format!("{lead}; still down after four moves, the attacker wins all the same")
        }
        _ => format!("{lead}, and the attacker wins"),
    }
}

fn failure(specimen: &Specimen) -> String {
    let hit = &specimen.hit;
    let end = match hit.half_points() {
        Some(1) => "the game is drawn",
        _ => "the attacker loses",
    };
    match hit.verdict.as_ref().map(|verdict| verdict.sound()) {
        Some(Sound::No) => format!("a failure to compare: the offer is not sound, and {end}"),
        Some(Sound::Holds) => format!("the offer is worth a draw, and {end}"),
        _ => format!("a game to compare: {end}"),
    }
}

/// `in six moves`, `in one move`, `in 14 moves`.
fn in_moves(moves: u64) -> String {
    match usize::try_from(moves).ok().and_then(|moves| NUMBERS.get(moves)) {
        Some(&"one") => "in one move".to_owned(),
        Some(number) => format!("in {number} moves"),
        None => format!("in {}", counted(moves, "move")),
    }
}
