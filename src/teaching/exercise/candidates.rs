//! The candidates for a kind, as many of each class as a sheet can need, as if drawn by lot.
//!
//! Invariant: what is kept does not grow with the tables, and depends on the hits and the seed alone.

use std::collections::{BTreeMap, BTreeSet};

use super::candidate::{Candidate, Class, lot};
use super::kind::ExerciseKind;
use crate::hits::{CellTrouble, Collector, JudgedHit, Layout, NoColumn, Verdicts, Wanted};
use crate::mining::GameId;

/// How many candidates of a class are kept for a sheet.
pub const MOST_CANDIDATES: usize = 2_000;

/// Candidates by class, in the order of their lots.
#[derive(Clone, Debug)]
pub struct Candidates {
    kind: ExerciseKind,
    sides: Sides,
    unjudged: Unjudged,
    seed: u64,
    /// How many of a class are kept.
    most: usize,
    by_class: BTreeMap<Class, BTreeMap<u64, Candidate>>,
    /// The id of the only hit that is wanted, if one is named.
    only: Option<String>,
    /// Whether there were hits with verdicts, and hits without.
    met: Met,
}

/// Which side is to move in the exercises that are wanted.
#[derive(Clone, Copy, PartialEq, Eq, Debug, clap::ValueEnum)]
pub enum Sides {
    /// White to move.
    White,
    /// Black to move.
    Black,
    /// Either to move.
    Both,
}

/// What is done with hits that nobody judged.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Unjudged {
    /// They are left out.
    LeftOut,
    /// Those of games that the attacker won are candidates.
    IfWon,
}

/// Whether there were hits with verdicts, and hits without.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct Met {
    /// Whether a table of hits had verdicts.
    pub judged: bool,
    /// Whether one had none.
    pub unjudged: bool,
}

impl Collector for Candidates {
    fn begin(&mut self, layout: &Layout) -> Result<Wanted, NoColumn> {
        let is_judged = layout.verdicts != Verdicts::Missing;
        self.met.judged |= is_judged;
        self.met.unjudged |= !is_judged;
        Ok(Wanted::everything())
    }

    /// Draws a hit.
    fn take(&mut self, hit: &JudgedHit) -> Result<(), CellTrouble> {
        if self.only.as_ref().is_some_and(|id| *id != hit.id) {
            return Ok(());
        }
        let class = match &hit.verdict {
            Some(record) => Class::judged(hit, record, self.kind),
            None if self.unjudged == Unjudged::IfWon => Class::unjudged(hit),
            None => None,
        };
        let Some(class) = class.filter(|class| self.sides.have(class.is_white)) else {
            return Ok(());
        };
        let lot = lot(hit, class, self.seed);
        let drawn = self.by_class.entry(class).or_default();
        let is_late =
            drawn.len() == self.most && drawn.keys().next_back().is_some_and(|&last| lot > last);
        if !is_late && !drawn.contains_key(&lot) {
            drawn.insert(lot, Candidate::of(hit, class, lot)?);
            if drawn.len() > self.most {
                drawn.pop_last();
            }
        }
        Ok(())
    }
}

impl Sides {
    fn have(self, is_white: bool) -> bool {
        match self {
            Sides::White => is_white,
            Sides::Black => !is_white,
            Sides::Both => true,
        }
    }
}

impl Candidates {
    /// No candidates yet, and at most `most` of each class.
    #[must_use]
    pub fn new(
        kind: ExerciseKind,
        sides: Sides,
        unjudged: Unjudged,
        seed: u64,
        most: usize,
    ) -> Candidates {
        let (by_class, met) = (BTreeMap::new(), Met::default());
        Candidates { kind, sides, unjudged, seed, most, by_class, only: None, met }
    }

    /// The same, of the hit with this id only.
    #[must_use]
    pub fn only(self, id: &str) -> Candidates {
        Candidates { only: Some(id.to_owned()), ..self }
    }

    /// The same, without the hits of some games.
    #[must_use]
    pub fn without(mut self, games: &BTreeSet<GameId>) -> Candidates {
        for drawn in self.by_class.values_mut() {
            drawn.retain(|_, candidate| !games.contains(&candidate.hit.game.id));
        }
        self
    }

    /// Whether there were hits with verdicts since this was last asked, and hits without.
    pub fn met(&mut self) -> Met {
        std::mem::take(&mut self.met)
    }

    /// Leaves every other offer that was made for something else, the first one first.
    pub fn spare_half_of_those_made(&mut self) {
        for drawn in self.by_class.values_mut() {
            let mut is_spared = false;
            drawn.retain(|_, candidate| {
                let is_played = candidate.hit.is_played();
                is_spared ^= is_played;
                !(is_played && is_spared)
            });
        }
    }

    /// How many there are.
    #[must_use]
    pub fn count(&self) -> usize {
        self.by_class.values().map(BTreeMap::len).sum()
    }

    /// The candidates of each class, in the order of their lots.
    #[must_use]
    pub fn into_queues(self) -> BTreeMap<Class, Vec<Candidate>> {
        let queue = |(class, drawn): (Class, BTreeMap<u64, Candidate>)| {
            (class, drawn.into_values().collect())
        };
        self.by_class.into_iter().map(queue).collect()
    }
}
