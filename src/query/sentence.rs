//! What a sentence about a move says once it is read. Squares are in the attacker's view until
//! [`MoveSentence::turned`] puts them on the board.

use super::squares::Squares;
use super::terms::{PawnRange, Side};
use crate::board::{Men, View};

/// The piece that is given up.
#[derive(Clone, Copy, PartialEq, Eq, Debug, PartialOrd, Ord, clap::ValueEnum)]
pub enum Chapter {
    /// The bishop is given up.
    Bishop,
    /// The knight is given up.
    Knight,
    /// The rook is given up.
    Rook,
    /// The queen is given up.
    Queen,
    /// A pawn is given up.
    Pawn,
    /// No piece in particular.
    Any,
}

impl Chapter {
    /// Every chapter, in the order of a course.
    pub const ALL: [Chapter; 6] = [
        Chapter::Bishop,
        Chapter::Knight,
        Chapter::Rook,
        Chapter::Queen,
        Chapter::Pawn,
        Chapter::Any,
    ];

    /// The word for it in files, tables and options.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Chapter::Bishop => "bishop",
            Chapter::Knight => "knight",
            Chapter::Rook => "rook",
            Chapter::Queen => "queen",
            Chapter::Pawn => "pawn",
            Chapter::Any => "any",
        }
    }
}

/// What a query finds.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Finds {
    /// A motif.
    Motif,
    /// Every sacrifice of its chapter, whatever the motif.
    EverySacrifice,
}

/// The wings a motif is looked for on.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Wings {
    /// Only as the query is written.
    AsWritten,
    /// Also mirrored left to right.
    Both,
}

/// The files a motif is looked for on.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Files {
    /// Only those that the query names.
    AsWritten,
    /// Also on others, all its letters moved alike.
    Any,
}

/// How a move comes to its square.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Act {
    /// It captures one of these men there.
    Takes(Men),
    /// It captures nothing.
    MovesTo,
    /// Either.
    To,
}

/// What a move must do to the other king.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Check {
    /// Give check, mate included.
    With,
    /// Give check with two men.
    Double,
    /// Give check with a man other than the one that moved.
    Discovered,
    /// Give mate.
    Mate,
    /// Leave it without a move and not in check.
    Stalemate,
    /// Give no check.
    Without,
}

/// When a follow-up counts, in the mover's own moves after the offer.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Window {
    /// At any later time.
    Anytime,
    /// Among that many moves, the first included; "at once" is 1.
    Within(u16),
}

/// A move as a sentence describes it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct MoveSentence {
    /// Who moves.
    pub side: Side,
    /// The kinds of men that may move.
    pub men: Men,
    /// Whether it must be the very man that made the offer.
    pub is_same_man: bool,
    /// How and where to, if it is said.
    pub aim: Option<(Act, Squares)>,
    /// Where from, if it is said.
    pub from: Option<Squares>,
    /// What it does to the other king, if it is said.
    pub check: Option<Check>,
    /// What it costs, if it is said.
    pub giving_up: Option<PawnRange>,
    /// The kinds of men of which it must give one up, if it is said.
    pub offering: Option<Men>,
    /// The loss of another man that it allows, if it is said.
    pub uncovering: Option<PawnRange>,
    /// Whether the man that moves could be won before.
    pub was_en_prise: bool,
    /// Two kinds of men of the other side between which the man that moved now stands, if it is said.
    pub between: Option<(Men, Men)>,
    /// Within how many of the mover's next moves the material must not be made good, if it is said.
    pub not_taken_back: Option<u16>,
    /// With which men the next move must take the man that moved, if it is said that it must.
    pub is_taken: Option<Men>,
    /// When it counts; an offer has no window.
    pub window: Window,
}

impl MoveSentence {
    /// The squares to which a capture, or a move that takes nothing, may go by this sentence.
    #[must_use]
    pub fn targets(&self, is_capture: bool) -> Squares {
        let Some((act, squares)) = self.aim else { return Squares::ALL };
        let is_possible = match act {
            Act::Takes(_) => is_capture,
            Act::MovesTo => !is_capture,
            Act::To => true,
        };
        if is_possible { squares } else { Squares::default() }
    }

    /// Whether it asks that another man can be won, so that the man that moves need not.
    #[must_use]
    pub fn uncovers(&self) -> bool {
        self.uncovering.is_some_and(|range| range.least > 0)
    }

    /// The squares it says the move goes to; none if it names none.
    #[must_use]
    pub fn squares(&self) -> Squares {
        self.aim.map(|(_, squares)| squares).unwrap_or_default()
    }

    /// The sets of squares that it names.
    pub(super) fn named_squares(&self) -> impl Iterator<Item = Squares> + use<> {
        self.aim.map(|(_, squares)| squares).into_iter().chain(self.from)
    }

    /// The same sentence with its letters moved by this many files to the right.
    #[must_use]
    pub fn shifted(&self, by: i8) -> MoveSentence {
        MoveSentence {
            aim: self.aim.map(|(act, squares)| (act, squares.shifted(by))),
            from: self.from.map(|squares| squares.shifted(by)),
            ..self.clone()
        }
    }

    /// The same sentence with its squares turned between the attacker's view and the board.
    #[must_use]
    pub fn turned(&self, view: View) -> MoveSentence {
        MoveSentence {
            aim: self.aim.map(|(act, squares)| (act, squares.turned(view))),
            from: self.from.map(|squares| squares.turned(view)),
            ..self.clone()
        }
    }
}

/// A named later move that a query watches for.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct FollowUp {
    /// Its name, and with `f_` before it its column.
    pub name: String,
    /// The sentence as written.
    pub text: String,
    /// What it says.
    pub sentence: MoveSentence,
}

/// What must come of the follow-ups, by their indices, if an offer is to be a hit.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Requirement {
    /// One of these rows of follow-ups, each after the one before it.
    Comes(Vec<Vec<usize>>),
    /// This one does not come.
    StaysAway(usize),
}

impl Requirement {
    /// The follow-ups that are looked for first, by their indices.
    pub fn first_ones(&self) -> impl Iterator<Item = usize> {
        let (rows, one) = match self {
            Requirement::Comes(rows) => (&rows[..], None),
            Requirement::StaysAway(one) => (&[][..], Some(*one)),
        };
        rows.iter().filter_map(|row| row.first().copied()).chain(one)
    }
}
