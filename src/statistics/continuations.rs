//! The tree of what was played after an offer, over all hits of a query.
//!
//! Moves are in the attacker's view: those of Black's offers are turned up and down, those of the other
//! wing left to right, so that they add up.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use super::outcome::Outcomes;
use crate::collection::{GameNumber, Rating};
use crate::hits::{CellTrouble, Collector, JudgedHit, Layout, NoColumn, Wanted};

/// A game that stands for a branch. Of the games with a result it is the one whose weaker player is
/// rated highest; of several the one that ended soonest after the offer; of several the first.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct ModelGame {
    /// The rank; the greatest is taken.
    rank: BranchRank,
    /// The source.
    pub source: String,
    /// The number in the source.
    pub game: GameNumber,
    /// White's name.
    pub white: String,
    /// Black's name.
    pub black: String,
}

/// Whether the game has a result, the weaker player's rating, the moves left, and the hits before it.
type BranchRank = (bool, Rating, Reverse<u64>, Reverse<u64>);

/// A move after the offer, or the offer itself.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Branch {
    /// How the games with it ended for the attacker.
    pub outcomes: Outcomes,
    /// The game that stands for it.
    pub model: Option<ModelGame>,
    /// What was played next.
    children: BTreeMap<String, Branch>,
}

impl Branch {
    /// How many games there are.
    #[must_use]
    pub fn count(&self) -> u64 {
        self.outcomes.games()
    }

    fn add(&mut self, hit: &JudgedHit, rank: BranchRank) {
        self.outcomes.add(hit.half_points());
        if self.model.as_ref().is_none_or(|known| known.rank < rank) {
            self.model = Some(ModelGame {
                rank,
                source: hit.source.clone(),
                game: hit.game.number,
                white: hit.game.white.clone(),
                black: hit.game.black.clone(),
            });
        }
    }

    /// What was played next, the most frequent move first. Moves of fewer than `least` games are folded
    /// into one branch without a move, which comes last.
    #[must_use]
    pub fn next(&self, least: u64) -> Vec<(Option<&str>, Branch)> {
        let (kept, rare): (Vec<_>, Vec<_>) =
            self.children.iter().partition(|(_, branch)| branch.count() >= least);
        let mut next: Vec<(Option<&str>, Branch)> =
            kept.into_iter().map(|(san, branch)| (Some(&**san), branch.clone())).collect();
        next.sort_by_key(|(_, branch)| Reverse(branch.count()));
        if !rare.is_empty() {
            let folded =
                rare.into_iter().fold(Branch::default(), |all, (_, branch)| all.with(branch));
            next.push((None, folded));
        }
        next
    }

    fn with(mut self, other: &Branch) -> Branch {
        self.outcomes = self.outcomes.and(&other.outcomes);
        if other.model.as_ref().map(|model| &model.rank)
            > self.model.as_ref().map(|model| &model.rank)
        {
            self.model.clone_from(&other.model);
        }
        self
    }
}

/// Everything that was played from the offer on.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Continuations {
    /// All offers that give something up; their moves are the first ones below.
    pub root: Branch,
    /// How many plies after the offer are kept.
    depth: usize,
}

impl Continuations {
    /// A tree of `depth` plies after the offer; the tables hold 19.
    #[must_use]
    pub fn new(depth: usize) -> Continuations {
        Continuations { root: Branch::default(), depth }
    }
}

impl Collector for Continuations {
    fn begin(&mut self, _: &Layout) -> Result<Wanted, NoColumn> {
        Ok(Wanted::figures().with_line())
    }

    fn take(&mut self, hit: &JudgedHit) -> Result<(), CellTrouble> {
        if !hit.gives_something_up() {
            return Ok(());
        }
        let rank = rank(hit, self.root.count());
        let mut branch = &mut self.root;
        branch.add(hit, rank);
        for san in hit.offer.line.split_ascii_whitespace().take(self.depth + 1) {
            branch = branch.children.entry(hit.view.turn_san(san)).or_default();
            branch.add(hit, rank);
        }
        Ok(())
    }
}

fn rank(hit: &JudgedHit, before: u64) -> BranchRank {
    let weaker = hit.game.weaker_rating();
    (hit.half_points().is_some(), weaker, Reverse(hit.moves_left()), Reverse(before))
}
