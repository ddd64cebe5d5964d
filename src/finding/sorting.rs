//! Hits put in order.

use std::cmp::Reverse;

use super::found::FoundHits;
use super::order::ListOrder;

impl FoundHits {
    /// All hits in an order; sorted when it is first asked for.
    #[must_use]
    pub fn in_order(&self, order: ListOrder) -> &[u32] {
        self.in_order[order as usize].get_or_init(|| match order {
            ListOrder::Teaching => self.sorted_by_teaching(),
            _ => self.sorted_further(order),
        })
    }

    /// Those that teach best first; among equals, those with the higher ratings, then the shorter ones. One offer of one game
    /// may be the hit of several queries: these stand together.
    fn sorted_by_teaching(&self) -> Vec<u32> {
        // Keys side by side are compared faster than those that have to be fetched.
        let key = |at: usize| {
            let teaches = (self.teaching[at], Reverse(self.rating[at]), self.moves_left[at]);
            (teaches, self.game[at], self.ply[at], u32::try_from(at).unwrap_or(u32::MAX))
        };
        let mut keys: Vec<_> = (0..self.len()).map(key).collect();
        keys.sort_unstable();
        keys.into_iter().map(|(.., at)| at).collect()
    }

    /// By what an order goes by; equals as they teach.
    fn sorted_further(&self, order: ListOrder) -> Vec<u32> {
        let mut all = self.in_order(ListOrder::Teaching).to_vec();
        match order {
            ListOrder::Teaching => {}
            ListOrder::Shortest => all.sort_by_key(|&at| self.moves_left[at as usize]),
            ListOrder::Rating => all.sort_by_key(|&at| Reverse(self.rating[at as usize])),
            ListOrder::Newest => all.sort_by_key(|&at| Reverse(self.days[at as usize])),
        }
        all
    }
}
