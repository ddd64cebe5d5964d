//! `hecatomb games`: whole games out of a run, to read or for other programs.

use std::path::PathBuf;

use clap::Args;

use super::output;
use super::runs::Mined;
use super::shared_options::PiecesOption;
use super::teaching_options::TeachingOptions;
use super::{Ending, chosen_queries, show_problems};
use crate::advice::WithHint;
use crate::pages::{GamesFormat, WholeGames};
use crate::query::{Library, Query};
use crate::teaching::{Picked, Shelf, Specimen, WholeGame};
use crate::terminal::Terminal;
use crate::words::Words;

/// Write whole games in which a motif was played
///
/// Writes the model games of the motif's lesson, or those that are named, each from its first move to its last. The offer
/// has a comment, and other replies stand beside the game with the lines that answer them: mates that are proved, and
/// whatever else an engine finds. So does best play where the game left it, if the hits were verified. The run holds the
/// games; the collection is not needed.
#[derive(Args, Debug)]
#[command(
    after_help = "Example: hecatomb games hecatomb-out --query bishop-takes-h7 -o models.pgn"
)]
pub(super) struct GamesOptions {
    /// The query that finds the motif
    #[arg(long, value_name = "NAME")]
    query: String,

    /// Write this game instead of the model games: the id of a hit or of its game; may be repeated
    #[arg(long, value_name = "ID")]
    id: Vec<String>,

    /// How the games are written
    #[arg(long, value_name = "FORMAT", default_value = "pgn")]
    format: GamesFormat,

    /// Write to this file; - is standard output
    #[arg(short, long = "out", value_name = "PATH", default_value = "-")]
    out: PathBuf,

    /// Write over a file that is there
    #[arg(long)]
    replace: bool,

    #[command(flatten)]
    pieces: PiecesOption,

    #[command(flatten)]
    teaching: TeachingOptions,
}

impl GamesOptions {
    /// What is wrong with the options taken together.
    pub(super) fn contradiction(&self) -> Option<&'static str> {
        self.teaching.contradiction()
    }
}

/// Runs the command.
pub(super) fn games(options: &GamesOptions, terminal: Terminal) -> anyhow::Result<Ending> {
    output::expect_place(&options.out)?;
    if !options.replace {
        output::expect_free(&options.out)?;
    }
    let mined = options.teaching.mined()?;
    chosen_queries(std::slice::from_ref(&options.query), &mined.runs.queries())?;
    let Some(query) = query(&options.query, &mined, terminal)? else { return Ok(Ending::Failed) };
    let specimens = match options.id.is_empty() {
        true => models(&options.query, &mined)?,
        false => named(options, &mined)?,
    };
    let mut games = WholeGame::all(specimens, &mined.runs)?;
    let program = options.teaching.program();
    let mut examiners = options.teaching.examiners(program.as_ref())?;
    examiners.ask_what_if(games.iter_mut())?;
    let (letters, caution) =
        (options.pieces.or(None, Words::ENGLISH), mined.remarks(Words::ENGLISH));
    let caution = caution.as_deref();
    let games = WholeGames { query: &query, games: &games, letters, caution };
    output::write(&options.out, games.written(options.format), terminal)?;
    mined.tell_left_out(terminal);
    examiners.end(terminal).map(|()| Ending::Done)
}

/// The query as it was mined, or as it is known here; problems are shown.
fn query(name: &str, mined: &Mined, terminal: Terminal) -> anyhow::Result<Option<Query>> {
    let mut library = Library::new();
    anyhow::ensure!(
        mined.add_query(name, &mut library),
        "`{name}` was mined, but there is no such query here"
    );
    match library.queries() {
        Ok(queries) => Ok(queries.into_iter().next()),
        Err(troubles) => {
            show_problems(terminal, &troubles);
            Ok(None)
        }
    }
}

/// The model games of a motif's lesson.
fn models(query: &str, mined: &Mined) -> anyhow::Result<Vec<Specimen>> {
    let mut shelf = Shelf::default();
    mined.pass(query, &mut [&mut shelf])?;
    let models = shelf.choose([]).models;
    anyhow::ensure!(
        !models.is_empty(),
        "no offer of `{query}` in these tables was made, gave something up and has a result"
    );
    Ok(models)
}

/// The games that are named, in the order in which they are.
fn named(options: &GamesOptions, mined: &Mined) -> anyhow::Result<Vec<Specimen>> {
    let mut picked = Picked::new(options.id.iter().cloned());
    mined.pass(&options.query, &mut [&mut picked])?;
    let mut found = Vec::new();
    for id in &options.id {
        let before = found.len();
        found.extend(picked.called(id).cloned());
        if found.len() == before {
            let error =
                anyhow::anyhow!("no offer of `{}` that was made is in `{id}`", options.query);
            return Err(error.hint("ids stand in the columns `id` and `game_id` of the hits"));
        }
    }
    Ok(found)
}
