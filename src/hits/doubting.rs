//! Doubts about games that arise only after their rows were written.

use std::fs;
use std::io;
use std::path::Path;

use super::judged_hit::JudgedHit;
use super::reader::HitReader;
use crate::mining::Doubt;
use crate::tables::{TableFormat, TableReader, TableRun, make_way};

/// Writes a doubt into those rows of a table of hits to which it applies; gives the table as it is then.
///
/// # Errors
///
/// What the system says, or what is wrong with the table.
pub fn doubt_hits(
    path: &Path,
    format: TableFormat,
    doubt: Doubt,
    is_doubtful: impl Fn(&JudgedHit) -> bool,
) -> io::Result<Option<TableRun>> {
    let table = TableReader::open(path, format).map_err(io::Error::other)?;
    let mut hits = HitReader::new("", table, None).map_err(io::Error::other)?;
    // Without a row there is nothing to doubt.
    let Some(layout) = hits.layout().cloned() else { return Ok(None) };
    let whole = path.with_extension("doubted");
    make_way(&whole)?;
    let mut table = format.create(&whole, &layout.hit_columns())?;
    while let Some(hit) = hits.next_hit().map_err(io::Error::other)? {
        let mut hit = hit.clone();
        if is_doubtful(&hit) {
            doubt.add_to(&mut hit.game.doubts);
        }
        table.row(&layout.hit_cells(&hit.row()))?;
    }
    let written = table.finish()?;
    fs::rename(whole, path)?;
    Ok(Some(written))
}
