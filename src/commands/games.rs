//! `hecatomb games`: whole games out of a run, to read or for other programs.

use std::collections::BTreeSet;
use std::path::PathBuf;

use anyhow::Context;
use clap::Args;

use super::output;
use super::runs::Mined;
use super::shared_options::{EditedOption, SacrificeOption};
use super::{Ending, chosen_queries, show_problems};
use crate::advice::WithHint;
use crate::hits::{CellTrouble, Collector, JudgedHit, Layout, NoColumn, Wanted};
use crate::pages::{GamesFormat, WholeGames};
use crate::query::{Library, Query};
use crate::teaching::{Shelf, Specimen, WholeGame};
use crate::terminal::Terminal;

/// Write whole games in which a motif was played
///
/// Writes the model games of the motif's lesson, or those that are named, each from its first move to its last. The offer
/// has a comment, and best play stands beside the game where the game left it, if the hits were verified. The run holds
/// the games; the collection is not needed.
#[derive(Args, Debug)]
#[command(
    after_help = "Example: hecatomb games hecatomb-out --query bishop-takes-h7 -o models.pgn"
)]
pub(super) struct GamesOptions {
    /// Folders that `mine --out` wrote
    #[arg(required = true, value_name = "DIR")]
    runs: Vec<PathBuf>,

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

    #[command(flatten)]
    sacrifices: SacrificeOption,

    #[command(flatten)]
    edited: EditedOption,
}

impl GamesOptions {
    /// What is wrong with the options taken together.
    pub(super) fn contradiction(&self) -> Option<&'static str> {
        self.sacrifices.contradiction()
    }
}

/// Runs the command.
pub(super) fn games(options: &GamesOptions, terminal: Terminal) -> anyhow::Result<Ending> {
    output::expect_place(&options.out)?;
    let mined = Mined::open(&options.runs, &options.edited, &options.sacrifices)?;
    chosen_queries(std::slice::from_ref(&options.query), &mined.runs.queries())?;
    let Some(query) = query(&options.query, &mined, terminal)? else { return Ok(Ending::Failed) };
    let specimens = match options.id.is_empty() {
        true => models(&options.query, &mined)?,
        false => named(options, &mined)?,
    };
    let ids = specimens.iter().map(|specimen| specimen.hit.game.id).collect();
    let texts = mined.runs.games(&ids)?;
    let games = specimens.iter().map(|specimen| {
        let id = specimen.hit.game.id;
        let text = texts.get(&id).with_context(|| format!("no run holds the game `{id}`"))?;
        WholeGame::of(specimen, text).with_context(|| format!("game `{id}`"))
    });
    let games: Vec<WholeGame<'_>> = games.collect::<anyhow::Result<_>>()?;
    let games = WholeGames { query: &query, games: &games, caution: mined.remarks() };
    output::write(&options.out, &games.written(options.format), terminal)?;
    mined.tell_left_out(terminal);
    Ok(Ending::Done)
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
    let mut picked = Picked { ids: options.id.iter().cloned().collect(), found: Vec::new() };
    mined.pass(&options.query, &mut [&mut picked])?;
    let mut found = Vec::new();
    for id in &options.id {
        let of_id = picked.found.iter().filter(|one| is_called(&one.hit, id)).cloned();
        let before = found.len();
        found.extend(of_id);
        if found.len() == before {
            let error =
                anyhow::anyhow!("no offer of `{}` that was made is in `{id}`", options.query);
            return Err(error.hint("ids stand in the columns `id` and `game_id` of the hits"));
        }
    }
    Ok(found)
}

/// The hits that are named by their ids or those of their games.
struct Picked {
    ids: BTreeSet<String>,
    found: Vec<Specimen>,
}

impl Collector for Picked {
    fn begin(&mut self, _: &Layout) -> Result<Wanted, NoColumn> {
        Ok(Wanted::everything())
    }

    fn take(&mut self, hit: &JudgedHit) -> Result<(), CellTrouble> {
        if self.ids.iter().any(|id| is_called(hit, id)) && hit.is_played() {
            self.found.push(Specimen::of_any(hit)?);
        }
        Ok(())
    }
}

/// Whether a hit or its game is called so.
fn is_called(hit: &JudgedHit, id: &str) -> bool {
    hit.id == id || id.parse().is_ok_and(|id: crate::mining::GameId| hit.game.id == id)
}
