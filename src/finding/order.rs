//! In which order hits are shown.

/// In which order hits are shown.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub enum ListOrder {
    /// Those first that teach best.
    #[default]
    Teaching,
    /// Those first that end soonest after the offer.
    Shortest,
    /// Those first whose weaker player is rated highest.
    Rating,
    /// The newest first.
    Newest,
}

impl ListOrder {
    /// Every order.
    pub const ALL: [ListOrder; 4] =
        [ListOrder::Teaching, ListOrder::Shortest, ListOrder::Rating, ListOrder::Newest];

    /// The word for it in addresses.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            ListOrder::Teaching => "teaching",
            ListOrder::Shortest => "shortest",
            ListOrder::Rating => "rating",
            ListOrder::Newest => "newest",
        }
    }

    /// The order that a word stands for.
    #[must_use]
    pub fn of_word(word: &str) -> Option<ListOrder> {
        ListOrder::ALL.into_iter().find(|order| order.word() == word)
    }
}
