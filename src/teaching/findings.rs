//! What runs say of a motif: everything that a lesson shows, collected in one pass.

use super::choose::{Choice, Shelf};
use super::exercise::{
    Exercise, ExercisePool, ExerciseWish, LessonCandidates, LessonExercises, SheetChoice,
};
use super::lesson_game::LessonGame;
use super::measured::{frequency_by_year, scores_by_band};
use super::picked::Picked;
use super::specimen::Specimen;
use super::whole_game::WholeGame;
use crate::drawing::Measured;
use crate::hits::{Collector, Evidence, LeftOut, PassTrouble, Runs, Sound};
use crate::statistics::{
    Base, ByKind, ByWorth, Continuations, FactorEffect, Factors, Groups, Outcomes, Tally,
};
use crate::tables::TableTrouble;

/// How many plies after the offer the tree goes on.
const DEPTH: usize = 7;

/// What a teacher wants a lesson to show.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct LessonWishes {
    /// The ids of its games, or of their hits; the program chooses if there are none.
    pub games: Option<Vec<String>>,
    /// Its exercises; the program chooses if there are none.
    pub exercises: Option<Vec<ExerciseWish>>,
}

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
    /// The offers whose games are shown.
    pub specimens: Vec<Specimen>,
    /// The model games; none before [`Findings::bring_games`].
    pub models: Vec<LessonGame>,
    /// Whether all offers were verified.
    pub is_judged: bool,
    /// The exercises, none on a game that is shown unless a teacher named both.
    pub exercises: Vec<Exercise>,
    /// The places of the exercises that were wished for and could not be made.
    pub unmet: Vec<usize>,
    /// The hits that several runs hold, and that were counted once.
    pub left_out: LeftOut,
}

impl Findings {
    /// What runs say of a query, and what a lesson shows of it. `choose` proves the candidates of a pool and lets it choose.
    ///
    /// # Errors
    ///
    /// If a table can't be read, or `choose` fails.
    pub fn read<E: From<PassTrouble>>(
        query: &str,
        runs: &Runs,
        base: &Base,
        wishes: &LessonWishes,
        choose: impl FnMut(ExercisePool) -> Result<SheetChoice, E>,
    ) -> Result<Findings, E> {
        let by = |name: &str| Groups::by(&[name.to_owned()]);
        let (mut all, mut bands, mut years) = (Groups::default(), by("rating"), by("year"));
        let (mut worth, mut factors) = (ByWorth::default(), Factors::default());
        let mut kinds = ByKind::default();
        let (mut tree, mut shelf) = (Continuations::new(DEPTH), Shelf::default());
        let mut picked = Picked::new(wishes.games.iter().flatten().cloned());
        let wished = wishes.exercises.as_deref().map(LessonCandidates::wished);
        let mut candidates = wished.unwrap_or_default();
        let mut collectors: Vec<&mut dyn Collector> = vec![
            &mut all,
            &mut bands,
            &mut years,
            &mut worth,
            &mut kinds,
            &mut factors,
            &mut tree,
            &mut shelf,
            &mut picked,
        ];
        collectors.extend(candidates.collectors());
        let left_out = runs.pass(query, &mut collectors)?;
        let tally = all.into_tally();
        let picked = wishes.games.is_some().then(|| picked.into_found());
        let named = picked.iter().flatten().map(|one| one.hit.game.id).collect();
        let LessonExercises { exercises, unmet } = match tally.summary.given_up {
            0 => LessonExercises::default(),
            given_up => candidates.exercises(given_up, &named, choose)?,
        };
        let asked_of = exercises.iter().map(|one| (&*one.hit.source, one.hit.game.number));
        let Choice { models, is_judged } = shelf.choose(asked_of);
        Ok(Findings {
            specimens: picked.unwrap_or(models),
            models: Vec::new(),
            is_judged,
            worth: worth.known(),
            kinds,
            evidence: worth.evidence(),
            bands: scores_by_band(&bands.beside(base)),
            years: frequency_by_year(&years.beside(base), base),
            effects: factors.effects(),
            tree,
            tally,
            exercises,
            unmet,
            left_out,
        })
    }

    /// Brings in the games of all offers that are shown, in one pass through the games of the runs.
    ///
    /// # Errors
    ///
    /// If a table can't be read, or does not hold the game of an offer.
    pub fn bring_games(all: &mut [&mut Findings], runs: &Runs) -> Result<(), TableTrouble> {
        let specimens = all.iter().flat_map(|found| found.specimens.iter().cloned()).collect();
        let mut games = WholeGame::all(specimens, runs)?.into_iter().map(shown);
        for found in all {
            found.models = games.by_ref().take(found.specimens.len()).collect();
        }
        Ok(())
    }
}

/// A game out of the tables as a lesson shows it.
#[must_use]
pub fn shown(game: WholeGame) -> LessonGame {
    LessonGame::mined(game)
}
