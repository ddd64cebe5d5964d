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

    fn value(&mut self, cell: &Cell<'_>) -> io::Result<()> {
        match cell {
            Cell::Blank => write!(self.file, "null"),
            Cell::Text(text) => Ok(serde_json::to_writer(&mut self.file, text)?),
            Cell::Integer(number) => write!(self.file, "{number}"),
            Cell::Hundredths(number) => write!(self.file, "{}", shortest(*number)),
            Cell::Truth(truth) => write!(self.file, "{truth}"),
        }
    }
}

impl TableWriter for JsonlTable {
    fn row(&mut self, cells: &[Cell<'_>]) -> io::Result<()> {
        for (index, cell) in cells.iter().enumerate() {
            self.file.write_all(if index == 0 { b"{" } else { b"," })?;
            serde_json::to_writer(&mut self.file, &self.columns[index].name)?;
            self.file.write_all(b":")?;
            self.value(cell)?;
        }
        self.rows += 1;
        self.file.write_all(b"}\n")
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
