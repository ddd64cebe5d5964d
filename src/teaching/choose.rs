//! Which games a lesson shows: a few of each sort are kept while a table is read, and then games are
//! taken in turn so that each adds what the ones before it lack.
//!
//! Invariant: what is kept does not grow with the table, and the same table gives the same choice.

use std::collections::{BTreeMap, BTreeSet};

use super::specimen::{self, Rank, Specimen, Traits};
use crate::statistics::CountedColumns;
use crate::tables::{TableReader, TableTrouble};

/// How many offers of one sort are kept.
const KEPT: usize = 3;
/// The model games of a lesson: so many if there are as many, and no more than that.
pub const MODEL_GAMES: (usize, usize) = (6, 12);
/// The exercises of a lesson, at most.
pub const EXERCISES: usize = 8;

/// The offers a lesson can show, the best of each sort.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Shelf {
    kept: BTreeMap<Traits, Vec<(Rank, Specimen)>>,
}

/// The offers a lesson shows.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Choice {
    /// The model games.
    pub models: Vec<Specimen>,
    /// The exercises: offers after which the attacker won.
    pub exercises: Vec<Specimen>,
}

impl Shelf {
    /// Keeps the best offers of a table.
    ///
    /// # Errors
    ///
    /// If a row can't be read.
    pub fn add_table(&mut self, table: &mut TableReader) -> Result<(), TableTrouble> {
        let columns = CountedColumns::default();
        while let Some(row) = table.next_row()? {
            let Some((traits, rank)) = specimen::traits(row, &columns)? else { continue };
            let same = self.kept.entry(traits.clone()).or_default();
            let place = same.partition_point(|(known, _)| *known <= rank);
            if place < KEPT {
                same.insert(place, (rank, Specimen::read(row, traits)?));
                same.truncate(KEPT);
            }
        }
        Ok(())
    }

    /// Chooses model games and exercises; no game and no position is shown twice.
    #[must_use]
    pub fn choose(&self) -> Choice {
        let mut kept: Vec<&(Rank, Specimen)> = self.kept.values().flatten().collect();
        // Plain ones first, so that they win where two would add the same.
        kept.sort_by_key(|(rank, specimen)| (!specimen.traits.is_plain, *rank));
        let offers: Vec<&Specimen> = kept.into_iter().map(|(_, specimen)| specimen).collect();
        let mut seen = Seen::default();
        let mut models = models(&offers, &mut seen);
        models.sort_by_key(|specimen| !specimen.traits.is_won);
        let won: Vec<&Specimen> =
            offers.into_iter().filter(|specimen| specimen.traits.is_won).collect();
        let mut taken = Balance::default();
        let mut exercises = Vec::new();
        while exercises.len() < EXERCISES
            && let Some(next) = taken.next(won.iter().copied().filter(|one| !seen.has(one)))
        {
            seen.add(next);
            taken.add(next);
            exercises.push(next.clone());
        }
        Choice { models, exercises }
    }
}

/// Takes games whose moves bear the result out, and others if these are too few; after the least
/// number only such as bring an answer that was not shown yet.
fn models(offers: &[&Specimen], seen: &mut Seen) -> Vec<Specimen> {
    let (least, most) = MODEL_GAMES;
    let mut taken = Balance::default();
    let mut models: Vec<Specimen> = Vec::new();
    for plain_only in [true, false] {
        while models.len() < most {
            let is_enough = models.len() >= least;
            let fits = |one: &&Specimen| {
                (one.traits.is_plain || !plain_only)
                    && !seen.has(one)
                    && !(is_enough && (!plain_only || taken.has_branch(one)))
            };
            let Some(next) = taken.next(offers.iter().copied().filter(fits)) else { break };
            seen.add(next);
            taken.add(next);
            models.push(next.clone());
        }
    }
    models
}

/// The games and positions that are shown already.
#[derive(Default)]
struct Seen {
    games: BTreeSet<(String, i64)>,
    positions: BTreeSet<String>,
}

impl Seen {
    fn has(&self, specimen: &Specimen) -> bool {
        self.games.contains(&(specimen.source.clone(), specimen.game))
            || self.positions.contains(&specimen.likeness())
    }

    fn add(&mut self, specimen: &Specimen) {
        self.games.insert((specimen.source.clone(), specimen.game));
        self.positions.insert(specimen.likeness());
    }
}

/// How often each trait was taken.
#[derive(Default)]
struct Balance {
    taken: BTreeMap<(usize, String), usize>,
}

impl Balance {
    /// The offer whose traits were taken least; of equals the first.
    fn next<'s>(&self, offers: impl Iterator<Item = &'s Specimen>) -> Option<&'s Specimen> {
        offers.min_by_key(|offer| {
            let times = traits(offer).map(|key| self.taken.get(&key).copied().unwrap_or(0));
            times.into_iter().sum::<usize>()
        })
    }

    fn add(&mut self, offer: &Specimen) {
        for key in traits(offer) {
            *self.taken.entry(key).or_default() += 1;
        }
    }

    fn has_branch(&self, offer: &Specimen) -> bool {
        let [.., branch, _] = traits(offer);
        self.taken.contains_key(&branch)
    }
}

/// What is to be balanced: result, colour, answer, level.
fn traits(offer: &Specimen) -> [(usize, String); 5] {
    let Traits { is_won, is_white, is_accepted, branch, level, .. } = &offer.traits;
    let texts = [
        is_won.to_string(),
        is_white.to_string(),
        format!("{is_accepted:?}"),
        branch.clone(),
        format!("{level:?}"),
    ];
    let mut number = 0;
    texts.map(|text| {
        number += 1;
        (number, text)
    })
}
