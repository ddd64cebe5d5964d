//! All that the pages work on: the runs, their hits, and how far the program has come with reading them.

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, Mutex, OnceLock};
use std::time::SystemTime;

use tokio::sync::watch;

use super::asking::OneAsking;
use super::door::Door;
use super::frame::Frame;
use super::motif_trial::TrialSoFar;
use super::workshop::Workshop;
use crate::board::PieceLetters;
use crate::collection::known;
use crate::desk::QueryShelf;
use crate::engine::Program;
use crate::finding::{Facet, FoundHits};
use crate::hits::{GamePlaces, Runs};
use crate::plan::{CoursePlan, GameSource};
use crate::query::Query;
use crate::teaching::{ExerciseKind, WholeGame};
use crate::visible::visible;

/// Adds to a game what else could have been replied; or says why it can't.
pub type AskWhatIf = dyn Fn(&mut WholeGame) -> Result<(), String> + Send + Sync;

/// All that the pages work on.
pub struct Opened {
    /// The runs.
    pub runs: Runs,
    /// The queries that are known here, by name.
    pub queries: BTreeMap<String, Query>,
    /// The plan that is edited, if one was named.
    pub plan: Option<PathBuf>,
    /// The letters of moves.
    pub letters: PieceLetters,
    /// Who gets in.
    pub door: Door,
    /// What all pages are made with.
    pub frame: Frame,
    /// The hits, once they are read; or why they can't be.
    pub hits: OnceLock<Result<FoundHits, String>>,
    /// When the tables began to be read: what was written later is not what was read.
    pub since: SystemTime,
    /// Where the games stand in the tables, once that is known.
    pub game_places: OnceLock<GamePlaces>,
    /// How far the reading of the hits has come.
    pub reading: HowFar,
    /// Where what takes long is made.
    pub workshop: Workshop,
    /// Exercises that somebody dropped for others, which are not proposed again.
    pub dropped: Mutex<Vec<(ExerciseKind, String)>>,
    /// What is asked about positions, if it is named.
    pub engine: Option<Program>,
    /// Adds to a game what else could have been replied; or says why it can't.
    pub ask_what_if: Box<AskWhatIf>,
    /// The position that is being asked about.
    pub asking: OneAsking<Vec<String>>,
    /// The motif that is being tried out.
    pub trial: OneAsking<TrialSoFar>,
    /// Where own motifs are kept.
    pub shelf: QueryShelf,
    /// How many threads may mine.
    pub threads: usize,
    /// Tells the server to end.
    pub end: watch::Sender<bool>,
}

/// How far something has come.
#[derive(Debug, Default)]
pub struct HowFar {
    /// How much is done.
    pub done: Arc<AtomicU64>,
    /// How much there is to do.
    pub all: u64,
}

impl HowFar {
    /// The share that is done, in per cent.
    #[must_use]
    pub fn percent(&self) -> u64 {
        let done = self.done.load(Ordering::Relaxed);
        (100 * done.min(self.all)).checked_div(self.all).unwrap_or(100)
    }
}

impl Opened {
    /// Waits until the server is told to end.
    pub(super) async fn ended(&self) {
        // The sender lives as long as this.
        let _ = self.end.subscribe().wait_for(|ended| *ended).await;
    }

    /// What a game of a plan is, in a line.
    pub(super) fn told_game(&self, game: &GameSource) -> String {
        match game {
            GameSource::Hit(id) => self.told_hit(id).unwrap_or_else(|| id.clone()),
            GameSource::File(path, 1) => path.display().to_string(),
            GameSource::File(path, number) => format!("game {number} of {}", path.display()),
        }
    }

    /// What a hit is, in a line, if it is among those that were read.
    pub(super) fn told_hit(&self, id: &str) -> Option<String> {
        let hits = self.hits.get()?.as_ref().ok()?;
        let hit = hits.get(hits.place_of(id)?);
        // They also go into the plan's comments, where nothing hidden is to stand.
        let (white, black) = (
            visible(known(hit.white).unwrap_or("White")),
            visible(known(hit.black).unwrap_or("Black")),
        );
        let dots = if hit.value(Facet::Side) == Some("black") { "..." } else { "." };
        let year = hit.value(Facet::Year).map(|year| format!(", {year}")).unwrap_or_default();
        Some(format!("{white} – {black}{year}: {}{dots}{}", hit.move_number, hit.san))
    }

    /// Notes that an exercise was dropped for another.
    pub(super) fn turn_down(&self, kind: ExerciseKind, id: &str) {
        if let Ok(mut dropped) = self.dropped.lock() {
            dropped.push((kind, id.to_owned()));
        }
    }

    /// The exercises that were dropped for others.
    pub(super) fn turned_down(&self) -> Vec<(ExerciseKind, String)> {
        self.dropped.lock().map(|dropped| dropped.clone()).unwrap_or_default()
    }

    /// What the lesson of a plan on a motif is called.
    pub(super) fn lesson_title(&self, plan: &CoursePlan, motif: &str) -> String {
        let heading = plan.lesson_on(motif).and_then(|lesson| lesson.heading.clone());
        heading.unwrap_or_else(|| self.title(motif).to_owned())
    }

    /// What a motif is called.
    #[must_use]
    pub fn title<'o>(&'o self, query: &'o str) -> &'o str {
        self.queries.get(query).map_or(query, |query| &query.title)
    }
}
