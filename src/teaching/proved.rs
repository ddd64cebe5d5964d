//! What was found out about an offer, in words and moves, and how it is known.

use super::steps::{Step, Steps};
use crate::engine::Points;
use crate::hits::{CellTrouble, Evidence, JudgedHit, OfferWorth, Sound, Verdict, VerdictRecord};
use crate::words::Words;

/// The best reply to an offer and best play after it; nothing if the offer was not verified, or if all that is
/// known of it are the evaluations in the game's comments, which come without moves.
pub(super) fn best_play(hit: &JudgedHit) -> Result<Vec<Step>, CellTrouble> {
    let shown = hit.verdict.as_ref().filter(|it| it.worth.evidence != Some(Evidence::FromGame));
    let Some(verdict) = shown else { return Ok(Vec::new()) };
    let line = format!("{} {}", hit.offer.san, verdict.best_line);
    let steps = Steps::of(&hit.offer.fen, &line).map_err(JudgedHit::best_line_trouble)?;
    Ok(steps.moves[1..].to_vec())
}

/// What an offer comes to: in English the rest of a sentence of which it is the subject, elsewhere a clause.
pub(crate) fn in_words(record: &VerdictRecord, words: Words) -> String {
    let said = |who: &str| {
        let written = |points: Points| words.tenths(f64::from(points.tenths()) / 10.0);
        let points = [record.worth.after, record.worth.best].map(|points| points.map(written));
        let (name, [after, best]) = match points {
            [Some(after), Some(best)] => (format!("{who}-points-best"), [after, best]),
            [Some(after), None] => (format!("{who}-points"), [after, String::new()]),
            [None, _] => (who.to_owned(), [String::new(), String::new()]),
        };
        let does = ("does", words.say(sound(record)).into());
        words.tell(&name, [does, ("after", after.into()), ("best", best.into())])
    };
    match record.worth.evidence {
        Some(Evidence::Judged) => said("offer-judged"),
        Some(Evidence::FromGame) => said("offer-from-game"),
        Some(Evidence::Proved | Evidence::Counted) | None => found(record, words),
    }
}

/// The message on whether an offer is sound.
fn sound(record: &VerdictRecord) -> &'static str {
    match record.sound() {
        Sound::Yes => "offer-sound",
        Sound::Holds => "offer-holds",
        Sound::No => "offer-not-sound",
        Sound::LastTry => "offer-last-try",
        Sound::Open => "offer-open",
    }
}

/// What the searches found.
fn found(record: &VerdictRecord, words: Words) -> String {
    let counted = |name: &str, pawns: i32| {
        let pawns = ("pawns", pawns.unsigned_abs().into());
        words.tell(name, [pawns, ("depth", record.depth.into())])
    };
    match record.verdict {
        Verdict::Mates(moves) => words.tell("offer-mates", [("moves", moves.into())]),
        Verdict::Mated(moves) => {
            let like_all = record.worth == OfferWorth::ALL_MATED;
            let name = if like_all { "offer-is-mated-like-all" } else { "offer-is-mated" };
            words.tell(name, [("moves", moves.into())])
        }
        Verdict::Draws => words.say("offer-draws"),
        Verdict::Gains(up) => counted("offer-gains", up),
        Verdict::Down(down) => counted("offer-is-down", down),
        Verdict::Level => words.tell("offer-level", [("depth", record.depth.into())]),
        Verdict::Open => words.say("offer-open"),
    }
}
