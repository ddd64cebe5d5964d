//! Hits put in order.

use std::cmp::Reverse;

use super::found::FoundHits;
use super::order::ListOrder;

impl FoundHits {
    /// All hits in an order; sorted when it is first asked for.
    #[must_use]
    pub fn in_order(&self, order: ListOrder) -> &[u32] {
        self.in_order[order as usize].get_or_init(|| sorted(order, self))
    }
}

/// All hits in an order; among equals those that teach best, then those that come first in the tables.
fn sorted(order: ListOrder, found: &FoundHits) -> Vec<u32> {
    let mut all: Vec<u32> = (0..found.len() as u32).collect();
    let rating = |at: usize| Reverse(found.rating[at]);
    let date = |at: usize| Reverse(found.days[at]);
    // One offer of one game may be the hit of several queries: these stand together.
    let offer = |at: usize| (found.game[at], found.ply[at], at);
    let teaching = |at: usize| (found.teaching[at], rating(at), found.moves_left[at], offer(at));
    let at = |number: &u32| *number as usize;
    match order {
        ListOrder::Teaching => all.sort_unstable_by_key(|it| teaching(at(it))),
        ListOrder::Shortest => {
            all.sort_unstable_by_key(|it| (found.moves_left[at(it)], teaching(at(it))));
        }
        ListOrder::Rating => all.sort_unstable_by_key(|it| (rating(at(it)), teaching(at(it)))),
        ListOrder::Newest => all.sort_unstable_by_key(|it| (date(at(it)), teaching(at(it)))),
    }
    all
}
