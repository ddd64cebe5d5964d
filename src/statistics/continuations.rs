//! The tree of what was played after an offer, over all hits of a query.
//!
//! Moves are in the attacker's view: those of Black's offers are turned up and down, those of the other
//! wing left to right, so that they add up.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use super::outcome::Outcomes;
use super::tally::{Counted, CountedColumns};
use crate::tables::{Row, TableReader, TableTrouble, hit_column};

/// A game that stands for a branch. Of the games with a result it is the one whose weaker player is
/// rated highest; of several the one that ended soonest after the offer; of several the first.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct ModelGame {
    /// The rank; the greatest is taken.
    rank: Rank,
    /// The source.
    pub source: String,
    /// The number in the source.
    pub game: i64,
}

/// Whether the game has a result, the weaker player's rating, the moves left, and the hits before it.
type Rank = (bool, i64, Reverse<u64>, Reverse<u64>);

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

    fn add(&mut self, counted: &Counted, model: &ModelGame) {
        self.outcomes.add(counted.half_points);
        if self.model.as_ref().is_none_or(|known| known.rank < model.rank) {
            self.model = Some(model.clone());
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
    /// All real offers; their moves are the first ones below.
    pub root: Branch,
    /// How many plies after the offer are kept.
    depth: usize,
}

impl Continuations {
    /// A tree of so many plies after the offer; the tables hold 19.
    #[must_use]
    pub fn new(depth: usize) -> Continuations {
        Continuations { root: Branch::default(), depth }
    }

    /// Adds the real offers of a table.
    ///
    /// # Errors
    ///
    /// If a row can't be read.
    pub fn add_table(&mut self, table: &mut TableReader) -> Result<(), TableTrouble> {
        let columns = CountedColumns::default();
        let line = hit_column("line");
        while let Some(row) = table.next_row()? {
            let counted = columns.read(row)?;
            if !counted.is_played || counted.cost <= 0 {
                continue;
            }
            let turn = Turn::of(row)?;
            let model = model_game(row, &counted, self.root.count())?;
            let mut branch = &mut self.root;
            branch.add(&counted, &model);
            for san in row.text(line).split_ascii_whitespace().take(self.depth + 1) {
                branch = branch.children.entry(turn.san(san)).or_default();
                branch.add(&counted, &model);
            }
        }
        Ok(())
    }
}

fn model_game(row: Row<'_>, counted: &Counted, before: u64) -> Result<ModelGame, TableTrouble> {
    let rating = |name| row.integer(hit_column(name)).map(Option::unwrap_or_default);
    let weaker = rating("white_elo")?.min(rating("black_elo")?);
    Ok(ModelGame {
        rank: (counted.half_points.is_some(), weaker, Reverse(counted.moves_left), Reverse(before)),
        source: row.text(hit_column("source")).to_owned(),
        game: row.integer(hit_column("game"))?.unwrap_or_default(),
    })
}

/// How the moves of a row are turned into the attacker's view.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Turn {
    up_and_down: bool,
    left_to_right: bool,
}

impl Turn {
    /// How the moves of this row are turned.
    ///
    /// # Errors
    ///
    /// If its wing is none.
    pub fn of(row: Row<'_>) -> Result<Turn, TableTrouble> {
        let wing = hit_column("wing");
        let left_to_right = match row.text(wing) {
            "as written" => false,
            "mirrored" => true,
            text => return Err(row.trouble(wing, format!("`{text}` is no wing"))),
        };
        Ok(Turn { up_and_down: row.text(hit_column("side")) == "black", left_to_right })
    }

    /// A move's SAN in the attacker's view.
    #[must_use]
    pub fn san(self, san: &str) -> String {
        if self.left_to_right && san.starts_with("O-O") {
            let rest = san.trim_start_matches("O-O").trim_start_matches("-O");
            let castling = if san.starts_with("O-O-O") { "O-O" } else { "O-O-O" };
            return format!("{castling}{rest}");
        }
        let turned = |letter: char| match letter {
            'a'..='h' if self.left_to_right => other_end(letter, 'a', 'h'),
            '1'..='8' if self.up_and_down => other_end(letter, '1', '8'),
            letter => letter,
        };
        san.chars().map(turned).collect()
    }
}

/// The letter as far from the last as this one is from the first.
fn other_end(letter: char, first: char, last: char) -> char {
    let turned = u32::from(first) + u32::from(last) - u32::from(letter);
    char::from_u32(turned).unwrap_or(letter)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn moves_are_turned_into_the_attackers_view() {
        let black = Turn { up_and_down: true, left_to_right: false };
        let mirrored = Turn { up_and_down: false, left_to_right: true };
        let both = Turn { up_and_down: true, left_to_right: true };
        for (turn, san, turned) in [
            (black, "Bxh2+", "Bxh7+"),
            (black, "N1d2", "N8d7"),
            (black, "bxa1=Q#", "bxa8=Q#"),
            (black, "O-O", "O-O"),
            (mirrored, "Bxa7+", "Bxh7+"),
            (mirrored, "Rbxb3", "Rgxg3"),
            (mirrored, "O-O+", "O-O-O+"),
            (mirrored, "O-O-O", "O-O"),
            (both, "Bxa2+", "Bxh7+"),
        ] {
            assert_eq!(turn.san(san), turned, "{san}");
        }
    }
}
