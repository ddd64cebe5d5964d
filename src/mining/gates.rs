//! The gates in front of the board: a game that can't hold a hit is not replayed.
//!
//! Invariant: a gate only ever says no, or that a game is a candidate; it never says that there is a
//! hit.

use aho_corasick::packed::Searcher;
use shakmaty::{Chess, Color, Move, Position, Role, Square};

use super::matcher::{GameStep, Offer};
use super::prospects::{Expectations, Prospects};
use super::sweep::{Sweep, sweeps};
use super::trail::Trail;
use crate::collection::{MoveKind, RawGame, Scan};
use crate::query::{Index, Lens, LensId, Needs, Pattern};

/// More texts than this are found in almost every game, so that looking for them does not pay.
const MOST_TEXTS: usize = 24;

/// The gates for a set of patterns.
#[derive(Debug)]
pub struct Gates<'p> {
    patterns: &'p [Pattern],
    index: Index,
    needs: Needs,
    /// Finds the texts of which every hit has one; without it every game passes the first gate.
    texts: Option<Searcher>,
    /// What must come after an offer.
    expectations: Expectations,
    /// The queries that no gate can stop.
    sweep: Sweep,
    /// Whether the gates stand open: every game and every move is a candidate.
    is_open: bool,
}

impl<'p> Gates<'p> {
    /// Gates for these patterns; open ones let everything pass.
    #[must_use]
    pub fn new(patterns: &'p [Pattern], is_open: bool) -> Gates<'p> {
        let is_gated = |pattern: &Pattern| !sweeps(pattern);
        let needs = Needs::of(patterns.iter().filter(|pattern| is_gated(pattern)));
        let sweep = Sweep::of(patterns);
        let texts = needs
            .capture_texts()
            .filter(|texts| !is_open && sweep.is_empty() && texts.len() <= MOST_TEXTS)
            .and_then(Searcher::new);
        let index = Index::of(patterns, is_gated);
        let expectations = Expectations::of(patterns);
        Gates { patterns, index, needs, texts, expectations, sweep, is_open }
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

    /// The lenses that look at a move of this attacker.
    #[must_use]
    pub fn lenses(&self, attacker: Color, m: Move) -> &[LensId] {
        self.index.lenses(attacker, m)
    }

    /// Whether some query looks at every move of every game.
    #[must_use]
    pub fn want_every_move(&self) -> bool {
        !self.sweep.is_empty()
    }

    /// The lenses that look at every move and of which this one is an offer.
    pub(super) fn swept<'s>(&'s self, step: &'s GameStep<'_>) -> impl Iterator<Item = LensId> + 's {
        self.sweep.offers(self.patterns, step)
    }

    /// The second gate: the offers that a game may hold by its movetext, in playing order; `None` if the
    /// gate stands open. The game is walked through twice: from its end, for what can still come, and from its start, with
    /// the men on their trail.
    pub(super) fn candidates(
        &self,
        game: &RawGame<'_>,
        scan: &Scan,
        start: &Chess,
    ) -> Option<Vec<Offer>> {
        if self.is_open {
            return None;
        }
        let moves = kinds_of(game, scan, start.turn());
        let mut hopeful = self.hopeful(&moves);
        let mut trail = Trail::of(start);
        let mut candidates = Vec::new();
        for (index, &(mover, kind)) in moves.iter().enumerate() {
            let Some(kind) = kind else { continue };
            while let Some(offer) = hopeful.pop_if(|offer| offer.index == index) {
                if trail.allows(self.lens(offer.seen), kind) {
                    candidates.push(offer);
                }
            }
            trail.follow(mover, kind, scan.moves[index].text(game.movetext));
        }
        Some(candidates)
    }

    /// The moves of a game that may be offers by men and squares and by what comes after them, the last one first.
    fn hopeful(&self, moves: &[(Color, Option<MoveKind>)]) -> Vec<Offer> {
        let mut prospects = Prospects::new(&self.expectations);
        let mut hopeful = Vec::new();
        for (index, &(mover, kind)) in moves.iter().enumerate().rev() {
            if let Some(MoveKind { role, is_capture, to }) = kind {
                let lenses = self.index.lenses_of(mover, is_capture, role, to).iter().rev();
                let lenses = lenses.filter(|id| prospects.allow(**id, index));
                hopeful.extend(lenses.map(|&seen| Offer { seen, index }));
            }
            prospects.pass(index, kind, mover, index + 1 == moves.len());
        }
        hopeful
    }

    fn lens(&self, id: LensId) -> &Lens {
        &self.patterns[id.query].lenses[id.lens]
    }
}

/// Who makes each of a game's moves, and its kind, if its text tells it.
fn kinds_of(game: &RawGame<'_>, scan: &Scan, first: Color) -> Vec<(Color, Option<MoveKind>)> {
    let movers = [first, first.other()].into_iter().cycle();
    let texts = scan.moves.iter().map(|token| token.text(game.movetext));
    movers.zip(texts).map(|(mover, san)| (mover, MoveKind::of(san, mover))).collect()
}
