//! A motif tried on the collection: the first offers that it finds, told as they are found.

use std::ops::ControlFlow;
use std::path::{Path, PathBuf};
use std::sync::atomic::AtomicBool;

use super::asking::Asking;
use crate::collection::{Block, ByteOffset, Integrity, Source, find_sources};
use crate::hits::Runs;
use crate::mining::{
    MinedBlock, MinedGame, Miner, Plan, RunError, Scrutiny, Selection, Sink, SourceFailure,
    Waypoint, run,
};
use crate::query::Pattern;
use crate::statistics::{counted, grouped};

/// How many offers are enough to see what a motif finds.
pub(super) const ENOUGH: usize = 10;
/// About how many bytes are mined at a time, so that what is found is soon told.
const BLOCK: usize = 1 << 20;
/// How many games of a run's own table are mined at a time.
const GAMES_AT_A_TIME: usize = 500;

/// What was found so far.
#[derive(Clone, Debug, Default)]
pub struct TrialSoFar {
    /// The offers.
    pub(super) hits: Vec<TrialHit>,
    /// How many games were looked at.
    pub(super) games: u64,
    /// The share of the collection that was read, in per cent, where that is known.
    pub(super) percent: Option<u64>,
    /// What is looked at.
    pub(super) ground: String,
    /// Why it ended, once it did.
    pub(super) end: Option<String>,
}

/// An offer that was found.
#[derive(Clone, Debug)]
pub(super) struct TrialHit {
    pub(super) white: String,
    pub(super) black: String,
    pub(super) event: String,
    pub(super) date: String,
    pub(super) is_black: bool,
    pub(super) move_number: u32,
    pub(super) san: String,
    /// The position before the offer.
    pub(super) fen: String,
    /// The moves from the offer on.
    pub(super) line: String,
}

/// Tries a motif, and says what it finds as it goes.
pub(super) fn try_out(pattern: Pattern, runs: &Runs, threads: usize, asking: &Asking<TrialSoFar>) {
    let ground = TrialGround::of(runs);
    asking.tell(|told| told.ground = ground.in_words());
    let patterns = [pattern];
    let end = match ground.sources.is_empty() {
        false => mined(&patterns, &ground.sources, threads, asking),
        true => mined_of_runs(&patterns, runs, asking),
    };
    asking.tell(|told| told.end = Some(end));
    asking.end();
}

/// What there is to look at.
struct TrialGround {
    /// The sources of the runs that are still what they were.
    sources: Vec<Source>,
    /// How many are not.
    gone: usize,
}

impl TrialGround {
    fn of(runs: &Runs) -> TrialGround {
        let (mut paths, mut gone) = (Vec::new(), 0);
        for (folder, source) in runs.sources() {
            let is_same = |path: &PathBuf| {
                let found = find_sources(std::slice::from_ref(path)).sources;
                let is_file = |found: &Source| found.origin.file().is_some();
                source.size.is_some()
                    && matches!(&found[..], [one] if one.size == source.size && is_file(one))
            };
            // As it was called when it was mined, from here or from where the run lies.
            let beside = folder.parent().unwrap_or(Path::new("")).join(&source.name);
            let known = [PathBuf::from(&source.name), beside].into_iter().find(is_same);
            gone += usize::from(known.is_none());
            paths.extend(known);
        }
        TrialGround { sources: find_sources(&paths).sources, gone }
    }

    fn in_words(&self) -> String {
        let sources = counted(self.sources.len() as u64, "file");
        match (self.sources.len(), self.gone) {
            (0, _) => "The collection is not at hand any more, so only the games are looked at that these \
                       runs hold: those in which their queries found something."
                .to_owned(),
            (_, 0) => format!("The collection is looked at: {sources}."),
            (_, gone) => format!(
                "The collection is looked at: {sources}. {} not at hand, or no longer what it was.",
                if gone == 1 { "1 other is".to_owned() } else { format!("{} others are", grouped(gone as u64)) }
            ),
        }
    }
}

/// Why no more is taken.
#[derive(thiserror::Error, Clone, Copy, PartialEq, Eq, Debug)]
enum Enough {
    #[error("enough was found")]
    Found,
    #[error("it was stopped")]
    Stopped,
}

impl Enough {
    fn in_words(self) -> String {
        match self {
            Enough::Found => "These are the first.".to_owned(),
            Enough::Stopped => "Stopped.".to_owned(),
        }
    }
}

const ALL_SEEN: &str = "All games were looked at.";

fn mined(
    patterns: &[Pattern],
    sources: &[Source],
    threads: usize,
    asking: &Asking<TrialSoFar>,
) -> String {
    // Whoever takes what is found stops it.
    static NEVER: AtomicBool = AtomicBool::new(false);
    let plan = Plan {
        sources,
        patterns,
        selection: Selection::default(),
        threads,
        block_size: BLOCK,
        scrutiny: Scrutiny::default(),
        most_games: u64::MAX,
        from: Waypoint::default(),
        until: None,
        is_timed: false,
    };
    let bytes: u64 = sources.iter().filter_map(|source| source.size).sum();
    match run(&plan, &NEVER, &mut Listener { asking, bytes }) {
        Ok(_) => ALL_SEEN.to_owned(),
        Err(RunError::Sink(enough)) => enough.in_words(),
        Err(error) => format!("It can’t go on: {error}."),
    }
}

struct Listener<'l> {
    asking: &'l Asking<TrialSoFar>,
    bytes: u64,
}

impl Sink for Listener<'_> {
    type Error = Enough;

    fn block(&mut self, mined: MinedBlock<'_>) -> Result<(), Enough> {
        let (progress, bytes) = (mined.progress, self.bytes);
        self.asking.tell(|told| {
            told.games = progress.games;
            told.percent = (100 * progress.consumed.min(bytes)).checked_div(bytes);
        });
        heard(self.asking, &mined.report.mined)
    }

    fn failure(&mut self, _: SourceFailure) -> Result<(), Enough> {
        Ok(())
    }
}

/// Tells of the offers of some games, until there are enough or nobody listens.
fn heard(asking: &Asking<TrialSoFar>, games: &[MinedGame]) -> Result<(), Enough> {
    let hits = games.iter().flat_map(|game| game.hits.iter().map(move |hit| (game, hit)));
    let mut is_enough = false;
    asking.tell(|told| {
        let room = ENOUGH - told.hits.len().min(ENOUGH);
        told.hits.extend(hits.take(room).map(|(game, hit)| TrialHit {
            white: game.info.white.clone(),
            black: game.info.black.clone(),
            event: game.info.event.clone(),
            date: game.info.date.clone(),
            is_black: hit.view.attacker.is_black(),
            move_number: hit.offer.move_number,
            san: hit.offer.san.clone(),
            fen: hit.offer.fen.clone(),
            line: hit.offer.line.clone(),
        }));
        is_enough = told.hits.len() >= ENOUGH;
    });
    match is_enough {
        true => Err(Enough::Found),
        false if asking.is_given_up() => Err(Enough::Stopped),
        false => Ok(()),
    }
}

/// The same over the games that the runs hold themselves.
fn mined_of_runs(patterns: &[Pattern], runs: &Runs, asking: &Asking<TrialSoFar>) -> String {
    let selection = Selection::default();
    let miner = Miner::new(patterns, &selection, Scrutiny::default());
    let (mut text, mut games, mut enough) = (String::new(), 0, None);
    let look_at = |text: &mut String| {
        let buffer = std::mem::take(text).into_bytes();
        let (offset, length) = (ByteOffset(0), buffer.len());
        let report =
            miner.mine(&Block { offset, buffer, length, integrity: Integrity::Last }, u64::MAX);
        asking.tell(|told| told.games += report.games);
        heard(asking, &report.mined)
    };
    let gone_through = runs.each_game(|game| {
        text += game;
        games += 1;
        if games % GAMES_AT_A_TIME == 0 {
            enough = look_at(&mut text).err();
        }
        if enough.is_some() { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
    });
    if let Err(trouble) = gone_through {
        return format!("It can’t go on: {trouble}.");
    }
    match enough.or_else(|| look_at(&mut text).err()) {
        Some(enough) => enough.in_words(),
        None => ALL_SEEN.to_owned(),
    }
}
