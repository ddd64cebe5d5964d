//! `hecatomb verify`: hits in, verdicts out.

mod asked;
mod one;
mod options;
mod pool;
mod proof_tree;
mod terms;

use std::path::Path;
use std::sync::atomic::AtomicBool;

use anyhow::Context;

use super::{Ending, chosen_queries, stop_on_interrupt};
use crate::statistics::share;
use crate::tables::{
    Cell, Column, GrowingTable, Row, Run, TableFormat, TableReader, TableTrouble, hit_column,
};
use crate::terminal::{Bar, Figure, Sheet, SheetColumn, Terminal, grouped};
use crate::verdict::{Effort, verdict_columns, verdict_row};
use crate::work::ThreadsRefused;

use asked::Adviser;
pub(super) use options::VerifyOptions;
use pool::{Pool, Task};
use terms::Terms;

/// So many hits are judged before their rows are written, or fewer if each may take long.
const BATCH: u64 = 128;

/// Who judges.
struct Bench<'t> {
    pool: Pool,
    adviser: Option<Adviser<'t>>,
    batch: usize,
    stop: &'static AtomicBool,
    bar: &'t Bar,
    /// The hits whose rows are written.
    judged: u64,
}

impl Bench<'_> {
    /// The columns of a table of verdicts.
    fn columns(&self) -> Vec<Column> {
        let mut columns = verdict_columns();
        columns.extend(self.adviser.iter().flat_map(|_| asked::columns()));
        columns
    }

    /// The rows for some hits; only for the first of them if it is interrupted.
    fn judge(&mut self, tasks: &[Task]) -> Result<Vec<Vec<Cell<'static>>>, ThreadsRefused> {
        let judgements = self.pool.judge(tasks, self.stop, || self.bar.advance(1))?;
        let mut rows: Vec<Vec<Cell<'_>>> = tasks
            .iter()
            .zip(&judgements)
            .map(|(task, judgement)| verdict_row(&task.id, &task.pos, task.offer, judgement))
            .collect();
        if let Some(adviser) = &mut self.adviser {
            let answers = adviser.ask(&tasks[..rows.len()])?;
            rows.truncate(answers.len());
            for ((row, task), answer) in rows.iter_mut().zip(tasks).zip(&answers) {
                row.extend(asked::cells(task, answer));
            }
        }
        self.judged += rows.len() as u64;
        Ok(rows)
    }

    /// Counts hits that were judged before.
    fn pass_over(&mut self, hits: u64) {
        self.judged += hits;
        self.bar.advance(hits);
    }
}

/// How many hits came to what.
#[derive(Clone, Copy, Default)]
struct Counts {
    sound: u64,
    holds: u64,
    not_sound: u64,
    open: u64,
}

impl Counts {
    fn add(&mut self, sound: &str) {
        *match sound {
            "yes" => &mut self.sound,
            "holds" => &mut self.holds,
            "no" => &mut self.not_sound,
            _ => &mut self.open,
        } += 1;
    }
}

/// Runs the command.
pub(super) fn verify(options: &VerifyOptions, terminal: Terminal) -> anyhow::Result<Ending> {
    if let (Some(fen), Some(offer)) = (&options.fen, &options.offer) {
        terminal.print(&one::judge(fen, offer, options)?)?;
        return Ok(Ending::Done);
    }
    let path = options.run.as_deref().context("there is no run to verify")?;
    let run = Run::open(path)?;
    let names: Vec<&str> = run.manifest.queries.iter().map(|query| &*query.name).collect();
    let queries = chosen_queries(&options.query, &names)?;
    let stop = stop_on_interrupt()?;
    let threads = options.threads.count();
    let program = asked::program(options);
    let adviser =
        program.as_ref().map(|program| Adviser::new(program, threads, stop)).transpose()?;
    Terms::of(options, adviser.as_ref()).agree(&run, &queries, options.resume)?;
    let hits = run.manifest.queries.iter().filter(|query| queries.contains(&&*query.name));
    let hits = hits.map(|query| query.hits + query.overlooked).sum();
    let bar = Bar::counting(terminal, hits);
    let pool = Pool::new(threads, options.effort());
    let batch = batch(options.proof.nodes, threads);
    let mut bench = Bench { pool, adviser, batch, stop, bar: &bar, judged: 0 };
    let mut rows = Vec::new();
    for query in queries {
        let counts = verify_query(&run, query, options.resume, &mut bench)?;
        let Some(counts) = counts else {
            bar.end();
            let (judged, hits) = (grouped(bench.judged), grouped(hits));
            terminal.note(format!(
                "interrupted: {judged} of {hits} hits are judged; go on with --resume"
            ));
            return Ok(Ending::Interrupted);
        };
        rows.push(summary_row(query, counts));
    }
    bar.end();
    terminal.print(&summary(rows).as_text(terminal.width()))?;
    bench.adviser.map_or(Ok(()), Adviser::end)?;
    Ok(Ending::Done)
}

/// What came of each query.
fn summary(rows: Vec<Vec<Figure>>) -> Sheet {
    let columns = vec![
        SheetColumn::kept("query", "query"),
        SheetColumn::spared(3, "hits", "hits"),
        SheetColumn::kept("sound", "sound"),
        SheetColumn::spared(1, "holds", "holds"),
        SheetColumn::spared(1, "not sound", "not sound"),
        SheetColumn::spared(1, "open", "open"),
        SheetColumn::spared(2, "proved", "proved %"),
    ];
    Sheet { title: String::new(), columns, rows, note: String::new() }
}

fn summary_row(query: &str, counts: Counts) -> Vec<Figure> {
    let Counts { sound, holds, not_sound, open } = counts;
    let hits = sound + holds + not_sound + open;
    let numbers = [hits, sound, holds, not_sound, open].map(Figure::Count);
    let proved = Figure::of(share(hits - open, hits), Figure::Share);
    std::iter::once(Figure::Text(query.to_owned())).chain(numbers).chain([proved]).collect()
}

/// Judges the hits of a query; nothing if it was interrupted.
fn verify_query(
    run: &Run,
    query: &str,
    resume: bool,
    bench: &mut Bench<'_>,
) -> anyhow::Result<Option<Counts>> {
    let place = run.verdicts_place(query);
    if resume && place.is_file() {
        let counts = counts_of(&place)?;
        bench.pass_over(counts.sound + counts.holds + counts.not_sound + counts.open);
        return Ok(Some(counts));
    }
    let unwritable = || format!("can't write `{}`", place.display());
    let mut hits = run.hits(query)?;
    let mut table =
        GrowingTable::open(&place, &bench.columns(), resume).with_context(unwritable)?;
    skip(&mut hits, &table.kept)?;
    bench.pass_over(table.kept.len() as u64);
    loop {
        let tasks = next_tasks(&mut hits, bench.batch)?;
        if tasks.is_empty() {
            break;
        }
        let rows = bench.judge(&tasks)?;
        let is_interrupted = rows.len() < tasks.len();
        table.rows(rows).with_context(unwritable)?;
        if is_interrupted {
            return Ok(None);
        }
    }
    table.finish().with_context(unwritable)?;
    counts_of(&place).map(Some)
}

/// Passes over the hits that an earlier run judged.
fn skip(hits: &mut TableReader, judged: &[String]) -> anyhow::Result<()> {
    for id in judged {
        let is_same = hits.next_row()?.is_some_and(|row| row.text(0) == id);
        anyhow::ensure!(
            is_same,
            "the verdicts that were begun are on other hits: `{id}`\n\
             hint: start anew without --resume"
        );
    }
    Ok(())
}

/// How many hits are judged at a time: so many as take some seconds, whatever the nodes.
fn batch(nodes: u64, threads: usize) -> usize {
    let some_seconds = BATCH * Effort::NODES / nodes;
    usize::try_from(some_seconds.min(BATCH)).map_or(threads, |hits| hits.max(2 * threads))
}

/// The next hits to be judged.
fn next_tasks(hits: &mut TableReader, most: usize) -> Result<Vec<Task>, TableTrouble> {
    let mut tasks = Vec::new();
    while tasks.len() < most
        && let Some(row) = hits.next_row()?
    {
        tasks.push(task(row)?);
    }
    Ok(tasks)
}

fn task(row: Row<'_>) -> Result<Task, TableTrouble> {
    let (fen, offer) = (hit_column("fen"), hit_column("offer"));
    let pos = one::position(row.text(fen)).map_err(|error| row.trouble(fen, error.to_string()))?;
    let offer = one::legal_move(&pos, row.text(offer))
        .map_err(|error| row.trouble(offer, error.to_string()))?;
    Ok(Task { id: row.text(0).to_owned(), pos, offer })
}

/// What the verdicts of a finished table are.
fn counts_of(place: &Path) -> anyhow::Result<Counts> {
    let mut counts = Counts::default();
    let mut table = TableReader::open(place, TableFormat::Csv)?;
    let sound = table.column("sound").context("the table of verdicts has no column `sound`")?;
    while let Some(row) = table.next_row()? {
        counts.add(row.text(sound));
    }
    Ok(counts)
}
