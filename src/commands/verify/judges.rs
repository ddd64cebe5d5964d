//! Judges at work, one for each thread.

use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use shakmaty::{Chess, Move};

use crate::hits::{CellTrouble, JudgedHit, Verdicts, asked_line};
use crate::mining::Evaluation;
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
    /// What else the verdicts on its hits depend on, without repeats.
    contexts: Vec<OfferContext>,
}

/// What a verdict on a hit depends on besides its position and offer.
#[derive(Clone, PartialEq, Eq, Debug)]
struct OfferContext {
    /// The move that was played instead, in SAN, if it was overlooked.
    instead: Option<String>,
    /// What the game's comments say.
    commented: Option<(Evaluation, Evaluation)>,
}

impl OfferContext {
    fn of(hit: &JudgedHit) -> OfferContext {
        let instead = hit.offer.overlooked().map(|missed| missed.instead.clone());
        OfferContext { instead, commented: hit.known().commented }
    }

    /// Only an engine has something to say of the move that was played instead.
    fn line(&self, asked: &AskedOffer, verdicts: Verdicts) -> String {
        let (fen, san) = asked.0.rsplit_once(' ').unwrap_or_default();
        let instead = self.instead.as_deref().filter(|_| verdicts == Verdicts::WithAdvice);
        asked_line(fen, san, instead, self.commented)
    }
}

/// The line by which a hit is judged elsewhere.
pub(super) fn line_of(hit: &JudgedHit, verdicts: Verdicts) -> String {
    OfferContext::of(hit).line(&AskedOffer::of(hit), verdicts)
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
        OfferTask { asked: AskedOffer::of(hit), pos, offer, contexts: vec![OfferContext::of(hit)] }
    }

    /// Takes on another hit with the same position and offer.
    pub(super) fn meet(&mut self, hit: &JudgedHit) {
        let context = OfferContext::of(hit);
        if !self.contexts.contains(&context) {
            self.contexts.push(context);
        }
    }

    /// The moves that were played instead, in SAN, where it was overlooked.
    pub(super) fn instead(&self) -> impl Iterator<Item = &String> {
        self.contexts.iter().filter_map(|context| context.instead.as_ref())
    }

    /// The lines by which its hits are judged elsewhere, for such verdicts.
    pub(super) fn lines(&self, verdicts: Verdicts) -> Vec<String> {
        self.contexts.iter().map(|context| context.line(&self.asked, verdicts)).collect()
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
