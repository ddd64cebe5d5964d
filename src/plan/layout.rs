//! How a sheet is laid out on paper.

use std::str::FromStr;

/// How a sheet is laid out on paper.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct SheetLayout {
    /// How many diagrams a page has; as many as fit if it is not said.
    pub per_page: Option<PerPage>,
    /// Whether it is in large print.
    pub is_large: bool,
    /// What a PDF is set for.
    pub paper: Paper,
}

/// A size of paper.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, clap::ValueEnum)]
pub enum Paper {
    /// 210 by 297 millimetres (ISO 216).
    #[default]
    A4,
    /// 8.5 by 11 inches (ANSI/ASME Y14.1, size A).
    Letter,
}

impl Paper {
    /// Its word in a plan.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Paper::A4 => "a4",
            Paper::Letter => "letter",
        }
    }

    /// What the typesetter calls it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Paper::A4 => "a4",
            Paper::Letter => "us-letter",
        }
    }
}

/// How many diagrams a page has.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct PerPage {
    columns: usize,
    rows: usize,
}

/// There is no layout for this many diagrams.
#[derive(Clone, Copy, PartialEq, Eq, Debug, thiserror::Error)]
#[error("expected one of {}", PerPage::numbers())]
pub struct NoSuchLayout;

impl PerPage {
    /// The layouts, columns and rows, that leave diagrams large and fill an upright page.
    const ALL: [PerPage; 6] = [
        PerPage::of(1, 1),
        PerPage::of(1, 2),
        PerPage::of(2, 2),
        PerPage::of(2, 3),
        PerPage::of(3, 3),
        PerPage::of(3, 4),
    ];

    const fn of(columns: usize, rows: usize) -> PerPage {
        PerPage { columns, rows }
    }

    /// How many diagrams.
    #[must_use]
    pub const fn count(self) -> usize {
        self.columns * self.rows
    }

    /// How many beside each other.
    #[must_use]
    pub const fn columns(self) -> usize {
        self.columns
    }

    /// How many below each other.
    #[must_use]
    pub const fn rows(self) -> usize {
        self.rows
    }

    fn numbers() -> String {
        PerPage::ALL.map(|one| one.count().to_string()).join(", ")
    }
}

impl FromStr for PerPage {
    type Err = NoSuchLayout;

    fn from_str(text: &str) -> Result<PerPage, NoSuchLayout> {
        let count: usize = text.parse().map_err(|_| NoSuchLayout)?;
        PerPage::ALL.into_iter().find(|one| one.count() == count).ok_or(NoSuchLayout)
    }
}

impl SheetLayout {
    /// How many diagrams a page has: what was asked for, or two in large print.
    #[must_use]
    pub fn per_page(self) -> Option<PerPage> {
        let large = self.is_large.then_some(PerPage::of(1, 2));
        self.per_page.or(large)
    }
}
