//! In which order hits are shown.

use std::cmp::Reverse;

use super::found::FoundHits;

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

    /// All hits in this order; among equals those that teach best, then those that come first in the tables.
    pub(super) fn sorted(self, found: &FoundHits) -> Vec<u32> {
        let mut all: Vec<u32> = (0..found.len() as u32).collect();
        let rating = |at: usize| Reverse(found.rating[at]);
        let date = |at: usize| Reverse(found.days[at]);
        let teaching = |at: usize| (found.teaching[at], rating(at), found.moves_left[at], at);
        let at = |number: &u32| *number as usize;
        match self {
            ListOrder::Teaching => all.sort_unstable_by_key(|it| teaching(at(it))),
            ListOrder::Shortest => {
                all.sort_unstable_by_key(|it| (found.moves_left[at(it)], teaching(at(it))));
            }
            ListOrder::Rating => all.sort_unstable_by_key(|it| (rating(at(it)), teaching(at(it)))),
            ListOrder::Newest => all.sort_unstable_by_key(|it| (date(at(it)), teaching(at(it)))),
        }
        all
    }
}
