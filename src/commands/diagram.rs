//! `hecatomb diagram`: a position in, a drawing out.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use shakmaty::fen::Fen;
use shakmaty::{Color, Setup, Square};

use super::{Ending, output};
use crate::teaching::{Diagram, Line, MarkError, rings};
use crate::terminal::Terminal;

/// Draw a position as SVG
///
/// The drawing prints in one colour, needs no fonts or other files, and says in words what it shows.
#[derive(Args, Debug)]
#[command(
    after_help = "Example: hecatomb diagram --fen 6k1/7p/8/8/8/3B4/8/6K1 --ring h7 -o h7.svg"
)]
pub(super) struct DiagramOptions {
    /// The position; the side to move and what follows may be left out
    #[arg(long, value_parser = position)]
    fen: Setup,

    /// Ring these squares, several with commas between
    #[arg(long, value_name = "SQUARES", value_parser = ringed)]
    ring: Option<Ringed>,

    /// Draw a line from square to square, such as d3h7; may be repeated
    #[arg(long, value_name = "MOVE")]
    line: Vec<Line>,

    /// The side at the bottom
    #[arg(long, value_name = "SIDE", default_value = "white")]
    view: View,

    /// What the drawing is called when it is read out
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
enum View {
    White,
    Black,
}

/// Runs the command.
pub(super) fn diagram(options: &DiagramOptions, terminal: Terminal) -> anyhow::Result<Ending> {
    let bottom = match options.view {
        View::White => Color::White,
        View::Black => Color::Black,
    };
    let diagram = Diagram::of(&options.fen)
        .seen_by(bottom)
        .ring(options.ring.iter().flat_map(|Ringed(squares)| squares).copied())
        .line(options.line.iter().copied());
    let diagram = match &options.title {
        Some(title) => diagram.titled(title),
        None => diagram,
    };
    output::write(&options.out, &diagram.to_svg(), terminal)?;
    Ok(Ending::Done)
}

fn ringed(text: &str) -> Result<Ringed, MarkError> {
    rings(text).map(Ringed)
}

/// Reads a position, or says which part of it is wrong.
fn position(text: &str) -> Result<Setup, String> {
    text.parse::<Fen>().map(Fen::into_setup).map_err(|_| fault(text))
}

/// The parts of a FEN after the board, in order, and what each should be.
const PARTS: [&str; 5] = [
    "`w` or `b`, the side to move",
    "the castling rights, such as `KQkq` or `-`",
    "a square to capture in passing on, or `-`",
    "the number of plies since a capture or pawn move",
    "the number of the move",
];

/// Which part of a FEN is wrong: the first with which it can't be read.
fn fault(text: &str) -> String {
    let parts: Vec<&str> = text.split_ascii_whitespace().collect();
    let readable = |count: usize| parts[..count].join(" ").parse::<Fen>().is_ok();
    match (1..=parts.len()).find(|&count| !readable(count)) {
        None => "a position is expected".to_owned(),
        Some(1) => board_fault(parts[0]),
        Some(count) => match PARTS.get(count - 2) {
            Some(expected) => format!("`{}` is not {expected}", parts[count - 1]),
            None => format!("`{}` is more than a position has", parts[count - 1]),
        },
    }
}

/// Which rank of a board is wrong.
fn board_fault(board: &str) -> String {
    let ranks: Vec<&str> = board.split('/').collect();
    if ranks.len() != 8 {
        return format!("`{board}` has {} ranks, not 8", ranks.len());
    }
    for (rank, number) in ranks.iter().zip((1..=8).rev()) {
        if let Some(letter) = rank.chars().find(|letter| !"12345678PNBRQKpnbrqk".contains(*letter))
        {
            return format!(
                "`{letter}` on rank {number} (`{rank}`) is no man and no number of squares"
            );
        }
        let width: u32 = rank.chars().map(|letter| letter.to_digit(10).unwrap_or(1)).sum();
        if width != 8 {
            return format!("rank {number} (`{rank}`) has {width} squares, not 8");
        }
    }
    format!("`{board}` is not a board")
}
