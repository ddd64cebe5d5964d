//! How it is known what an offer is worth.

/// How it is known whether an offer is sound; the strongest first.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Evidence {
    /// Every line was played out: mate, perpetual check, stalemate.
    Proved,
    /// An engine searched this many positions.
    Judged,
    /// The game's comments hold evaluations from before and after the offer.
    FromGame,
    /// Material was counted where the search ended.
    Counted,
}

impl Evidence {
    /// All of them, the strongest first.
    pub const ALL: [Evidence; 4] =
        [Evidence::Proved, Evidence::Judged, Evidence::FromGame, Evidence::Counted];

    /// The word for it in tables.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Evidence::Proved => "proved",
            Evidence::Judged => "judged",
            Evidence::FromGame => "from game",
            Evidence::Counted => "counted",
        }
    }

    /// The evidence that has this word.
    pub(super) fn of_word(word: &str) -> Option<Evidence> {
        Evidence::ALL.into_iter().find(|evidence| evidence.word() == word)
    }
}
