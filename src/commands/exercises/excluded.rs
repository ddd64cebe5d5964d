//! Files of positions that a class has had: games with a FEN tag, lines of EPD, or a table with a column `fen`, as this
//! program writes them or others do. Which of them a file is, its text tells, not its name.

use std::path::{Path, PathBuf};

use anyhow::Context;
use shakmaty::{Board, Color};

use crate::board::read_setup;
use crate::teaching::GivenPositions;

/// A text that should be a position, and its line.
type Place = (u64, String);

/// All positions of some files.
///
/// # Errors
///
/// If a file can't be read, has no position, or has one that can't be read; with its place.
pub(super) fn given_positions(files: &[PathBuf]) -> anyhow::Result<GivenPositions> {
    let mut positions: Vec<(Board, Color)> = Vec::new();
    for file in files {
        positions.extend(positions_of(file)?);
    }
    Ok(GivenPositions::of(positions.iter().map(|(men, turn)| (men, *turn))))
}

fn positions_of(file: &Path) -> anyhow::Result<Vec<(Board, Color)>> {
    let name = file.display();
    let bytes = std::fs::read(file).with_context(|| format!("can't read `{name}`"))?;
    let text = String::from_utf8_lossy(&bytes);
    let places = places(text.trim_start_matches('\u{feff}'))
        .with_context(|| format!("can't read `{name}`"))?;
    anyhow::ensure!(
        !places.is_empty(),
        "there is no position in `{name}`: neither a FEN tag, nor a line of EPD, nor a column `fen`"
    );
    let position = |(line, text): Place| {
        let setup = read_setup(&text).map_err(|fault| {
            anyhow::anyhow!("line {line} of `{name}`: `{text}` is not a position: {fault}")
        })?;
        Ok((setup.board, setup.turn))
    };
    places.into_iter().map(position).collect()
}

/// What the text holds in place of positions.
fn places(text: &str) -> anyhow::Result<Vec<Place>> {
    let lines = || text.lines().zip(1..).filter(|(line, _)| !line.trim().is_empty());
    let Some((first, _)) = lines().next() else { return Ok(Vec::new()) };
    if lines().any(|(line, _)| line.starts_with('[')) {
        return Ok(lines().filter_map(|(line, number)| Some((number, tag(line)?))).collect());
    }
    if first.split(',').any(is_fen_column) {
        return cells(text);
    }
    Ok(lines().map(|(line, number)| (number, fields(line))).collect())
}

/// The value of a FEN tag.
fn tag(line: &str) -> Option<String> {
    let value = line.trim().strip_prefix("[FEN")?.trim_start().strip_prefix('"')?;
    value.split('"').next().map(str::to_owned)
}

/// The first four fields of a line of EPD, as a whole position.
fn fields(line: &str) -> String {
    let four: Vec<&str> = line.split_whitespace().take(4).collect();
    four.join(" ") + " 0 1"
}

fn is_fen_column(name: &str) -> bool {
    name.trim().trim_matches('"').eq_ignore_ascii_case("fen")
}

/// The cells of the column `fen`.
fn cells(text: &str) -> anyhow::Result<Vec<Place>> {
    let mut reader = csv::ReaderBuilder::new().flexible(true).from_reader(text.as_bytes());
    let column = reader.headers()?.iter().position(is_fen_column);
    let mut places = Vec::new();
    for record in reader.records() {
        let record = record?;
        let line = record.position().map_or(0, csv::Position::line);
        let cell = column.and_then(|column| record.get(column)).unwrap_or_default();
        if !cell.is_empty() {
            places.push((line, cell.to_owned()));
        }
    }
    Ok(places)
}
