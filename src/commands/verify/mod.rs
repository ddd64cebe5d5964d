//! `hecatomb verify`: hits in, verdicts out.

mod asked;
mod judges;
mod one;
mod options;
mod proof_tree;
mod terms;

use std::fs;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use std::sync::atomic::AtomicBool;

use anyhow::Context;

use super::shared_options::READ_AS_THEY_ARE;
use super::{Ending, chosen_queries, stop_on_interrupt};
use crate::advice::WithHint;
use crate::hits::{
    HitReader, Known, Reading, Run, Sound, Verdicts, Wanted, verdict_cells, verdict_columns,
};
use crate::run::Found;
use crate::statistics::share;
use crate::tables::{
    Column, GrowingTable, TableFormat, TableRun, TableTrouble, VerdictsLock, unfinished_part,
};
use crate::terminal::{Bar, Figure, Sheet, SheetColumn, Terminal, counted, grouped};
use crate::verdict::Effort;
use crate::work::ThreadsRefused;

use asked::Adviser;
use judges::{Judges, OfferTask};
pub(super) use options::VerifyOptions;
use terms::{OpenTerms, Terms};

/// The number of hits that are judged before their rows are written; fewer if each may take long.
const BATCH: u64 = 128;

/// Who judges.
struct Bench<'t> {
    judges: Judges,
    adviser: Option<Adviser<'t>>,
    batch: usize,
    stop: &'static AtomicBool,
    bar: &'t Bar,
    /// The hits whose rows are written.
    judged: u64,
}

impl Bench<'_> {
    /// What a table of verdicts holds.
    fn verdicts(&self) -> Verdicts {
        if self.adviser.is_some() { Verdicts::WithAdvice } else { Verdicts::Own }
    }

    /// The columns of a table of verdicts.
    fn columns(&self) -> Vec<Column> {
        verdict_columns(self.verdicts())
    }

    /// Judges some hits; only the first of them if it is interrupted. How many.
    fn judge(&mut self, tasks: &mut [OfferTask]) -> Result<usize, ThreadsRefused> {
        let judgements = self.judges.judge(tasks, self.stop, || self.bar.advance(1))?;
        let mut judged = judgements.len();
        for (task, judgement) in tasks.iter_mut().zip(&judgements) {
            task.hit.verdict = Some(judgement.record_of_searches(&task.pos, task.offer));
        }
        let mut all_judged = vec![None; judged];
        if let Some(adviser) = &mut self.adviser {
            let answers = adviser.ask(&tasks[..judged])?;
            judged = answers.len();
            for ((task, answer), judged) in tasks.iter_mut().zip(&answers).zip(&mut all_judged) {
                let opinion = asked::opinion(task, answer);
                *judged = answer.as_ref().ok().map(asked::judged);
                if let Some(verdict) = &mut task.hit.verdict {
                    verdict.opinion = Some(opinion);
                }
            }
        }
        for (task, judged) in tasks.iter_mut().zip(all_judged) {
            let known = Known { judged, ..task.hit.known() };
            if let Some(verdict) = &mut task.hit.verdict {
                verdict.weigh(&known);
            }
        }
        self.judged += judged as u64;
        Ok(judged)
    }

    /// Counts hits that were judged before.
    fn pass_over(&mut self, hits: u64) {
        self.judged += hits;
        self.bar.advance(hits);
    }
}

/// The number of hits by verdict.
#[derive(Clone, Copy, Default)]
struct VerdictCounts {
    sound: u64,
    holds: u64,
    not_sound: u64,
    last_try: u64,
    open: u64,
    /// Those judged before on which the engine had no answer.
    unanswered: u64,
}

impl VerdictCounts {
    fn add(&mut self, sound: Sound) {
        *match sound {
            Sound::Yes => &mut self.sound,
            Sound::Holds => &mut self.holds,
            Sound::No => &mut self.not_sound,
            Sound::LastTry => &mut self.last_try,
            Sound::Open => &mut self.open,
        } += 1;
    }

    /// Counts hits that were judged before: `most` of them if that is given, else all.
    fn add_known(
        &mut self,
        hits: &mut HitReader,
        most: Option<usize>,
    ) -> Result<u64, TableTrouble> {
        let mut counted = 0;
        while most.is_none_or(|most| counted < most as u64)
            && let Some(hit) = hits.next_hit()?
        {
            counted += 1;
            if let Some(verdict) = &hit.verdict {
                self.add(verdict.sound());
                self.unanswered += u64::from(matches!(verdict.opinion, Some(Err(_))));
            }
        }
        Ok(counted)
    }
}

/// Runs the command.
pub(super) fn verify(options: &VerifyOptions, terminal: Terminal) -> anyhow::Result<Ending> {
    if let (Some(fen), Some(offer)) = (&options.fen, &options.offer) {
        terminal.print(&one::judge(fen, offer, options)?)?;
        return Ok(Ending::Done);
    }
    let path = options.run.as_deref().context("no run to verify")?;
    let (run, _lock) = locked(path, options.edited.reading())?;
    let names: Vec<&str> = run.manifest.queries.iter().map(|query| &*query.name).collect();
    let queries = chosen_queries(&options.query, &names)?;
    let stop = stop_on_interrupt()?;
    let threads = options.threads.count();
    let program = asked::program(options);
    let adviser =
        program.as_ref().map(|program| Adviser::new(program, threads, stop)).transpose()?;
    let terms = Terms::of(options, adviser.as_ref());
    let mut open_terms = OpenTerms::begin(&run, &queries, &terms, options.found())?;
    let hits = run.manifest.queries.iter().filter(|query| queries.contains(&&*query.name));
    let hits = hits.map(|query| query.hits + query.overlooked).sum();
    let bar = Bar::counting(terminal, hits);
    let judges = Judges::new(threads, options.effort());
    let batch = batch(options.proof.nodes, threads);
    let mut bench = Bench { judges, adviser, batch, stop, bar: &bar, judged: 0 };
    let mut rows = Vec::new();
    let mut unanswered = 0;
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
        rows.push(summary_row(query, counts));
        unanswered += counts.unanswered;
    }
    bar.end();
    let note = match options.edited.reading() {
        Reading::AsWritten => "",
        Reading::AsTheyAre => READ_AS_THEY_ARE,
    };
    terminal.print(&summary(rows, note).as_text(terminal.width()))?;
    let judged = bench.judged;
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

/// The verdicts on each query.
fn summary(rows: Vec<Vec<Figure>>, note: &str) -> Sheet {
    let columns = vec![
        SheetColumn::kept("query", "query"),
        SheetColumn::spared(3, "hits", "hits"),
        SheetColumn::kept("sound", "sound"),
        SheetColumn::spared(1, "holds", "holds"),
        SheetColumn::spared(1, "not sound", "not sound"),
        SheetColumn::spared(1, "last try", "last try"),
        SheetColumn::spared(1, "open", "open"),
        SheetColumn::spared(2, "decided", "decided %"),
    ];
    Sheet { title: String::new(), columns, rows, note: note.to_owned() }
}

fn summary_row(query: &str, counts: VerdictCounts) -> Vec<Figure> {
    let VerdictCounts { sound, holds, not_sound, last_try, open, .. } = counts;
    let hits = sound + holds + not_sound + last_try + open;
    let numbers = [hits, sound, holds, not_sound, last_try, open].map(Figure::Count);
    let decided = Figure::of(share(hits - open, hits), Figure::Share);
    std::iter::once(Figure::Text(query.to_owned())).chain(numbers).chain([decided]).collect()
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
            counts.add(verdict.sound());
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
