//! The gates in front of the board: a game that can't hold a hit is not replayed.
//!
//! Invariant: a gate only ever says no, or that a game is a candidate; it never says that there is a
//! hit.

use aho_corasick::packed::Searcher;
use shakmaty::{Color, Role, Square};

use crate::collection::{MoveKind, Scan};
use crate::query::{Needs, Pattern};

/// The gates for a set of patterns.
#[derive(Debug)]
pub struct Gates {
    needs: Needs,
    /// Finds the texts of which every hit has one; without it every game passes the first gate.
    texts: Option<Searcher>,
    /// Whether the gates stand open: every game and every move is a candidate.
    is_open: bool,
}

/// More texts than this are found in almost every game, so that looking for them does not pay.
const MOST_TEXTS: usize = 24;

impl Gates {
    /// Gates for these patterns; open ones let everything pass.
    #[must_use]
    pub fn new(patterns: &[Pattern], is_open: bool) -> Gates {
        let needs = Needs::of(patterns);
        let texts = needs
            .capture_texts()
            .filter(|texts| !is_open && texts.len() <= MOST_TEXTS)
            .and_then(Searcher::new);
        Gates { needs, texts, is_open }
    }

    /// Whether the gates stand open: every game is replayed to its end.
    #[must_use]
    pub fn are_open(&self) -> bool {
        self.is_open
    }

    /// The first gate: the places in a text at which a move stands that some offer may be. `None` if
    /// the gate stands open.
    #[must_use]
    pub fn candidate_places(&self, text: &[u8]) -> Option<Vec<usize>> {
        let texts = self.texts.as_ref()?;
        let places = texts.find_iter(text).map(|found| found.start());
        Some(places.filter(|&place| self.wants_capture_at(text, place)).collect())
    }

    /// Whether the capture whose `x` stands here is made by a man that some offer is made with.
    fn wants_capture_at(&self, text: &[u8], place: usize) -> bool {
        let Some(to) = text.get(place + 1..place + 3).and_then(|square| Square::from_ascii(square).ok())
        else {
            return false;
        };
        let is_origin = |byte: &&u8| matches!(byte, b'a'..=b'h' | b'1'..=b'8');
        let origin_length = text[..place].iter().rev().take(2).take_while(is_origin).count();
        let role = text[..place - origin_length].last().map_or(Role::Pawn, |&letter| match letter {
            b'N' => Role::Knight,
            b'B' => Role::Bishop,
            b'R' => Role::Rook,
            b'Q' => Role::Queen,
            b'K' => Role::King,
            _ => Role::Pawn,
        });
        Color::ALL.into_iter().any(|color| self.needs.want(color, role, true, to))
    }

    /// The second gate: the indices of the moves that some offer may be, into `candidates`, which is
    /// emptied first.
    pub fn candidate_moves(&self, movetext: &[u8], scan: &Scan, first: Color, candidates: &mut Vec<u16>) {
        candidates.clear();
        let mut color = first;
        for (index, token) in (0_u16..).zip(&scan.moves) {
            if self.is_open || self.wants(color, token.text(movetext)) {
                candidates.push(index);
            }
            color = color.other();
        }
    }

    #[inline]
    fn wants(&self, color: Color, san: &[u8]) -> bool {
        match MoveKind::of(san) {
            Some(MoveKind { role, is_capture, to: Some(to) }) => self.needs.want(color, role, is_capture, to),
            Some(MoveKind { role: Role::King, to: None, .. }) => {
                let home = color.fold_wb(shakmaty::Rank::First, shakmaty::Rank::Eighth);
                [shakmaty::File::C, shakmaty::File::G]
                    .into_iter()
                    .any(|file| self.needs.want(color, Role::King, false, Square::from_coords(file, home)))
            }
            _ => false,
        }
    }
}
