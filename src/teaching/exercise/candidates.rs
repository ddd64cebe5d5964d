//! The candidates of a task, so many of each class as a sheet can need, as if drawn by lot.
//!
//! Invariant: what is kept does not grow with the tables, and depends on the rows and the seed alone.

use std::collections::BTreeMap;

use super::candidate::{Candidate, Class, VerdictColumns, lot};
use super::task::Task;
use crate::tables::{TableReader, TableTrouble};

/// So many candidates of a class are kept.
const KEPT: usize = 2_000;

/// Candidates by class, in the order of their lots.
#[derive(Clone, Debug)]
pub struct Candidates {
    task: Task,
    seed: u64,
    by_class: BTreeMap<Class, BTreeMap<u64, Candidate>>,
}

impl Candidates {
    /// No candidates yet.
    #[must_use]
    pub fn new(task: Task, seed: u64) -> Candidates {
        Candidates { task, seed, by_class: BTreeMap::new() }
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
        while let Some(row) = table.next_row()? {
            let Some(class) = columns.class(row, self.task)?.filter(|class| fits(*class)) else {
                continue;
            };
            let lot = lot(row, class, self.seed)?;
            let drawn = self.by_class.entry(class).or_default();
            let is_late =
                drawn.len() == KEPT && drawn.keys().next_back().is_some_and(|&last| lot > last);
            if !is_late && !drawn.contains_key(&lot) {
                drawn.insert(lot, Candidate::read(row, query, class, lot)?);
                if drawn.len() > KEPT {
                    drawn.pop_last();
                }
            }
        }
        Ok(true)
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
