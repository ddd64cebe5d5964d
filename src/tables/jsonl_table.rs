//! Tables as JSON, an object on each line.

use std::fs::File;
use std::io::{self, BufWriter, Write};

use super::cell::{Cell, Column, shortest};
use super::writer::{TableWriter, make_safe};

pub(super) struct JsonlTable {
    file: BufWriter<File>,
    columns: Vec<Column>,
    /// The length at which it was last made safe.
    safe: u64,
}

impl JsonlTable {
    pub(super) fn start(file: BufWriter<File>, columns: &[Column]) -> JsonlTable {
        JsonlTable { file, columns: columns.to_vec(), safe: 0 }
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
        self.file.write_all(b"}\n")
    }

    fn make_safe(&mut self) -> io::Result<u64> {
        self.file.flush()?;
        make_safe(self.file.get_ref(), &mut self.safe)
    }

    fn finish(&mut self) -> io::Result<()> {
        self.file.flush()?;
        self.file.get_ref().sync_all()
    }
}
