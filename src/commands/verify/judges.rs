//! Judges at work, one for each thread.

use std::collections::BTreeSet;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use shakmaty::{Chess, Move};

use crate::hits::{CellTrouble, JudgedHit};
use crate::verdict::{Effort, Judge, Judgement};
use crate::work::{ThreadsRefused, all_in_order};

/// A position as a FEN with all its counters, which an engine sees, too, and a move.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub(super) struct AskedOffer(Arc<str>);

impl AskedOffer {
    /// The offer of a hit.
    pub(super) fn of(hit: &JudgedHit) -> AskedOffer {
        AskedOffer(format!("{} {}", hit.offer.fen, hit.offer.san).into())
    }

    /// Its text.
    pub(super) fn text(&self) -> &str {
        &self.0
    }
}

/// An offer to be judged.
pub(super) struct OfferTask {
    pub(super) asked: AskedOffer,
    pub(super) pos: Chess,
    pub(super) offer: Move,
    /// The moves that were played instead, in SAN, where it was overlooked.
    pub(super) instead: BTreeSet<String>,
}

impl OfferTask {
    /// The offer of a hit.
    pub(super) fn of(hit: &JudgedHit) -> Result<OfferTask, CellTrouble> {
        let pos = hit.position()?;
        let offer = hit.offer_in(&pos)?;
        Ok(OfferTask::new(hit, pos, offer))
    }

    /// The offer of a hit, whose position and move these are.
    pub(super) fn new(hit: &JudgedHit, pos: Chess, offer: Move) -> OfferTask {
        let instead = hit.offer.overlooked().map(|missed| missed.instead.clone());
        let instead = instead.into_iter().collect();
        OfferTask { asked: AskedOffer::of(hit), pos, offer, instead }
    }
}

/// Judges, one for each thread; each is made when it has something to do.
pub(super) struct Judges {
    judges: Vec<Option<Judge>>,
    effort: Effort,
}

impl Judges {
    pub(super) fn new(threads: usize, effort: Effort) -> Judges {
        Judges { judges: (0..threads).map(|_| None).collect(), effort }
    }

    /// Judges offers until `stop` is set; the judgements come in their order, and `done` hears of each.
    pub(super) fn judge(
        &mut self,
        tasks: &[&OfferTask],
        stop: &AtomicBool,
        done: impl FnMut(),
    ) -> Result<Vec<Judgement>, ThreadsRefused> {
        let effort = self.effort;
        let judge = |judge: &mut Option<Judge>, task: &&OfferTask| {
            judge.get_or_insert_with(|| Judge::new(effort)).judge(&task.pos, task.offer)
        };
        all_in_order(&mut self.judges, tasks, stop, judge, done)
    }
}
