//! All that the pages work on: the runs, their hits, and how far the program has come with reading them.

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, OnceLock};

use tokio::sync::watch;

use super::asking::OneAsking;
use super::door::Door;
use super::frame::Frame;
use crate::board::PieceLetters;
use crate::engine::Program;
use crate::finding::FoundHits;
use crate::hits::Runs;
use crate::query::Query;
use crate::teaching::WholeGame;

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
    /// How far the reading of the hits has come.
    pub reading: HowFar,
    /// What is asked about positions, if it is named.
    pub engine: Option<Program>,
    /// Adds to a game what else could have been replied; or says why it can't.
    pub ask_what_if: Box<AskWhatIf>,
    /// The position that is being asked about.
    pub asking: OneAsking,
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

    /// What a motif is called.
    #[must_use]
    pub fn title<'o>(&'o self, query: &'o str) -> &'o str {
        self.queries.get(query).map_or(query, |query| &query.title)
    }
}
