//! Tables of an earlier run, read row by row, whatever their format.
//!
//! A cell is read as it stands, and understood when it is asked for; one that does not hold what its
//! column is for is an error with its place.

mod contained;
mod csv_rows;
mod jsonl_rows;
mod loose;
mod parquet_rows;
mod row;

use std::fs::File;
use std::path::{Path, PathBuf};

use csv::StringRecord;

use super::checksum::{Checksum, SummedFile, TableRun};
use super::format::TableFormat;

pub use loose::LooseRows;
pub use row::Row;

/// What is wrong with a table, and where.
#[derive(thiserror::Error, Clone, PartialEq, Eq, Debug)]
pub struct TableTrouble {
    /// The file.
    pub path: PathBuf,
    /// The line, from 1; in Parquet the row, from 1.
    pub line: Option<u64>,
    /// The column.
    pub column: Option<String>,
    /// What is wrong.
    pub message: String,
    /// The way on, where there is one.
    pub hint: Option<&'static str>,
}

impl std::fmt::Display for TableTrouble {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "`{}`", self.path.display())?;
        if let Some(line) = self.line {
            write!(f, ", line {line}")?;
        }
        if let Some(column) = &self.column {
            write!(f, ", column `{column}`")?;
        }
        write!(f, ": {}", self.message)
    }
}

impl TableTrouble {
    /// What is wrong with a file as a whole.
    #[must_use]
    pub fn of_file(path: &Path, message: impl ToString) -> TableTrouble {
        let message = message.to_string();
        TableTrouble { path: path.to_owned(), line: None, column: None, message, hint: None }
    }

    /// The same with a way on.
    #[must_use]
    pub fn with_hint(self, hint: &'static str) -> TableTrouble {
        TableTrouble { hint: Some(hint), ..self }
    }
}

/// What went wrong in a row, before it is known which table it is of.
struct RowTrouble {
    line: Option<u64>,
    message: String,
}

impl RowTrouble {
    fn at(line: u64, message: impl ToString) -> RowTrouble {
        RowTrouble { line: Some(line), message: message.to_string() }
    }
}

/// The rows of a table in one of the formats.
trait Rows {
    /// The names of the columns; nothing if the table has no row that tells them.
    fn columns(&self) -> Vec<String>;

    /// Says of each column whether its cells will be asked for. Others may be left blank, which is worth
    /// it where columns are stored apart.
    fn need(&mut self, _is_needed: &[bool]) {}

    /// Reads the next row into `record` and answers with its line, or with nothing at the end.
    fn next(&mut self, record: &mut StringRecord) -> Result<Option<u64>, RowTrouble>;

    /// Where the row begins that was read last, in bytes of the file; nothing if no reading can begin there.
    fn begins(&self) -> Option<u64> {
        None
    }

    /// The checksum of the file, once all rows were read; nothing if the file is not read from its start to
    /// its end.
    fn checksum(&self) -> Option<Checksum> {
        None
    }
}

/// What a table must be like, or else it was changed since.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Expected {
    /// The table as it was written.
    pub table: TableRun,
    /// The way on where it is another one.
    pub hint: &'static str,
}

impl Expected {
    fn check_rows(&self, rows: u64) -> Result<(), String> {
        let written = self.table.rows;
        if rows == written {
            return Ok(());
        }
        let rows = if rows == 1 { "1 row".to_owned() } else { format!("{rows} rows") };
        Err(format!(
            "the table has {rows} instead of {written}; it was changed since it was written"
        ))
    }

    fn check_bytes(&self, found: &Checksum) -> Result<(), String> {
        match *found == self.table.xxh3 {
            true => Ok(()),
            false => Err("the table was changed since it was written".to_owned()),
        }
    }

    /// Places what is wrong in a file.
    fn trouble(&self, path: &Path) -> impl FnOnce(String) -> TableTrouble {
        let hint = self.hint;
        move |message| TableTrouble::of_file(path, message).with_hint(hint)
    }
}

/// A table that is read row by row.
pub struct TableReader {
    path: PathBuf,
    columns: Vec<String>,
    rows: Box<dyn Rows>,
    /// For each column whether its cells are asked for; empty if those of all are.
    is_needed: Vec<bool>,
    record: StringRecord,
    expected: Option<Expected>,
    rows_read: u64,
}

impl TableReader {
    /// Opens a table that is read as it is.
    ///
    /// # Errors
    ///
    /// If it can't be read, or is not a table of this format.
    pub fn open(path: &Path, format: TableFormat) -> Result<TableReader, TableTrouble> {
        let trouble = |message: String| TableTrouble::of_file(path, message);
        let file = File::open(path).map_err(|error| trouble(error.to_string()))?;
        let summed = SummedFile::new;
        let rows: Result<Box<dyn Rows>, RowTrouble> = match format {
            TableFormat::Csv => {
                csv_rows::open(summed(file)).map(|rows| Box::new(rows) as Box<dyn Rows>)
            }
            TableFormat::Jsonl => jsonl_rows::open(summed(file)).map(|rows| Box::new(rows) as _),
            TableFormat::Parquet => parquet_rows::open(file).map(|rows| Box::new(rows) as _),
        };
        let rows =
            rows.map_err(|RowTrouble { line, message }| TableTrouble { line, ..trouble(message) })?;
        let (columns, path) = (rows.columns(), path.to_owned());
        let (is_needed, record) = (Vec::new(), StringRecord::new());
        Ok(TableReader { path, columns, rows, is_needed, record, expected: None, rows_read: 0 })
    }

    /// Opens a table that must be like this. Whether it is, is known when its last row was read, or before.
    ///
    /// # Errors
    ///
    /// If it can't be read, is not a table of this format, or was changed.
    pub fn open_as(
        path: &Path,
        format: TableFormat,
        expected: Expected,
    ) -> Result<TableReader, TableTrouble> {
        // This format is not read from the start of the file to its end.
        if format == TableFormat::Parquet {
            let found = Checksum::of_file(path);
            let found = found.map_err(|error| TableTrouble::of_file(path, error))?;
            expected.check_bytes(&found).map_err(expected.trouble(path))?;
        }
        let table = TableReader::open(path, format)?;
        Ok(TableReader { expected: Some(expected), ..table })
    }

    /// The same table as it is now, from the row on that begins at a byte.
    ///
    /// # Errors
    ///
    /// If it can't be read, or its format knows no such place.
    pub fn from_byte(
        path: &Path,
        format: TableFormat,
        begins: u64,
    ) -> Result<TableReader, TableTrouble> {
        let table = TableReader::open(path, format)?;
        if format != TableFormat::Csv {
            return Err(TableTrouble::of_file(path, "this format is read from its start only"));
        }
        let trouble = |error: std::io::Error| TableTrouble::of_file(path, error);
        let file = File::open(path).map_err(trouble)?;
        let rows = csv_rows::open_at(file, begins, table.columns.clone()).map_err(trouble)?;
        Ok(TableReader { rows: Box::new(rows), ..table })
    }

    /// Where the row begins that was read last, in bytes of the file; nothing if no reading can begin there.
    #[must_use]
    pub fn begins(&self) -> Option<u64> {
        self.rows.begins()
    }

    /// Its file.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Reads the cells of no other columns from now on, where that saves time. Others must not be asked
    /// for.
    pub fn need(&mut self, columns: impl IntoIterator<Item = usize>) {
        self.is_needed = vec![false; self.columns.len()];
        for column in columns {
            if let Some(is_needed) = self.is_needed.get_mut(column) {
                *is_needed = true;
            }
        }
        self.rows.need(&self.is_needed);
    }

    /// The names of the columns, in order; none if the table has no rows and its format does not tell.
    #[must_use]
    pub fn columns(&self) -> &[String] {
        &self.columns
    }

    /// The place of a column.
    #[must_use]
    pub fn column(&self, name: &str) -> Option<usize> {
        self.columns.iter().position(|column| column == name)
    }

    /// Fails unless the first columns are these.
    ///
    /// # Errors
    ///
    /// Which column is another one.
    pub fn expect_columns<'n>(
        &self,
        expected: impl IntoIterator<Item = &'n str>,
    ) -> Result<(), TableTrouble> {
        if self.columns.is_empty() {
            return Ok(());
        }
        for (index, name) in expected.into_iter().enumerate() {
            let found = self.columns.get(index).map_or("the end of the line", String::as_str);
            if found != name {
                let message = format!(
                    "column {} is `{found}` where `{name}` was expected; the table is of another \
                     version, or was edited",
                    index + 1
                );
                return Err(TableTrouble {
                    line: Some(1),
                    ..TableTrouble::of_file(&self.path, message)
                });
            }
        }
        Ok(())
    }

    /// Reads the next row.
    ///
    /// # Errors
    ///
    /// If it can't be read or is not a row; after the last one, if the table was changed.
    pub fn next_row(&mut self) -> Result<Option<Row<'_>>, TableTrouble> {
        match self.rows.next(&mut self.record) {
            Ok(Some(line)) => {
                self.rows_read += 1;
                Ok(Some(Row { table: self, line }))
            }
            Ok(None) => self.check().map(|()| None),
            Err(trouble) => Err(self.row_trouble(trouble)),
        }
    }

    /// Places what is wrong with a row, and says if the table was changed: it may have been cut in the middle
    /// of the row.
    fn row_trouble(&self, RowTrouble { line, message }: RowTrouble) -> TableTrouble {
        let trouble = TableTrouble { line, ..TableTrouble::of_file(&self.path, message) };
        let Some(expected) = &self.expected else { return trouble };
        match Checksum::of_file(&self.path).map(|found| expected.check_bytes(&found)) {
            Ok(Err(changed)) => {
                let message = format!("{}; {changed}", trouble.message);
                TableTrouble { message, hint: Some(expected.hint), ..trouble }
            }
            _ => trouble,
        }
    }

    /// Fails if the table, which was read to its end, is not as it must be.
    fn check(&self) -> Result<(), TableTrouble> {
        let Some(expected) = &self.expected else { return Ok(()) };
        let rows = expected.check_rows(self.rows_read);
        let bytes = || self.rows.checksum().map_or(Ok(()), |found| expected.check_bytes(&found));
        rows.and_then(|()| bytes()).map_err(expected.trouble(&self.path))
    }
}
