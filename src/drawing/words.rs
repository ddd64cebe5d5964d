//! A position in words, for people who hear a diagram rather than see it.
//!
//! Invariant: every man is named once, and the order depends on the position alone.

use shakmaty::{Bitboard, Board, Color, Role, Square};

use crate::board::word_of;
use crate::words::{Words, of_side};

/// The order in which men are named: by value, as a position is read out at the board.
const ORDER: [Role; 6] =
    [Role::King, Role::Queen, Role::Rook, Role::Bishop, Role::Knight, Role::Pawn];

/// Says where all men stand and, if `turn` is given, who is to move.
///
/// *Ex.* `White: king g1, rooks a1 and f1; Black: king g8; White to move`. No full stop at the end.
pub fn in_words(board: &Board, turn: Option<Color>, words: Words) -> String {
    let sides = [Color::White, Color::Black];
    let mut parts = Vec::from(sides.map(|side| side_in_words(board, side, words)));
    parts.extend(turn.map(|side| words.tell("to-move", [("side", of_side(side))])));
    parts.join("; ")
}

/// Lists things as one speaks: `a1`, `a1 and f1`, `a1, c1 and f1`.
pub(crate) fn list(things: &[String]) -> String {
    match things {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

fn side_in_words(board: &Board, side: Color, words: Words) -> String {
    let men: Vec<String> = ORDER
        .into_iter()
        .filter_map(|role| men_in_words(role, board.by_piece(role.of(side)), words))
        .collect();
    let men = if men.is_empty() { words.say("diagram-no-men") } else { men.join(", ") };
    words.tell("diagram-side", [("side", of_side(side)), ("men", men.into())])
}

/// The men of one sort, `None` if there are none.
fn men_in_words(role: Role, squares: Bitboard, words: Words) -> Option<String> {
    let (man, count) = (word_of(role).into(), squares.count().into());
    let places = || words.list(&by_file(squares)).into();
    (!squares.is_empty())
        .then(|| words.tell("diagram-men", [("man", man), ("count", count), ("squares", places())]))
}

/// The squares from the a-file to the h-file, each file from the first rank up.
fn by_file(squares: Bitboard) -> Vec<String> {
    let mut squares: Vec<Square> = squares.into_iter().collect();
    squares.sort_by_key(|square| (square.file(), square.rank()));
    squares.iter().map(Square::to_string).collect()
}
