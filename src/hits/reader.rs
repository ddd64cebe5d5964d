//! The hits of a query in a run, read from its table of hits and, beside it, its table of verdicts.

use std::path::PathBuf;

use super::columns::HIT_COLUMNS;
use super::field::{CellTrouble, Field};
use super::judged_hit::JudgedHit;
use super::layout::{Layout, Verdicts, Wanted, of_verdicts, verdict_columns};
use crate::tables::{TableReader, TableTrouble};

/// The hits of a query in a run, one after the other.
pub struct HitReader {
    hits: TableReader,
    /// The verdicts; they may end before the hits where they are being written.
    verdicts: Option<TableReader>,
    /// On how many of the hits that follow there are verdicts; on all if it is not known.
    judged: Option<u64>,
    layout: Layout,
    wanted: Wanted,
    /// The places of the wanted columns that every table of hits has.
    places: Vec<usize>,
    /// Where the follow-ups and factors begin.
    follow_ups: Vec<usize>,
    factors: Vec<usize>,
    /// The hit that was read last, and its line.
    hit: JudgedHit,
    line: u64,
}

impl HitReader {
    /// Reads the hits of a table, with the verdicts of another one if there is one.
    pub(super) fn new(
        query: &str,
        hits: TableReader,
        verdicts: Option<TableReader>,
    ) -> Result<HitReader, TableTrouble> {
        hits.expect_columns(HIT_COLUMNS.iter().map(|column| column.name))?;
        let mut layout = Layout::of_columns(hits.columns());
        if let Some(verdicts) = verdicts.as_ref().filter(|table| !table.columns().is_empty()) {
            layout.verdicts = verdicts_of(verdicts)?;
        }
        let place = |name: String| hits.column(&name);
        Ok(HitReader {
            follow_ups: layout.follow_up_columns().filter_map(place).collect(),
            factors: layout.factor_columns().filter_map(place).collect(),
            hit: JudgedHit::blank(query, layout.follow_ups.len(), layout.factors.len()),
            places: (0..HIT_COLUMNS.len()).collect(),
            wanted: Wanted::everything(),
            line: 0,
            hits,
            verdicts,
            judged: None,
            layout,
        })
    }

    /// Which columns there are; `None` if there are no hits and the format of the table does not tell.
    #[must_use]
    pub fn layout(&self) -> Option<&Layout> {
        (!self.hits.columns().is_empty()).then_some(&self.layout)
    }

    /// Reads no other columns from now on.
    pub fn want(&mut self, wanted: Wanted) {
        self.places = wanted.hit_places().collect();
        let follow_ups = self.follow_ups.iter().filter(|_| wanted.follow_ups);
        let factors = self.factors.iter().filter(|_| wanted.factors);
        self.hits.need(self.places.iter().chain(follow_ups).chain(factors).copied());
        self.wanted = wanted;
    }

    /// Reads verdicts on the first hits only, as many as this: they are being written.
    pub fn expect_verdicts_on(&mut self, hits: u64) {
        self.judged = Some(hits);
    }

    /// The next hit.
    ///
    /// # Errors
    ///
    /// If a cell does not hold what its column is for, or the verdict in its place is on another hit.
    pub fn next_hit(&mut self) -> Result<Option<&JudgedHit>, TableTrouble> {
        let Some(row) = self.hits.next_row()? else {
            self.expect_no_verdict()?;
            return Ok(None);
        };
        self.line = row.line();
        let hit = &mut self.hit;
        for &place in &self.places {
            (HIT_COLUMNS[place].read)(hit, Field::new(row, place))?;
        }
        if self.wanted.follow_ups {
            for (ply, &place) in hit.follow_ups.iter_mut().zip(&self.follow_ups) {
                *ply = Field::new(row, place).integer()?;
            }
        }
        if self.wanted.factors {
            for (truth, &place) in hit.factors.iter_mut().zip(&self.factors) {
                *truth = Field::new(row, place).known_truth()?;
            }
        }
        hit.verdict = None;
        if self.wanted.verdict {
            self.read_verdict()?;
        }
        Ok(Some(&self.hit))
    }

    fn read_verdict(&mut self) -> Result<(), TableTrouble> {
        let Some(verdicts) = &mut self.verdicts else { return Ok(()) };
        match &mut self.judged {
            Some(0) => return Ok(()),
            Some(left) => *left -= 1,
            None => {}
        }
        let Some(row) = verdicts.next_row()? else {
            let path = verdicts.path().display();
            return Err(TableTrouble {
                path: self.hits.path().to_owned(),
                line: Some(self.line),
                column: None,
                message: format!("`{path}` has no verdict on `{}`", self.hit.id),
                hint: None,
            });
        };
        let columns = of_verdicts(self.layout.verdicts).enumerate();
        // A hit that was not judged yet has its place, and nothing else.
        let is_judged = columns.clone().skip(1).any(|(place, _)| !row.text(place).is_empty());
        for (place, column) in columns.take(if is_judged { usize::MAX } else { 1 }) {
            (column.read)(&mut self.hit, Field::new(row, place))?;
        }
        if !is_judged {
            self.hit.verdict = None;
        }
        Ok(())
    }

    /// Fails if verdicts are left after the last hit, or their table was changed.
    fn expect_no_verdict(&mut self) -> Result<(), TableTrouble> {
        let Some(verdicts) = self.verdicts.as_mut().filter(|_| self.wanted.verdict) else {
            return Ok(());
        };
        match verdicts.next_row()? {
            None => Ok(()),
            Some(_) => {
                let message = "there are more verdicts than hits";
                Err(TableTrouble::of_file(verdicts.path(), message))
            }
        }
    }

    /// The hit that was read last.
    pub(super) fn hit(&self) -> &JudgedHit {
        &self.hit
    }

    /// Where the rows of the hit begin that was read last, in bytes: in the table of hits, and in that of verdicts.
    pub(super) fn begins(&self) -> (Option<u64>, Option<u64>) {
        let verdicts = self.verdicts.as_ref().filter(|_| self.wanted.verdict);
        (self.hits.begins(), verdicts.and_then(TableReader::begins))
    }

    /// Places an error in the hit that was read last.
    #[must_use]
    pub fn trouble(&self, CellTrouble { column, message }: CellTrouble) -> TableTrouble {
        let path: PathBuf = match (Layout::place_of(column), &self.verdicts) {
            (None, Some(verdicts)) => verdicts.path().to_owned(),
            _ => self.hits.path().to_owned(),
        };
        let (line, column) = (Some(self.line), Some(column.to_owned()));
        TableTrouble { path, line, column, message, hint: None }
    }
}

/// What a table of verdicts holds.
fn verdicts_of(table: &TableReader) -> Result<Verdicts, TableTrouble> {
    let own = verdict_columns(Verdicts::Own).len();
    let verdicts = if table.columns().len() > own { Verdicts::WithAdvice } else { Verdicts::Own };
    table.expect_columns(of_verdicts(verdicts).map(|column| column.name))?;
    Ok(verdicts)
}
