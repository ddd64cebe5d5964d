//! Whether a condition holds in a position.

use shakmaty::{Bitboard, Board, Chess, Color, Position, Square};

use crate::board::{self, Men, View};
use crate::query::{Amount, Condition, Fact, Kinds, MenFact, Relation, Side, Squares};

/// Whether a condition seen from `view` holds in a position.
#[must_use]
pub fn holds(condition: &Condition, view: View, pos: &Chess) -> bool {
    let mut alternatives = condition.alternatives.iter();
    alternatives.any(|facts| facts.iter().all(|fact| is_fact(fact, view, pos)))
}

/// The squares on this board, those told by the defender's king included if they are asked for.
pub(super) fn on_board(squares: Squares, board: &Board, view: View) -> Bitboard {
    squares.with_king(board.king_of(view.defender()), view.attacker)
}

fn is_fact(fact: &Fact, view: View, pos: &Chess) -> bool {
    match fact {
        Fact::Men(fact) => is_men_fact(fact, view, pos),
        Fact::Ahead(range) => range.contains(board::balance(pos, view.attacker)),
    }
}

fn is_men_fact(fact: &MenFact, view: View, pos: &Chess) -> bool {
    let squares = on_board(fact.squares, pos.board(), view);
    let count = |side: Side, kinds: Kinds| {
        let color = side.color(view.attacker);
        let scene = Scene { board: pos.board(), color, pos };
        scene.count(fact, kinds.on(pos.board(), color), squares)
    };
    let found = count(fact.side, fact.kinds);
    match fact.amount {
        Amount::No => found == 0,
        Amount::AtLeast(least) => found >= least as usize,
        Amount::AtMost(most) => found <= most as usize,
        Amount::MoreThan(side, kinds) => found > count(side, kinds),
    }
}

/// One side's men in a position, some of them perhaps taken off the board.
#[derive(Clone, Copy)]
struct Scene<'p> {
    board: &'p Board,
    color: Color,
    pos: &'p Chess,
}

impl Scene<'_> {
    /// How many of some men stand to the squares as a fact says.
    fn count(self, fact: &MenFact, men: Bitboard, squares: Bitboard) -> usize {
        if fact.past == Men::NONE {
            return self.related(fact.relation, men, squares).count();
        }
        let aside = fact.past.on(self.board, self.color);
        let sees_past = |&from: &Square| {
            // A man does not stand aside for itself.
            let board = board::without(self.board, aside.without(from));
            let scene = Scene { board: &board, ..self };
            !scene.related(fact.relation, Bitboard::from_square(from), squares).is_empty()
        };
        men.into_iter().filter(sees_past).count()
    }

    /// Those of some men that stand in a relation to the squares.
    fn related(self, relation: Relation, men: Bitboard, squares: Bitboard) -> Bitboard {
        let Scene { board, color, pos } = self;
        match relation {
            Relation::On => men & squares,
            Relation::PinnedOn => board::pinned(board, color, men & squares),
            Relation::EnPriseOn => board::en_prise(board, color, men & squares),
            Relation::Reaches => {
                board::reaching(board, color, men, squares, board::passing_square(pos, color))
            }
            Relation::Guards => board::guarding(board, men, squares),
            Relation::BearsOn => board::bearing(board, color, men, squares),
        }
    }
}
