//! Checkpoints: what a run saves every few seconds so that it can be resumed.
//!
//! Invariant: with the tables cut to the lengths in it, a checkpoint is all that a run of the same sources,
//! queries and options needs to end as if it had never been cut short.

use std::collections::BTreeSet;
use std::time::{Duration, Instant, UNIX_EPOCH};

use serde::{Deserialize, Serialize};

use crate::collection::Source;
use crate::mining::{BaseCount, BaseKind, Waypoint};
use crate::statistics::Summary;
use crate::tables::{Extent, RunFile};

/// The state of a run between two blocks.
#[derive(Debug, Serialize, Deserialize)]
pub struct Checkpoint {
    /// Whether the run came to its end, though it can be resumed: a source could not be read.
    pub(super) is_over: bool,
    /// The manifest as it was then.
    pub(super) manifest: RunFile,
    /// When the sources were last changed.
    pub(super) changed: Vec<Option<u64>>,
    /// Where to resume.
    pub place: Waypoint,
    /// How far the files had grown.
    pub(super) lengths: Lengths,
    /// The counts of the queries.
    pub(super) summaries: Vec<Summary>,
    /// The base rates that were not written yet, and the index of their source.
    pub(super) base: (usize, Vec<(BaseKind, BaseCount)>),
}

/// How far the tables have grown, and the length of the memory in bytes.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub(super) struct Lengths {
    pub(super) hits: Vec<Extent>,
    pub(super) collection: Extent,
    pub(super) games: Extent,
    pub(super) duplicates: Extent,
    pub(super) rejects: Extent,
    pub(super) memory: u64,
}

impl Checkpoint {
    /// Why a run can't be resumed from here; `None` if it can.
    pub(super) fn obstacle(
        &self,
        run: &RunFile,
        changed: &[Option<u64>],
        was_missed: bool,
    ) -> Option<String> {
        let earlier = &self.manifest;
        if earlier.hecatomb != run.hecatomb {
            return Some(format!("it was started by version {}", earlier.hecatomb));
        }
        if was_missed
            || !earlier.sources.iter().map(|s| &s.name).eq(run.sources.iter().map(|s| &s.name))
        {
            return Some("it reads other sources".to_owned());
        }
        let sources = earlier.sources.iter().zip(&run.sources);
        let mut changes = sources.zip(self.changed.iter().zip(changed));
        let changed =
            changes.find(|((then, now), (before, after))| then.size != now.size || before != after);
        if let Some(((source, _), _)) = changed {
            return Some(format!("`{}` has changed since", source.name));
        }
        let queries = |run: &RunFile| -> Vec<(String, String)> {
            run.queries.iter().map(|query| (query.name.clone(), query.sha256.clone())).collect()
        };
        if queries(earlier) != queries(run) {
            return Some("it was started with other queries".to_owned());
        }
        let (then, now) = (&earlier.options.0, &run.options.0);
        let names: BTreeSet<&String> = then.keys().chain(now.keys()).collect();
        let differing = names.into_iter().find(|name| then.get(*name) != now.get(*name))?;
        Some(format!("it was started with another --{}", differing.replace('_', "-")))
    }
}

/// When files were last changed, in nanoseconds since 1970; `None` where the system does not know.
pub(super) fn last_changes(sources: &[Source]) -> Vec<Option<u64>> {
    let last_change = |source: &Source| {
        let modified = source.origin.file()?.metadata().ok()?.modified().ok()?;
        u64::try_from(modified.duration_since(UNIX_EPOCH).ok()?.as_nanos()).ok()
    };
    sources.iter().map(last_change).collect()
}

/// When the next checkpoint is due.
#[derive(Debug)]
pub(super) struct Schedule {
    asked: Option<Duration>,
    next: Instant,
}

impl Schedule {
    /// The time between checkpoints, unless the user asks for another.
    const USUAL: Duration = Duration::from_secs(5);

    /// It is also at least this many times the time that a checkpoint takes.
    const FACTOR: u32 = 200;

    pub(super) fn new(asked: Option<Duration>) -> Schedule {
        Schedule { asked, next: Instant::now() + asked.unwrap_or(Schedule::USUAL) }
    }

    pub(super) fn is_due(&self) -> bool {
        Instant::now() >= self.next
    }

    /// Notes a checkpoint that was started at this time.
    pub(super) fn done(&mut self, begun: Instant) {
        let usual = Schedule::USUAL.max(begun.elapsed() * Schedule::FACTOR);
        self.next = Instant::now() + self.asked.unwrap_or(usual);
    }
}
