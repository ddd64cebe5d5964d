//! Tables as comma-separated values. Texts are [`guarded`].

use std::fs::File;
use std::io::{self, BufWriter, Write};

use super::cell::{Cell, Column, shortest};
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
    writer: csv::Writer<BufWriter<File>>,
    /// The length at which it was last made safe.
    safe: u64,
}

impl CsvTable {
    pub(super) fn start(file: BufWriter<File>, columns: &[Column]) -> io::Result<CsvTable> {
        let mut writer = csv::Writer::from_writer(file);
        writer.write_record(columns.iter().map(|column| &column.name))?;
        Ok(CsvTable { writer, safe: 0 })
    }
}

impl CsvTable {
    /// Goes on with a table that has its heading.
    pub(super) fn go_on(file: BufWriter<File>) -> CsvTable {
        CsvTable { writer: csv::Writer::from_writer(file), safe: 0 }
    }

    /// Writes what is held back to the file.
    pub(super) fn flush(&mut self) -> io::Result<()> {
        self.writer.flush()
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
        Ok(self.writer.write_record(None::<&[u8]>)?)
    }

    fn make_safe(&mut self) -> io::Result<u64> {
        // This flushes the buffer below it, too.
        self.writer.flush()?;
        make_safe(self.writer.get_ref().get_ref(), &mut self.safe)
    }

    fn finish(&mut self) -> io::Result<()> {
        self.writer.flush()?;
        let file = self.writer.get_ref();
        file.get_ref().flush()?;
        file.get_ref().sync_all()
    }
}
