//! The hits that come next, looked at ahead of their turn, so that a cluster is never idle while a table ends.

use std::collections::VecDeque;

use super::Session;
use super::judges::OfferTask;
use crate::hits::{HitReader, Run, Verdicts, Wanted};
use crate::tables::rows_left;

/// The lines of the offers of all hits that are not judged yet, in the order of the run. It ends early where a table
/// can't be read: whoever comes to that in its turn says why.
pub(super) struct Upcoming<'r> {
    run: &'r Run,
    /// The queries that follow, and how many of their first hits are judged.
    queries: VecDeque<(&'r str, usize)>,
    hits: Option<HitReader>,
    verdicts: Verdicts,
}

impl<'r> Upcoming<'r> {
    /// What is to be judged in a session; nothing unless on a cluster. Asked before anything is written.
    pub(super) fn of(session: &Session<'r>) -> Upcoming<'r> {
        let queries = session.queries.iter().filter(|query| !session.is_whole(query));
        let judged = |query: &&'r str| {
            let left = rows_left(&session.run.verdicts_place(query));
            (*query, left.unwrap_or_default())
        };
        let queries = match session.bench.cluster {
            Some(_) => queries.map(judged).collect(),
            None => VecDeque::new(),
        };
        Upcoming { run: session.run, queries, hits: None, verdicts: session.bench.verdicts() }
    }

    /// The hits of the next query after those that are judged.
    fn next_query(&mut self) -> Option<HitReader> {
        let (query, judged) = self.queries.pop_front()?;
        let mut hits = self.run.hits(query).ok()?;
        hits.want(Wanted::figures().with_offer().with_evidence());
        for _ in 0..judged {
            hits.next_hit().ok()?;
        }
        Some(hits)
    }
}

impl Iterator for Upcoming<'_> {
    type Item = Vec<String>;

    fn next(&mut self) -> Option<Vec<String>> {
        loop {
            if let Some(hits) = &mut self.hits
                && let Some(hit) = hits.next_hit().ok()?
            {
                return Some(OfferTask::of(hit).ok()?.lines(self.verdicts));
            }
            self.hits = Some(self.next_query()?);
        }
    }
}
