//! `hecatomb open`: a run on the screen, for people who would rather look than type.

mod reading;
mod workshop;

use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Mutex, OnceLock};
use std::time::SystemTime;

use anyhow::Context;
use clap::Args;

use tokio::sync::watch;

use self::reading::{queries_known, read};
use self::workshop::{MadeLately, Worker, wait_for, work};
use super::examiners::Examiners;
use super::runs::Mined;
use super::shared_options::PiecesOption;
use super::teaching_options::TeachingOptions;
use super::{Ending, stop_on_interrupt};
use crate::advice::WithHint;
use crate::desk::QueryShelf;
use crate::open::{Door, Frame, HowFar, OneAsking, Opened, Workshop, listen, serve};
use crate::teaching::WholeGame;
use crate::terminal::Terminal;
use crate::words::Words;

/// Open runs in the browser, to find hits and to look at them
///
/// Serves pages to this machine alone, and opens the browser at them. On them all hits can be chosen from, with numbers
/// beside every choice; each is shown with its game on a board and with what is known of it; any position of a game can be
/// asked about, and an engine answers, too, if one is named; and the numbers of what is chosen lead to the games behind
/// them. Games and exercises are chosen for lessons and sheets, and motifs of your own are written and tried. Nothing is
/// fetched from the network, and nothing is written but the plan and your queries.
///
/// Only the address that is shown opens the pages: it holds a secret. The program ends with Ctrl-C, or when it is asked to
/// on a page.
#[derive(Args, Debug)]
#[command(after_help = "Example: hecatomb open hecatomb-out")]
pub(super) struct OpenOptions {
    /// The plan of a course that is shown and edited
    #[arg(long, value_name = "FILE", default_value = "course.toml")]
    plan: PathBuf,

    /// The folder of your own motifs [default: `queries` beside the plan]
    #[arg(long, value_name = "FOLDER")]
    queries: Option<PathBuf>,

    /// Listen on this port of the machine [default: one that is free]
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..))]
    port: Option<u16>,

    /// Open no browser, and only show the address
    #[arg(long)]
    no_browser: bool,

    #[command(flatten)]
    pieces: PiecesOption,

    #[command(flatten)]
    teaching: TeachingOptions,
}

impl OpenOptions {
    /// What is wrong with the options taken together.
    pub(super) fn contradiction(&self) -> Option<&'static str> {
        self.teaching.contradiction()
    }
}

/// Runs the command.
pub(super) fn open(options: &OpenOptions, terminal: Terminal) -> anyhow::Result<Ending> {
    let mined = options.teaching.mined()?;
    let stop = stop_on_interrupt()?;
    let (listener, port) = listen(options.port).map_err(|error| {
        let asked =
            options.port.map_or_else(|| "any port".to_owned(), |port| format!("port {port}"));
        let error = anyhow::Error::new(error).context(format!("can't listen on {asked}"));
        error.hint_if(options.port.map(|_| "without --port a free one is found".to_owned()))
    })?;
    let (workshop, orders) = Workshop::new();
    let workers = workers(options)?;
    let opened = Arc::new(opened(options, mined, workshop, port)?);
    let threads = options.teaching.threads();
    let address = opened.door.address();
    terminal.print(&format!("{address}\n"))?;
    if !options.no_browser
        && let Err(error) = open_browser(&address)
    {
        terminal.note_with_hint(
            format!("no browser could be opened: {error}"),
            "open the address yourself",
        );
    }
    let reading = opened.clone();
    let reader = std::thread::Builder::new().spawn(move || read(&reading, threads, terminal, stop));
    reader.context("the system refuses to start a thread")?;
    let orders = Arc::new(Mutex::new(orders));
    let mut working = Vec::new();
    for worker in workers {
        let (ended, orders) = (opened.clone(), orders.clone());
        let is_over = move || stop.load(Ordering::Relaxed) || *ended.end.borrow();
        let thread =
            std::thread::Builder::new().spawn(move || work(worker, &orders, terminal, is_over));
        working.push(thread.context("the system refuses to start a thread")?);
    }
    serve(listener, opened.clone(), stop).context("can't serve pages")?;
    opened.end.send_replace(true);
    wait_for(&working);
    Ok(if stop.load(Ordering::Relaxed) { Ending::Interrupted } else { Ending::Done })
}

/// How many things that take long are made at a time: something that takes minutes must not keep the rest waiting.
const WORKERS: usize = 2;

/// Who makes what takes long.
fn workers(options: &OpenOptions) -> anyhow::Result<Vec<Worker>> {
    let shelf = Arc::<MadeLately>::default();
    let worker = |_| {
        let stop = Arc::<AtomicBool>::default();
        let mined = options.teaching.mined()?.until(stop.clone());
        anyhow::Ok(Worker {
            mined,
            program: options.teaching.program(),
            threads: options.teaching.threads(),
            effort: options.teaching.effort(),
            letters: options.pieces.or(None, Words::ENGLISH),
            plan: options.plan.clone(),
            shelf: shelf.clone(),
            stop,
        })
    };
    (0..WORKERS).map(worker).collect()
}

/// All that the pages work on, still without hits.
fn opened(
    options: &OpenOptions,
    mined: Mined,
    workshop: Workshop,
    port: u16,
) -> anyhow::Result<Opened> {
    let letters = options.pieces.or(None, Words::ENGLISH);
    let (threads, effort) = (options.teaching.threads(), options.teaching.effort());
    let program = options.teaching.program();
    let engine = program.clone();
    let queries = options.queries.clone().unwrap_or_else(|| options.plan.with_file_name("queries"));
    let ask_what_if = move |game: &mut WholeGame| {
        let mut examiners = Examiners::new(threads, effort, program.as_ref());
        let asked = examiners.as_mut().map(|it| it.ask_what_if(std::iter::once(game)));
        match asked {
            Err(error) => Err(format!("{error:#}")),
            Ok(asked) => asked.map_err(|error| error.to_string()),
        }
    };
    let reading = HowFar { all: mined.runs.rows(), ..HowFar::default() };
    Ok(Opened {
        queries: queries_known(&mined),
        plan: Some(options.plan.clone()),
        workshop,
        dropped: Mutex::default(),
        letters,
        door: Door::new(port).context("the system has no randomness to give")?,
        frame: Frame::new(letters, mined.remarks(Words::ENGLISH))?,
        hits: OnceLock::new(),
        since: SystemTime::now(),
        game_places: OnceLock::new(),
        reading,
        engine,
        ask_what_if: Box::new(ask_what_if),
        asking: OneAsking::default(),
        trial: OneAsking::default(),
        shelf: QueryShelf::at(queries),
        threads,
        end: watch::Sender::new(false),
        runs: mined.runs,
    })
}

fn open_browser(address: &str) -> std::io::Result<()> {
    ::open::that_detached(address)
}
