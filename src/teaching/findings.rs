//! What runs say of a motif: everything that a lesson shows, collected in one pass.

use super::choose::{Choice, Shelf};
use super::exercise::{Exercise, ExercisePool, LessonCandidates, SheetChoice};
use super::measured::{frequency_by_year, scores_by_band};
use crate::drawing::Measured;
use crate::hits::{Collector, Evidence, LeftOut, PassTrouble, Runs, Sound};
use crate::statistics::{
    Base, ByKind, ByWorth, Continuations, FactorEffect, Factors, Groups, Outcomes, Tally,
};

/// How many plies after the offer the tree goes on.
const DEPTH: usize = 7;

/// What runs say of a motif.
#[derive(Debug)]
pub struct Findings {
    /// How its hits scored.
    pub tally: Tally,
    /// What the offers were worth and how they went, if they were verified.
    pub worth: Vec<(Sound, Outcomes)>,
    /// How the offers went by kind of sacrifice.
    pub kinds: ByKind,
    /// On what evidence that rests.
    pub evidence: Vec<(Evidence, u64)>,
    /// The score by rating band, where there are enough games.
    pub bands: Vec<(String, Measured)>,
    /// The hits per 10,000 games by year.
    pub years: Vec<(String, f64)>,
    /// What each factor is worth.
    pub effects: Vec<FactorEffect>,
    /// What was played.
    pub tree: Continuations,
    /// The games to be shown.
    pub choice: Choice,
    /// The exercises, none on a game that is shown.
    pub exercises: Vec<Exercise>,
    /// The hits that several runs hold, and that were counted once.
    pub left_out: LeftOut,
}

impl Findings {
    /// What runs say of a query. `choose` proves the candidates of a pool and lets it choose.
    ///
    /// # Errors
    ///
    /// If a table can't be read, or `choose` fails.
    pub fn read<E: From<PassTrouble>>(
        query: &str,
        runs: &Runs,
        base: &Base,
        choose: impl FnMut(ExercisePool) -> Result<SheetChoice, E>,
    ) -> Result<Findings, E> {
        let by = |name: &str| Groups::by(&[name.to_owned()]);
        let (mut all, mut bands, mut years) = (Groups::default(), by("rating"), by("year"));
        let (mut worth, mut factors) = (ByWorth::default(), Factors::default());
        let mut kinds = ByKind::default();
        let (mut tree, mut shelf) = (Continuations::new(DEPTH), Shelf::default());
        let mut candidates = LessonCandidates::default();
        let mut collectors: Vec<&mut dyn Collector> = vec![
            &mut all,
            &mut bands,
            &mut years,
            &mut worth,
            &mut kinds,
            &mut factors,
            &mut tree,
            &mut shelf,
        ];
        collectors.extend(candidates.collectors());
        let left_out = runs.pass(query, &mut collectors)?;
        let tally = all.into_tally();
        let exercises = match tally.summary.given_up {
            0 => Vec::new(),
            given_up => candidates.exercises(given_up, choose)?,
        };
        let asked_of = exercises.iter().map(|one| (&*one.hit.source, one.hit.game.number));
        Ok(Findings {
            worth: worth.known(),
            kinds,
            evidence: worth.evidence(),
            bands: scores_by_band(&bands.beside(base)),
            years: frequency_by_year(&years.beside(base), base),
            effects: factors.effects(),
            tree,
            choice: shelf.choose(asked_of),
            tally,
            exercises,
            left_out,
        })
    }
}
