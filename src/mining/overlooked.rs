//! Offers that could have been made and were not.
//!
//! Looks at every position of a game for legal moves that fit a query's offer and its conditions and
//! give something up. A chance is reported once for each query, side and square of the offer: when it first
//! came, and how long it stayed. If the offer was made later in the game, it was not overlooked.

use shakmaty::{Bitboard, Chess, Color, Move, Position, Role, Square, attacks};

use super::lens_sets::{insert, no_lenses};
use super::matcher::{GameStep, Offer};
use super::roster::{Inquiry, Member, Roster};
use crate::board::{Men, captures_on, destination, has_safe_king, played, pushes};
use crate::query::{LensId, Needs, Pattern};

/// An offer that could have been made.
#[derive(Clone, Copy, Debug)]
pub(super) struct Chance {
    /// Which query and lens it fits, and the index of the position in which it came first.
    pub(super) offer: Offer,
    /// The move.
    pub(super) m: Move,
    attacker: Color,
    /// The index of the last position in a row in which it was still there.
    last: usize,
}

impl Chance {
    /// For how many plies it stayed, the first included.
    pub(super) fn stayed(&self) -> usize {
        self.last - self.offer.index + 1
    }

    /// Whether two chances are of one move and stayed equally long.
    pub(super) fn is_same_move(&self, other: &Chance) -> bool {
        (self.offer.index, self.m, self.last) == (other.offer.index, other.m, other.last)
    }

    /// What makes two chances one: the query, the side and the square.
    fn key(&self) -> (usize, Color, Square) {
        (self.offer.seen.query, self.attacker, destination(self.m))
    }
}

/// What was seen in one game.
#[derive(Debug, Default)]
pub(super) struct Sightings {
    chances: Vec<Chance>,
    /// The queries, sides and squares of the offers that were made.
    made: Vec<(usize, Color, Square)>,
}

impl Sightings {
    /// The chances that were never taken, in the order in which they came.
    pub(super) fn untaken(mut self) -> Vec<Chance> {
        let made = self.made;
        self.chances.retain(|chance| !made.contains(&chance.key()));
        self.chances
    }

    fn note(&mut self, offer: Offer, attacker: Color, m: Move) {
        let Offer { seen, index } = offer;
        let key = (seen.query, attacker, destination(m));
        match self.chances.iter_mut().find(|chance| chance.key() == key) {
            None => self.chances.push(Chance { offer, m, attacker, last: index }),
            Some(chance) if chance.last + 2 == index => chance.last = index,
            Some(_) => {}
        }
    }
}

/// Looks for offers that were overlooked.
#[derive(Debug)]
pub(super) struct Lookout {
    /// The lenses whose offers name squares, like the needs.
    lenses: Vec<u64>,
    needs: Needs,
}

impl Lookout {
    /// A lookout for the patterns of a roster.
    pub(super) fn new(patterns: &[Pattern], roster: &Roster<'_>) -> Lookout {
        let mut lenses = no_lenses(roster.len());
        for number in 0..roster.len() {
            if names_squares(&patterns[roster.member(number).id.query]) {
                insert(&mut lenses, number);
            }
        }
        let needs = Needs::of(patterns.iter().filter(|pattern| names_squares(pattern)));
        Lookout { lenses, needs }
    }

    /// Looks at the position at an index of a game, in which a move was played.
    pub(super) fn look(
        &self,
        roster: &Roster<'_>,
        index: usize,
        pos: &Chess,
        made: Move,
        inquiry: &mut Inquiry,
        seen: &mut Sightings,
    ) {
        let attacker = pos.turn();
        let Some(king) = pos.board().king_of(attacker.other()) else { return };
        inquiry.turn();
        self.each_move(pos, king, |m| {
            inquiry.ask(roster.meaning(attacker, m.is_capture(), m.role(), destination(m)));
            inquiry.keep(roster.with_king(attacker, king));
            inquiry.keep(&self.lenses);
            each_chance(roster, pos, m, inquiry, |lens| {
                if m == made {
                    seen.made.push((lens.query, attacker, destination(m)));
                } else {
                    seen.note(Offer { seen: lens, index }, attacker, m);
                }
            });
        });
    }

    /// Answers with the moves of a position that some offer may be, the safety of the own king aside;
    /// castling, which can give nothing up, is none.
    fn each_move(&self, pos: &Chess, king: Square, mut found: impl FnMut(Move)) {
        let (board, color) = (pos.board(), pos.turn());
        let (own, other) = (board.by_color(color), board.by_color(color.other()));
        for role in ROLES {
            let captures = self.needs.squares(color, king, role, true) & other;
            let quiet = self.needs.squares(color, king, role, false) & !board.occupied();
            if (captures | quiet).is_empty() {
                continue;
            }
            for from in own & board.by_role(role) {
                let reach = match role {
                    Role::Pawn => {
                        (attacks::pawn_attacks(color, from) & captures)
                            | (pushes(board, color, from) & quiet)
                    }
                    _ => board.attacks_from(from) & (captures | quiet),
                };
                for to in reach {
                    let promotes = role == Role::Pawn && Bitboard::BACKRANKS.contains(to);
                    let promotions = if promotes { PROMOTIONS } else { &[None] };
                    for &promotion in promotions {
                        let capture = board.role_at(to);
                        found(Move::Normal { role, from, capture, to, promotion });
                    }
                }
            }
        }
    }
}

/// Answers with the lenses, of those that are asked, for which a move of a position is a chance. The move is made
/// only if it fits all that can be told before.
fn each_chance(
    roster: &Roster<'_>,
    pos: &Chess,
    m: Move,
    inquiry: &mut Inquiry,
    mut found: impl FnMut(LensId),
) {
    if !inquiry.is_over() {
        roster.strike_unready(pos, m, inquiry);
    }
    if inquiry.is_over() {
        return;
    }
    let after = played(pos, m);
    if !has_safe_king(&after) {
        return;
    }
    let step = GameStep::new(pos, m, &after);
    roster.strike_other_prices(&step, inquiry);
    roster.strike_unfit(&step, inquiry);
    let is_chance = |member: &&Member<'_>| {
        let offer = &member.lens.offer;
        (offer.uncovers() || step.offered().cost > 0)
            && offer.is_taken.is_none_or(|men| can_be_taken(&after, destination(m), men))
    };
    let left = inquiry.left().map(|number| roster.member(number));
    left.filter(is_chance).for_each(|member| found(member.id));
}

/// In which order men are looked at: of two moves to one square the first stands for the chance.
const ROLES: [Role; 6] =
    [Role::Bishop, Role::Knight, Role::Rook, Role::Queen, Role::Pawn, Role::King];

/// What a pawn may become.
const PROMOTIONS: &[Option<Role>] =
    &[Some(Role::Queen), Some(Role::Rook), Some(Role::Bishop), Some(Role::Knight)];

/// Whether one of these men may legally take the man on a square.
fn can_be_taken(pos: &Chess, square: Square, men: Men) -> bool {
    let mut replies = pos.legal_moves().into_iter();
    replies.any(|reply| men.contains(reply.role()) && captures_on(reply, square))
}

/// Whether the offer of a pattern names squares, and not every square.
fn names_squares(pattern: &Pattern) -> bool {
    pattern.query.offer.aim.is_some_and(|(_, squares)| {
        !squares.move_with_king()
            && !squares.named().is_empty()
            && squares.named() != Bitboard::FULL
    })
}
