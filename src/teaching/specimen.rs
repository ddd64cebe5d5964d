//! A game in which the offer was made, with all that a lesson says of it.

use std::cmp::Reverse;

use shakmaty::{Color, Square};

use super::proved::{ProofColumns, Proved};
use super::steps::Steps;
use crate::board::{View, Wing};
use crate::collection::Rating;
use crate::statistics::{Counted, CountedColumns, Turn};
use crate::tables::{Row, TableReader, TableTrouble, hit_column};
use crate::verdict::{Sound, Verdict};

/// A real offer that was made in a game with a result.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Specimen {
    /// The source it is from.
    pub source: String,
    /// Its number in the source.
    pub game: i64,
    /// The event.
    pub event: String,
    /// The date, as in its tag.
    pub date: String,
    /// White's and Black's names.
    pub names: [String; 2],
    /// Their ratings.
    pub ratings: [Option<i64>; 2],
    /// How the game ended, as in its tag.
    pub result: String,
    /// How many plies the game has.
    pub plies: i64,
    /// The ply of the offer.
    pub ply: i64,
    /// Who offers, and on which wing.
    pub view: View,
    /// The position before the offer, and the moves from it on.
    pub steps: Steps,
    /// What the offer gave up, in pawns.
    pub cost: i64,
    /// The greatest deficit after it, in pawns.
    pub invested: i64,
    /// The ply at which that was made good.
    pub recovered: Option<i64>,
    /// Whether the attacker ended the game by mate.
    pub gives_mate: bool,
    /// Where the king went who took; on the board, not in the attacker's view.
    pub king_goes: Option<Square>,
    /// What was proved of the offer, if it was verified.
    pub proved: Option<Proved>,
    /// What it is chosen by.
    pub traits: Traits,
}

/// What an offer has in common with others.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Traits {
    /// Whether the attacker won.
    pub is_won: bool,
    /// Whether the result is what the offer deserved.
    pub bearing: Bearing,
    /// Whether White offers.
    pub is_white: bool,
    /// Whether it was accepted, if it was answered.
    pub is_accepted: Option<bool>,
    /// The answer, and where the king goes if he took; in the attacker's view.
    pub branch: String,
    /// The rating band.
    pub level: Option<Rating>,
}

/// What bears the result of a game out.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Bearing {
    /// The verdict on the offer: it is sound and was won, holds and was drawn, or is not sound and was
    /// not won.
    Proof,
    /// No verdict, but the moves that are shown: a win in which the attacker gives mate or has his
    /// material back within them, or a failure in which he has not.
    Moves,
    /// Neither, or there are too few moves to learn from.
    Nothing,
}

/// Of two offers with the same traits the lesser rank is shown first: the weaker player is rated higher;
/// the game ends sooner.
pub(super) type Rank = (Reverse<i64>, u64);

/// The plies below which a line shows next to nothing.
const ENOUGH: usize = 5;
/// The plies of a line in a table of hits.
const SHOWN: i64 = 20;

/// Where a table of hits has what is told of a game.
pub(super) struct SpecimenColumns {
    counted: CountedColumns,
    proof: Option<ProofColumns>,
}

impl SpecimenColumns {
    pub(super) fn of(table: &TableReader) -> SpecimenColumns {
        SpecimenColumns { counted: CountedColumns::default(), proof: ProofColumns::of(table) }
    }

    /// Reads traits and rank of a row; nothing if it is no real offer in a game with a result.
    pub(super) fn traits(&self, row: Row<'_>) -> Result<Option<(Traits, Rank)>, TableTrouble> {
        let counted = self.counted.read(row)?;
        let Some(half_points) = counted.half_points else { return Ok(None) };
        if !counted.is_played || counted.cost <= 0 {
            return Ok(None);
        }
        let traits = Traits {
            is_won: half_points == 2,
            bearing: self.bearing(row, &counted, half_points)?,
            is_white: counted.attacker == Color::White,
            is_accepted: counted.is_accepted,
            branch: branch(row)?,
            level: counted.band,
        };
        let weaker = match ratings(row)? {
            [Some(white), Some(black)] => white.min(black),
            _ => 0,
        };
        Ok(Some((traits, (Reverse(weaker), counted.moves_left))))
    }

    fn bearing(
        &self,
        row: Row<'_>,
        counted: &Counted,
        half_points: u8,
    ) -> Result<Bearing, TableTrouble> {
        let verdict = self.proof.as_ref().map(|columns| columns.verdict(row)).transpose()?;
        let by_proof = match verdict.map_or(Sound::Open, Verdict::sound) {
            Sound::Yes => Some(half_points == 2),
            Sound::Holds => Some(half_points == 1),
            Sound::No => Some(half_points < 2),
            Sound::Open => None,
        };
        let is_made_good = is_made_good(row, counted)?;
        Ok(match by_proof {
            _ if !is_long_enough(row) => Bearing::Nothing,
            Some(true) => Bearing::Proof,
            None if (half_points == 2) == is_made_good => Bearing::Moves,
            Some(false) | None => Bearing::Nothing,
        })
    }
}

fn is_long_enough(row: Row<'_>) -> bool {
    row.text(hit_column("line")).split_ascii_whitespace().count() >= ENOUGH
}

/// Whether the attacker gives mate or has his material back within the moves that are shown.
fn is_made_good(row: Row<'_>, counted: &Counted) -> Result<bool, TableTrouble> {
    let end = integer(row, "ply")? + SHOWN;
    let gives_mate =
        counted.ends_in_mate && counted.half_points == Some(2) && integer(row, "plies")? < end;
    let recovered = row.integer(hit_column("recovered"))?;
    Ok(gives_mate || recovered.is_some_and(|ply| ply < end))
}

fn branch(row: Row<'_>) -> Result<String, TableTrouble> {
    let turn = Turn::of(row)?;
    let reply = turn.san(row.text(hit_column("reply")).trim_end_matches(['+', '#']));
    Ok(format!("{reply} {}", row.text(hit_column("king_goes"))).trim().to_owned())
}

/// The players' ratings, White's first.
pub(super) fn ratings(row: Row<'_>) -> Result<[Option<i64>; 2], TableTrouble> {
    Ok([row.integer(hit_column("white_elo"))?, row.integer(hit_column("black_elo"))?])
}

/// A number that a row must have.
pub(super) fn integer(row: Row<'_>, name: &str) -> Result<i64, TableTrouble> {
    let column = hit_column(name);
    row.integer(column)?.ok_or_else(|| row.trouble(column, "the cell is blank".to_owned()))
}

impl Specimen {
    /// Reads the rest of a row.
    pub(super) fn read(
        row: Row<'_>,
        columns: &SpecimenColumns,
        traits: Traits,
    ) -> Result<Specimen, TableTrouble> {
        let text = |name| row.text(hit_column(name)).to_owned();
        let view = view(row, &traits);
        Ok(Specimen {
            source: text("source"),
            game: integer(row, "game")?,
            event: text("event"),
            date: text("date"),
            names: [text("white"), text("black")],
            ratings: ratings(row)?,
            result: text("result"),
            plies: integer(row, "plies")?,
            ply: integer(row, "ply")?,
            view,
            steps: steps(row)?,
            cost: integer(row, "cost")?,
            invested: integer(row, "invested")?,
            recovered: row.integer(hit_column("recovered"))?,
            gives_mate: traits.is_won && row.truth(hit_column("ends_in_mate"))? == Some(true),
            king_goes: square(row, "king_goes")?.map(|square| view.turn(square)),
            proved: columns.proof.as_ref().map(|columns| columns.read(row)).transpose()?,
            traits,
        })
    }

    /// Whether the moves that are shown reach the end of the game.
    #[must_use]
    pub fn is_shown_to_the_end(&self) -> bool {
        self.ply + self.steps.moves.len() as i64 > self.plies
    }

    /// Whether the deficit is made good within the moves that are shown.
    #[must_use]
    pub fn is_recovered_soon(&self) -> bool {
        self.recovered.is_some_and(|ply| ply < self.ply + SHOWN)
    }

    /// The number of the move that is made on a ply.
    #[must_use]
    pub fn move_number(&self, ply: i64) -> i64 {
        let first = &self.steps.moves[0];
        let is_black = i64::from(first.side == Color::Black);
        i64::from(first.number) + (ply - self.ply + is_black).div_euclid(2)
    }

    /// The men in the attacker's view, as in a FEN: the same for two positions that differ only in
    /// colour or wing.
    #[must_use]
    pub fn likeness(&self) -> String {
        self.view.turn_board(self.steps.start.board.clone()).board_fen().to_string()
    }
}

fn view(row: Row<'_>, traits: &Traits) -> View {
    let attacker = if traits.is_white { Color::White } else { Color::Black };
    let is_mirrored = row.text(hit_column("wing")) == "mirrored";
    View { attacker, wing: if is_mirrored { Wing::Mirrored } else { Wing::Written } }
}

fn steps(row: Row<'_>) -> Result<Steps, TableTrouble> {
    let [fen, line] = ["fen", "line"].map(|name| row.text(hit_column(name)));
    Steps::of(fen, line).map_err(|error| row.trouble(hit_column("line"), error.to_string()))
}

fn square(row: Row<'_>, name: &str) -> Result<Option<Square>, TableTrouble> {
    let column = hit_column(name);
    let text = row.text(column);
    if text.is_empty() {
        return Ok(None);
    }
    let square =
        text.parse().map_err(|_| row.trouble(column, format!("`{text}` is not a square")))?;
    Ok(Some(square))
}
