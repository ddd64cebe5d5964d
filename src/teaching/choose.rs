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
pub const EXERCISES: usize = 9;

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
        kept.sort_by_key(|(rank, _)| *rank);
        let offers: Vec<&Specimen> = kept.into_iter().map(|(_, specimen)| specimen).collect();
        let mut seen = Seen::default();
        let mut models = models(&offers, &mut seen);
        models.sort_by_key(|specimen| !specimen.traits.is_won);
        Choice { models, exercises: exercises(&offers, &mut seen) }
    }
}

/// Takes games whose moves bear the result out, and others if these are too few; after the least
/// number only such as bring an answer that was not shown yet.
fn models(offers: &[&Specimen], seen: &mut Seen) -> Vec<Specimen> {
    let (least, most) = MODEL_GAMES;
    let mut taken = Taken::default();
    taken.fill(most, offers, seen, |one, taken| {
        one.traits.is_plain && (taken.games.len() < least || !taken.has_branch(one))
    });
    taken.fill(least, offers, seen, |_, _| true);
    taken.games
}

/// Takes games that the attacker won, those first whose moves bear it out.
fn exercises(offers: &[&Specimen], seen: &mut Seen) -> Vec<Specimen> {
    let mut taken = Taken::default();
    taken.fill(EXERCISES, offers, seen, |one, _| one.traits.is_won && one.traits.is_plain);
    taken.fill(EXERCISES, offers, seen, |one, _| one.traits.is_won);
    taken.games
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

/// The games that were taken, and how often each trait was.
#[derive(Default)]
struct Taken {
    games: Vec<Specimen>,
    times: BTreeMap<(usize, String), usize>,
}

impl Taken {
    /// Takes offers that fit until there are so many or none is left: each time one whose traits were
    /// taken least, of equals the first.
    fn fill(
        &mut self,
        most: usize,
        offers: &[&Specimen],
        seen: &mut Seen,
        fits: impl Fn(&Specimen, &Taken) -> bool,
    ) {
        while self.games.len() < most {
            let left = offers.iter().filter(|offer| !seen.has(offer) && fits(offer, self));
            let Some(next) = left.min_by_key(|offer| self.weight(offer)) else { return };
            seen.add(next);
            self.add(next);
        }
    }

    fn weight(&self, offer: &Specimen) -> usize {
        traits(offer).iter().filter_map(|each| self.times.get(each)).sum()
    }

    fn add(&mut self, offer: &Specimen) {
        for each in traits(offer) {
            *self.times.entry(each).or_default() += 1;
        }
        self.games.push(offer.clone());
    }

    fn has_branch(&self, offer: &Specimen) -> bool {
        self.games.iter().any(|game| game.traits.branch == offer.traits.branch)
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
