//! What was found out about an offer, in words and moves, and how it is known.

use super::steps::{Step, Steps};
use crate::hits::{CellTrouble, Evidence, JudgedHit, Sound, Verdict, VerdictRecord};
use crate::statistics::counted;

/// The best reply to an offer and best play after it; nothing if the offer was not verified, or if all that is
/// known of it are the evaluations in the game's comments, which come without moves.
pub(super) fn best_play(hit: &JudgedHit) -> Result<Vec<Step>, CellTrouble> {
    let shown = hit.verdict.as_ref().filter(|it| it.worth.evidence != Some(Evidence::FromGame));
    let Some(verdict) = shown else { return Ok(Vec::new()) };
    let line = format!("{} {}", hit.offer.san, verdict.best_line);
    let steps = Steps::of(&hit.offer.fen, &line).map_err(JudgedHit::best_line_trouble)?;
    Ok(steps.moves[1..].to_vec())
}

/// What an offer comes to, as the rest of a sentence of which it is the subject.
pub(crate) fn in_words(record: &VerdictRecord) -> String {
    match record.worth.evidence {
        Some(Evidence::Judged) => {
            format!("{}, as an engine judges{}", sound(record), points(record))
        }
        Some(Evidence::FromGame) => {
            format!("{} by the evaluations in the game’s comments{}", sound(record), points(record))
        }
        Some(Evidence::Proved | Evidence::Counted) | None => found(record),
    }
}

/// Whether an offer is sound.
fn sound(record: &VerdictRecord) -> &'static str {
    match record.sound() {
        Sound::Yes => "is sound",
        Sound::Holds => "holds",
        Sound::No => "is not sound",
        Sound::LastTry => "is a last try in a lost position",
        Sound::Open => "is open",
    }
}

/// The points that it promises, and those that could be had instead.
fn points(record: &VerdictRecord) -> String {
    let instead = |best| format!(", and {best} with the best other move");
    let best = record.worth.best.map_or_else(String::new, instead);
    let after = record.worth.after.map(|after| format!(" ({after} of a hundred points{best})"));
    after.unwrap_or_default()
}

/// What the searches found.
fn found(record: &VerdictRecord) -> String {
    let pawns = |pawns: i32| counted(pawns.unsigned_abs().into(), "pawn");
    let depth = record.depth;
    match record.verdict {
        Verdict::Mates(moves) => format!("mates in {moves}"),
        Verdict::Mated(moves) => format!("lets the other side mate in {moves}"),
        Verdict::Draws => "draws by force".to_owned(),
        Verdict::Gains(up) => format!("gains {}, counted {depth} plies deep", pawns(up)),
        Verdict::Down(down) => format!("is {} down, counted {depth} plies deep", pawns(down)),
        Verdict::Level => format!("comes out level, counted {depth} plies deep"),
        Verdict::Open => "is open".to_owned(),
    }
}
