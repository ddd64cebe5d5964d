//! Tables as comma-separated values. Texts are [`guarded`].

use std::io::{self, BufWriter};

use super::cell::{Cell, Column, shortest};
use super::checksum::{Extent, SummedFile, TableRun};
use super::guard::guarded;
use super::writer::{TableWriter, make_safe};

/// Rows as one text of comma-separated values. Whoever makes the cells guards their texts.
#[must_use]
pub fn csv_text(rows: impl IntoIterator<Item: IntoIterator<Item = String>>) -> String {
    let mut writer = csv::Writer::from_writer(Vec::new());
    for row in rows {
        // Writing rows of one length to memory can't fail.
        let _ = writer.write_record(row);
    }
    writer.into_inner().ok().and_then(|text| String::from_utf8(text).ok()).unwrap_or_default()
}

pub(super) struct CsvTable {
    writer: csv::Writer<BufWriter<SummedFile>>,
    rows: u64,
    /// The length at which it was last made safe.
    safe: u64,
}

impl CsvTable {
    pub(super) fn start(file: BufWriter<SummedFile>, columns: &[Column]) -> io::Result<CsvTable> {
        let mut writer = csv::Writer::from_writer(file);
        writer.write_record(columns.iter().map(|column| &column.name))?;
        Ok(CsvTable { writer, rows: 0, safe: 0 })
    }
}

impl CsvTable {
    /// Continues a table that has its heading and this many rows.
    pub(super) fn go_on(file: BufWriter<SummedFile>, rows: u64) -> CsvTable {
        CsvTable { writer: csv::Writer::from_writer(file), rows, safe: 0 }
    }
}

impl TableWriter for CsvTable {
    fn row(&mut self, cells: &[Cell<'_>]) -> io::Result<()> {
        for cell in cells {
            match cell {
                Cell::Blank => self.writer.write_field("")?,
                Cell::Text(text) => self.writer.write_field(&*guarded(text))?,
                Cell::Integer(number) => {
                    self.writer.write_field(itoa::Buffer::new().format(*number))?;
                }
                Cell::Hundredths(number) => self.writer.write_field(shortest(*number))?,
                Cell::Truth(true) => self.writer.write_field("true")?,
                Cell::Truth(false) => self.writer.write_field("false")?,
            }
        }
        self.rows += 1;
        Ok(self.writer.write_record(None::<&[u8]>)?)
    }

    fn make_safe(&mut self) -> io::Result<Extent> {
        // This flushes the buffer below it, too.
        self.writer.flush()?;
        let file = self.writer.get_ref().get_ref();
        make_safe(file, &mut self.safe)?;
        Ok(file.extent(self.rows))
    }

    fn finish(&mut self) -> io::Result<TableRun> {
        self.writer.flush()?;
        let file = self.writer.get_ref().get_ref();
        file.file().sync_all()?;
        Ok(TableRun { rows: self.rows, xxh3: file.checksum() })
    }
}
