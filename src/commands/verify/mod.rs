//! `hecatomb verify`: hits in, verdicts out.

mod agenda;
mod asked;
mod bench;
mod cluster;
mod forecast;
mod inflow;
mod judges;
mod one;
mod options;
mod pace;
mod part;
mod piped;
mod proof_tree;
mod selection;
mod sequels;
mod summary;
mod terms;
mod upcoming;

use std::fs;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use anyhow::Context;

use super::{Ending, stop_on_interrupt};
use crate::advice::WithHint;
use crate::engine::Program;
use crate::hits::{HitReader, JudgedHit, Reading, Run, Wanted, verdict_cells};
use crate::run::Found;
use crate::tables::{
    GrowingTable, TableFormat, TableRun, TableTrouble, VerdictsLock, remove_left, unfinished_part,
};
use crate::terminal::{Bar, Terminal, counted, grouped};
use crate::verdict::Effort;

use asked::Adviser;
use bench::Bench;
use cluster::Cluster;
use forecast::Forecast;
use judges::{Judges, OfferTask};
pub(super) use options::VerifyOptions;
use sequels::Sequels;
use summary::{VerdictCounts, VerdictSummary};
use terms::{OpenTerms, Terms};
use upcoming::Upcoming;

/// The number of hits that are judged before their rows are written; fewer if each may take long.
const BATCH: u64 = 128;

/// Runs the command.
pub(super) fn verify(options: &VerifyOptions, terminal: Terminal) -> anyhow::Result<Ending> {
    if let (Some(fen), Some(offer)) = (&options.fen, &options.offer) {
        let program = options.engine.program();
        terminal.print(&one::judge(fen, offer, options, program.as_ref())?)?;
        return Ok(Ending::Done);
    }
    let path = options.run.as_deref().context("no run to verify")?;
    if options.is_piped() {
        return piped::verify_piped(options, terminal);
    }
    let (run, _lock) = locked(path, options.edited.reading())?;
    let program = options.engine.program();
    let Some(mut session) = Session::begin(options, &run, program.as_ref(), terminal)? else {
        terminal.note("interrupted: nothing was judged");
        return Ok(Ending::Interrupted);
    };
    let (selection, hits) = (options.selection(), session.hits());
    let (summary, is_interrupted) = match selection.is_everything() && !session.has_parts() {
        true => verify_all(&mut session)?,
        false => part::verify_part(&mut session, selection)?,
    };
    session.bench.bar.end();
    if let Some(error) = session.bench.cluster.as_mut().and_then(Cluster::failure) {
        return Err(error);
    }
    let judged = summary.hits();
    if is_interrupted {
        let (judged, hits) = (grouped(judged), grouped(hits));
        terminal.note(format!(
            "interrupted: {judged} of {hits} hits are judged; continue with --resume"
        ));
        return Ok(Ending::Interrupted);
    }
    let unanswered = summary.unanswered();
    let has_engine = session.bench.engine().is_some();
    let sheet = summary.into_sheet(hits, options.overlooked, has_engine, options.edited.reading());
    terminal.print(&sheet.as_text(terminal.width()))?;
    session.bench.end(terminal)?;
    if unanswered > 0 {
        let message =
            format!("on {} the engine had no answer before", counted(unanswered, "offer"));
        terminal.note_with_hint(message, "ask it again with --replace");
    }
    Ok(if unanswered > 0 && unanswered == judged { Ending::Failed } else { Ending::Done })
}

/// What verifying a run needs.
struct Session<'s> {
    run: &'s Run,
    /// The queries whose hits are verified.
    queries: Vec<&'s str>,
    found: Found,
    open_terms: OpenTerms,
    bench: Bench<'s>,
    /// The engine, if one is named.
    program: Option<&'s Program>,
    batch: usize,
    threads: Threads,
    terminal: Terminal,
}

/// How many threads there are on this machine, and where hits are judged.
struct Threads {
    here: usize,
    judging: usize,
}

/// Fails if an engine looks at offers here that is another one than that of a cluster.
fn expect_same_engine(here: Option<&Adviser<'_>>, cluster: &Cluster) -> anyhow::Result<()> {
    let Some(here) = here else { return Ok(()) };
    let there = cluster.engine.as_ref();
    if there == Some(&here.terms) {
        return Ok(());
    }
    let (here, there) = (&here.terms.name, there.map_or("none", |there| &there.name));
    let error = anyhow::anyhow!("the engine is `{here}` here, and `{there}` on the workers");
    Err(error.hint("with --overlooked it looks at offers here first, so it must be the same"))
}

impl<'s> Session<'s> {
    fn begin(
        options: &VerifyOptions,
        run: &'s Run,
        program: Option<&'s Program>,
        terminal: Terminal,
    ) -> anyhow::Result<Option<Session<'s>>> {
        let queries = selection::queries(options, run)?;
        let (stop, threads) = (stop_on_interrupt()?, options.threads.count());
        let cluster = match &options.cluster {
            Some(address) => match Cluster::begin(options, address, stop, terminal)? {
                None => return Ok(None),
                cluster => cluster,
            },
            None => None,
        };
        let adviser = program.filter(|_| cluster.is_none() || options.overlooked);
        let mut adviser = adviser.map(|it| Adviser::new(it, threads, stop)).transpose()?;
        if let Some(cluster) = &cluster {
            // The workers ask theirs; the one here looks at offers first, for which the agenda starts its own.
            expect_same_engine(adviser.take().as_ref(), cluster)?;
        }
        let judging = cluster.as_ref().map_or(threads, |cluster| cluster.threads);
        let judges = Judges::new(threads, options.effort());
        let forecast = Forecast::of(0, judging, terminal);
        let known = (forecast, Sequels::of(run));
        let bench = Bench::new(judges, adviser, cluster, stop, known);
        let terms = Terms::of(options, bench.engine().cloned());
        let open_terms = OpenTerms::begin(run, &queries, &terms, options.found())?;
        let (found, batch) = (options.found(), batch(options.proof.nodes, judging));
        let threads = Threads { here: threads, judging };
        let session =
            Session { run, queries, found, open_terms, bench, program, batch, threads, terminal };
        Ok(Some(session))
    }

    /// How many hits there are.
    fn hits(&self) -> u64 {
        let all = self.run.manifest.queries.iter();
        let asked = all.filter(|query| self.queries.contains(&&*query.name));
        asked.map(|query| query.hits + query.overlooked).sum()
    }

    /// Whether there are verdicts on some of the hits of a query.
    fn has_parts(&self) -> bool {
        self.queries.iter().any(|query| {
            self.open_terms.unjudged(query) > 0 && self.run.verdicts_place(query).is_file()
        })
    }

    /// Whether the verdicts on a query are there, and on all of its hits.
    fn is_whole(&self, query: &str) -> bool {
        self.run.verdicts_place(query).is_file() && self.open_terms.unjudged(query) == 0
    }

    /// How many offers are judged next.
    fn next_batch(&self) -> usize {
        self.bench.forecast.next_batch(self.batch)
    }

    /// Puts a table of verdicts into its place, whose last `unjudged` hits or others were not judged. What it
    /// is is written down first: a table without that is taken for edited.
    fn put_in_place(
        &mut self,
        query: &str,
        (whole, written): (PathBuf, TableRun),
        unjudged: u64,
    ) -> anyhow::Result<()> {
        self.open_terms.enter(query, written, unjudged)?;
        fs::rename(&whole, self.run.verdicts_place(query))?;
        Ok(())
    }
}

/// What is said of a table that can't be written.
fn unwritable(place: &Path) -> String {
    format!("can't write `{}`", place.display())
}

/// A run that is locked as long as it is verified.
fn locked(path: &Path, reading: Reading) -> anyhow::Result<(Run, VerdictsLock)> {
    // Nothing is made in a folder that is none of a run.
    Run::open(path, reading)?;
    let lock = VerdictsLock::of(path)?;
    // Until then it may have been mined again.
    Ok((Run::open(path, reading)?, lock))
}

/// Judges all hits, one query after the other. Answers with what the verdicts are, and whether it was
/// interrupted.
fn verify_all(session: &mut Session<'_>) -> anyhow::Result<(VerdictSummary, bool)> {
    let hits = session.hits();
    session.bench.bar = Bar::counting(session.terminal, hits);
    session.bench.forecast = Forecast::of(hits, session.threads.judging, session.terminal);
    let mut upcoming = Upcoming::of(session);
    let mut summary = VerdictSummary::default();
    for query in session.queries.clone() {
        let (counts, is_interrupted) = verify_query(session, query, &mut upcoming)?;
        summary.add(query, &counts);
        if is_interrupted {
            return Ok((summary, true));
        }
    }
    Ok((summary, false))
}

/// Judges the hits of a query. Answers with how many have which verdict, and whether it was interrupted.
fn verify_query(
    session: &mut Session<'_>,
    query: &str,
    ahead: &mut Upcoming<'_>,
) -> anyhow::Result<(VerdictCounts, bool)> {
    let (run, resume) = (session.run, session.found == Found::Resume);
    let place = run.verdicts_place(query);
    let mut counts = VerdictCounts::default();
    let known = Wanted::figures().with_offer().with_evidence().with_verdict();
    if resume && place.is_file() {
        let mut hits = run.hits(query)?;
        hits.want(known);
        session.bench.pass_over(counts.add_known(&mut hits, None)?);
        return Ok((counts, false));
    }
    let table = GrowingTable::open(&place, &session.bench.columns(), resume);
    let mut table = table.map_err(|error| match error.kind() {
        ErrorKind::InvalidData => changed(query),
        _ => anyhow::Error::new(error).context(unwritable(&place)),
    })?;
    let begun = unfinished_part(&place);
    let kept_verdicts = (table.kept > 0).then_some((&*begun, TableFormat::Csv));
    let mut hits = run.hits_with(query, kept_verdicts)?;
    hits.want(known);
    session.bench.pass_over(kept(&mut hits, table.kept, &mut counts)?);
    hits.want(Wanted::figures().with_offer().with_evidence().with_view());
    loop {
        let (mut next, tasks) = next_tasks(&mut hits, session.next_batch())?;
        if tasks.is_empty() {
            break;
        }
        let bench = &mut session.bench;
        let judged = bench.judge(&tasks.iter().collect::<Vec<&OfferTask>>(), ahead)?;
        next.truncate(judged);
        for hit in &mut next {
            let found = bench.verdict_on(hit);
            counts.note(hit, found.as_ref());
            hit.verdict = found;
        }
        bench.let_go();
        let rows: Vec<_> = next.iter().map(JudgedHit::row).collect();
        table
            .rows(rows.iter().map(|row| verdict_cells(bench.verdicts(), row)))
            .with_context(|| unwritable(&place))?;
        if judged < tasks.len() {
            return Ok((counts, true));
        }
    }
    let grown = table.finish().with_context(|| unwritable(&place))?;
    let whole = run.whole_verdicts(query, grown, session.bench.verdicts());
    let placed = whole.map_err(Into::into).and_then(|it| session.put_in_place(query, it, 0));
    placed.and_then(|()| Ok(remove_left(&place)?)).with_context(|| unwritable(&place))?;
    Ok((counts, false))
}

/// What is wrong with unfinished verdicts that are not as they were left.
fn changed(query: &str) -> anyhow::Error {
    let error = anyhow::anyhow!("the unfinished verdicts on `{query}` were changed since");
    error.hint("start again with --replace")
}

/// Counts the hits that an earlier run judged, and passes over them.
fn kept(hits: &mut HitReader, rows: usize, counts: &mut VerdictCounts) -> anyhow::Result<u64> {
    const HINT: &str = "start again with --replace";
    let others = |trouble| {
        anyhow::anyhow!("the unfinished verdicts are on other hits: {trouble}").hint(HINT)
    };
    let known = counts.add_known(hits, Some(rows)).map_err(others)?;
    if known != rows as u64 {
        return Err(anyhow::anyhow!("there are more verdicts than hits").hint(HINT));
    }
    Ok(known)
}

/// How many hits are judged at a time: as many as take a few seconds, whatever the nodes.
fn batch(nodes: u64, threads: usize) -> usize {
    let some_seconds = BATCH * Effort::NODES / nodes;
    usize::try_from(some_seconds.min(BATCH)).map_or(threads, |hits| hits.max(2 * threads))
}

/// The next hits to be judged, and their offers.
fn next_tasks(
    hits: &mut HitReader,
    most: usize,
) -> Result<(Vec<JudgedHit>, Vec<OfferTask>), TableTrouble> {
    let (mut next, mut tasks) = (Vec::new(), Vec::new());
    while tasks.len() < most
        && let Some(hit) = hits.next_hit()?
    {
        next.push(hit.clone());
        let task = OfferTask::of(hit);
        tasks.push(task.map_err(|trouble| hits.trouble(trouble))?);
    }
    Ok((next, tasks))
}
