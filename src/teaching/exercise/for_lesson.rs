//! What a lesson asks: exercises on its motif, of several kinds.

use super::Exercise;
use super::candidates::{Candidates, Sides, Unjudged};
use super::grade::Levels;
use super::kind::ExerciseKind;
use super::pool::{ExercisePool, SheetChoice};
use crate::hits::Collector;

/// How many exercises there are to be in all once each of these tasks had its turn.
const ASKED: [(ExerciseKind, usize); 3] =
    [(ExerciseKind::Find, 5), (ExerciseKind::Continue, 7), (ExerciseKind::Judge, 9)];
/// The most offers that are tried for a kind, half of them of each side, so that a lesson takes seconds.
const MOST_TRIED: usize = 32;
/// If fewer offers than this give something up, half of those that were made are left for model games.
const FEW: u64 = 100;
/// The same for every lesson.
const SEED: u64 = 1;

/// The candidates for the exercises of a lesson, kind by kind.
#[derive(Clone, Debug)]
pub struct LessonCandidates([Candidates; ASKED.len()]);

impl Default for LessonCandidates {
    fn default() -> LessonCandidates {
        LessonCandidates(ASKED.map(|(kind, _)| {
            let unjudged = match kind {
                ExerciseKind::Judge => Unjudged::LeftOut,
                _ => Unjudged::IfWon,
            };
            Candidates::new(kind, Sides::Both, unjudged, SEED, MOST_TRIED)
        }))
    }
}

impl LessonCandidates {
    /// What collects them.
    pub fn collectors(&mut self) -> impl Iterator<Item = &mut dyn Collector> {
        self.0.iter_mut().map(|candidates| candidates as &mut dyn Collector)
    }

    /// The exercises on a query with `given_up` offers that give something up: offers to find, what follows when one was
    /// taken, and offers of which half fail. `choose` proves the candidates of a pool and lets it choose.
    ///
    /// # Errors
    ///
    /// What `choose` says.
    pub fn exercises<E>(
        self,
        given_up: u64,
        mut choose: impl FnMut(ExercisePool) -> Result<SheetChoice, E>,
    ) -> Result<Vec<Exercise>, E> {
        let mut exercises: Vec<Exercise> = Vec::new();
        for ((kind, most), mut candidates) in ASKED.into_iter().zip(self.0) {
            if given_up < FEW {
                candidates.spare_half_of_those_made();
            }
            let wanted = most.saturating_sub(exercises.len());
            let pool = ExercisePool::new(kind, wanted, Levels::ALL, candidates).beside(&exercises);
            exercises.extend(choose(pool)?.exercises);
        }
        Ok(exercises)
    }
}
