//! The board of an own motif: the squares that its sentences name are ringed, and the men stand there that must.

use minijinja::{Value, context};
use shakmaty::{Bitboard, Board, Color, Role, Square};

use crate::board::Men;
use crate::drawing::Diagram;
use crate::pages::served_diagram;
use crate::query::{Act, Amount, Condition, Fact, MenFact, Query, Relation, Side, Squares};

/// Larger sets of squares, such as whole files and ranks, a board can't single out.
const MOST_MARKED: usize = 7;

/// A board as White attacks, and which sentence names which squares.
pub(super) fn board_of(query: &Query) -> Value {
    let named = sentences(query);
    let singled_out = |squares: &Squares| squares.named().count() <= MOST_MARKED;
    let shown = named.iter().filter(|(_, _, squares)| singled_out(squares));
    let rings = shown.clone().fold(Bitboard::EMPTY, |all, (_, _, squares)| all | squares.named());
    let diagram =
        Diagram::of_board(&men_of(query)).titled("The squares of the motif, as White attacks");
    let row = |(what, text, squares): &(&str, &str, Squares)| {
        let names: Vec<String> =
            squares.named().into_iter().map(|square| square.to_string()).collect();
        context! { what => *what, text => *text, names => names.join(" ") }
    };
    let rows = shown.filter(|(_, _, squares)| !squares.named().is_empty()).map(row);
    context! {
        diagram => served_diagram(&diagram.ring(rings), "motif-board"),
        rows => rows.collect::<Vec<_>>(),
        moves_with_king => named.iter().any(|(_, _, squares)| squares.move_with_king()),
        has_wide => named.iter().any(|(_, _, squares)| !singled_out(squares) && squares.named() != Bitboard::FULL),
    }
}

/// Every sentence with the squares it names.
fn sentences<'q>(query: &'q Query) -> Vec<(&'static str, &'q str, Squares)> {
    let mut all = vec![("offer", &*query.offer_text, query.offer.squares())];
    if let Some(from) = query.offer.from {
        all.push(("from", &query.offer_text, from));
    }
    let before = query.when_texts.iter().zip(&query.when).map(|one| ("before", one));
    let after = query.after_texts.iter().zip(&query.after).map(|one| ("after", one));
    let squares = |(what, (text, condition)): (_, (&'q String, &Condition))| {
        (what, &**text, condition.squares())
    };
    all.extend(before.chain(after).map(squares));
    for one in &query.follow_ups {
        all.push(("follow-up", &one.text, one.sentence.squares()));
    }
    for one in &query.factors {
        all.push(("factor", &one.text, one.condition.squares()));
    }
    all
}

/// The men that must stand where they are told to: on one square, of one kind.
fn men_of(query: &Query) -> Board {
    let mut board = Board::empty();
    let mut place = |square: Option<Square>, role: Option<Role>, side: Color| {
        if let (Some(square), Some(role)) = (square, role)
            && board.piece_at(square).is_none()
        {
            board.set_piece_at(square, role.of(side));
        }
    };
    for condition in &query.when {
        let [facts] = &condition.alternatives[..] else { continue };
        for fact in facts {
            if let Fact::Men(MenFact {
                amount: Amount::AtLeast(1),
                side,
                kinds,
                relation: Relation::On,
                squares,
                ..
            }) = fact
                && !kinds.passed_pawns
            {
                let side = if *side == Side::Attacker { Color::White } else { Color::Black };
                place(only_square(*squares), only_role(kinds.men), side);
            }
        }
    }
    if let Some((Act::Takes(men), squares)) = query.offer.aim {
        place(only_square(squares), only_role(men), Color::Black);
    }
    board
}

fn only_square(squares: Squares) -> Option<Square> {
    squares.named().single_square().filter(|_| !squares.move_with_king())
}

fn only_role(men: Men) -> Option<Role> {
    let mut roles = men.roles();
    roles.next().filter(|_| roles.next().is_none())
}
