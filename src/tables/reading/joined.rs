//! Two tables of the same hits, read row by row as one.

use csv::StringRecord;

use super::{RowTrouble, Rows, TableReader, TableTrouble};

/// A table with the columns of another one behind its own; each row stands beside the one with the same
/// first cell.
pub(super) struct Joined {
    first: TableReader,
    second: TableReader,
}

pub(super) fn join(first: TableReader, second: TableReader) -> Joined {
    Joined { first, second }
}

fn trouble(error: TableTrouble) -> RowTrouble {
    RowTrouble { line: error.line, message: error.to_string() }
}

impl Rows for Joined {
    fn columns(&self) -> Vec<String> {
        let more = self.second.columns().iter().skip(1);
        self.first.columns().iter().chain(more).cloned().collect()
    }

    fn next(&mut self, record: &mut StringRecord) -> Result<Option<u64>, RowTrouble> {
        let Some(line) = self.first.next_row().map_err(trouble)?.map(|row| row.line) else {
            return Ok(None);
        };
        let id = self.first.record.get(0).unwrap_or_default();
        let is_same = self.second.next_row().map_err(trouble)?.is_some_and(|row| row.text(0) == id);
        if !is_same {
            let message =
                format!("`{}` has no row for `{id}` in its place", self.second.path.display());
            return Err(RowTrouble::at(line, message));
        }
        record.clear();
        for field in self.first.record.iter().chain(self.second.record.iter().skip(1)) {
            record.push_field(field);
        }
        Ok(Some(line))
    }
}
