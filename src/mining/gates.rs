//! The gates in front of the board: a game that can't hold a hit is not replayed.
//!
//! Invariant: a gate only ever says no, or that a game is a candidate; it never says that there is a
//! hit.

use aho_corasick::packed::Searcher;
use shakmaty::{Chess, Color, Position, Role, Square};

use super::lens_sets::{LensSets, is_empty, keep, retain};
use super::prospects::{Expectations, Prospects};
use super::roster::Roster;
use super::trail::Trail;
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
    /// What must come after an offer.
    expectations: Expectations,
    /// Whether the gates stand open: every game and every move is a candidate.
    is_open: bool,
}

/// The lenses whose offers the moves of a game may be by its movetext, a set for each move.
pub(super) struct Candidates {
    sets: LensSets,
    /// How many moves there are up to the last one that may be an offer.
    pub(super) end: usize,
}

impl Candidates {
    /// The lenses whose offer the move at an index may be.
    pub(super) fn of(&self, index: usize) -> &[u64] {
        self.sets.row(index)
    }
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
        Gates { needs, texts, expectations: Expectations::of(patterns), is_open }
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

    /// The second gate: what the moves of a game may be by its movetext; `None` if the gate stands open. The
    /// game is walked through twice: from its end, for what can still come, and from its start, with the men on
    /// their trail.
    pub(super) fn candidates(
        &self,
        roster: &Roster<'_>,
        game: &RawGame<'_>,
        scan: &Scan,
        start: &Chess,
    ) -> Option<Candidates> {
        if self.is_open {
            return None;
        }
        let moves = kinds_of(game, scan, start.turn());
        let mut sets = self.hopeful(roster, &moves);
        let (mut trail, mut end) = (Trail::of(start), 0);
        for (index, &(mover, kind)) in moves.iter().enumerate() {
            let Some(kind) = kind else { continue };
            let lenses = sets.row_mut(index);
            match trail.king(mover.other()) {
                Some(king) => keep(lenses, roster.with_king(mover, king)),
                None => lenses.fill(0),
            }
            let allows = |number| trail.allows(roster.member(number).lens, kind);
            retain(lenses, roster.tell_more(), allows);
            if !is_empty(lenses) {
                end = index + 1;
            }
            trail.follow(mover, kind, scan.moves[index].text(game.movetext));
        }
        Some(Candidates { sets, end })
    }

    /// What the moves of a game may be by men and squares and by what comes after them.
    fn hopeful(&self, roster: &Roster<'_>, moves: &[(Color, Option<MoveKind>)]) -> LensSets {
        let mut prospects = Prospects::new(&self.expectations);
        let mut sets = LensSets::new(moves.len(), roster.len());
        for (index, &(mover, kind)) in moves.iter().enumerate().rev() {
            if let Some(MoveKind { role, is_capture, to }) = kind {
                let lenses = sets.row_mut(index);
                lenses.copy_from_slice(roster.meaning(mover, is_capture, role, to));
                retain(lenses, self.expectations.demanding(), |lens| prospects.allow(lens, index));
            }
            prospects.pass(index, kind, mover, index + 1 == moves.len());
        }
        sets
    }
}

/// Who makes each of a game's moves, and its kind, if its text tells it.
fn kinds_of(game: &RawGame<'_>, scan: &Scan, first: Color) -> Vec<(Color, Option<MoveKind>)> {
    let movers = [first, first.other()].into_iter().cycle();
    let texts = scan.moves.iter().map(|token| token.text(game.movetext));
    movers.zip(texts).map(|(mover, san)| (mover, MoveKind::of(san, mover))).collect()
}
