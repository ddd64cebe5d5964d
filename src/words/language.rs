//! The languages there are.

use crate::board::PieceLetters;

/// A language of pages and sheets.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, clap::ValueEnum)]
pub enum Language {
    /// English
    #[default]
    #[value(name = "en")]
    English,
    /// German
    #[value(name = "de")]
    German,
    /// Spanish
    #[value(name = "es")]
    Spanish,
    /// French
    #[value(name = "fr")]
    French,
}

impl Language {
    /// All of them, the source first.
    pub const ALL: [Language; 4] =
        [Language::English, Language::German, Language::Spanish, Language::French];

    /// Its code (ISO 639-1), as options, plans and pages have it.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Language::English => "en",
            Language::German => "de",
            Language::Spanish => "es",
            Language::French => "fr",
        }
    }

    /// The letters of the men in its moves.
    #[must_use]
    pub const fn letters(self) -> PieceLetters {
        match self {
            Language::English => PieceLetters::English,
            Language::German => PieceLetters::German,
            Language::Spanish => PieceLetters::Spanish,
            Language::French => PieceLetters::French,
        }
    }

    /// The text of its catalogue.
    pub(super) const fn catalogue(self) -> &'static str {
        match self {
            Language::English => include_str!("catalogues/en.ftl"),
            Language::German => include_str!("catalogues/de.ftl"),
            Language::Spanish => include_str!("catalogues/es.ftl"),
            Language::French => include_str!("catalogues/fr.ftl"),
        }
    }
}
