//! Verdicts from a cluster: lines of hits go out in batches, rows come back, and whoever asks for the verdict on a hit
//! waits for its row. The workers run `hecatomb verify -`; a Python side moves the batches.
//!
//! Invariant: which worker judged a hit, and when, is nowhere to be seen in what comes back.

mod child;
mod messages;

use std::collections::{HashMap, VecDeque};
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use anyhow::Context;

use super::VerifyOptions;
use super::asked::EngineTerms;
use super::bench::MOST_FINDINGS;
use super::judges::{OfferTask, line_of};
use super::pace::Pace;
use super::terms::Terms;
use crate::advice::WithHint;
use crate::hits::{JudgedHit, VerdictLines, VerdictRecord, Verdicts};
use crate::terminal::{Bar, Terminal, counted, grouped};
use child::PythonSide;
use messages::{HitBatch, Report, Settings};

/// A batch takes about this time, and a little more for each thread: a scheduler moves some hundred batches a second.
const AIM: Duration = Duration::from_secs(1);
const AIM_FOR_A_THREAD: Duration = Duration::from_millis(5);
/// How many batches are out for each thread: one that is judged, and one that waits for its end.
const OUT_FOR_A_THREAD: usize = 2;
/// How many verdicts that were handed on are kept at the most for hits that follow.
pub(super) const MOST_KEPT: usize = MOST_FINDINGS;
/// How often an interrupt is listened for.
const PATIENCE: Duration = Duration::from_millis(100);

/// A cluster at work.
pub(super) struct Cluster {
    side: PythonSide,
    /// How many threads its workers have together.
    pub(super) threads: usize,
    /// The engine that its workers ask.
    pub(super) engine: Option<EngineTerms>,
    lines: VerdictLines,
    pace: Pace,
    /// Lines that were not sent yet, in order.
    waiting: VecDeque<String>,
    /// The lines of the batches that are out, by number.
    out: HashMap<u64, Vec<String>>,
    sent: u64,
    /// How many rows came back.
    pub(super) back: u64,
    /// What is known of a line, once it was taken on.
    known: HashMap<String, Option<RowFound>>,
    /// Why nothing more comes.
    failure: Option<anyhow::Error>,
    advice: AdviceCount,
    terminal: Terminal,
}

/// A verdict that came back.
struct RowFound {
    record: VerdictRecord,
    /// Whether it was waited for and handed on.
    is_used: bool,
}

/// How often the engines of the workers were asked, and how often that failed.
#[derive(Default)]
struct AdviceCount {
    asked: u64,
    failed: u64,
    first_fault: Option<String>,
}

impl Cluster {
    /// Reaches a cluster and examines its workers; nothing if it is interrupted.
    ///
    /// # Errors
    ///
    /// If there is no Python for it, no scheduler, or a worker that is not fit.
    pub(super) fn begin(
        options: &VerifyOptions,
        address: &str,
        stop: &AtomicBool,
        terminal: Terminal,
    ) -> anyhow::Result<Option<Cluster>> {
        let mut side = PythonSide::start(&options.python)?;
        side.tell(&settings(options, address)?)?;
        let (threads, terms) = loop {
            match side.hear(PATIENCE)? {
                Some(Report::Ready { threads, workers, terms }) => {
                    let (threads_told, workers) =
                        (counted(threads as u64, "thread"), counted(workers as u64, "worker"));
                    terminal.note(format!("{workers} with {threads_told} at `{address}`"));
                    break (threads, terms);
                }
                Some(Report::Waiting) => {
                    terminal.note(format!("waiting for a worker at `{address}`"));
                }
                _ if stop.load(Ordering::Relaxed) => return Ok(None),
                _ => {}
            }
        };
        let expected = Terms::of(options, terms.engine.clone());
        anyhow::ensure!(terms == expected, "the workers at `{address}` work under other terms");
        let verdicts = if terms.engine.is_some() { Verdicts::WithAdvice } else { Verdicts::Own };
        Ok(Some(Cluster {
            side,
            threads,
            engine: terms.engine,
            lines: VerdictLines::new(verdicts),
            pace: Pace::of(aim(threads)),
            waiting: VecDeque::new(),
            out: HashMap::new(),
            sent: 0,
            back: 0,
            known: HashMap::new(),
            failure: None,
            advice: AdviceCount::default(),
            terminal,
        }))
    }

    /// Judges offers, and takes on some of those that come `ahead` as long as it waits; only the first offers if it
    /// is interrupted or fails. How many.
    pub(super) fn judge(
        &mut self,
        tasks: &[&OfferTask],
        ahead: &mut dyn Iterator<Item = Vec<String>>,
        stop: &AtomicBool,
        bar: &Bar,
    ) -> usize {
        tasks.iter().for_each(|task| self.expect(task.lines(self.verdicts())));
        let mut judged = 0;
        while self.failure.is_none() {
            let more = tasks[judged..].iter().take_while(|task| self.is_judged(task)).count();
            bar.advance(more as u64);
            judged += more;
            if judged == tasks.len() || stop.load(Ordering::Relaxed) {
                break;
            }
            let done = self.fill(ahead).and_then(|()| self.hear(bar));
            self.failure = done.err();
        }
        let verdicts = self.verdicts();
        for line in tasks[..judged].iter().flat_map(|task| task.lines(verdicts)) {
            if let Some(Some(found)) = self.known.get_mut(&line) {
                found.is_used = true;
            }
        }
        judged
    }

    /// What a table of verdicts holds.
    fn verdicts(&self) -> Verdicts {
        if self.engine.is_some() { Verdicts::WithAdvice } else { Verdicts::Own }
    }

    /// How many rows came back that were not let go.
    pub(super) fn count(&self) -> usize {
        self.known.len()
    }

    /// The verdict on a hit, if it came back.
    pub(super) fn verdict_on(&self, hit: &JudgedHit) -> Option<VerdictRecord> {
        let found = self.known.get(&line_of(hit, self.verdicts()))?.as_ref();
        found.map(|found| found.record.clone())
    }

    /// Leaves, of what was handed on, `most` that may be asked for again, and nothing that may come out better.
    pub(super) fn let_go(&mut self, most: usize) {
        let mut room = most;
        self.known.retain(|_, found| {
            let Some(found) = found.as_ref().filter(|found| found.is_used) else { return true };
            let is_kept = room > 0 && !matches!(found.record.opinion, Some(Err(_)));
            room -= usize::from(is_kept);
            is_kept
        });
    }

    /// Why nothing more comes, if so.
    pub(super) fn failure(&mut self) -> Option<anyhow::Error> {
        let hint = "what was judged is kept: continue with --resume";
        self.failure.take().map(|error| error.hint(hint))
    }

    /// Says how often the workers' engines had no answer.
    ///
    /// # Errors
    ///
    /// If they had none at all.
    pub(super) fn end(self) -> anyhow::Result<()> {
        let AdviceCount { asked, failed, first_fault } = self.advice;
        let Some(first) = first_fault else { return Ok(()) };
        let all = counted(asked, "offer");
        if failed == asked {
            let error = anyhow::anyhow!("the workers' engine answered none of {all}: it {first}");
            return Err(error.hint("once it answers, ask it again with --replace"));
        }
        let failed = grouped(failed);
        self.terminal.note(format!(
            "the workers' engine gave no answer on {failed} of {all}; the first time, it {first}"
        ));
        Ok(())
    }

    fn is_judged(&self, task: &OfferTask) -> bool {
        task.lines(self.verdicts()).iter().all(|line| matches!(self.known.get(line), Some(Some(_))))
    }

    /// Takes lines on, unless they were before.
    fn expect(&mut self, lines: Vec<String>) {
        for line in lines {
            if !self.known.contains_key(&line) {
                self.known.insert(line.clone(), None);
                self.waiting.push_back(line);
            }
        }
    }

    /// Sends batches as long as some thread may want one.
    fn fill(&mut self, ahead: &mut dyn Iterator<Item = Vec<String>>) -> anyhow::Result<()> {
        while self.out.len() < OUT_FOR_A_THREAD * self.threads.max(1) {
            let size = self.pace.next();
            while self.waiting.len() < size
                && let Some(lines) = ahead.next()
            {
                self.expect(lines);
            }
            let lines: Vec<String> = self.waiting.drain(..size.min(self.waiting.len())).collect();
            if lines.is_empty() {
                break;
            }
            self.sent += 1;
            self.side.tell(&HitBatch { number: self.sent, lines: &lines })?;
            self.out.insert(self.sent, lines);
        }
        Ok(())
    }

    /// Takes what the Python side says, if it says something.
    fn hear(&mut self, bar: &Bar) -> anyhow::Result<()> {
        match self.side.hear(PATIENCE)? {
            Some(Report::Rows { batch, seconds, rows }) => self.take(batch, seconds, &rows),
            Some(Report::Workers { threads, workers }) => {
                self.count_workers(threads, workers, bar);
                Ok(())
            }
            _ => Ok(()),
        }
    }

    fn count_workers(&mut self, threads: usize, workers: usize, bar: &Bar) {
        let message = match workers {
            0 => "no worker is left; waiting for one".to_owned(),
            _ => {
                let threads = counted(threads as u64, "thread");
                format!("now {} with {threads}", counted(workers as u64, "worker"))
            }
        };
        bar.aside(|| self.terminal.note(message));
        self.threads = threads;
        self.pace.aim_at(aim(threads));
    }

    /// Takes the rows of a batch.
    fn take(&mut self, batch: u64, seconds: f64, rows: &[String]) -> anyhow::Result<()> {
        let lines = self.out.remove(&batch).context("rows came for a batch that is not out")?;
        anyhow::ensure!(rows.len() == lines.len(), "a worker answered with too few rows");
        let took = Duration::try_from_secs_f64(seconds).unwrap_or_default();
        self.pace.learn(lines.len(), took);
        self.back += lines.len() as u64;
        for (line, row) in lines.into_iter().zip(rows) {
            let record = self.lines.read(row);
            let record = record.with_context(|| format!("a worker can't judge `{line}`"))?;
            self.advice.note(&record);
            self.known.insert(line, Some(RowFound { record, is_used: false }));
        }
        Ok(())
    }
}

impl AdviceCount {
    fn note(&mut self, record: &VerdictRecord) {
        self.asked += u64::from(record.opinion.is_some());
        if let Some(Err(fault)) = &record.opinion {
            self.failed += 1;
            self.first_fault.get_or_insert_with(|| fault.clone());
        }
    }
}

/// About how long a batch takes, if there are this many threads.
fn aim(threads: usize) -> Duration {
    AIM + AIM_FOR_A_THREAD * u32::try_from(threads).unwrap_or(u32::MAX)
}

/// What the Python side is told.
fn settings(options: &VerifyOptions, address: &str) -> anyhow::Result<Settings> {
    let own = std::env::current_exe();
    let program = match &options.worker_program {
        Some(named) => named.clone(),
        // The program that runs is there, whatever the path.
        None if address == "local" => own.context("can't tell where this program is")?,
        None => env!("CARGO_PKG_NAME").into(),
    };
    let program = program.to_str().context("the path of the workers' program is not UTF-8")?;
    let mut seed = [0; 8];
    getrandom::fill(&mut seed).context("the system gives no random number")?;
    Ok(Settings {
        name: format!("{:016x}", u64::from_le_bytes(seed)),
        address: address.to_owned(),
        threads: options.threads.count(),
        program: program.to_owned(),
        version: concat!(env!("CARGO_PKG_NAME"), " ", env!("CARGO_PKG_VERSION")).to_owned(),
        arguments: options.for_a_worker()?,
    })
}
