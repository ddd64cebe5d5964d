//! Hits and verdicts as lines of JSON, one by one, on their way from one program to another.

use shakmaty::{Chess, Move, Position};

use super::columns::{HIT_COLUMNS, HitColumn};
use super::field::{CellTrouble, Field};
use super::hit_id::query_in;
use super::judged_hit::JudgedHit;
use super::layout::{Verdicts, of_verdicts};
use super::record::VerdictRecord;
use crate::board::balance;
use crate::mining::Evaluation;
use crate::tables::{LooseRows, TableTrouble};

/// The columns of a hit that a verdict depends on, and its `id`. Only `fen` and `offer` must be there.
const ASKED: [&str; 9] = [
    "id",
    "offer",
    "fen",
    "wing",
    "played",
    "instead",
    "balance_before",
    "eval_before",
    "eval_after",
];

/// What is wrong with a line.
#[derive(thiserror::Error, Clone, PartialEq, Eq, Debug)]
#[error("{message}")]
pub struct LineTrouble {
    message: String,
    /// The id of the hit, if that could be read.
    pub id: Option<String>,
}

impl LineTrouble {
    /// A line that can't be read at all.
    #[must_use]
    pub fn of_line(message: impl ToString) -> LineTrouble {
        LineTrouble { message: message.to_string(), id: None }
    }
}

impl From<TableTrouble> for LineTrouble {
    fn from(trouble: TableTrouble) -> LineTrouble {
        let place = trouble.column.map_or_else(String::new, |it| format!("column `{it}`: "));
        LineTrouble::of_line(place + &trouble.message)
    }
}

impl From<CellTrouble> for LineTrouble {
    fn from(trouble: CellTrouble) -> LineTrouble {
        LineTrouble::of_line(trouble)
    }
}

/// A hit of a line, with its offer.
pub struct AskedHit {
    /// As far as a verdict depends on it.
    pub hit: JudgedHit,
    /// The position before the offer.
    pub pos: Chess,
    /// The offer.
    pub offer: Move,
}

/// The line of an offer, as [`HitLines`] read it: with the move that was played instead, if it was overlooked, and
/// what the game's comments say before and after it.
#[must_use]
pub fn asked_line(
    fen: &str,
    offer: &str,
    instead: Option<&str>,
    commented: Option<(Evaluation, Evaluation)>,
) -> String {
    let mut line = serde_json::json!({ "fen": fen, "offer": offer });
    if let Some(san) = instead {
        line["played"] = false.into();
        line["instead"] = san.into();
    }
    if let Some((before, after)) = commented {
        line["eval_before"] = before.to_string().into();
        line["eval_after"] = after.to_string().into();
    }
    line.to_string()
}

/// What a broken line is answered with besides its `id`.
pub const FAULT: &str = "fault";

/// Reads verdicts from lines, on hits whose lines have no `id`.
pub struct VerdictLines {
    rows: LooseRows,
    verdicts: Verdicts,
}

impl VerdictLines {
    /// Lines that were not read yet, of such verdicts.
    #[must_use]
    pub fn new(verdicts: Verdicts) -> VerdictLines {
        let names = of_verdicts(verdicts).map(|column| column.name);
        VerdictLines { rows: LooseRows::of(names.chain([FAULT])), verdicts }
    }

    /// Reads a line.
    ///
    /// # Errors
    ///
    /// If it is not a row of verdicts, or says why there is none.
    pub fn read(&mut self, line: &str) -> Result<VerdictRecord, LineTrouble> {
        let row = self.rows.read(line)?;
        let fault = row.text(of_verdicts(self.verdicts).count());
        if !fault.is_empty() {
            return Err(LineTrouble::of_line(fault));
        }
        let mut hit = JudgedHit::blank("", 0, 0);
        for (place, column) in of_verdicts(self.verdicts).enumerate() {
            read(column, &mut hit, Field::new(row, place))?;
        }
        hit.verdict.ok_or_else(|| LineTrouble::of_line("the row has no verdict"))
    }
}

/// Reads hits from lines.
pub struct HitLines(LooseRows);

impl HitLines {
    /// Lines that were not read yet.
    #[must_use]
    pub fn new() -> HitLines {
        HitLines(LooseRows::of(ASKED))
    }

    /// Reads a line.
    ///
    /// # Errors
    ///
    /// If it is no row, or what a verdict depends on is missing or not as it must be.
    pub fn read(&mut self, line: &str) -> Result<AskedHit, LineTrouble> {
        let row = self.0.read(line)?;
        let mut hit = JudgedHit::blank("", 0, 0);
        let cells = ASKED.iter().enumerate().map(|(place, name)| (*name, Field::new(row, place)));
        let cells: Vec<(&str, Field<'_>)> = cells.collect();
        let id = cells.first().map(|(_, cell)| cell.text().to_owned());
        let of_this = |trouble: LineTrouble| LineTrouble { id: id.clone(), ..trouble };
        // In the order of the tables: some cells mean nothing without those before them.
        for column in HIT_COLUMNS {
            let cell = cells.iter().find(|(name, _)| *name == column.name);
            if let Some((_, cell)) = cell.filter(|(_, cell)| !cell.text().is_empty()) {
                read(column, &mut hit, *cell).map_err(of_this)?;
            }
        }
        whole(hit, &cells).map_err(of_this)
    }
}

impl Default for HitLines {
    fn default() -> HitLines {
        HitLines::new()
    }
}

fn read(column: &HitColumn, hit: &mut JudgedHit, cell: Field<'_>) -> Result<(), LineTrouble> {
    Ok((column.read)(hit, cell)?)
}

/// A hit with its position and offer. Its query follows from its id, and the balance from the position where the line does
/// not hold it.
fn whole(mut hit: JudgedHit, cells: &[(&str, Field<'_>)]) -> Result<AskedHit, LineTrouble> {
    let is_blank =
        |name: &str| cells.iter().any(|(it, cell)| *it == name && cell.text().is_empty());
    for name in ["fen", "offer"] {
        if is_blank(name) {
            return Err(LineTrouble::of_line(format!("the row has no `{name}`")));
        }
    }
    let pos = hit.position()?;
    let offer = hit.offer_in(&pos)?;
    hit.view.attacker = pos.turn();
    if let Some(query) = query_in(&hit.id) {
        hit.query = query.into();
    }
    if is_blank("balance_before") {
        hit.offer.balance_before = balance(&pos, pos.turn());
    }
    Ok(AskedHit { hit, pos, offer })
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that can't go on has failed")]
mod tests {
    use super::*;

    const FEN: &str = "5rk1/pb4pp/1p6/q5N1/8/8/PP2QPPP/6K1 w - - 0 1";

    #[test]
    fn position_and_offer_are_enough() {
        let line = format!(r#"{{"offer":"Qe6+","fen":"{FEN}"}}"#);
        let asked = HitLines::new().read(&line).unwrap();
        assert!(asked.hit.is_played());
        assert_eq!(asked.hit.offer.balance_before, balance(&asked.pos, asked.pos.turn()));
        assert_eq!(asked.hit.known().commented, None);
    }

    #[test]
    fn comments_and_what_was_played_instead_are_read_in_any_order() {
        let line = format!(
            r##"{{"eval_after":-0.5,"eval_before":"#3","offer":"Qe6+","fen":"{FEN}","played":true,"id":"a"}}"##
        );
        let hit = HitLines::new().read(&line).unwrap().hit;
        assert_eq!(hit.id, "a");
        let (before, after) = hit.known().commented.unwrap();
        assert_eq!((&*before.to_string(), &*after.to_string()), ("#3", "-0.50"));
        let line = format!(r#"{{"instead":"Qe7","played":false,"offer":"Qe6+","fen":"{FEN}"}}"#);
        let hit = HitLines::new().read(&line).unwrap().hit;
        assert_eq!(hit.offer.overlooked().unwrap().instead, "Qe7");
    }

    #[test]
    fn line_of_an_offer_is_read_as_it_was_meant() {
        let commented = Some((Evaluation::Centipawns(-40), Evaluation::Mate(3)));
        let line = asked_line(FEN, "Qe6+", None, commented);
        let hit = HitLines::new().read(&line).unwrap().hit;
        assert_eq!(
            (&*hit.offer.fen, &*hit.offer.san, hit.known().commented),
            (FEN, "Qe6+", commented)
        );
        let line = asked_line(FEN, "Qe6+", Some("Qe7"), None);
        let hit = HitLines::new().read(&line).unwrap().hit;
        assert_eq!(hit.offer.overlooked().unwrap().instead, "Qe7");
    }

    #[test]
    fn answer_without_a_verdict_is_told_with_its_reason() {
        let mut lines = VerdictLines::new(Verdicts::Own);
        let told = lines.read(r#"{"id":null,"line":3,"fault":"why"}"#).unwrap_err();
        assert_eq!(told.to_string(), "why");
        assert!(lines.read("{}").is_err());
    }

    #[test]
    fn what_is_missing_or_wrong_is_told_with_its_column() {
        let told = |line: &str| HitLines::new().read(line).err().unwrap().to_string();
        assert_eq!(told(&format!(r#"{{"fen":"{FEN}"}}"#)), "the row has no `offer`");
        assert_eq!(told(r#"{"offer":"Qe6+","fen":""}"#), "the row has no `fen`");
        let illegal = format!(r#"{{"offer":"Qd7","fen":"{FEN}"}}"#);
        assert_eq!(told(&illegal), "column `offer`: `Qd7` is not a legal move in this position");
        let wrong = format!(r#"{{"offer":"Qe6+","fen":"{FEN}","played":"so so"}}"#);
        assert_eq!(told(&wrong), "column `played`: `so so` is not `true` or `false`");
        assert!(told(r#"{"offer":"Qe6+","fen":"8/8 w"}"#).starts_with("column `fen`: `8/8 w`"));
    }
}
