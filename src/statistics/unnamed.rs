//! What is given up and no motif names: that is where the next motif comes from.

use std::collections::{BTreeMap, HashSet};

use shakmaty::{Role, Square};

use super::outcome::Outcomes;
use crate::board::SacrificeKind;
use crate::hits::{CellTrouble, Collector, JudgedHit, Layout, NoColumn, Wanted};

/// How many offers are remembered as named, at about 50 bytes each.
pub const MOST_NAMED_OFFERS: usize = 2_000_000;

/// The offers that motifs name.
#[derive(Debug, Default)]
pub struct Named {
    offers: HashSet<(String, u64, usize)>,
}

impl Named {
    fn place(hit: &JudgedHit) -> (String, u64, usize) {
        (hit.source.clone(), hit.game.number.0, hit.offer.ply)
    }

    fn holds(&self, hit: &JudgedHit) -> bool {
        self.offers.contains(&Named::place(hit))
    }
}

impl Collector for Named {
    fn begin(&mut self, _: &Layout) -> Result<Wanted, NoColumn> {
        Ok(Wanted::figures().with_line())
    }

    fn take(&mut self, hit: &JudgedHit) -> Result<(), CellTrouble> {
        if hit.is_played() {
            self.offers.insert(Named::place(hit));
        }
        Ok(())
    }

    fn too_few_groups(&self) -> Option<String> {
        (self.offers.len() > MOST_NAMED_OFFERS)
            .then(|| super::numbers::grouped(MOST_NAMED_OFFERS as u64))
    }
}

/// How the man that is given up came to be left to be taken.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Manner {
    /// It took something.
    Takes,
    /// It moved without taking.
    Moves,
    /// Another man moved.
    Left,
}

impl Manner {
    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Manner::Takes => "takes",
            Manner::Moves => "moves",
            Manner::Left => "is left",
        }
    }
}

/// What unnamed offers are counted by. Squares are in the attacker's view.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct UnnamedKey {
    /// The man that is given up.
    pub man: Role,
    /// How it came to be left.
    pub manner: Manner,
    /// Where it stands.
    pub square: Square,
    /// The kind of sacrifice.
    pub kind: SacrificeKind,
}

/// Unnamed offers of one key.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct UnnamedGroup {
    /// How their games ended.
    pub outcomes: Outcomes,
    /// The first of them, as `source:game:ply`.
    pub games: Vec<String>,
}

/// How many games a group names.
const GAMES: usize = 3;

/// Every sacrifice, told apart by whether a motif names it.
#[derive(Debug)]
pub struct Unnamed<'n> {
    named: &'n Named,
    groups: BTreeMap<UnnamedKey, UnnamedGroup>,
    /// The sham and real offers, and those of them that a motif names.
    accepted: u64,
    accepted_and_named: u64,
}

impl<'n> Unnamed<'n> {
    /// Nothing yet.
    #[must_use]
    pub fn beside(named: &'n Named) -> Unnamed<'n> {
        Unnamed { named, groups: BTreeMap::new(), accepted: 0, accepted_and_named: 0 }
    }

    /// The groups, the most frequent first.
    #[must_use]
    pub fn groups(&self) -> Vec<(UnnamedKey, &UnnamedGroup)> {
        let mut groups: Vec<_> = self.groups.iter().map(|(key, group)| (*key, group)).collect();
        groups.sort_by_key(|(key, group)| (std::cmp::Reverse(group.outcomes.games()), *key));
        groups
    }

    /// How many sham and real offers motifs name, and how many there are.
    #[must_use]
    pub fn named_of_accepted(&self) -> (u64, u64) {
        (self.accepted_and_named, self.accepted)
    }
}

impl Collector for Unnamed<'_> {
    fn begin(&mut self, _: &Layout) -> Result<Wanted, NoColumn> {
        Ok(Wanted::figures().with_line().with_offer().with_offered())
    }

    fn take(&mut self, hit: &JudgedHit) -> Result<(), CellTrouble> {
        let Some(kind) = hit.offer.kind.filter(|_| hit.is_played()) else { return Ok(()) };
        let is_accepted = matches!(kind, SacrificeKind::Sham | SacrificeKind::Real);
        let is_named = self.named.holds(hit);
        self.accepted += u64::from(is_accepted);
        self.accepted_and_named += u64::from(is_accepted && is_named);
        if is_named {
            return Ok(());
        }
        let (man, square) = hit.offer.offered;
        let key = UnnamedKey { man, manner: manner(hit), square: hit.view.turn(square), kind };
        let group = self.groups.entry(key).or_default();
        group.outcomes.add(hit.half_points());
        if group.games.len() < GAMES {
            group.games.push(format!("{}:{}:{}", hit.source, hit.game.number.0, hit.offer.ply));
        }
        Ok(())
    }
}

/// How the man that is given up came to be left: by its own move, which ends on its square, or another's.
fn manner(hit: &JudgedHit) -> Manner {
    let (_, square) = hit.offer.offered;
    let san = hit.offer.san.trim_end_matches(['+', '#']);
    let target = san.split('=').next().unwrap_or(san);
    match (target.ends_with(&square.to_string()), san.contains('x')) {
        (false, _) => Manner::Left,
        (true, true) => Manner::Takes,
        (true, false) => Manner::Moves,
    }
}
