//! Which offers are judged, and in which order.

use std::collections::{BTreeSet, HashMap};
use std::hash::Hasher;

use twox_hash::XxHash3_64;

use super::VerifyOptions;
use super::judges::{AskedOffer, OfferTask};
use crate::advice::WithHint;
use crate::commands::chosen_queries;
use crate::hits::{CellTrouble, JudgedHit, Run};
use crate::query::{Chapter, Library};
use crate::tables::QueryRun;

/// The names of the queries that were asked for, in the order of the run.
pub(super) fn queries<'r>(options: &VerifyOptions, run: &'r Run) -> anyhow::Result<Vec<&'r str>> {
    let names: Vec<&str> = run.manifest.queries.iter().map(|query| &*query.name).collect();
    let named = chosen_queries(&options.query, &names)?;
    let is_asked_for = |query: &&QueryRun| {
        named.contains(&&*query.name)
            && (options.chapter.is_empty()
                || chapter_of(query).is_some_and(|it| options.chapter.contains(&it)))
    };
    let asked = run.manifest.queries.iter().filter(is_asked_for);
    let queries: Vec<&str> = asked.map(|query| &*query.name).collect();
    anyhow::ensure!(!queries.is_empty(), "this run has no query of that chapter");
    if options.overlooked && !run.looked_for_overlooked() {
        let error = anyhow::anyhow!("this run does not hold offers that nobody made");
        return Err(error.hint("mine with --overlooked"));
    }
    Ok(queries)
}

/// The chapter of a query as it was mined, if it is known.
fn chapter_of(query: &QueryRun) -> Option<Chapter> {
    let mut library = Library::new();
    match &query.text {
        Some(text) => library.add_mined(&query.name, text),
        None if Library::knows(&query.name) => library.add(&query.name),
        None => return None,
    }
    Some(library.queries().ok()?.pop()?.chapter)
}

/// Which offers of some queries are judged, and in which order. Each position and move counts once.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum OfferSelection {
    /// All hits, or the first of their offers, as many as this.
    First(Option<usize>),
    /// This many offers, drawn by lot.
    ByLot {
        /// How many.
        offers: usize,
        /// Another number draws others.
        seed: u64,
        /// Whether they are drawn among those that were overlooked, or else among those that were made.
        overlooked: bool,
    },
    /// The overlooked offers, or this many of them, the most promising first.
    Promising(Option<usize>),
}

impl OfferSelection {
    /// Whether it is of all hits.
    pub(super) fn is_everything(self) -> bool {
        self == OfferSelection::First(None)
    }

    /// Whether a hit is looked at.
    pub(super) fn looks_at(self, hit: &JudgedHit) -> bool {
        match self {
            OfferSelection::First(_) => true,
            OfferSelection::ByLot { overlooked, .. } => overlooked != hit.is_played(),
            OfferSelection::Promising(_) => !hit.is_played(),
        }
    }

    /// The lot of an offer: the same for the same seed, whatever else there is.
    fn lot(self, asked: &AskedOffer) -> u64 {
        let OfferSelection::ByLot { seed, .. } = self else { return 0 };
        let mut hash = XxHash3_64::with_seed(seed);
        hash.write(asked.text().as_bytes());
        hash.finish()
    }
}

/// The offers that are selected among those that were met.
pub(super) struct Selected {
    selection: OfferSelection,
    offers: HashMap<AskedOffer, SelectedOffer>,
    /// How many there were so far.
    met: u64,
    /// The lots of the offers, if they are drawn.
    lots: BTreeSet<(u64, AskedOffer)>,
}

/// A selected offer.
pub(super) struct SelectedOffer {
    /// In the order in which they were met.
    number: u64,
    pub(super) task: OfferTask,
    /// Whether there is a hit with it that was not judged yet.
    pub(super) is_open: bool,
}

impl Selected {
    pub(super) fn of(selection: OfferSelection) -> Selected {
        Selected { selection, offers: HashMap::new(), met: 0, lots: BTreeSet::new() }
    }

    /// Meets a hit.
    pub(super) fn meet(&mut self, hit: &JudgedHit) -> Result<(), CellTrouble> {
        if !self.selection.looks_at(hit) {
            return Ok(());
        }
        let (asked, is_open) = (AskedOffer::of(hit), hit.verdict.is_none());
        if let Some(known) = self.offers.get_mut(&asked) {
            known.is_open |= is_open;
            known.task.meet(hit);
        } else if self.has_room(&asked) {
            let (number, task) = (self.met, OfferTask::of(hit)?);
            self.met += 1;
            self.offers.insert(asked, SelectedOffer { number, task, is_open });
        }
        Ok(())
    }

    /// Whether an offer is selected, as far as is known. If it is drawn, the last one may have to go.
    fn has_room(&mut self, asked: &AskedOffer) -> bool {
        match self.selection {
            OfferSelection::Promising(_) => true,
            OfferSelection::First(most) => most.is_none_or(|most| self.offers.len() < most),
            OfferSelection::ByLot { offers, .. } => {
                self.lots.insert((self.selection.lot(asked), asked.clone()));
                let last = (self.lots.len() > offers).then(|| self.lots.pop_last()).flatten();
                let Some((_, last)) = last else { return true };
                self.offers.remove(&last);
                last != *asked
            }
        }
    }

    /// The selected offers in the order in which they were met.
    pub(super) fn into_offers(self) -> Vec<SelectedOffer> {
        let mut met: Vec<SelectedOffer> = self.offers.into_values().collect();
        met.sort_unstable_by_key(|offer| offer.number);
        met
    }
}
