//! Which games a lesson shows: a few of each sort are kept while a table is read, and then games are
//! taken in turn so that each adds what the ones before it lack.
//!
//! Invariant: what is kept does not grow with the table, and the same table gives the same choice.

use std::collections::{BTreeMap, BTreeSet};

use super::specimen::{Bearing, ModelRank, Specimen, Traits, clouded, rank};
use super::variety::Variety;
use crate::board::SacrificeKind;
use crate::collection::{GameNumber, Rating};
use crate::hits::{CellTrouble, Collector, JudgedHit, Layout, NoColumn, Wanted};

/// How many offers of one sort are kept.
const KEPT: usize = 6;
/// The fewest model games of a lesson, if there are as many, and the most.
pub const MODEL_GAMES: (usize, usize) = (6, 12);

/// The offers a lesson can show, the best of each sort.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Shelf {
    kept: BTreeMap<Traits, Vec<(ModelRank, Specimen)>>,
}

/// The games a lesson shows.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Choice {
    /// The model games.
    pub models: Vec<Specimen>,
    /// Whether all offers were verified.
    pub is_judged: bool,
}

impl Collector for Shelf {
    fn begin(&mut self, _: &Layout) -> Result<Wanted, NoColumn> {
        Ok(Wanted::everything())
    }

    /// Keeps a hit if it is among the best of its sort.
    fn take(&mut self, hit: &JudgedHit) -> Result<(), CellTrouble> {
        let Some(traits) = Traits::of(hit) else { return Ok(()) };
        let rank = rank(hit);
        let same = self.kept.entry(traits.clone()).or_default();
        let place = same.partition_point(|(known, _)| *known <= rank);
        if place < KEPT {
            same.insert(place, (rank, Specimen::of(hit, traits)?));
            same.truncate(KEPT);
        }
        Ok(())
    }
}

impl Shelf {
    /// Chooses model games; no game and no position is shown twice, and none of the games that are shown
    /// elsewhere.
    #[must_use]
    pub fn choose<'g>(&self, shown: impl IntoIterator<Item = (&'g str, GameNumber)>) -> Choice {
        let mut kept: Vec<&(ModelRank, Specimen)> = self.kept.values().flatten().collect();
        kept.sort_by_key(|(rank, _)| *rank);
        let offers: Vec<&Specimen> = kept.into_iter().map(|(_, specimen)| specimen).collect();
        let is_judged = offers.iter().all(|offer| offer.hit.verdict.is_some());
        let games = shown.into_iter().map(|(source, game)| (source.to_owned(), game)).collect();
        let mut models = models(&offers, &mut AlreadyChosen { games, positions: BTreeSet::new() });
        models.sort_by_key(|specimen| ModelPart::of(&specimen.traits));
        Choice { models, is_judged }
    }
}

/// The parts in which model games stand.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
enum ModelPart {
    /// Won, and the material was made good soon.
    Sham,
    /// Won, and it was not.
    Real,
    /// Won without having been accepted.
    OtherWins,
    /// Not won.
    Failures,
}

impl ModelPart {
    fn of(traits: &Traits) -> ModelPart {
        match traits.kind {
            _ if !traits.is_won => ModelPart::Failures,
            Some(SacrificeKind::Sham) => ModelPart::Sham,
            Some(SacrificeKind::Real) => ModelPart::Real,
            _ => ModelPart::OtherWins,
        }
    }
}

/// Takes games in which the offer got what it deserved, and others if these are too few; after the fewest
/// only those that bring a reply that was not shown yet.
fn models(offers: &[&Specimen], seen: &mut AlreadyChosen) -> Vec<Specimen> {
    let (least, most) = MODEL_GAMES;
    let mut taken = TakenGames::default();
    taken.fill(most, offers, seen, |one, taken| {
        one.traits.bearing != Bearing::Nothing
            && (taken.games.len() < least || !taken.has_branch(one))
    });
    taken.fill(least, offers, seen, |_, _| true);
    taken.games
}

/// The games and positions that are shown already.
struct AlreadyChosen {
    games: BTreeSet<(String, GameNumber)>,
    positions: BTreeSet<String>,
}

impl AlreadyChosen {
    fn has(&self, specimen: &Specimen) -> bool {
        self.games.contains(&game_of(specimen)) || self.positions.contains(&specimen.likeness())
    }

    fn add(&mut self, specimen: &Specimen) {
        self.games.insert(game_of(specimen));
        self.positions.insert(specimen.likeness());
    }
}

/// Where the game of an offer is.
fn game_of(specimen: &Specimen) -> (String, GameNumber) {
    (specimen.hit.source.clone(), specimen.hit.game.number)
}

/// The games that were taken, and how often each trait was.
#[derive(Default)]
struct TakenGames {
    games: Vec<Specimen>,
    variety: Variety<GameTrait>,
}

impl TakenGames {
    /// Takes offers that fit until there are `most` or none is left: each time one whose traits were taken
    /// least, among equals the first.
    fn fill(
        &mut self,
        most: usize,
        offers: &[&Specimen],
        seen: &mut AlreadyChosen,
        fits: impl Fn(&Specimen, &TakenGames) -> bool,
    ) {
        while self.games.len() < most {
            let left = offers.iter().filter(|offer| !seen.has(offer) && fits(offer, self));
            let Some(next) = left.min_by_key(|offer| self.weight(offer)) else { return };
            seen.add(next);
            self.add(next);
        }
    }

    /// What clouds it, and how often its traits were taken already; what no verdict bears out counts as shown once
    /// more. One failure teaches what not to do, a second one little else.
    fn weight(&self, offer: &Specimen) -> usize {
        const ANOTHER_FAILURE: usize = 6;
        let unproved = usize::from(offer.traits.bearing != Bearing::Verdict);
        let is_failure = |one: &&Specimen| !one.traits.is_won;
        let failures = match offer.traits.is_won {
            true => 0,
            false => ANOTHER_FAILURE * self.games.iter().filter(|&one| is_failure(&one)).count(),
        };
        let again = 2 * self.variety.times(traits(offer));
        clouded(&offer.hit) + unproved + failures + again
    }

    fn add(&mut self, offer: &Specimen) {
        self.variety.add(traits(offer));
        self.games.push(offer.clone());
    }

    fn has_branch(&self, offer: &Specimen) -> bool {
        self.games.iter().any(|game| game.traits.branch == offer.traits.branch)
    }
}

/// What is to be balanced.
#[derive(PartialEq, Eq, PartialOrd, Ord, Debug)]
enum GameTrait {
    White(bool),
    ModelPart(ModelPart),
    Reply(String),
    Level(Option<Rating>),
}

fn traits(offer: &Specimen) -> [GameTrait; 4] {
    let Traits { is_white, branch, level, .. } = &offer.traits;
    [
        GameTrait::White(*is_white),
        GameTrait::ModelPart(ModelPart::of(&offer.traits)),
        GameTrait::Reply(branch.clone()),
        GameTrait::Level(*level),
    ]
}
