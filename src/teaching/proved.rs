//! What was found out about an offer, in words and moves.

use super::steps::{Step, Steps};
use crate::hits::{CellTrouble, JudgedHit, Verdict, VerdictRecord};
use crate::statistics::counted;

/// The best reply to an offer and best play after it; nothing if the offer was not verified.
pub(super) fn best_play(hit: &JudgedHit) -> Result<Vec<Step>, CellTrouble> {
    let Some(verdict) = &hit.verdict else { return Ok(Vec::new()) };
    let line = format!("{} {}", hit.offer.san, verdict.best_line);
    let steps = Steps::of(&hit.offer.fen, &line).map_err(JudgedHit::best_line_trouble)?;
    Ok(steps.moves[1..].to_vec())
}

/// What an offer comes to, as the rest of a sentence of which it is the subject.
pub(crate) fn in_words(record: &VerdictRecord) -> String {
    let pawns = |pawns: i32| counted(pawns.unsigned_abs().into(), "pawn");
    let depth = record.depth;
    match record.verdict {
        Verdict::Mates(moves) => format!("mates in {moves}"),
        Verdict::Mated(moves) => format!("lets the other side mate in {moves}"),
        Verdict::Draws => "draws by force".to_owned(),
        Verdict::Gains(up) => format!("gains {}, counted {depth} plies deep", pawns(up)),
        Verdict::Down(down) => format!("is {} down, counted {depth} plies deep", pawns(down)),
        Verdict::Level => format!("comes out level, counted {depth} plies deep"),
        Verdict::Open => "is neither proved nor refuted".to_owned(),
    }
}
