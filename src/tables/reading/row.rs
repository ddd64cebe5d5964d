//! A row of a table, whose cells are understood when they are asked for.

use super::{TableReader, TableTrouble};

/// A row of a table.
#[derive(Clone, Copy)]
pub struct Row<'r> {
    pub(super) table: &'r TableReader,
    pub(super) line: u64,
}

impl<'r> Row<'r> {
    /// Its line in the file, from 1; in Parquet its place among the rows.
    #[must_use]
    pub fn line(&self) -> u64 {
        self.line
    }

    /// The text of a cell; empty if it is blank.
    #[must_use]
    pub fn text(&self, column: usize) -> &'r str {
        let is_needed = self.table.is_needed.get(column).copied().unwrap_or(true);
        debug_assert!(is_needed, "column {column} was not asked for");
        self.table.record.get(column).unwrap_or_default()
    }

    /// A whole number, if the cell is not blank.
    ///
    /// # Errors
    ///
    /// If it is not a whole number, or one of more than 15 digits.
    pub fn integer(&self, column: usize) -> Result<Option<i64>, TableTrouble> {
        self.read(column, "a whole number of at most 15 digits", |text| {
            text.parse().ok().filter(is_in_bounds)
        })
    }

    /// True or false, if the cell is not blank.
    ///
    /// # Errors
    ///
    /// If it is neither.
    pub fn truth(&self, column: usize) -> Result<Option<bool>, TableTrouble> {
        self.read(column, "`true` or `false`", |text| text.parse().ok())
    }

    /// An error at a cell of this row.
    #[must_use]
    pub fn trouble(&self, column: usize, message: String) -> TableTrouble {
        TableTrouble {
            path: self.table.path.clone(),
            line: Some(self.line),
            column: self.table.columns.get(column).cloned(),
            message,
            hint: None,
        }
    }

    fn read<T>(
        &self,
        column: usize,
        what: &str,
        parse: impl FnOnce(&str) -> Option<T>,
    ) -> Result<Option<T>, TableTrouble> {
        match self.text(column) {
            "" => Ok(None),
            text => match parse(text) {
                Some(value) => Ok(Some(value)),
                None => Err(self.trouble(column, format!("`{text}` is not {what}"))),
            },
        }
    }
}

/// Whether a number has at most 15 digits: more than anything that is counted here, and few
/// enough to calculate with.
fn is_in_bounds(number: &i64) -> bool {
    number.unsigned_abs() < 1_000_000_000_000_000
}
