//! Hits as they come in on standard input, a line of JSON each; verdicts go out on standard output as they are
//! found, a line for each in the same order.

use std::io;
use std::sync::atomic::Ordering;
use std::time::{Duration, Instant};

use anyhow::Context;

use super::VerifyOptions;
use super::asked::Adviser;
use super::bench::Bench;
use super::forecast::Forecast;
use super::inflow::{Inflow, LineRead};
use super::judges::{Judges, OfferTask};
use super::pace::Pace;
use super::sequels::Sequels;
use super::terms::Terms;
use crate::commands::{Ending, stop_on_interrupt};
use crate::hits::{FAULT, HitLines, JudgedHit, LineTrouble, verdict_cells};
use crate::tables::{Cell, Column, Kind, Meaning, write_json_row};
use crate::terminal::{Terminal, counted, grouped};

/// Rows go out after about this time, if there are many.
const AIM: Duration = Duration::from_secs(1);

/// How many lines are taken at a time for each thread, at least, if they are there: so that no thread is idle
/// for long while others end their work.
const FOR_A_THREAD: usize = 4;

/// Judges hits as they come in.
pub(super) fn verify_piped(options: &VerifyOptions, terminal: Terminal) -> anyhow::Result<Ending> {
    let program = options.engine.program();
    let (stop, threads) = (stop_on_interrupt()?, options.threads.count());
    let asked = program.as_ref();
    let adviser = asked.map(|program| Adviser::new(program, threads, stop)).transpose()?;
    if options.terms {
        let engine = adviser.as_ref().map(|adviser| adviser.terms.clone());
        let terms = Terms::of(options, engine);
        terminal.print(&(serde_json::to_string(&terms)? + "\n"))?;
        return Ok(Ending::Done);
    }
    let judges = Judges::new(threads, options.effort());
    let forecast = Forecast::of(0, threads, terminal);
    let bench = Bench::new(judges, adviser, None, stop, (forecast, Sequels::built_in()));
    let mut piped = Piped {
        columns: bench.columns(),
        bench,
        lines: HitLines::new(),
        answered: 0,
        broken: 0,
        terminal,
    };
    let is_interrupted = piped.flow(threads)?;
    piped.end(is_interrupted)
}

/// Lines on their way through.
struct Piped<'p> {
    bench: Bench<'p>,
    columns: Vec<Column>,
    lines: HitLines,
    /// How many lines were answered.
    answered: u64,
    /// And how many of them were broken.
    broken: u64,
    terminal: Terminal,
}

/// A line that was read: a hit and its task, or what is wrong.
type HitRead = Result<(JudgedHit, OfferTask), LineTrouble>;

impl Piped<'_> {
    /// Judges what comes until there is no more. Whether it was interrupted.
    fn flow(&mut self, threads: usize) -> anyhow::Result<bool> {
        const UNREADABLE: &str = "can't read standard input";
        let inflow = Inflow::start(io::stdin(), self.bench.stop).context(UNREADABLE)?;
        let mut pace = Pace::of(AIM);
        loop {
            let most = pace.next().max(FOR_A_THREAD * threads);
            let lines = inflow.next(most).context(UNREADABLE)?;
            if lines.is_empty() {
                return Ok(self.bench.stop.load(Ordering::Relaxed));
            }
            let begun = Instant::now();
            let hits: Vec<HitRead> = lines.into_iter().map(|line| self.understood(line)).collect();
            let tasks: Vec<&OfferTask> = hits.iter().flatten().map(|(_, task)| task).collect();
            let judged = self.bench.judge(&tasks, &mut std::iter::empty())?;
            pace.learn(tasks.len(), begun.elapsed());
            let is_interrupted = judged < tasks.len();
            self.answer(hits, judged)?;
            self.bench.let_go();
            if is_interrupted {
                return Ok(true);
            }
        }
    }

    fn understood(&mut self, line: LineRead) -> HitRead {
        let asked = self.lines.read(&line?)?;
        let task = OfferTask::new(&asked.hit, asked.pos, asked.offer);
        Ok((asked.hit, task))
    }

    /// Writes a row for each hit, as far as they are judged.
    fn answer(&mut self, hits: Vec<HitRead>, mut judged: usize) -> anyhow::Result<()> {
        let mut rows = Vec::new();
        for hit in hits {
            match hit {
                Ok(_) if judged == 0 => break,
                Ok((mut hit, _)) => {
                    judged -= 1;
                    self.answered += 1;
                    hit.verdict = self.bench.verdict_on(&hit);
                    let cells = verdict_cells(self.bench.verdicts(), &hit.row());
                    write_json_row(&mut rows, &self.columns, &cells)?;
                }
                Err(trouble) => {
                    self.answered += 1;
                    self.broken += 1;
                    write_fault(&mut rows, self.answered, &trouble)?;
                }
            }
        }
        self.terminal.print_bytes(&rows)
    }

    /// Says what came of it.
    fn end(self, is_interrupted: bool) -> anyhow::Result<Ending> {
        let Piped { answered, broken, terminal, .. } = self;
        if broken > 0 {
            let all = counted(answered, "line");
            let message = format!("{} of {all} can't be judged", grouped(broken));
            terminal.error_with_hint(message, "the `fault` of its row says why");
        }
        if is_interrupted {
            terminal.note(format!("interrupted: {} are answered", counted(answered, "line")));
            return Ok(Ending::Interrupted);
        }
        self.bench.end(terminal)?;
        Ok(if broken > 0 { Ending::Failed } else { Ending::Done })
    }
}

/// Writes a row that says what is wrong with a line.
fn write_fault(rows: &mut Vec<u8>, line: u64, trouble: &LineTrouble) -> io::Result<()> {
    let column = |name: &str, kind| {
        let (name, meaning) = (name.to_owned(), Meaning::default());
        Column { name, kind, meaning }
    };
    let columns =
        [column("id", Kind::Text), column("line", Kind::Integer), column(FAULT, Kind::Text)];
    let id = trouble.id.as_deref().map_or(Cell::Blank, Cell::from);
    write_json_row(rows, &columns, &[id, Cell::from(line), Cell::from(trouble.to_string())])
}
