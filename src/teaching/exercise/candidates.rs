//! The candidates of a task, so many of each class as a sheet can need, as if drawn by lot.
//!
//! Invariant: what is kept does not grow with the tables, and depends on the rows and the seed alone.

use std::collections::BTreeMap;

use super::candidate::{Candidate, Class, VerdictColumns, class_of_won, lot};
use super::task::Task;
use crate::tables::{Row, TableReader, TableTrouble};

/// So many candidates of a class are kept for a sheet.
pub const MOST_CANDIDATES: usize = 2_000;

/// Candidates by class, in the order of their lots.
#[derive(Clone, Debug)]
pub struct Candidates {
    task: Task,
    seed: u64,
    /// How many of a class are kept.
    most: usize,
    by_class: BTreeMap<Class, BTreeMap<u64, Candidate>>,
}

impl Candidates {
    /// No candidates yet, and at most so many of each class.
    #[must_use]
    pub fn new(task: Task, seed: u64, most: usize) -> Candidates {
        Candidates { task, seed, most, by_class: BTreeMap::new() }
    }

    /// Draws from the judged hits of a query. Whether there were verdicts.
    ///
    /// # Errors
    ///
    /// If a row can't be read.
    pub fn add_table(
        &mut self,
        query: &str,
        table: &mut TableReader,
        fits: impl Fn(Class) -> bool,
    ) -> Result<bool, TableTrouble> {
        let Some(columns) = VerdictColumns::of(table) else { return Ok(false) };
        let task = self.task;
        self.draw(query, table, |row| Ok(columns.class(row, task)?.filter(|class| fits(*class))))?;
        Ok(true)
    }

    /// Draws from hits that nobody judged: those of games that the attacker won.
    ///
    /// # Errors
    ///
    /// If a row can't be read.
    pub fn add_won(&mut self, query: &str, table: &mut TableReader) -> Result<(), TableTrouble> {
        self.draw(query, table, class_of_won)
    }

    fn draw(
        &mut self,
        query: &str,
        table: &mut TableReader,
        class: impl Fn(Row<'_>) -> Result<Option<Class>, TableTrouble>,
    ) -> Result<(), TableTrouble> {
        while let Some(row) = table.next_row()? {
            let Some(class) = class(row)? else { continue };
            let lot = lot(row, class, self.seed)?;
            let drawn = self.by_class.entry(class).or_default();
            let is_late = drawn.len() == self.most
                && drawn.keys().next_back().is_some_and(|&last| lot > last);
            if !is_late && !drawn.contains_key(&lot) {
                drawn.insert(lot, Candidate::read(row, query, class, lot)?);
                if drawn.len() > self.most {
                    drawn.pop_last();
                }
            }
        }
        Ok(())
    }

    /// Leaves every other offer that was made for something else, the first one first.
    pub fn spare_half_of_those_made(&mut self) {
        for drawn in self.by_class.values_mut() {
            let mut is_spared = false;
            drawn.retain(|_, candidate| {
                is_spared ^= candidate.is_played;
                !(candidate.is_played && is_spared)
            });
        }
    }

    /// How many there are.
    #[must_use]
    pub fn len(&self) -> usize {
        self.by_class.values().map(BTreeMap::len).sum()
    }

    /// Whether there are none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// The candidates of each class, in the order of their lots.
    #[must_use]
    pub fn into_queues(self) -> BTreeMap<Class, Vec<Candidate>> {
        let queue = |(class, drawn): (Class, BTreeMap<u64, Candidate>)| {
            (class, drawn.into_values().collect())
        };
        self.by_class.into_iter().map(queue).collect()
    }
}
