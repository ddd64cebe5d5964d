//! Which hits look fit for a short exercise; whether they are is for the proof to say.

use super::kind::ExerciseKind;
use crate::hits::{JudgedHit, Verdict, VerdictRecord};

/// Whether an offer that was made looks fit for a short kind.
pub(super) fn looks_fit(hit: &JudgedHit, record: &VerdictRecord, kind: ExerciseKind) -> bool {
    let line = &hit.offer.line;
    let mates = |verdict: Option<Verdict>| matches!(verdict, Some(Verdict::Mates(_)));
    let fits = match kind {
        ExerciseKind::Mate => ends_in_mate(line) || ends_in_mate(&record.best_line),
        ExerciseKind::Reply => mates(record.if_accepted) || mates(record.if_declined),
        ExerciseKind::King => hit.is_accepted() == Some(true) && line.contains('+'),
        ExerciseKind::Check => ends_in_mate(line) || line.contains('+'),
        ExerciseKind::Count => true,
        _ => false,
    };
    fits && hit.is_played()
}

/// Whether a line of SAN ends in mate.
pub(super) fn ends_in_mate(line: &str) -> bool {
    line.ends_with('#')
}
