//! One value of a row, and what a column holds.

use std::borrow::Cow;

use serde::Serialize;

/// A column of a table.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Column {
    /// Its name.
    pub name: String,
    /// What its cells hold.
    pub kind: Kind,
    /// What that means.
    pub meaning: Meaning,
}

/// What the cells of a column mean.
#[derive(Clone, PartialEq, Eq, Default, Debug, Serialize)]
pub struct Meaning {
    /// What they are counted in, or the notation they are in; empty if neither.
    pub unit: String,
    /// What they tell.
    pub meaning: String,
    /// What a blank cell tells, or `never` if there is none.
    pub blank: String,
}

/// What the cells of a column hold, if they are not blank.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Kind {
    /// Words.
    Text,
    /// Whole numbers.
    Integer,
    /// Numbers in hundredths.
    Hundredths,
    /// Numbers in hundredths, and words where there is no number. Where a column has one type, it is text.
    Mixed,
    /// True or false.
    Truth,
}

impl Kind {
    /// The word for it in the dictionary of the tables.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Kind::Text | Kind::Mixed => "text",
            Kind::Integer => "integer",
            Kind::Hundredths => "decimal",
            Kind::Truth => "true or false",
        }
    }
}

/// One value of a row.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Cell<'t> {
    /// No value.
    Blank,
    /// Words.
    Text(Cow<'t, str>),
    /// A whole number.
    Integer(i64),
    /// A number in hundredths.
    Hundredths(i64),
    /// True or false.
    Truth(bool),
}

impl<'t> Cell<'t> {
    /// The cell of a column of this kind that has this text; `None` if it can't have it.
    #[must_use]
    pub fn of_text(kind: Kind, text: &'t str) -> Option<Cell<'t>> {
        if text.is_empty() {
            return Some(Cell::Blank);
        }
        Some(match kind {
            Kind::Text => Cell::Text(text.into()),
            Kind::Integer => Cell::Integer(text.parse().ok()?),
            Kind::Hundredths => Cell::Hundredths(hundredths(text)?),
            Kind::Mixed => hundredths(text).map_or(Cell::Text(text.into()), Cell::Hundredths),
            Kind::Truth => Cell::Truth(text.parse().ok()?),
        })
    }
}

impl Cell<'_> {
    /// Its text as a table holds it; empty if it is blank.
    #[must_use]
    pub fn text(&self) -> Cow<'_, str> {
        match self {
            Cell::Blank => "".into(),
            Cell::Text(text) => Cow::Borrowed(text),
            Cell::Integer(number) => number.to_string().into(),
            Cell::Hundredths(number) => shortest(*number).into(),
            Cell::Truth(truth) => truth.to_string().into(),
        }
    }

    /// The same cell with a text of its own.
    #[must_use]
    pub fn into_owned(self) -> Cell<'static> {
        match self {
            Cell::Blank => Cell::Blank,
            Cell::Text(text) => Cell::Text(text.into_owned().into()),
            Cell::Integer(number) => Cell::Integer(number),
            Cell::Hundredths(number) => Cell::Hundredths(number),
            Cell::Truth(truth) => Cell::Truth(truth),
        }
    }
}

impl<'t> From<&'t str> for Cell<'t> {
    fn from(text: &'t str) -> Cell<'t> {
        if text.is_empty() { Cell::Blank } else { Cell::Text(text.into()) }
    }
}

impl From<String> for Cell<'_> {
    fn from(text: String) -> Self {
        if text.is_empty() { Cell::Blank } else { Cell::Text(text.into()) }
    }
}

impl From<bool> for Cell<'_> {
    fn from(truth: bool) -> Self {
        Cell::Truth(truth)
    }
}

macro_rules! integer_cells {
    ($($kind:ty),*) => {$(
        impl From<$kind> for Cell<'_> {
            fn from(number: $kind) -> Self {
                i64::try_from(number).map_or(Cell::Blank, Cell::Integer)
            }
        }
    )*};
}

integer_cells!(u16, u32, u64, usize, i32);

impl<'t, T: Into<Cell<'t>>> From<Option<T>> for Cell<'t> {
    fn from(value: Option<T>) -> Cell<'t> {
        value.map_or(Cell::Blank, Into::into)
    }
}

/// A number in hundredths in its shortest form: `0.5`, `1`, `-0.25`.
pub(super) fn shortest(hundredths: i64) -> String {
    let sign = if hundredths < 0 { "-" } else { "" };
    let (whole, part) = (hundredths.abs() / 100, hundredths.abs() % 100);
    match part {
        0 => format!("{sign}{whole}"),
        part if part % 10 == 0 => format!("{sign}{whole}.{}", part / 10),
        part => format!("{sign}{whole}.{part:02}"),
    }
}

/// The hundredths of a number, which has no finer part.
fn hundredths(text: &str) -> Option<i64> {
    let number: f64 = text.parse().ok()?;
    let whole = (100.0 * number).round();
    #[expect(
        clippy::cast_possible_truncation,
        reason = "the bounds allow whole numbers below 2^53"
    )]
    (whole.abs() < 9e15).then_some(whole as i64)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_are_read_as_they_are_written() {
        let texts = [Cell::Blank, Cell::Text("a, \"b\"".into()), Cell::Text("-1".into())];
        for cell in texts {
            assert_eq!(Cell::of_text(Kind::Text, &cell.text()), Some(cell.clone()));
        }
        for number in (-250..250).chain([9_999, 10_000, -123_456]) {
            let cell = Cell::Hundredths(number);
            assert_eq!(Cell::of_text(Kind::Hundredths, &cell.text()), Some(cell.clone()));
            assert_eq!(Cell::of_text(Kind::Mixed, &cell.text()), Some(cell.clone()));
            let cell = Cell::Integer(number);
            assert_eq!(Cell::of_text(Kind::Integer, &cell.text()), Some(cell.clone()));
        }
        assert_eq!(Cell::of_text(Kind::Mixed, "#-3"), Some(Cell::Text("#-3".into())));
        assert_eq!(Cell::of_text(Kind::Truth, "true"), Some(Cell::Truth(true)));
        for kind in [Kind::Integer, Kind::Hundredths, Kind::Truth] {
            assert_eq!(Cell::of_text(kind, "x"), None);
        }
    }
}
