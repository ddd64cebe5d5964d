//! The gates in front of the board: a game that can't hold a hit is not replayed.
//!
//! Invariant: a gate only ever says no, or that a game is a candidate; it never says that there is a
//! hit.

use aho_corasick::packed::Searcher;
use shakmaty::{Color, File, Rank, Role, Square};

use crate::collection::{MoveKind, RawGame, Scan};
use crate::query::{Needs, Pattern};

/// More texts than this are found in almost every game, so that looking for them does not pay.
const MOST_TEXTS: usize = 24;

/// The gates for a set of patterns.
#[derive(Debug)]
pub struct Gates {
    needs: Needs,
    /// Finds the texts of which every hit has one; without it every game passes the first gate.
    texts: Option<Searcher>,
    /// Whether the gates stand open: every game and every move is a candidate.
    is_open: bool,
}

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

    /// The first gate: the places in a game's movetext at which a move stands that some offer may be;
    /// `None` if the gate stands open.
    #[must_use]
    pub fn places(&self, movetext: &[u8]) -> Option<Vec<usize>> {
        let places = self.texts.as_ref()?.find_iter(movetext).map(|found| found.start());
        Some(places.filter(|&place| self.wants_capture_at(movetext, place)).collect())
    }

    /// Whether the capture whose `x` stands here is made by a man that some offer is made with.
    fn wants_capture_at(&self, text: &[u8], place: usize) -> bool {
        let square =
            text.get(place + 1..place + 3).and_then(|square| Square::from_ascii(square).ok());
        let Some(to) = square else { return false };
        let is_origin = |byte: &&u8| matches!(byte, b'a'..=b'h' | b'1'..=b'8');
        let origin_length = text[..place].iter().rev().take(2).take_while(is_origin).count();
        let role = match text[..place - origin_length].last() {
            Some(b'N') => Role::Knight,
            Some(b'B') => Role::Bishop,
            Some(b'R') => Role::Rook,
            Some(b'Q') => Role::Queen,
            Some(b'K') => Role::King,
            _ => Role::Pawn,
        };
        Color::ALL.into_iter().any(|color| self.needs.want(color, role, true, to))
    }

    /// The second gate: the indices of the moves of a game that some offer may be; `None` if the gate
    /// stands open. `places` are those that the first gate found in its movetext, if it looked.
    #[must_use]
    pub fn candidate_moves(
        &self,
        game: &RawGame<'_>,
        scan: &Scan,
        first: Color,
        places: Option<&[usize]>,
    ) -> Option<Vec<usize>> {
        if self.is_open {
            return None;
        }
        let wants = |&index: &usize| {
            let color = if index.is_multiple_of(2) { first } else { first.other() };
            self.wants(color, scan.moves[index].text(game.movetext))
        };
        let move_at = |&place: &usize| scan.move_at(place);
        Some(match places {
            None => (0..scan.moves.len()).filter(wants).collect(),
            Some(places) => places.iter().filter_map(move_at).filter(wants).collect(),
        })
    }

    #[inline]
    fn wants(&self, color: Color, san: &[u8]) -> bool {
        match MoveKind::of(san) {
            Some(MoveKind { role, is_capture, to: Some(to) }) => {
                self.needs.want(color, role, is_capture, to)
            }
            Some(MoveKind { role, to: None, .. }) => {
                let home = color.fold_wb(Rank::First, Rank::Eighth);
                [File::C, File::G].into_iter().any(|file| {
                    self.needs.want(color, role, false, Square::from_coords(file, home))
                })
            }
            None => false,
        }
    }
}
