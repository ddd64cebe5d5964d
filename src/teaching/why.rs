//! Why a game is shown, in a sentence of facts.

use super::specimen::Specimen;
use crate::board::SacrificeKind;
use crate::hits::Sound;
use crate::words::{Words, yes_or_no};

/// A mate or a win that takes more of the attacker's moves is not told by their number.
const MOST_MOVES: u64 = 12;

/// What a game shows, as a sentence.
pub(crate) fn why(specimen: &Specimen, words: Words) -> String {
    if specimen.traits.is_won { win(specimen, words) } else { failure(specimen, words) }
}

fn win(specimen: &Specimen, words: Words) -> String {
    let hit = &specimen.hit;
    let square = specimen.king_goes();
    let answer = match hit.is_accepted() {
        Some(true) if square.is_some() => "king",
        Some(true) => "accepted",
        _ => "declined",
    };
    let square = square.map(|square| square.to_string()).unwrap_or_default();
    let told = |name: &str, moves: u64| {
        let answer = ("answer", answer.into());
        words.tell(name, [answer, ("square", square.as_str().into()), ("moves", moves.into())])
    };
    // The offer itself is the first of the attacker's moves.
    let more = hit.moves_left().saturating_sub(1);
    let is_soon = more <= MOST_MOVES;
    if hit.gives_mate() && is_soon {
        return if more == 0 { words.say("why-offer-mates") } else { told("why-mate", more) };
    }
    let recovered = specimen.recovered().filter(|_| specimen.is_recovered_soon());
    match (hit.offer.kind, recovered) {
        (Some(SacrificeKind::Sham), Some(ply)) => {
            let moves = ply.saturating_sub(hit.offer.ply).div_ceil(2) as u64;
            told("why-made-good", moves)
        }
        (Some(SacrificeKind::Sham), None) if is_soon => told("why-won-soon", more),
        (Some(SacrificeKind::Real), _) => told("why-real", 0),
        _ => told("why-won", 0),
    }
}

fn failure(specimen: &Specimen, words: Words) -> String {
    let hit = &specimen.hit;
    let name = match hit.verdict.as_ref().map(|verdict| verdict.sound()) {
        Some(Sound::No) => "why-not-sound",
        Some(Sound::Holds) => "why-holds",
        _ => "why-to-compare",
    };
    words.tell(name, [("drawn", yes_or_no(hit.half_points() == Some(1)))])
}
