//! A row of judged hits that may become an exercise.

use sha2::{Digest, Sha256};
use shakmaty::{Chess, Color, Move, Position};

use super::proof::{CLEAR, worth};
use super::reference::GameReference;
use super::task::Task;
use crate::board::{legal_move, read_position};
use crate::tables::{Row, TableReader, TableTrouble, hit_column};
use crate::teaching::proved::ProofColumns;
use crate::verdict::Verdict;

/// An offer that its table's verdict makes fit for a task.
#[derive(Clone, Debug)]
pub struct Candidate {
    /// The query that found it.
    pub query: String,
    /// The game it is from.
    pub game: GameReference,
    /// The position before the offer.
    pub before: Chess,
    /// The offer, a legal move.
    pub offer: Move,
    /// What it gives up, in pawns.
    pub cost: i64,
    /// Whether it was made.
    pub is_played: bool,
    /// What it is balanced by.
    pub class: Class,
    /// Its lot: a number that looks like chance.
    pub lot: u64,
}

/// What exercises are balanced by.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Class {
    /// Whether the offer works, by the table, where that is asked; else true.
    pub is_sound: bool,
    /// Whether White is to move where the pupil is asked.
    pub is_white: bool,
}

impl Class {
    /// The same with the other side to move.
    #[must_use]
    pub fn of_other_side(self) -> Class {
        Class { is_white: !self.is_white, ..self }
    }
}

/// Where the columns of verdicts are.
pub(super) struct VerdictColumns {
    proof: ProofColumns,
    if_accepted: usize,
    if_declined: usize,
}

impl VerdictColumns {
    /// The columns of a table with verdicts; nothing if it has none.
    pub(super) fn of(table: &TableReader) -> Option<VerdictColumns> {
        Some(VerdictColumns {
            proof: ProofColumns::of(table)?,
            if_accepted: table.column("if_accepted")?,
            if_declined: table.column("if_declined")?,
        })
    }

    /// What a row is for a task; nothing if it does not fit, by its table. Whether it does indeed is for
    /// the proof to say.
    pub(super) fn class(&self, row: Row<'_>, task: Task) -> Result<Option<Class>, TableTrouble> {
        let cost = row.integer(hit_column("cost"))?.unwrap_or(0);
        if cost <= 0 {
            return Ok(None);
        }
        let overall = worth(self.proof.verdict(row)?);
        let against = |column: usize| -> Result<Option<i32>, TableTrouble> {
            let text = row.text(column);
            if text.is_empty() {
                return Ok(None);
            }
            let verdict = Verdict::parse(text);
            let verdict =
                verdict.ok_or_else(|| row.trouble(column, format!("`{text}` is no verdict")))?;
            Ok(worth(verdict))
        };
        let is_sound = overall.is_some_and(|worth| worth >= CLEAR);
        let is_unsound = overall.is_some_and(|worth| worth <= -CLEAR);
        let is_best = self.proof.is_best(row)? == Some(true);
        let wins_if_accepted = against(self.if_accepted)?.is_some_and(|worth| worth >= CLEAR);
        let fits = match task {
            Task::Find => is_sound && is_best,
            Task::Judge => (is_sound && is_best) || (is_unsound && !paid_off(row)?),
            Task::Continue => is_sound && wins_if_accepted,
            Task::Defend => {
                let left = against(self.if_declined)?;
                wins_if_accepted && left.is_some_and(|worth| worth < CLEAR)
            }
        };
        let is_white = (row.text(hit_column("side")) == "white") != (task == Task::Defend);
        // Only where half must fail does it matter what works.
        let is_sound = is_sound || task != Task::Judge;
        Ok(fits.then_some(Class { is_sound, is_white }))
    }
}

/// What an offer is where nothing was judged, for a task that asks for an attacker's move: fit if it gave
/// something up in a game that the attacker won.
pub(super) fn class_of_won(row: Row<'_>) -> Result<Option<Class>, TableTrouble> {
    let gives_up = row.integer(hit_column("cost"))?.is_some_and(|cost| cost > 0);
    let is_won = row.hundredths(hit_column("score"))? == Some(100);
    let class = Class { is_sound: true, is_white: row.text(hit_column("side")) == "white" };
    Ok((gives_up && is_won && is_played(row)?).then_some(class))
}

fn is_played(row: Row<'_>) -> Result<bool, TableTrouble> {
    Ok(row.truth(hit_column("played"))? == Some(true))
}

/// Whether the offer was made and the attacker did not lose. Then there may be more to it than a count of
/// material sees, and it is no example of one that fails.
fn paid_off(row: Row<'_>) -> Result<bool, TableTrouble> {
    let score = row.hundredths(hit_column("score"))?;
    Ok(is_played(row)? && score.is_some_and(|score| score > 0))
}

/// The lot of a row: its offer, whatever query found it, as a number that looks like chance and depends on
/// the seed. Of offers that fail those have the lower numbers that somebody made: they are known to tempt.
pub(super) fn lot(row: Row<'_>, class: Class, seed: u64) -> Result<u64, TableTrouble> {
    let mut hash = Sha256::new();
    hash.update(seed.to_le_bytes());
    for name in ["source", "game", "ply", "offer"] {
        hash.update(row.text(hit_column(name)));
        hash.update([0]);
    }
    let mut first = [0; 8];
    first.copy_from_slice(&hash.finalize()[..8]);
    let is_late = !class.is_sound && !is_played(row)?;
    Ok((u64::from_be_bytes(first) >> 1) | (u64::from(is_late) << 63))
}

impl Candidate {
    /// Reads a row.
    pub(super) fn read(
        row: Row<'_>,
        query: &str,
        class: Class,
        lot: u64,
    ) -> Result<Candidate, TableTrouble> {
        let (fen, offer, cost) = (hit_column("fen"), hit_column("offer"), hit_column("cost"));
        let before = read_position(row.text(fen))
            .map_err(|_| row.trouble(fen, format!("`{}` is not a position", row.text(fen))))?;
        let offer = legal_move(&before, row.text(offer)).ok_or_else(|| {
            row.trouble(offer, format!("`{}` can't be played there", row.text(offer)))
        })?;
        Ok(Candidate {
            query: query.to_owned(),
            game: GameReference::read(row)?,
            before,
            offer,
            cost: row.integer(cost)?.unwrap_or(0),
            is_played: is_played(row)?,
            class,
            lot,
        })
    }

    /// Who offers.
    #[must_use]
    pub fn attacker(&self) -> Color {
        self.before.turn()
    }
}
