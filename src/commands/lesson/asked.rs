//! What a lesson asks: exercises on its motif, proved when the lesson is written.

use crate::commands::examiners::Examiners;
use crate::commands::runs::Runs;
use crate::teaching::{Candidates, Exercise, Pool, Task};
use crate::terminal::Bar;

/// So many exercises are asked for in all once these tasks had their turn.
const ASKED: [(Task, usize); 3] = [(Task::Find, 5), (Task::Continue, 7), (Task::Judge, 9)];
/// So many offers are tried for a task at most, of each side as many, so that a lesson is made in seconds.
const MOST_TRIED: usize = 32;
/// If there are fewer real offers, half of those that were made are left for model games.
const FEW: u64 = 100;
/// The lot is the same for every lesson.
const SEED: u64 = 1;

/// The exercises on a query with so many real offers: offers to be found, what follows when one was taken,
/// and offers of which half fail.
pub(super) fn exercises(
    query: &str,
    real_offers: u64,
    runs: &Runs,
    examiners: &mut Examiners,
    bar: &Bar,
) -> anyhow::Result<Vec<Exercise>> {
    let mut exercises: Vec<Exercise> = Vec::new();
    for (task, most) in ASKED {
        let mut candidates = Candidates::new(task, SEED, MOST_TRIED);
        runs.each_table(query, |mut table| {
            if !candidates.add_table(query, &mut table, |_| true)? && task != Task::Judge {
                candidates.add_won(query, &mut table)?;
            }
            Ok(())
        })?;
        if real_offers < FEW {
            candidates.spare_half_of_those_made();
        }
        let pool = Pool::new(task, most - exercises.len(), None, candidates).beside(&exercises);
        exercises.extend(examiners.choose(pool, bar)?.exercises);
    }
    Ok(exercises)
}
