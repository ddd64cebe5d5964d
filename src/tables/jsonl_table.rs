//! Tables as JSON, an object on each line.

use std::io::{self, BufWriter, Write};

use super::cell::{Cell, Column, shortest};
use super::checksum::{Extent, SummedFile, TableRun};
use super::writer::{TableWriter, make_safe};

pub(super) struct JsonlTable {
    file: BufWriter<SummedFile>,
    columns: Vec<Column>,
    rows: u64,
    /// The length at which it was last made safe.
    safe: u64,
}

impl JsonlTable {
    /// Starts a table, or continues one that has this many rows.
    pub(super) fn start(file: BufWriter<SummedFile>, columns: &[Column], rows: u64) -> JsonlTable {
        JsonlTable { file, columns: columns.to_vec(), rows, safe: 0 }
    }
}

/// Writes a row as an object on a line.
///
/// # Errors
///
/// What the system says.
pub fn write_json_row(
    to: &mut impl Write,
    columns: &[Column],
    cells: &[Cell<'_>],
) -> io::Result<()> {
    for (index, (column, cell)) in columns.iter().zip(cells).enumerate() {
        to.write_all(if index == 0 { b"{" } else { b"," })?;
        serde_json::to_writer(&mut *to, &column.name)?;
        to.write_all(b":")?;
        write_value(to, cell)?;
    }
    to.write_all(b"}\n")
}

fn write_value(to: &mut impl Write, cell: &Cell<'_>) -> io::Result<()> {
    match cell {
        Cell::Blank => write!(to, "null"),
        Cell::Text(text) => Ok(serde_json::to_writer(to, text)?),
        Cell::Integer(number) => write!(to, "{number}"),
        Cell::Hundredths(number) => write!(to, "{}", shortest(*number)),
        Cell::Truth(truth) => write!(to, "{truth}"),
    }
}

impl TableWriter for JsonlTable {
    fn row(&mut self, cells: &[Cell<'_>]) -> io::Result<()> {
        self.rows += 1;
        write_json_row(&mut self.file, &self.columns, cells)
    }

    fn make_safe(&mut self) -> io::Result<Extent> {
        self.file.flush()?;
        let file = self.file.get_ref();
        make_safe(file, &mut self.safe)?;
        Ok(file.extent(self.rows))
    }

    fn finish(&mut self) -> io::Result<TableRun> {
        self.file.flush()?;
        let file = self.file.get_ref();
        file.file().sync_all()?;
        Ok(TableRun { rows: self.rows, xxh3: file.checksum() })
    }
}
