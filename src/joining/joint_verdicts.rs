//! The tables of verdicts of joined runs: a verdict on a hit that remains is kept.
//!
//! Invariant: a hit without a verdict has its place, and nothing else.

use std::io;

use super::agreement::name;
use super::assembly::{Assembly, JoinedRun};
use super::disagreement::{Disagreement, JoinError};
use crate::hits::{PlacedRow, Run};
use crate::tables::{Cell, Column, Staging, TableRun, TableWriter, TermsFile, VerdictsRun};

/// The verdicts on the hits of a query.
pub(super) struct JointVerdicts {
    table: Box<dyn TableWriter>,
    columns: usize,
    terms: serde_json::Value,
    /// How many hits have none.
    unjudged: u64,
    judged: u64,
}

impl JointVerdicts {
    /// Starts the table for a query, if there are verdicts on its hits in any run.
    pub(super) fn open(
        staging: &Staging<'_>,
        assembly: &Assembly,
        query: &str,
    ) -> Result<Option<JointVerdicts>, JoinError> {
        let mut found: Option<(&Run, Vec<Column>, serde_json::Value)> = None;
        for JoinedRun { run, .. } in &assembly.members {
            let Some((rows, terms)) = run.verdict_rows(query)? else { continue };
            let columns = rows.columns().to_vec();
            match &mut found {
                None => found = Some((run, columns, terms)),
                Some((one, _, known)) if *known != terms => {
                    let (query, one, other) = (query.to_owned(), name(one), name(run));
                    return Err(Disagreement::OtherTerms { query, one, other }.into());
                }
                // A table without a row may not tell its columns.
                Some((_, known, _)) if known.len() < columns.len() => *known = columns,
                Some(_) => {}
            }
        }
        let Some((_, columns, terms)) = found else { return Ok(None) };
        let table = staging.verdicts(query, &columns)?;
        let columns = columns.len();
        Ok(Some(JointVerdicts { table, columns, terms, unjudged: 0, judged: 0 }))
    }

    /// Writes the verdict on a hit, or its place.
    pub(super) fn row(
        &mut self,
        hit: &PlacedRow,
        verdict: Option<Vec<Cell<'static>>>,
    ) -> io::Result<()> {
        let mut cells = verdict.unwrap_or_else(|| hit.cells.first().cloned().into_iter().collect());
        cells.resize(self.columns, Cell::Blank);
        let is_judged = cells.iter().skip(1).any(|cell| *cell != Cell::Blank);
        self.judged += u64::from(is_judged);
        self.unjudged += u64::from(!is_judged);
        self.table.row(&cells)
    }

    /// Finishes the table, and says of it how it was made. Tells how many hits have a verdict, and how many have
    /// none.
    pub(super) fn finish(
        mut self,
        query: &str,
        hits: &TableRun,
        terms: &mut TermsFile,
    ) -> io::Result<(u64, u64)> {
        let JointVerdicts { unjudged, judged, .. } = self;
        let verdicts = VerdictsRun {
            terms: self.terms,
            hits: hits.xxh3.clone(),
            table: Some(self.table.finish()?),
            unjudged,
        };
        terms.0.insert(query.to_owned(), verdicts);
        Ok((judged, unjudged))
    }
}
