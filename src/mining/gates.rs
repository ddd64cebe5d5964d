//! The gates in front of the board: a game that can't hold a hit is not replayed.
//!
//! Invariant: a gate only ever says no, or that a game is a candidate; it never says that there is a
//! hit.

use aho_corasick::packed::Searcher;
use shakmaty::{Bitboard, Chess, Color, Position, Role, Square};

use super::lens_sets::{LensSets, insert, is_empty, keep, no_lenses, retain};
use super::matcher::{GameStep, Offer};
use super::prospects::{Expectations, Prospects};
use super::roster::{Inquiry, Roster};
use super::trail::Trail;
use crate::collection::{MoveKind, RawGame, Scan};
use crate::query::{Lens, Needs, Pattern, Squares};

/// More texts than this are found in almost every game, so that looking for them does not pay.
const MOST_TEXTS: usize = 24;

/// The gates for a set of patterns.
#[derive(Debug)]
pub(super) struct Gates {
    needs: Needs,
    /// Finds the texts of which every hit has one; without it every game passes the first gate.
    texts: Option<Searcher>,
    /// What must come after an offer.
    expectations: Expectations,
    /// The lenses that require something to come.
    demanding: Vec<u64>,
    /// Whether the gates stand open: every game and every move is a candidate.
    is_open: bool,
    /// Whether almost every game has a move that some lens looks at, so that there is nothing to be gained.
    is_idle: bool,
}

/// The lenses whose offers the moves of a game may be by its movetext, a set for each move.
pub(super) struct MoveLenses {
    sets: LensSets,
    /// How many moves there are up to the last one that may be an offer.
    pub(super) end: usize,
}

impl MoveLenses {
    /// The lenses whose offer the move at an index may be.
    pub(super) fn of(&self, index: usize) -> &[u64] {
        self.sets.row(index)
    }
}

impl Gates {
    /// Gates for the patterns of a roster; open ones let everything pass.
    pub(super) fn new(patterns: &[Pattern], roster: &Roster<'_>, is_open: bool) -> Gates {
        let needs = Needs::of(patterns);
        let texts = needs
            .capture_texts()
            .filter(|texts| !is_open && texts.len() <= MOST_TEXTS)
            .and_then(Searcher::new);
        let expectations = Expectations::of(patterns);
        let lenses = || (0..roster.len()).map(|number| (number, roster.member(number)));
        let mut demanding = no_lenses(roster.len());
        let demand = lenses().filter(|(_, member)| expectations.demand(member.id));
        demand.for_each(|(number, _)| insert(&mut demanding, number));
        let is_idle =
            lenses().any(|(_, it)| looks_everywhere(it.lens) && !expectations.demand(it.id));
        Gates { needs, texts, expectations, demanding, is_open, is_idle }
    }

    /// Whether every move of every game is a candidate.
    fn pass_all(&self) -> bool {
        self.is_open || self.is_idle
    }

    /// The first gate: whether a capture stands in a game's movetext that some offer may be.
    pub(super) fn pass_text(&self, movetext: &[u8]) -> bool {
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

    /// The second gate: what the moves of a game may be by its movetext; `None` if everything passes. The game
    /// is walked through twice: from its start, with the men on their trail, and from its end, for what can still
    /// come.
    pub(super) fn candidates(
        &self,
        roster: &Roster<'_>,
        game: &RawGame<'_>,
        scan: &Scan,
        start: &Chess,
    ) -> Option<MoveLenses> {
        if self.pass_all() {
            return None;
        }
        let moves = kinds_of(game, scan, start.turn());
        let mut sets = LensSets::new(moves.len(), roster.len());
        let mut trail = Trail::of(start);
        for (index, &(mover, kind)) in moves.iter().enumerate() {
            let Some(kind) = kind else { continue };
            if let Some(king) = trail.king(mover.other()) {
                let lenses = sets.row_mut(index);
                lenses.copy_from_slice(roster.with_king(mover, king));
                keep(lenses, roster.meaning(mover, kind.is_capture, kind.role, kind.to));
                let allows = |number| trail.allows(roster.member(number).lens, kind);
                retain(lenses, roster.tell_more(), allows);
            }
            trail.follow(mover, kind, scan.moves[index].text(game.movetext));
        }
        let mut end = 0;
        self.walk_back(&moves, |index, prospects| {
            let lenses = sets.row_mut(index);
            retain(lenses, &self.demanding, |lens| prospects.allow(roster.member(lens).id, index));
            if end == 0 && !is_empty(lenses) {
                end = index + 1;
            }
        });
        Some(MoveLenses { sets, end })
    }

    /// Leaves only lenses for which the defender's king may stand where it stands. Gates that are open leave all.
    pub(super) fn keep_kings(
        &self,
        roster: &Roster<'_>,
        step: &GameStep<'_>,
        inquiry: &mut Inquiry,
    ) {
        let attacker = step.before.turn();
        let king = step.before.board().king_of(attacker.other()).filter(|_| !self.is_open);
        if let Some(king) = king {
            inquiry.keep(roster.with_king(attacker, king));
        }
    }

    /// Strikes those of a game's offers of which something is required that can't come by the movetext. The gates
    /// that are open strike none.
    pub(super) fn strike_hopeless(
        &self,
        game: &RawGame<'_>,
        scan: &Scan,
        first: Color,
        offers: &mut Vec<Offer>,
    ) {
        let demand = |offer: &Offer| self.expectations.demand(offer.seen);
        if self.is_open || !offers.iter().any(demand) {
            return;
        }
        let moves = kinds_of(game, scan, first);
        let mut left = offers.len();
        let mut hopeless: Vec<usize> = Vec::new();
        self.walk_back(&moves, |index, prospects| {
            while let Some(place) = left.checked_sub(1).filter(|&at| offers[at].index == index) {
                left = place;
                if !prospects.allow(offers[place].seen, index) {
                    hopeless.push(place);
                }
            }
        });
        for place in hopeless {
            offers.remove(place);
        }
    }

    /// Walks back through a game's moves and answers, at each, with what may come after it.
    fn walk_back(
        &self,
        moves: &[(Color, Option<MoveKind>)],
        mut at: impl FnMut(usize, &Prospects<'_>),
    ) {
        let mut prospects = Prospects::new(&self.expectations);
        for (index, &(mover, kind)) in moves.iter().enumerate().rev() {
            at(index, &prospects);
            prospects.pass(index, kind, mover, index + 1 == moves.len());
        }
    }
}

/// Whether a lens looks at every move, or every capture or quiet move, of some man, wherever the men stand.
fn looks_everywhere(lens: &Lens) -> bool {
    let has_all = |is_capture| lens.offer.targets(is_capture) == Squares::ALL;
    (has_all(false) || has_all(true))
        && lens.king_squares == Bitboard::FULL
        && lens.stand.is_empty()
}

/// Who makes each of a game's moves, and its kind, if its text tells it.
fn kinds_of(game: &RawGame<'_>, scan: &Scan, first: Color) -> Vec<(Color, Option<MoveKind>)> {
    let movers = [first, first.other()].into_iter().cycle();
    let texts = scan.moves.iter().map(|token| token.text(game.movetext));
    movers.zip(texts).map(|(mover, san)| (mover, MoveKind::of(san, mover))).collect()
}
