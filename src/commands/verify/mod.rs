//! `hecatomb verify`: hits in, verdicts out.

mod asked;
mod one;
mod options;
mod pool;

use std::fs;
use std::path::Path;
use std::sync::atomic::{AtomicBool, Ordering};

use anyhow::Context;
use serde::{Deserialize, Serialize};

use super::{Ending, chosen_queries, output, stop_on_interrupt};
use crate::statistics::share;
use crate::tables::{
    Cell, Column, GrowingTable, Row, Run, TableFormat, TableReader, TableTrouble, hit_column,
    make_inside,
};
use crate::terminal::{Align, Bar, Terminal, grouped, in_columns, percent};
use crate::verdict::{verdict_columns, verdict_row};

use asked::{Adviser, EngineTerms};
pub(super) use options::VerifyOptions;
use pool::{Pool, Task};

/// So many hits are judged between two looks at the clock.
const BATCH: usize = 128;

/// How verdicts came about: what must be the same for a run to be gone on with.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
struct Terms {
    hecatomb: String,
    nodes: u64,
    depth: Option<u8>,
    engine: Option<EngineTerms>,
}

/// Who judges.
struct Bench {
    pool: Pool,
    adviser: Option<Adviser>,
    threads: usize,
    stop: &'static AtomicBool,
}

impl Bench {
    /// The columns of a table of verdicts.
    fn columns(&self) -> Vec<Column> {
        let mut columns = verdict_columns();
        columns.extend(self.adviser.iter().flat_map(|_| asked::columns()));
        columns
    }

    /// The rows for some hits; nothing if it was interrupted.
    fn judge(&mut self, tasks: &[Task]) -> Option<Vec<Vec<Cell<'static>>>> {
        let judgements = self.pool.judge(tasks);
        let mut rows: Vec<Vec<Cell<'_>>> = tasks
            .iter()
            .zip(&judgements)
            .map(|(task, judgement)| verdict_row(&task.id, &task.pos, task.offer, judgement))
            .collect();
        if let Some(adviser) = &self.adviser {
            let answers = adviser.ask(tasks, self.threads, self.stop)?;
            for ((row, task), answer) in rows.iter_mut().zip(tasks).zip(&answers) {
                row.extend(asked::cells(task, answer));
            }
        }
        Some(rows)
    }
}

/// The file with the terms, beside the verdicts.
const TERMS_FILE: &str = "terms.json";

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
    let adviser = Adviser::new(options, stop)?;
    agree_on_terms(&run, options, adviser.as_ref())?;
    let hits = run.manifest.queries.iter().filter(|query| queries.contains(&&*query.name));
    let bar = Bar::counting(terminal, hits.map(|query| query.hits + query.overlooked).sum());
    let threads = options.threads.count();
    let pool = Pool::new(threads, options.effort());
    let mut bench = Bench { pool, adviser, threads, stop };
    let mut rows = vec![
        ["query", "hits", "sound", "holds", "not sound", "open", "proved %"]
            .map(str::to_owned)
            .to_vec(),
    ];
    for query in queries {
        let counts = verify_query(&run, query, options.resume, &mut bench, &bar)?;
        let Some(counts) = counts else {
            bar.end();
            terminal.note("interrupted; go on with --resume");
            return Ok(Ending::Interrupted);
        };
        rows.push(summary_row(query, counts));
    }
    bar.end();
    let mut align = [Align::Right; 7];
    align[0] = Align::Left;
    terminal.print(&in_columns(&align, &rows))?;
    Ok(Ending::Done)
}

fn summary_row(query: &str, counts: Counts) -> Vec<String> {
    let Counts { sound, holds, not_sound, open } = counts;
    let hits = sound + holds + not_sound + open;
    let proved = share(hits - open, hits).map_or_else(|| "-".to_owned(), percent);
    let numbers = [hits, sound, holds, not_sound, open].map(grouped);
    std::iter::once(query.to_owned()).chain(numbers).chain([proved]).collect()
}

/// Writes down the terms of the verdicts, or, to go on, sees that they are the same.
fn agree_on_terms(
    run: &Run,
    options: &VerifyOptions,
    adviser: Option<&Adviser>,
) -> anyhow::Result<()> {
    let folder = make_inside(&run.path, "verdicts")?;
    let place = folder.join(TERMS_FILE);
    let terms = Terms {
        hecatomb: env!("CARGO_PKG_VERSION").to_owned(),
        nodes: options.proof.nodes,
        depth: options.depth,
        engine: adviser.map(|adviser| adviser.terms.clone()),
    };
    if options.resume
        && let Ok(text) = fs::read_to_string(&place)
    {
        let earlier: Option<Terms> = serde_json::from_str(&text).ok();
        anyhow::ensure!(
            earlier == Some(terms),
            "the verdicts in `{}` were made with other options or another version\n\
             hint: use the same options, or start anew without --resume",
            folder.display()
        );
        return Ok(());
    }
    let text = serde_json::to_string_pretty(&terms)?;
    output::write_file(&place, &(text + "\n"))
        .with_context(|| format!("can't write `{}`", place.display()))
}

/// Judges the hits of a query; nothing if it was interrupted.
fn verify_query(
    run: &Run,
    query: &str,
    resume: bool,
    bench: &mut Bench,
    bar: &Bar,
) -> anyhow::Result<Option<Counts>> {
    let place = run.verdicts_place(query);
    if resume && place.is_file() {
        let counts = counts_of(&place)?;
        bar.advance(counts.sound + counts.holds + counts.not_sound + counts.open);
        return Ok(Some(counts));
    }
    let unwritable = || format!("can't write `{}`", place.display());
    let mut hits = run.hits(query)?;
    let mut table =
        GrowingTable::open(&place, &bench.columns(), resume).with_context(unwritable)?;
    skip(&mut hits, &table.kept)?;
    bar.advance(table.kept.len() as u64);
    loop {
        let tasks = next_tasks(&mut hits)?;
        if tasks.is_empty() {
            break;
        }
        if bench.stop.load(Ordering::Relaxed) {
            return Ok(None);
        }
        let Some(rows) = bench.judge(&tasks) else { return Ok(None) };
        table.rows(rows).with_context(unwritable)?;
        bar.advance(tasks.len() as u64);
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

/// The next hits to be judged.
fn next_tasks(hits: &mut TableReader) -> Result<Vec<Task>, TableTrouble> {
    let mut tasks = Vec::new();
    while tasks.len() < BATCH
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
