//! Runs that can be joined, in order, and where each begins in the whole.

use super::agreement::{agreed, name};
use super::disagreement::{Disagreement, JoinError};
use crate::hits::{Layout, Run};
use crate::tables::{Counts, PART_OPTION, QueryRun, RunFile, SourceRun};

/// Runs that can be joined, in order.
#[derive(Debug)]
pub struct Assembly {
    /// The runs.
    pub(super) members: Vec<JoinedRun>,
    /// What the run of them all is; its tables, its hits and its duplicates are not known yet.
    pub manifest: RunFile,
    /// The columns of the hits of each query.
    pub(super) layouts: Vec<Layout>,
}

/// A run, and where it begins in the whole.
#[derive(Debug)]
pub(super) struct JoinedRun {
    pub(super) run: Run,
    /// Its first source, by its name, and what came before it of that.
    pub(super) first: Option<String>,
    pub(super) games_before: u64,
    pub(super) bytes_before: u64,
    /// Whether its first source is left out: it broke off in a part before this one.
    pub(super) is_broken_before: bool,
}

impl Assembly {
    /// Puts runs together: parts by their numbers, whole runs in the order given.
    ///
    /// # Errors
    ///
    /// In what they differ, or what is missing.
    pub fn of(runs: Vec<Run>) -> Result<Assembly, JoinError> {
        let runs = agreed(runs)?;
        let layouts = layouts(&runs)?;
        let (members, manifest) = placed(runs)?;
        Ok(Assembly { members, manifest, layouts })
    }

    /// How many runs there are.
    #[must_use]
    pub fn runs(&self) -> usize {
        self.members.len()
    }

    /// Whether they are parts of one collection.
    #[must_use]
    pub fn is_of_parts(&self) -> bool {
        self.members.iter().any(|member| member.run.manifest.part.is_some())
    }
}

/// The columns of the hits of each query.
fn layouts(runs: &[Run]) -> Result<Vec<Layout>, Disagreement> {
    let run = &runs[0];
    let layout = |known: &QueryRun| {
        let (run, name) = (name(run), known.name.clone());
        let query = Run::query(known).ok_or(Disagreement::OtherBuiltIn { run, query: name })?;
        Ok(Layout::of_query(&query))
    };
    run.manifest.queries.iter().map(layout).collect()
}

/// Where each run begins in the whole, and the manifest of that.
fn placed(runs: Vec<Run>) -> Result<(Vec<JoinedRun>, RunFile), Disagreement> {
    let mut whole = RunFile { part: None, ..runs[0].manifest.clone() };
    whole.options.0.remove(PART_OPTION);
    (whole.counts, whole.seconds) = (Counts::default(), 0.0);
    whole.tables.clear();
    whole.queries.iter_mut().for_each(|query| (query.hits, query.overlooked) = (0, 0));
    whole.sources = match runs[0].manifest.part {
        Some(_) => blank(&runs[0]).collect(),
        None => runs.iter().flat_map(blank).collect(),
    };
    let mut placing = Placing { whole, next: 0, reached: 0 };
    let mut members: Vec<JoinedRun> = Vec::with_capacity(runs.len());
    for run in runs {
        let Some((games_before, bytes_before)) = placing.before(&run) else {
            let one = members.last().map_or_else(String::new, |member| name(&member.run));
            return Err(Disagreement::Apart { one, other: name(&run) });
        };
        members.push(placing.add(run, games_before, bytes_before));
    }
    let seconds = placing.whole.seconds;
    placing.whole.seconds = (seconds * 1000.0).round() / 1000.0;
    Ok((members, placing.whole))
}

/// The sources of a run, before anything is known of them.
fn blank(run: &Run) -> impl Iterator<Item = SourceRun> + '_ {
    let unread = |source: &SourceRun| SourceRun {
        games: 0,
        failure: None,
        unchecked_from: None,
        ..source.clone()
    };
    run.manifest.sources.iter().map(unread)
}

/// The whole as far as it is put together.
struct Placing {
    whole: RunFile,
    /// The first source of the next whole run.
    next: usize,
    /// How much text of its last source came before.
    reached: u64,
}

impl Placing {
    /// How many games and bytes of text of its first source come before a run; nothing if it does not begin where
    /// the one before it ends.
    fn before(&self, run: &Run) -> Option<(u64, u64)> {
        let Some(part) = &run.manifest.part else { return Some((0, 0)) };
        let is_inside = part.from.is_inside() && !self.is_broken(part.from.source);
        if !is_inside {
            return Some((0, 0));
        }
        let games = self.whole.sources.get(part.from.source)?.games;
        Some((games, self.reached.checked_sub(part.from.offset)?))
    }

    /// Whether a source could not be read to its end before.
    fn is_broken(&self, source: usize) -> bool {
        self.whole.sources.get(source).is_some_and(|source| source.failure.is_some())
    }

    /// Adds a run.
    fn add(&mut self, run: Run, games_before: u64, bytes_before: u64) -> JoinedRun {
        let manifest = &run.manifest;
        let first = manifest.part.as_ref().map(|part| part.from.source);
        let is_broken_before = first.is_some_and(|first| self.is_broken(first));
        let from = if manifest.part.is_some() { 0 } else { self.next };
        self.next = from + manifest.sources.len();
        for (index, source) in manifest.sources.iter().enumerate() {
            let (is_first, known) = (Some(index) == first, &mut self.whole.sources[from + index]);
            if known.failure.is_some() {
                continue;
            }
            known.games += source.games;
            known.failure.clone_from(&source.failure);
            let before = if is_first { bytes_before } else { 0 };
            known.unchecked_from = source.unchecked_from.map(|byte| byte + before);
        }
        add(&mut self.whole.counts, &manifest.counts);
        if let Some(part) = &manifest.part {
            if is_broken_before {
                subtract(&mut self.whole.counts, &part.first);
            }
            if let Some(end) = part.ends_at {
                let is_in_first = part.to.source == part.from.source;
                self.reached = end + if is_in_first { bytes_before } else { 0 };
            }
        }
        self.whole.seconds += manifest.seconds;
        let first = first.and_then(|first| manifest.sources.get(first));
        let first = first.map(|source| source.name.clone());
        JoinedRun { run, first, games_before, bytes_before, is_broken_before }
    }
}

/// Adds what was counted; duplicates are found anew.
fn add(counts: &mut Counts, more: &Counts) {
    counts.games += more.games;
    counts.left_out += more.left_out;
    counts.rejected += more.rejected;
    counts.passed_text += more.passed_text;
    counts.replayed += more.replayed;
    counts.bytes += more.bytes;
}

fn subtract(counts: &mut Counts, fewer: &Counts) {
    counts.games = counts.games.saturating_sub(fewer.games);
    counts.left_out = counts.left_out.saturating_sub(fewer.left_out);
    counts.rejected = counts.rejected.saturating_sub(fewer.rejected);
    counts.passed_text = counts.passed_text.saturating_sub(fewer.passed_text);
    counts.replayed = counts.replayed.saturating_sub(fewer.replayed);
    counts.bytes = counts.bytes.saturating_sub(fewer.bytes);
}
