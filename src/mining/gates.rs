//! The gates in front of the board: a game that can't hold a hit is not replayed.
//!
//! Invariant: a gate only ever says no, or that a game is a candidate; it never says that there is a
//! hit.

use aho_corasick::packed::Searcher;
use shakmaty::{ByColor, Chess, Position, Role, Square};

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

    /// The first gate: whether a capture stands in a game's movetext that some offer may be.
    #[must_use]
    pub fn pass_text(&self, movetext: &[u8]) -> bool {
        self.texts.as_ref().is_none_or(|texts| {
            texts.find_iter(movetext).any(|found| self.wants_capture_at(movetext, found.start()))
        })
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
        self.needs.want_capture(role, to)
    }

    /// The second gate: the indices of the moves of a game that some offer may be; `None` if the gate
    /// stands open. The kings are followed on their way.
    #[must_use]
    pub fn candidate_moves(
        &self,
        game: &RawGame<'_>,
        scan: &Scan,
        start: &Chess,
    ) -> Option<Vec<usize>> {
        if self.is_open {
            return None;
        }
        let mut kings = ByColor::new_with(|color| start.board().king_of(color));
        let mut candidates = Vec::new();
        let mut mover = start.turn();
        for (index, token) in scan.moves.iter().enumerate() {
            if let Some(MoveKind { role, is_capture, to }) =
                MoveKind::of(token.text(game.movetext), mover)
            {
                let wants = |king| self.needs.squares(mover, king, role, is_capture).contains(to);
                if kings[mover.other()].is_some_and(wants) {
                    candidates.push(index);
                }
                if role == Role::King {
                    kings[mover] = Some(to);
                }
            }
            mover = mover.other();
        }
        Some(candidates)
    }
}
