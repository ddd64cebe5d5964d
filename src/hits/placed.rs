//! Rows of tables of a run on their way into the same tables of another one: cell for cell as they are, but for
//! their place in the collection and what follows from it.
//!
//! Invariant: a row that is neither moved nor doubted is written as it was read, in every format.

use std::borrow::Cow;
use std::path::Path;

use super::games::game_columns;
use super::layout::Layout;
use crate::mining::{Doubt, Evaluation, Identity, MovesHash, Remembered};
use crate::tables::{Cell, Column, Kind, Row, TableReader, TableTrouble};

/// The cell of a column that has this text; `None` if the column can't have it.
fn cell_with<'t>(column: &Column, text: &'t str) -> Option<Cell<'t>> {
    // What is mixed in these tables is an evaluation.
    if column.kind == Kind::Mixed && !text.is_empty() {
        Evaluation::of_text(text)?;
    }
    Cell::of_text(column.kind, text)
}

/// Which columns a table has, and where those stand that tell the place of a row.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct RowShape {
    /// The columns.
    pub columns: Vec<Column>,
    source: usize,
    game: usize,
    /// The bytes of text.
    offsets: Vec<usize>,
    played: Option<usize>,
    doubts: Option<usize>,
}

impl RowShape {
    /// The shape of a table with these columns, those of its place among them.
    pub(super) fn of(columns: Vec<Column>) -> RowShape {
        let find = |name: &str| columns.iter().position(|column| column.name == name);
        let offsets = ["offset", "text_offset"].into_iter().filter_map(find).collect();
        RowShape {
            source: find("source").unwrap_or_default(),
            game: find("game").unwrap_or_default(),
            offsets,
            played: find("played"),
            doubts: find("doubts"),
            columns,
        }
    }

    /// The shape of the table of the games with hits.
    #[must_use]
    pub fn of_games() -> RowShape {
        RowShape::of(game_columns())
    }

    /// The shape of a table of hits.
    #[must_use]
    pub fn of_hits(layout: &Layout) -> RowShape {
        RowShape::of(layout.hit_columns())
    }

    /// The row with these texts.
    fn row<'t>(
        &self,
        texts: impl Iterator<Item = &'t str>,
        trouble: impl Fn(usize, String) -> TableTrouble,
    ) -> Result<PlacedRow, TableTrouble> {
        let mut cells = Vec::with_capacity(self.columns.len());
        for (index, (column, text)) in self.columns.iter().zip(texts).enumerate() {
            let cell = cell_with(column, text);
            let cell = cell.ok_or_else(|| {
                trouble(index, format!("`{text}` is not what `{}` holds", column.name))
            })?;
            cells.push(cell.into_owned());
        }
        let (Some(Cell::Text(source)), Some(&Cell::Integer(game))) =
            (cells.get(self.source), cells.get(self.game))
        else {
            return Err(trouble(self.game, "the row does not say which game it is of".to_owned()));
        };
        let (source, game) = (source.to_string(), game);
        Ok(PlacedRow { source, game, cells })
    }
}

/// A row of a table, and which game it is of.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct PlacedRow {
    /// The source of its game.
    pub source: String,
    /// The number of its game in the source.
    pub game: i64,
    /// Its cells.
    pub cells: Vec<Cell<'static>>,
}

impl PlacedRow {
    /// Moves it on by this many games and bytes of text.
    pub fn move_on(&mut self, shape: &RowShape, games: u64, bytes: u64) {
        let add = |cell: &mut Cell<'_>, more: u64| {
            if let Cell::Integer(number) = cell {
                *number = number.saturating_add_unsigned(more);
            }
        };
        add(&mut self.cells[shape.game], games);
        self.game = self.game.saturating_add_unsigned(games);
        shape.offsets.iter().for_each(|&place| add(&mut self.cells[place], bytes));
    }

    /// The first byte of its game.
    #[must_use]
    pub fn offset(&self, shape: &RowShape) -> u64 {
        match shape.offsets.first().and_then(|&place| self.cells.get(place)) {
            Some(&Cell::Integer(offset)) => offset.unsigned_abs(),
            _ => 0,
        }
    }

    /// Whether the offer was made, in a row of a table of hits.
    #[must_use]
    pub fn is_played(&self, shape: &RowShape) -> bool {
        shape.played.is_some_and(|place| self.cells[place] == Cell::Truth(true))
    }

    /// Says whether its game comes from a damaged source, in a row of a table of hits.
    pub fn doubt(&mut self, shape: &RowShape, is_unchecked: bool) {
        let Some(place) = shape.doubts else { return };
        let mut doubts = self.cells[place].text().into_owned();
        Doubt::Unchecked.remove_from(&mut doubts);
        if is_unchecked {
            Doubt::Unchecked.add_to(&mut doubts);
        }
        self.cells[place] = Cell::from(doubts);
    }

    /// The text of its first cell, which is the id of a hit in the tables that have one.
    #[must_use]
    pub fn id(&self) -> Cow<'_, str> {
        self.cells.first().map(Cell::text).unwrap_or_default()
    }

    /// What tells whether its game was seen before, in a row of the table of the games with hits; `None` if its
    /// cells do not say so.
    #[must_use]
    pub fn remembered(&self, shape: &RowShape) -> Option<Remembered> {
        let text = |name: &str| {
            let place = shape.columns.iter().position(|column| column.name == name)?;
            self.cells.get(place).map(Cell::text)
        };
        let moves: MovesHash = text("moves_hash")?.parse().ok()?;
        let tags = [text("white")?, text("black")?, text("date")?, text("round")?];
        Some(Remembered { moves, identity: Identity::of_tags(tags.each_ref().map(|tag| &**tag)) })
    }
}

/// The rows of a table, one after the other, which can be asked for game by game.
pub struct PlacedRows {
    table: TableReader,
    shape: RowShape,
    ahead: Option<PlacedRow>,
    is_begun: bool,
}

impl PlacedRows {
    pub(super) fn new(table: TableReader, shape: RowShape) -> Result<PlacedRows, TableTrouble> {
        table.expect_columns(shape.columns.iter().map(|column| &*column.name))?;
        Ok(PlacedRows { table, shape, ahead: None, is_begun: false })
    }

    /// The columns.
    #[must_use]
    pub fn shape(&self) -> &RowShape {
        &self.shape
    }

    /// The row that comes next, which stays.
    ///
    /// # Errors
    ///
    /// If it can't be read; after the last, if the table was changed.
    pub fn peek(&mut self) -> Result<Option<&PlacedRow>, TableTrouble> {
        if !std::mem::replace(&mut self.is_begun, true) {
            self.ahead = self.read()?;
        }
        Ok(self.ahead.as_ref())
    }

    /// The next row.
    ///
    /// # Errors
    ///
    /// If the one after it can't be read; after the last, if the table was changed.
    pub fn take(&mut self) -> Result<Option<PlacedRow>, TableTrouble> {
        self.peek()?;
        let row = self.ahead.take();
        if row.is_some() {
            self.ahead = self.read()?;
        }
        Ok(row)
    }

    /// The next row, if it is of this game.
    ///
    /// # Errors
    ///
    /// If the one after it can't be read; after the last, if the table was changed.
    pub fn take_of(&mut self, source: &str, game: i64) -> Result<Option<PlacedRow>, TableTrouble> {
        let is_of_game = self.peek()?.is_some_and(|row| row.game == game && row.source == source);
        if is_of_game { self.take() } else { Ok(None) }
    }

    /// What is wrong with the table as a whole.
    #[must_use]
    pub fn trouble(&self, message: impl ToString) -> TableTrouble {
        TableTrouble::of_file(self.table.path(), message)
    }

    fn read(&mut self) -> Result<Option<PlacedRow>, TableTrouble> {
        let Some(row) = self.table.next_row()? else { return Ok(None) };
        let texts = (0..self.shape.columns.len()).map(|column| row.text(column));
        self.shape.row(texts, |column, message| row.trouble(column, message)).map(Some)
    }
}

/// A row of a table of another run, as the table of the games that were left out keeps it.
pub(super) fn kept_row(
    shape: &RowShape,
    row: Row<'_>,
    column: usize,
) -> Result<PlacedRow, TableTrouble> {
    let texts: Vec<Cow<'_, str>> = serde_json::from_str(row.text(column))
        .map_err(|error| row.trouble(column, error.to_string()))?;
    if texts.len() != shape.columns.len() {
        return Err(row.trouble(column, format!("it has {} cells", texts.len())));
    }
    shape.row(texts.iter().map(|text| &**text), |_, message| row.trouble(column, message))
}

/// The verdicts on the hits of a query, row by row.
pub struct VerdictRows {
    table: TableReader,
    columns: Vec<Column>,
}

impl VerdictRows {
    pub(super) fn new(table: TableReader, columns: Vec<Column>) -> VerdictRows {
        VerdictRows { table, columns }
    }

    /// The columns.
    #[must_use]
    pub fn columns(&self) -> &[Column] {
        &self.columns
    }

    /// The row on the next hit, which is known by this id.
    ///
    /// # Errors
    ///
    /// If it can't be read, or is on another hit.
    pub fn row_on(&mut self, id: &str) -> Result<Vec<Cell<'static>>, TableTrouble> {
        let Some(row) = self.table.next_row()? else {
            let message = format!("there is no verdict on `{id}`");
            return Err(TableTrouble::of_file(self.table.path(), message));
        };
        if row.text(0) != id {
            return Err(row.trouble(0, format!("the hit in this place is `{id}`")));
        }
        let cell = |(place, column): (usize, &Column)| {
            let text = row.text(place);
            let cell = cell_with(column, text);
            let wrong = || row.trouble(place, format!("`{text}` is not what the column holds"));
            Ok(cell.ok_or_else(wrong)?.into_owned())
        };
        self.columns.iter().enumerate().map(cell).collect()
    }

    /// Fails if there are more rows, or the table was changed.
    ///
    /// # Errors
    ///
    /// What is wrong.
    pub fn end(&mut self) -> Result<(), TableTrouble> {
        match self.table.next_row()? {
            None => Ok(()),
            Some(row) => Err(row.trouble(0, "there are more verdicts than hits".to_owned())),
        }
    }

    /// Where the table is.
    #[must_use]
    pub fn path(&self) -> &Path {
        self.table.path()
    }
}
