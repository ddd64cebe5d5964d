//! The hits that several runs hold, where their collections have games in common.
//!
//! The tables do not hold whole games. Two hits are one offer in one game if the positions before it, the
//! moves from there on as far as the tables go, and the lengths of the games are the same, and nothing in the
//! players, dates and rounds speaks against it, as for games within a run.
//!
//! Invariant: what is remembered is bounded.

use std::collections::HashMap;
use std::hash::Hasher;

use twox_hash::XxHash3_64;

use super::judged_hit::JudgedHit;
use crate::mining::Identity;

/// How many hits are remembered, at 41 bytes in a table of 2 million places; and how many of the same
/// moves. A copy of a hit that came after that is counted again.
const MOST_REMEMBERED: usize = 1_800_000;
const MOST_OF_SAME_MOVES: u16 = 1_000;

/// The hits of a query in the runs that were read before.
#[derive(Default)]
pub(super) struct Overlap {
    /// By their moves and by which of the hits with these moves they are: whose game it is, and the run.
    known: HashMap<(u64, u16), (Identity, u16)>,
    /// The run that is being read.
    run: u16,
    /// Whether hits were not remembered, for lack of room.
    pub(super) is_full: bool,
}

impl Overlap {
    /// Starts with the next run.
    pub(super) fn next_run(&mut self) {
        self.run = self.run.saturating_add(1);
    }

    /// Whether an earlier run holds a hit of this one's, too. If not, it is remembered, unless `is_last`
    /// says that no run comes after this one.
    pub(super) fn holds(&mut self, hit: &JudgedHit, is_last: bool) -> bool {
        let (moves, identity) = (moves(hit), Identity::of(&hit.game));
        for place in 0..MOST_OF_SAME_MOVES {
            let Some(&(known, run)) = self.known.get(&(moves, place)) else {
                if !is_last {
                    self.remember((moves, place), identity);
                }
                return false;
            };
            // Copies within a run are there because they were asked for. They come after those of earlier
            // runs.
            match run == self.run {
                true if known == identity => return false,
                false if known.is_compatible(identity) => return true,
                _ => {}
            }
        }
        self.is_full = true;
        false
    }

    fn remember(&mut self, place: (u64, u16), identity: Identity) {
        if self.known.len() == MOST_REMEMBERED {
            self.is_full = true;
        } else {
            self.known.insert(place, (identity, self.run));
        }
    }
}

/// The offer and the moves around it in short: equal for equal ones, and almost never else.
fn moves(hit: &JudgedHit) -> u64 {
    let offer = &hit.offer;
    let mut hash = XxHash3_64::new();
    for text in [&offer.fen, &offer.san, &offer.line] {
        hash.write(text.as_bytes());
        hash.write_u8(0);
    }
    hash.write_u64(hit.game.plies as u64);
    hash.write_u64(offer.ply as u64);
    hash.write_u8(u8::from(hit.is_played()));
    hash.finish()
}
