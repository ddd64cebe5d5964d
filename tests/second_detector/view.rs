//! The attacker's view: the board is turned so that squares can be named as the queries do.

use cozy_chess::{Color, Piece, Square};

use super::exchange::square_of_victim;
use super::rules::{Played, captured, legal_moves};
use super::scene::Scene;

/// How the board is turned for the attacker.
#[derive(Clone, Copy)]
pub(super) struct Turn {
    pub(super) attacker: Color,
    pub(super) mirrored: bool,
    /// By how many files the squares that a query names are moved to the right in this view.
    pub(super) by: i8,
}

impl Turn {
    /// Translates a square of the board into one of the view; and back, for it undoes itself.
    pub(super) fn view(self, square: Square) -> Square {
        let square = match self.attacker {
            Color::White => square,
            Color::Black => square.flip_rank(),
        };
        if self.mirrored { square.flip_file() } else { square }
    }

    pub(super) fn camp(self, color: Color) -> Camp {
        if color == self.attacker { Camp::Attacker } else { Camp::Defender }
    }

    /// The square of the view that a query means by the one that it names.
    pub(super) fn moved(self, named: Square) -> Square {
        named.try_offset(self.by, 0).expect("the query is tried where its squares are on the board")
    }

    /// Whether a query means a square of the view by its light squares.
    pub(super) fn is_light(self, square: Square) -> bool {
        let is_light = (square.file() as i8 + square.rank() as i8) % 2 == 1;
        is_light == (self.by % 2 == 0)
    }

    pub(super) fn side(self) -> &'static str {
        match self.attacker {
            Color::White => "white",
            Color::Black => "black",
        }
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Camp {
    Attacker,
    Defender,
}

impl Camp {
    pub(super) fn other(self) -> Self {
        match self {
            Self::Attacker => Self::Defender,
            Self::Defender => Self::Attacker,
        }
    }
}

/// A move of the game as the attacker sees it.
pub(super) struct Step {
    pub(super) ply: usize,
    pub(super) camp: Camp,
    pub(super) man: Piece,
    pub(super) from: Square,
    pub(super) to: Square,
    pub(super) takes: Option<Piece>,
    /// Where the man stands that it takes.
    pub(super) victim: Option<Square>,
    /// Whether it is by the very man that made the offer.
    pub(super) is_by_the_same: bool,
    pub(super) check: bool,
    pub(super) mate: bool,
    pub(super) stalemate: bool,
    /// The position that the move is made in.
    pub(super) scene: Scene,
    pub(super) turn: Turn,
}

impl Step {
    pub(super) fn new(played: &Played, index: usize, turn: Turn) -> Self {
        let next = played.after();
        let takes = captured(&played.before, played.mv);
        let check = !next.checkers().is_empty();
        let is_over = legal_moves(&next).is_empty();
        Self {
            ply: index + 1,
            camp: turn.camp(played.before.side_to_move()),
            man: played.man(),
            from: turn.view(played.mv.from),
            to: turn.view(played.target()),
            takes,
            victim: takes.map(|_| turn.view(square_of_victim(&played.before, played.mv))),
            is_by_the_same: false,
            check,
            mate: check && is_over,
            stalemate: !check && is_over,
            scene: Scene::new(&played.before, turn),
            turn,
        }
    }

    pub(super) fn quiet(&self) -> bool {
        self.takes.is_none()
    }

    pub(super) fn lands_on(&self, squares: &[Square]) -> bool {
        squares.contains(&self.to)
    }
}

/// Each square of the view, and each half of the turn on its own.
#[test]
fn turns_undo_themselves() {
    let turn = |attacker, mirrored| Turn { attacker, mirrored, by: 0 };
    assert_eq!(turn(Color::White, false).view(Square::H7), Square::H7);
    assert_eq!(turn(Color::White, true).view(Square::H7), Square::A7);
    assert_eq!(turn(Color::Black, false).view(Square::H7), Square::H2);
    assert_eq!(turn(Color::Black, true).view(Square::G4), Square::B5);
    let moved = Turn { by: -1, ..turn(Color::White, true) };
    assert_eq!((moved.moved(Square::C6), moved.is_light(Square::A8)), (Square::B6, false));
    for square in Square::ALL {
        let turn = turn(Color::Black, true);
        assert_eq!(turn.view(turn.view(square)), square);
    }
}
