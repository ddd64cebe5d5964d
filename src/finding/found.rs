//! All hits of some runs, in columns: what they are chosen and ordered by, and what a list says of each.

use std::sync::OnceLock;

use super::facet::{Facet, UNKNOWN};
use super::names::HeldNames;
use super::order::ListOrder;
use crate::hits::{HitPlace, game_in, id_of};
use crate::mining::GameId;

/// All hits of some runs. A hit is known by its place among them.
#[derive(Debug)]
pub struct FoundHits {
    /// For each facet the code of each hit's value.
    pub(super) codes: [Vec<u16>; Facet::ALL.len()],
    /// For each facet the words of its codes.
    pub(super) words: [Vec<String>; Facet::ALL.len()],
    pub(super) game: Vec<GameId>,
    pub(super) ply: Vec<u16>,
    pub(super) move_number: Vec<u16>,
    /// The move in SAN, a number of [`FoundHits::names`] like the three after it.
    pub(super) san: Vec<u32>,
    pub(super) white: Vec<u32>,
    pub(super) black: Vec<u32>,
    pub(super) event: Vec<u32>,
    /// The date as a number that grows with it; 0 if no year is known.
    pub(super) days: Vec<u32>,
    pub(super) moves_left: Vec<u16>,
    pub(super) cost: Vec<u8>,
    /// The weaker player's rating; 0 unless both are known.
    pub(super) rating: Vec<u16>,
    /// What the ratings predict for the attacker, in hundredths; [`NO_EXPECTED`] unless both are known.
    pub(super) expected: Vec<u8>,
    /// Whether the attacker ended the game with mate.
    pub(super) mates: Vec<bool>,
    /// The less, the more it teaches.
    pub(super) teaching: Vec<u8>,
    /// Where some of the hits stand in the tables, each with its place among all: every hit stands a few rows after one
    /// of them.
    pub(super) marks: Vec<(u32, HitPlace)>,
    pub(super) names: HeldNames,
    pub(super) in_order: [OnceLock<Vec<u32>>; ListOrder::ALL.len()],
}

/// The ratings predict nothing.
pub(super) const NO_EXPECTED: u8 = u8::MAX;

/// A hit as a list tells of it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct FoundHit<'f> {
    /// Its place among all.
    pub place: usize,
    /// What it is known by.
    pub id: String,
    /// Its game and the ply of the offer, which hits of several queries have in common.
    pub offer: (GameId, u16),
    /// The query that found it.
    pub query: &'f str,
    /// White's name; empty if it is not known.
    pub white: &'f str,
    /// Black's name; likewise.
    pub black: &'f str,
    /// The event; likewise.
    pub event: &'f str,
    /// The move in SAN.
    pub san: &'f str,
    /// Its number.
    pub move_number: u16,
    /// What is given up, in pawns.
    pub cost: u8,
    /// The attacker's moves from it to the end of the game.
    pub moves_left: u16,
    /// The weaker player's rating, if both are known.
    pub rating: Option<u16>,
    values: [&'f str; Facet::ALL.len()],
}

impl FoundHit<'_> {
    /// Its value of a facet; nothing if it is not known.
    #[must_use]
    pub fn value(&self, facet: Facet) -> Option<&str> {
        Some(self.values[facet as usize]).filter(|&value| value != UNKNOWN)
    }
}

impl FoundHits {
    /// One hit in this many has its place in the tables kept.
    pub const MARK_EVERY: usize = 64;

    /// How many there are.
    #[must_use]
    pub fn len(&self) -> usize {
        self.game.len()
    }

    /// Whether there is none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.game.is_empty()
    }

    /// What is known of a hit.
    #[must_use]
    pub fn get(&self, place: usize) -> FoundHit<'_> {
        let values = Facet::ALL.map(|facet| self.word(facet, place));
        let (query, san) = (values[Facet::Motif as usize], self.names.get(self.san[place]));
        let is_played = values[Facet::Course as usize] == super::facet::PLAYED;
        let overlooked = (!is_played).then_some(san);
        FoundHit {
            place,
            offer: (self.game[place], self.ply[place]),
            id: id_of(self.game[place], self.ply[place].into(), query, overlooked),
            query,
            white: self.names.get(self.white[place]),
            black: self.names.get(self.black[place]),
            event: self.names.get(self.event[place]),
            san,
            move_number: self.move_number[place],
            cost: self.cost[place],
            moves_left: self.moves_left[place],
            rating: Some(self.rating[place]).filter(|&rating| rating > 0),
            values,
        }
    }

    fn word(&self, facet: Facet, place: usize) -> &str {
        &self.words[facet as usize][usize::from(self.codes[facet as usize][place])]
    }

    /// The place of the hit of an id.
    #[must_use]
    pub fn place_of(&self, id: &str) -> Option<usize> {
        let game = game_in(id)?;
        let of_game = self.game.iter().enumerate().filter(|&(_, &known)| known == game);
        of_game.map(|(place, _)| place).find(|&place| self.get(place).id == id)
    }

    /// A place in the tables of the hit's query from which on it stands within [`FoundHits::MARK_EVERY`] rows, those that
    /// were left out not counted.
    #[must_use]
    pub fn near(&self, place: usize) -> Option<HitPlace> {
        let after = self.marks.partition_point(|&(marked, _)| marked as usize <= place);
        let &(marked, near) = self.marks.get(after.checked_sub(1)?)?;
        let is_same = self.codes[Facet::Motif as usize][marked as usize]
            == self.codes[Facet::Motif as usize][place];
        is_same.then_some(near)
    }

    /// The bytes that the columns and names hold.
    #[must_use]
    pub fn bytes(&self) -> usize {
        const OF_A_HIT: usize = 2 * Facet::ALL.len() + 8 + 2 + 2 + 16 + 4 + 2 + 1 + 2 + 1 + 1 + 1;
        let sorted: usize = self.in_order.iter().filter_map(OnceLock::get).map(Vec::len).sum();
        OF_A_HIT * self.len() + size_of_val(&*self.marks) + 4 * sorted + self.names.bytes()
    }
}
