//! A cell that is being read into a hit, and what may be wrong with it.

use shakmaty::Square;

use crate::engine::Points;
use crate::mining::Evaluation;
use crate::tables::{Row, TableTrouble};

/// What is wrong with a cell of a hit, before it is known which table it is of.
#[derive(thiserror::Error, Clone, PartialEq, Eq, Debug)]
#[error("column `{column}`: {message}")]
pub struct CellTrouble {
    /// The column.
    pub(super) column: &'static str,
    /// What is wrong.
    pub(super) message: String,
}

/// A cell of a row.
#[derive(Clone, Copy)]
pub(super) struct Field<'r> {
    row: Row<'r>,
    column: usize,
}

impl<'r> Field<'r> {
    pub(super) fn new(row: Row<'r>, column: usize) -> Field<'r> {
        Field { row, column }
    }

    /// Its text; empty if it is blank.
    pub(super) fn text(self) -> &'r str {
        self.row.text(self.column)
    }

    /// Its text, if it is not blank.
    pub(super) fn known_text(self) -> Option<String> {
        Some(self.text()).filter(|text| !text.is_empty()).map(str::to_owned)
    }

    /// Puts its text into the place of another.
    pub(super) fn copy_to(self, place: &mut String) {
        place.clear();
        place.push_str(self.text());
    }

    pub(super) fn trouble(self, message: impl Into<String>) -> TableTrouble {
        self.row.trouble(self.column, message.into())
    }

    /// A value that the row must have.
    pub(super) fn needed<T>(self, value: Option<T>) -> Result<T, TableTrouble> {
        value.ok_or_else(|| self.trouble("the cell is blank"))
    }

    /// A whole number within the bounds of its type, if the cell is not blank.
    pub(super) fn integer<T: TryFrom<i64>>(self) -> Result<Option<T>, TableTrouble> {
        let Some(number) = self.row.integer(self.column)? else { return Ok(None) };
        let fits = T::try_from(number).map(Some);
        fits.map_err(|_| self.trouble(format!("`{number}` is more than this column can hold")))
    }

    /// A whole number that the row must have.
    pub(super) fn number<T: TryFrom<i64>>(self) -> Result<T, TableTrouble> {
        let number = self.integer()?;
        self.needed(number)
    }

    /// True or false, if the cell is not blank.
    pub(super) fn truth(self) -> Result<Option<bool>, TableTrouble> {
        self.row.truth(self.column)
    }

    /// A truth that the row must have.
    pub(super) fn known_truth(self) -> Result<bool, TableTrouble> {
        let truth = self.truth()?;
        self.needed(truth)
    }

    /// What a word stands for.
    pub(super) fn word<T: Copy>(self, known: &[(&str, T)]) -> Result<T, TableTrouble> {
        let text = self.text();
        let found = known.iter().find(|(word, _)| *word == text);
        found.map(|&(_, value)| value).ok_or_else(|| {
            let words: Vec<String> = known.iter().map(|(word, _)| format!("`{word}`")).collect();
            self.trouble(format!("`{text}` is not one of {}", words.join(", ")))
        })
    }

    /// A value of another sort, if the cell is not blank.
    pub(super) fn parsed<T>(
        self,
        what: &str,
        parse: impl FnOnce(&str) -> Option<T>,
    ) -> Result<Option<T>, TableTrouble> {
        match self.text() {
            "" => Ok(None),
            text => match parse(text) {
                Some(value) => Ok(Some(value)),
                None => Err(self.trouble(format!("`{text}` is not {what}"))),
            },
        }
    }

    /// A square, if the cell is not blank.
    pub(super) fn square(self) -> Result<Option<Square>, TableTrouble> {
        self.parsed("a square", |text| text.parse().ok())
    }

    /// Expected points, if the cell is not blank.
    pub(super) fn points(self) -> Result<Option<Points>, TableTrouble> {
        self.parsed("points of a hundred", |text| {
            let tenths = 10.0 * text.parse::<f64>().ok()?;
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "the line before allows from 0 to 1,000"
            )]
            let whole = (0.0..=1_000.0).contains(&tenths).then(|| tenths.round() as u16);
            Points::of_tenths(whole?)
        })
    }

    /// An evaluation, if the cell is not blank.
    pub(super) fn evaluation(self) -> Result<Option<Evaluation>, TableTrouble> {
        self.parsed("an evaluation", Evaluation::of_text)
    }
}
