//! What the hits of a query came to, counted row by row from its table.

use std::collections::BTreeMap;

use shakmaty::Color;

use super::counts::real;
use super::median;
use super::outcome::{Outcomes, Summary};
use super::ratings::AgainstRatings;
use crate::collection::{GameResult, Rating, band};
use crate::tables::{Row, TableReader, TableTrouble, hit_column};

/// What a tally takes from a row of a table of hits.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Counted {
    /// Whether the offer was made.
    pub is_played: bool,
    /// What it gave up, in pawns.
    pub cost: i64,
    /// Whether the reply took the piece, if there was a reply.
    pub is_accepted: Option<bool>,
    /// Who offers.
    pub attacker: Color,
    /// The attacker's half points, if the game has a result.
    pub half_points: Option<u8>,
    /// What the ratings predict for the attacker, in hundredths of a point.
    pub expected: Option<u8>,
    /// The band of 200 points of the mean rating.
    pub band: Option<Rating>,
    /// The attacker's moves from the offer to the end of the game, the offer included.
    pub moves_left: u64,
    /// Whether the game ends in mate.
    pub ends_in_mate: bool,
}

/// The places of the columns from which [`Counted`] is read.
#[derive(Clone, Copy, Debug)]
pub struct CountedColumns {
    played: usize,
    cost: usize,
    accepted: usize,
    side: usize,
    score: usize,
    expected: usize,
    white_elo: usize,
    black_elo: usize,
    plies: usize,
    ply: usize,
    ends_in_mate: usize,
}

impl Default for CountedColumns {
    fn default() -> CountedColumns {
        CountedColumns {
            played: hit_column("played"),
            cost: hit_column("cost"),
            accepted: hit_column("accepted"),
            side: hit_column("side"),
            score: hit_column("score"),
            expected: hit_column("expected"),
            white_elo: hit_column("white_elo"),
            black_elo: hit_column("black_elo"),
            plies: hit_column("plies"),
            ply: hit_column("ply"),
            ends_in_mate: hit_column("ends_in_mate"),
        }
    }
}

impl CountedColumns {
    /// All of them.
    pub(super) fn all(&self) -> [usize; 11] {
        [
            self.played,
            self.cost,
            self.accepted,
            self.side,
            self.score,
            self.expected,
            self.white_elo,
            self.black_elo,
            self.plies,
            self.ply,
            self.ends_in_mate,
        ]
    }

    /// Reads a row.
    ///
    /// # Errors
    ///
    /// If a cell does not hold what its column is for.
    pub fn read(&self, row: Row<'_>) -> Result<Counted, TableTrouble> {
        let needed = |column: usize| row.trouble(column, "the cell is blank".to_owned());
        let integer = |column| row.integer(column)?.ok_or_else(|| needed(column));
        let truth = |column| row.truth(column)?.ok_or_else(|| needed(column));
        let (plies, ply) = (integer(self.plies)?, integer(self.ply)?);
        if !(1..=plies).contains(&ply) {
            return Err(row.trouble(self.ply, format!("`{ply}` is no ply of a game of {plies}")));
        }
        Ok(Counted {
            is_played: truth(self.played)?,
            cost: integer(self.cost)?,
            is_accepted: row.truth(self.accepted)?,
            attacker: self.attacker(row)?,
            half_points: self.half_points(row)?,
            expected: self.expected(row)?,
            band: band(rating(row, self.white_elo)?, rating(row, self.black_elo)?),
            moves_left: (plies - ply + 2).unsigned_abs() / 2,
            ends_in_mate: truth(self.ends_in_mate)?,
        })
    }

    fn attacker(&self, row: Row<'_>) -> Result<Color, TableTrouble> {
        match row.text(self.side) {
            "white" => Ok(Color::White),
            "black" => Ok(Color::Black),
            text => Err(row.trouble(self.side, format!("`{text}` is neither `white` nor `black`"))),
        }
    }

    fn half_points(&self, row: Row<'_>) -> Result<Option<u8>, TableTrouble> {
        match row.hundredths(self.score)? {
            None => Ok(None),
            Some(0) => Ok(Some(0)),
            Some(50) => Ok(Some(1)),
            Some(100) => Ok(Some(2)),
            Some(_) => {
                let text = row.text(self.score);
                Err(row.trouble(self.score, format!("`{text}` is none of `0`, `0.5` and `1`")))
            }
        }
    }

    fn expected(&self, row: Row<'_>) -> Result<Option<u8>, TableTrouble> {
        let Some(hundredths) = row.hundredths(self.expected)? else { return Ok(None) };
        let expected = u8::try_from(hundredths).ok().filter(|expected| *expected <= 100);
        let text = row.text(self.expected);
        expected
            .map(Some)
            .ok_or_else(|| row.trouble(self.expected, format!("`{text}` is not from 0 to 1")))
    }
}

fn rating(row: Row<'_>, column: usize) -> Result<Option<Rating>, TableTrouble> {
    let Some(number) = row.integer(column)? else { return Ok(None) };
    let rating = Rating::try_from(number).ok();
    rating.map(Some).ok_or_else(|| row.trouble(column, format!("`{number}` is no rating")))
}

/// What hits came to. Everything but the number of hits is of real offers: those that were made and
/// give something up.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Tally {
    /// Hits, real offers, acceptances, results.
    pub summary: Summary,
    /// The real offers that were declined. Where the game ends with the offer there is no reply.
    pub declined: u64,
    /// The games that have a result and two ratings.
    pub rated: AgainstRatings,
    /// The games that the attacker ended with mate.
    pub mates: u64,
    /// The games with a result by the attacker's colour, White's first.
    decided_by_color: [u64; 2],
    /// For each real offer the attacker's moves from it to the end.
    moves_left: Vec<u64>,
}

impl Tally {
    /// Adds a row.
    pub fn add(&mut self, counted: &Counted) {
        if !counted.is_played {
            self.summary.overlooked += 1;
            return;
        }
        let is_accepted = counted.is_accepted == Some(true);
        let cost = i32::try_from(counted.cost).unwrap_or(i32::MAX);
        self.summary.add(cost, is_accepted, counted.half_points);
        if counted.cost <= 0 {
            return;
        }
        self.declined += u64::from(counted.is_accepted == Some(false));
        self.moves_left.push(counted.moves_left);
        let Some(half_points) = counted.half_points else { return };
        self.mates += u64::from(counted.ends_in_mate && half_points == 2);
        self.decided_by_color[counted.attacker.fold_wb(0, 1)] += 1;
        if let Some(expected) = counted.expected {
            self.rated.add(half_points, expected);
        }
    }

    /// How the games of the real offers ended.
    #[must_use]
    pub fn outcomes(&self) -> &Outcomes {
        &self.summary.outcomes
    }

    /// The share of offers that were accepted, among those that got a reply.
    #[must_use]
    pub fn accepted_share(&self) -> Option<f64> {
        share(self.summary.accepted, self.summary.accepted + self.declined)
    }

    /// The games with a result of which a rating is not known.
    #[must_use]
    pub fn unrated(&self) -> u64 {
        self.outcomes().decided() - self.rated.outcomes().decided()
    }

    /// The share of games with a result that the attacker ended with mate.
    #[must_use]
    pub fn mate_share(&self) -> Option<f64> {
        share(self.mates, self.outcomes().decided())
    }

    /// The median of the attacker's moves from the offer to the end of the game, the offer included.
    #[must_use]
    pub fn median_moves_left(&self) -> Option<f64> {
        median(&self.moves_left)
    }

    /// The score that the attackers' colours have in games that ended so for White.
    #[must_use]
    pub fn base_score(&self, white: &Outcomes) -> Option<f64> {
        let white = white.score()?;
        let [by_white, by_black] = self.decided_by_color.map(real);
        let games = by_white + by_black;
        (games > 0.0).then(|| (by_white * white + by_black * (1.0 - white)) / games)
    }
}

/// A part of a whole; nothing if the whole is nothing.
#[must_use]
pub fn share(part: u64, whole: u64) -> Option<f64> {
    (whole > 0).then(|| real(part) / real(whole))
}

/// All games that were mined, to compare with: how they ended for White, by year and rating band.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Base {
    white: BTreeMap<(Option<i64>, Option<i64>), Outcomes>,
}

impl Base {
    /// Adds the games of a run's table of the collection.
    ///
    /// # Errors
    ///
    /// If a cell does not hold what its column is for.
    pub fn add_table(&mut self, mut table: TableReader) -> Result<(), TableTrouble> {
        let columns = ["year", "rating_band", "result", "games"].map(|name| table.column(name));
        let [Some(year), Some(band), Some(result), Some(games)] = columns else {
            return Ok(());
        };
        while let Some(row) = table.next_row()? {
            let count = row.integer(games)?.and_then(|count| u64::try_from(count).ok());
            let count =
                count.ok_or_else(|| row.trouble(games, "this is no number of games".to_owned()))?;
            let white = self.white.entry((row.integer(year)?, row.integer(band)?)).or_default();
            match GameResult::parse(row.text(result).as_bytes()) {
                Some(GameResult::WhiteWins) => white.wins += count,
                Some(GameResult::Draw) => white.draws += count,
                Some(GameResult::BlackWins) => white.losses += count,
                Some(GameResult::Open) => white.open += count,
                None => {
                    let text = row.text(result);
                    return Err(row.trouble(result, format!("`{text}` is no result")));
                }
            }
        }
        Ok(())
    }

    /// How the games ended for White that `is_meant` by year and rating band.
    pub fn white(&self, is_meant: impl Fn(Option<i64>, Option<i64>) -> bool) -> Outcomes {
        let meant = self.white.iter().filter(|((year, band), _)| is_meant(*year, *band));
        meant.fold(Outcomes::default(), |all, (_, more)| all.and(more))
    }

    /// How all games ended for White.
    #[must_use]
    pub fn all(&self) -> Outcomes {
        self.white(|_, _| true)
    }

    /// The number of games by year, unknown years first.
    #[must_use]
    pub fn games_by_year(&self) -> BTreeMap<Option<i64>, u64> {
        let mut games = BTreeMap::new();
        for ((year, _), outcomes) in &self.white {
            *games.entry(*year).or_default() += outcomes.games();
        }
        games
    }
}
