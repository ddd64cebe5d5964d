//! `hecatomb verify`: hits in, verdicts out.

mod asked;
mod bench;
mod judges;
mod one;
mod options;
mod proof_tree;
mod summary;
mod terms;

use std::fs;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use anyhow::Context;

use super::shared_options::READ_AS_THEY_ARE;
use super::{Ending, chosen_queries, stop_on_interrupt};
use crate::advice::WithHint;
use crate::hits::{HitReader, Reading, Run, Verdicts, Wanted, verdict_cells};
use crate::run::Found;
use crate::tables::{
    GrowingTable, TableFormat, TableRun, TableTrouble, VerdictsLock, unfinished_part,
};
use crate::terminal::{Bar, Terminal, counted, grouped};
use crate::verdict::Effort;

use asked::Adviser;
use bench::{Bench, JudgedOffers};
use judges::{Judges, OfferTask};
pub(super) use options::VerifyOptions;
use summary::{VerdictCounts, VerdictSummary};
use terms::{OpenTerms, Terms};

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
    let (run, _lock) = locked(path, options.edited.reading())?;
    let names: Vec<&str> = run.manifest.queries.iter().map(|query| &*query.name).collect();
    let queries = chosen_queries(&options.query, &names)?;
    let stop = stop_on_interrupt()?;
    let threads = options.threads.count();
    let program = options.engine.program();
    let adviser =
        program.as_ref().map(|program| Adviser::new(program, threads, stop)).transpose()?;
    let terms = Terms::of(options, adviser.as_ref());
    let mut open_terms = OpenTerms::begin(&run, &queries, &terms, options.found())?;
    let hits = run.manifest.queries.iter().filter(|query| queries.contains(&&*query.name));
    let hits = hits.map(|query| query.hits + query.overlooked).sum();
    let bar = Bar::counting(terminal, hits);
    let judges = Judges::new(threads, options.effort());
    let batch = batch(options.proof.nodes, threads);
    let findings = JudgedOffers::default();
    let mut bench = Bench { judges, adviser, batch, stop, bar: &bar, findings, judged: 0 };
    let mut summary = VerdictSummary::default();
    for query in queries {
        let counts = verify_query(&run, query, options.found(), &mut bench, &mut open_terms)?;
        let Some(counts) = counts else {
            bar.end();
            let (judged, hits) = (grouped(bench.judged), grouped(hits));
            terminal.note(format!(
                "interrupted: {judged} of {hits} hits are judged; continue with --resume"
            ));
            return Ok(Ending::Interrupted);
        };
        summary.add(query, &counts);
    }
    bar.end();
    let note = match options.edited.reading() {
        Reading::AsWritten => "",
        Reading::AsTheyAre => READ_AS_THEY_ARE,
    };
    let (judged, unanswered) = (bench.judged, summary.unanswered());
    let sheet = summary.into_sheet(bench.adviser.is_some(), note);
    terminal.print(&sheet.as_text(terminal.width()))?;
    bench.adviser.map_or(Ok(()), |adviser| adviser.end(terminal))?;
    if unanswered > 0 {
        let message =
            format!("on {} the engine had no answer before", counted(unanswered, "offer"));
        terminal.note_with_hint(message, "ask it again with --replace");
    }
    Ok(if unanswered > 0 && unanswered == judged { Ending::Failed } else { Ending::Done })
}

/// A run that is locked as long as it is verified.
fn locked(path: &Path, reading: Reading) -> anyhow::Result<(Run, VerdictsLock)> {
    // Nothing is made in a folder that is none of a run.
    Run::open(path, reading)?;
    let lock = VerdictsLock::of(path)?;
    // Until then it may have been mined again.
    Ok((Run::open(path, reading)?, lock))
}

/// Judges the hits of a query; nothing if it was interrupted.
fn verify_query(
    run: &Run,
    query: &str,
    found: Found,
    bench: &mut Bench<'_>,
    open_terms: &mut OpenTerms,
) -> anyhow::Result<Option<VerdictCounts>> {
    let (place, resume) = (run.verdicts_place(query), found == Found::Resume);
    let mut counts = VerdictCounts::default();
    let known = Wanted::figures().with_offer().with_verdict();
    if resume && place.is_file() {
        let mut hits = run.hits(query)?;
        hits.want(known);
        bench.pass_over(counts.add_known(&mut hits, None)?);
        return Ok(Some(counts));
    }
    let unwritable = || format!("can't write `{}`", place.display());
    let table = GrowingTable::open(&place, &bench.columns(), resume);
    let mut table = table.map_err(|error| match error.kind() {
        ErrorKind::InvalidData => changed(query),
        _ => anyhow::Error::new(error).context(unwritable()),
    })?;
    let begun = unfinished_part(&place);
    let kept_verdicts = (table.kept > 0).then_some((&*begun, TableFormat::Csv));
    let mut hits = run.hits_with(query, kept_verdicts)?;
    hits.want(known);
    bench.pass_over(kept(&mut hits, table.kept, &mut counts)?);
    hits.want(Wanted::figures().with_offer().with_evidence());
    loop {
        let mut tasks = next_tasks(&mut hits, bench.batch)?;
        if tasks.is_empty() {
            break;
        }
        let judged = bench.judge(&mut tasks)?;
        let is_interrupted = judged < tasks.len();
        tasks.truncate(judged);
        let rows: Vec<_> = tasks.iter().map(|task| task.hit.row()).collect();
        table
            .rows(rows.iter().map(|row| verdict_cells(bench.verdicts(), row)))
            .with_context(unwritable)?;
        for verdict in tasks.iter().filter_map(|task| task.hit.verdict.as_ref()) {
            counts.add(verdict);
        }
        if is_interrupted {
            return Ok(None);
        }
    }
    let grown = table.finish().with_context(unwritable)?;
    put_in_place(run, query, grown, bench.verdicts(), open_terms).with_context(unwritable)?;
    Ok(Some(counts))
}

/// Puts verdicts that have grown in a file of comma-separated values into their place, in the format of the
/// run. What they are is written down first: a table without that is taken for edited.
fn put_in_place(
    run: &Run,
    query: &str,
    grown: (PathBuf, TableRun),
    verdicts: Verdicts,
    open_terms: &mut OpenTerms,
) -> anyhow::Result<()> {
    let part = grown.0.clone();
    let (whole, written) = run.whole_verdicts(query, grown, verdicts)?;
    open_terms.enter(query, written)?;
    fs::rename(&whole, run.verdicts_place(query))?;
    if whole != part {
        fs::remove_file(part)?;
    }
    Ok(())
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

/// The next hits to be judged.
fn next_tasks(hits: &mut HitReader, most: usize) -> Result<Vec<OfferTask>, TableTrouble> {
    let mut tasks = Vec::new();
    while tasks.len() < most
        && let Some(hit) = hits.next_hit()?
    {
        let task = OfferTask::of(hit);
        tasks.push(task.map_err(|trouble| hits.trouble(trouble))?);
    }
    Ok(tasks)
}
