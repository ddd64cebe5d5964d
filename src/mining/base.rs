//! How many games were mined, by rating band and result: what every figure is measured against.

use crate::collection::{GameResult, Rating};

/// Games and plies.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct BaseCount {
    /// The number of games.
    pub games: u64,
    /// The number of their plies.
    pub plies: u64,
}

/// How many games were mined, by rating band and result: what every figure is measured against.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct BaseRates {
    /// The unrated games first, then a row for each band of 200 points; a column for each result.
    counts: Vec<[BaseCount; 4]>,
}

/// The bands from 0 to the highest rating that is read.
const BANDS: usize = 4000 / 200 + 1;

/// The results in the order of the columns.
const RESULTS: [GameResult; 4] =
    [GameResult::WhiteWins, GameResult::BlackWins, GameResult::Draw, GameResult::Open];

impl Default for BaseRates {
    fn default() -> BaseRates {
        BaseRates { counts: vec![[BaseCount::default(); 4]; BANDS + 1] }
    }
}

impl BaseRates {
    /// Counts a game of so many plies.
    pub fn add(&mut self, band: Option<Rating>, result: GameResult, plies: usize) {
        let row = band.map_or(0, |band| usize::from(band / 200) + 1);
        let count = &mut self.counts[row][result as usize];
        count.games += 1;
        count.plies += plies as u64;
    }

    /// Adds the counts of another part of the collection.
    pub fn merge(&mut self, other: &BaseRates) {
        for (count, more) in self.counts.iter_mut().flatten().zip(other.counts.iter().flatten()) {
            count.games += more.games;
            count.plies += more.plies;
        }
    }

    /// The counts by band (unrated first) and result, those without a game left out.
    pub fn iter(&self) -> impl Iterator<Item = (Option<Rating>, GameResult, BaseCount)> {
        let bands = std::iter::once(None).chain((0..).step_by(200).map(Some));
        bands.zip(&self.counts).flat_map(|(band, row)| {
            let cells = RESULTS.into_iter().zip(row);
            cells
                .filter(|(_, count)| count.games > 0)
                .map(move |(result, &count)| (band, result, count))
        })
    }
}
