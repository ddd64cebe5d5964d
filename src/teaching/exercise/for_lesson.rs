//! What a lesson asks: exercises on its motif, of several kinds, or those that a teacher named.

use std::collections::BTreeSet;

use super::Exercise;
use super::candidates::{Candidates, MOST_CANDIDATES, Sides, Unjudged};
use super::grade::Levels;
use super::kind::ExerciseKind;
use super::pool::{ExercisePool, SheetChoice};
use crate::hits::Collector;
use crate::mining::GameId;

/// How many exercises there are to be in all once each of these tasks had its turn.
const ASKED: [(ExerciseKind, usize); 3] =
    [(ExerciseKind::Find, 5), (ExerciseKind::Continue, 7), (ExerciseKind::Judge, 9)];
/// The most offers that are tried for a kind, half of them of each side, so that a lesson takes seconds.
const MOST_TRIED: usize = 32;
/// If fewer offers than this give something up, half of those that were made are left for model games.
const FEW: u64 = 100;
/// The same for every lesson.
const SEED: u64 = 1;

/// What a teacher wants a lesson to ask.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum ExerciseWish {
    /// The exercise of a kind that the hit of this id makes.
    One(ExerciseKind, String),
    /// So many of a kind, of these levels.
    Some(ExerciseKind, usize, Levels),
}

/// The exercises of a lesson.
#[derive(Debug, Default)]
pub struct LessonExercises {
    /// The exercises, in order.
    pub exercises: Vec<Exercise>,
    /// The places of the wishes that could not be met, or not as far as they go.
    pub unmet: Vec<usize>,
}

/// The candidates for the exercises of a lesson.
#[derive(Clone, Debug)]
pub enum LessonCandidates {
    /// The program chooses.
    Chosen([Candidates; ASKED.len()]),
    /// For each wish.
    Wished(Vec<(ExerciseWish, Candidates)>),
}

impl Default for LessonCandidates {
    fn default() -> LessonCandidates {
        LessonCandidates::Chosen(
            ASKED.map(|(kind, _)| {
                Candidates::new(kind, Sides::Both, unjudged(kind), SEED, MOST_TRIED)
            }),
        )
    }
}

fn unjudged(kind: ExerciseKind) -> Unjudged {
    match kind {
        ExerciseKind::Find | ExerciseKind::Continue => Unjudged::IfWon,
        _ => Unjudged::LeftOut,
    }
}

impl LessonCandidates {
    /// Candidates for what a teacher wants.
    #[must_use]
    pub fn wished(wishes: &[ExerciseWish]) -> LessonCandidates {
        let candidates = |wish: &ExerciseWish| match wish {
            ExerciseWish::One(kind, id) => {
                let all =
                    Candidates::new(*kind, Sides::Both, unjudged(*kind), SEED, MOST_CANDIDATES);
                all.only(id)
            }
            ExerciseWish::Some(kind, ..) => {
                Candidates::new(*kind, Sides::Both, unjudged(*kind), SEED, MOST_CANDIDATES)
            }
        };
        let of_wish = |wish: &ExerciseWish| (wish.clone(), candidates(wish));
        LessonCandidates::Wished(wishes.iter().map(of_wish).collect())
    }

    /// What collects them.
    pub fn collectors(&mut self) -> Vec<&mut dyn Collector> {
        let collector = |candidates| candidates as &mut dyn Collector;
        match self {
            LessonCandidates::Chosen(all) => all.iter_mut().map(collector).collect(),
            LessonCandidates::Wished(all) => {
                all.iter_mut().map(|(_, candidates)| collector(candidates)).collect()
            }
        }
    }

    /// The exercises on a query with `given_up` offers that give something up: what a teacher wants, or offers to find,
    /// what follows when one was taken, and offers of which half fail. What the program chooses is none of the games
    /// that are `shown`. `choose` proves the candidates of a pool and lets it choose.
    ///
    /// # Errors
    ///
    /// What `choose` says.
    pub fn exercises<E>(
        self,
        given_up: u64,
        shown: &BTreeSet<GameId>,
        mut choose: impl FnMut(ExercisePool) -> Result<SheetChoice, E>,
    ) -> Result<LessonExercises, E> {
        let mut made = LessonExercises::default();
        match self {
            LessonCandidates::Chosen(all) => {
                for ((kind, most), candidates) in ASKED.into_iter().zip(all) {
                    let mut candidates = candidates.without(shown);
                    if given_up < FEW {
                        candidates.spare_half_of_those_made();
                    }
                    let wanted = most.saturating_sub(made.exercises.len());
                    let pool = ExercisePool::new(kind, wanted, Levels::ALL, candidates);
                    made.exercises.extend(choose(pool.beside(&made.exercises))?.exercises);
                }
            }
            LessonCandidates::Wished(all) => {
                for (index, (wish, candidates)) in all.into_iter().enumerate() {
                    let (pool, wanted) = match wish {
                        ExerciseWish::One(kind, _) => (ExercisePool::given(kind, candidates), 1),
                        ExerciseWish::Some(kind, wanted, levels) => {
                            let candidates = candidates.without(shown);
                            let pool = ExercisePool::new(kind, wanted, levels, candidates);
                            (pool.beside(&made.exercises), wanted)
                        }
                    };
                    let exercises = choose(pool)?.exercises;
                    if exercises.len() < wanted {
                        made.unmet.push(index);
                    }
                    made.exercises.extend(exercises);
                }
            }
        }
        Ok(made)
    }
}
