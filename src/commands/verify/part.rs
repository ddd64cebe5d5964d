//! Judging some of the hits, in any order. What was found is put into the tables from time to time, and in the
//! end; a hit that was not judged has a row that is blank.
//!
//! Invariant: the tables depend on which offers were judged, and not on when and in which order.

use std::io::ErrorKind;
use std::time::{Duration, Instant};

use anyhow::Context;

use super::agenda::{Agenda, Looks};
use super::bench::MOST_FINDINGS;
use super::forecast::Forecast;
use super::judges::OfferTask;
use super::selection::{OfferSelection, Selected, SelectedOffer};
use super::summary::{VerdictCounts, VerdictSummary};
use super::{Session, changed, unwritable};
use crate::hits::{HitReader, Wanted};
use crate::tables::{TableFormat, remove_left, rows_left, unfinished_part};
use crate::terminal::Bar;

/// How often the tables are written while offers are judged, at the most.
const SAVE_EVERY: Duration = Duration::from_secs(60);
/// And this many times as long as writing takes.
const SPARE: u32 = 20;

/// Judges the selected offers of some queries that are not judged yet. Answers with what all verdicts are, and
/// whether it was interrupted.
pub(super) fn verify_part(
    session: &mut Session<'_>,
    selection: OfferSelection,
) -> anyhow::Result<(VerdictSummary, bool)> {
    let mut agenda = agenda(session, selection)?;
    let offers = agenda.left() as u64;
    session.bench.bar = Bar::counting(session.terminal, offers);
    session.bench.forecast = Forecast::of(offers, session.threads.judging, session.terminal);
    let mut saved = LastSaved { at: Instant::now(), took: Duration::ZERO };
    let mut is_interrupted = false;
    while !is_interrupted {
        let tasks = agenda.next(session.next_batch())?;
        if tasks.is_empty() {
            is_interrupted = agenda.is_interrupted;
            break;
        }
        let now: Vec<&OfferTask> = tasks.iter().collect();
        let mut coming = agenda.coming(session.bench.verdicts());
        let judged = session.bench.judge(&now, &mut coming)?;
        is_interrupted = judged < tasks.len();
        if saved.is_long_ago() || session.bench.count() > MOST_FINDINGS {
            saved.at = Instant::now();
            write(session, selection)?;
            saved.took = saved.at.elapsed();
            session.bench.clear();
        }
    }
    session.bench.bar.end();
    Ok((write(session, selection)?, is_interrupted))
}

/// The offers that are to be judged, in order.
fn agenda<'s>(session: &mut Session<'s>, selection: OfferSelection) -> anyhow::Result<Agenda<'s>> {
    let offers = selected(session, selection)?;
    let OfferSelection::Promising(most) = selection else {
        return Ok(Agenda::in_order(offers));
    };
    let bar = Bar::counting(session.terminal, offers.len() as u64);
    let looks = Looks::of(session.program, session.threads.here, session.bench.stop, bar);
    Ok(Agenda::by_promise(offers, most, looks))
}

/// When the tables were last written.
struct LastSaved {
    at: Instant,
    took: Duration,
}

impl LastSaved {
    fn is_long_ago(&self) -> bool {
        self.at.elapsed() > SAVE_EVERY.max(SPARE * self.took)
    }
}

/// The selected offers in the order in which they are met.
fn selected(
    session: &Session<'_>,
    selection: OfferSelection,
) -> anyhow::Result<Vec<SelectedOffer>> {
    let mut selected = Selected::of(selection);
    for query in &session.queries {
        let mut hits = known(session, query)?;
        // With all that a verdict depends on, since a cluster is told that of each hit.
        hits.want(Wanted::figures().with_offer().with_evidence().with_verdict());
        while let Some(hit) = hits.next_hit()? {
            let met = selected.meet(hit);
            met.map_err(|trouble| hits.trouble(trouble))?;
        }
    }
    Ok(selected.into_offers())
}

/// The hits of a query with the verdicts that are known: those in their place, or what grew beside it.
fn known(session: &Session<'_>, query: &str) -> anyhow::Result<HitReader> {
    let (run, place) = (session.run, session.run.verdicts_place(query));
    if place.is_file() {
        return Ok(run.hits(query)?);
    }
    let rows = rows_left(&place).map_err(|error| match error.kind() {
        ErrorKind::InvalidData => changed(query),
        _ => anyhow::Error::new(error).context(unwritable(&place)),
    })?;
    let part = unfinished_part(&place);
    let mut hits = run.hits_with(query, (rows > 0).then_some((&*part, TableFormat::Csv)))?;
    hits.expect_verdicts_on(rows as u64);
    Ok(hits)
}

/// Puts what was found into the tables.
fn write(session: &mut Session<'_>, selection: OfferSelection) -> anyhow::Result<VerdictSummary> {
    let mut summary = VerdictSummary::default();
    for query in session.queries.clone() {
        let place = session.run.verdicts_place(query);
        let mut counts = VerdictCounts::default();
        if session.is_whole(query) {
            let mut hits = session.run.hits(query)?;
            hits.want(Wanted::figures().with_offer().with_evidence().with_verdict());
            counts.add_known(&mut hits, None)?;
        } else {
            let hits = known(session, query)?;
            let (bench, verdicts) = (&session.bench, session.bench.verdicts());
            let written = session.run.write_verdicts(query, hits, verdicts, |hit| {
                let found = bench.verdict_on(hit);
                let is_new = hit.verdict.is_none() && selection.looks_at(hit);
                let found = found.filter(|_| is_new);
                counts.note(hit, found.as_ref());
                found
            });
            let written = written.with_context(|| unwritable(&place))?;
            let placed = session.put_in_place(query, written, counts.unjudged);
            placed.and_then(|()| Ok(remove_left(&place)?)).with_context(|| unwritable(&place))?;
        }
        summary.add(query, &counts);
    }
    Ok(summary)
}
