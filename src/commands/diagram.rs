//! `hecatomb diagram`: a position in, a drawing out.

use std::fs;
use std::path::PathBuf;

use anyhow::Context;
use clap::{Args, ValueEnum};
use shakmaty::{Color, EnPassantMode, Position, Setup, Square};

use super::{Ending, output};
use crate::board::read_setup;
use crate::drawing::{Diagram, MarkError, Way, rings};
use crate::teaching::read_game;
use crate::terminal::Terminal;

/// Draw a position as SVG
///
/// The drawing prints well in black and white, needs no fonts or other files, and says in words what it
/// shows.
#[derive(Args, Debug)]
#[command(
    after_help = "Example: hecatomb diagram --fen 6k1/7p/8/8/8/3B4/8/6K1 --ring h7 -o h7.svg"
)]
pub(super) struct DiagramOptions {
    /// The position; the side to move and everything after it may be left out
    #[arg(long, value_parser = read_setup, required_unless_present = "pgn", conflicts_with = "pgn")]
    fen: Option<Setup>,

    /// Draw a position of a game in this file instead
    #[arg(long, value_name = "FILE", requires = "ply", help_heading = "From a game")]
    pgn: Option<PathBuf>,

    /// Which game of the file
    #[arg(
        long,
        value_name = "N",
        default_value_t = 1,
        requires = "pgn",
        help_heading = "From a game"
    )]
    game: usize,

    /// After how many plies of the game; 0 is its start
    #[arg(long, value_name = "N", requires = "pgn", help_heading = "From a game")]
    ply: Option<usize>,

    /// Ring these squares, separated by commas
    #[arg(long, value_name = "SQUARES", value_parser = ringed)]
    ring: Option<Ringed>,

    /// Draw a line from square to square, such as d3h7; may be repeated
    #[arg(long, value_name = "MOVE")]
    line: Vec<Way>,

    /// The side at the bottom
    #[arg(long, value_name = "SIDE", default_value = "white")]
    view: Bottom,

    /// The title, for people who hear the drawing rather than see it
    #[arg(long, value_name = "TEXT")]
    title: Option<String>,

    /// Write to this file; - is standard output
    #[arg(short, long = "out", value_name = "FILE.svg")]
    out: PathBuf,
}

/// The squares to ring. A type of its own, since a list would be read as an option given several times.
#[derive(Clone, Debug)]
struct Ringed(Vec<Square>);

/// The side at the bottom of a board.
#[derive(Clone, Copy, PartialEq, Eq, Debug, ValueEnum)]
enum Bottom {
    White,
    Black,
}

/// Runs the command.
pub(super) fn diagram(options: &DiagramOptions, terminal: Terminal) -> anyhow::Result<Ending> {
    output::expect_place(&options.out)?;
    let bottom = match options.view {
        Bottom::White => Color::White,
        Bottom::Black => Color::Black,
    };
    let diagram = Diagram::of(&setup(options)?)
        .seen_by(bottom)
        .ring(options.ring.iter().flat_map(|Ringed(squares)| squares).copied())
        .line(options.line.iter().copied());
    let diagram = match &options.title {
        Some(title) => diagram.titled(title),
        None => diagram,
    };
    output::write(&options.out, diagram.to_svg(), terminal)?;
    Ok(Ending::Done)
}

/// The position to draw.
fn setup(options: &DiagramOptions) -> anyhow::Result<Setup> {
    if let Some(setup) = &options.fen {
        return Ok(setup.clone());
    }
    let (path, ply) =
        options.pgn.as_deref().zip(options.ply).context("there is nothing to draw")?;
    let text = fs::read(path).with_context(|| format!("can't read `{}`", path.display()))?;
    let game = read_game(&text, options.game).with_context(|| format!("`{}`", path.display()))?;
    let (number, plies) = (options.game, game.tree.replay.moves.len());
    let position = game.tree.replay.positions.get(ply);
    let position = position.with_context(|| format!("game {number} has only {plies} plies"))?;
    Ok(position.to_setup(EnPassantMode::Legal))
}

fn ringed(text: &str) -> Result<Ringed, MarkError> {
    rings(text).map(Ringed)
}
