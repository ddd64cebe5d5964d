//! What a sentence says once it is read. Squares are in the attacker's view until
//! [`MoveSentence::turned`] or [`Fact::turned`] puts them on the board.

use shakmaty::{Bitboard, Color};

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

/// The wings a motif is looked for on.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Wings {
    /// Only as the query is written.
    AsWritten,
    /// Also mirrored left to right.
    Both,
}

/// The side a sentence speaks of.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Side {
    /// The side that offers.
    Attacker,
    /// The side that is offered to.
    Defender,
}

impl Side {
    /// The colour of this side when `attacker` attacks.
    #[must_use]
    pub fn color(self, attacker: Color) -> Color {
        match self {
            Side::Attacker => attacker,
            Side::Defender => attacker.other(),
        }
    }
}

/// A set of squares, part of which may depend on where the defender's king stands.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct Squares {
    /// The squares that are named.
    pub named: Bitboard,
    /// Whether the squares next to the defender's king belong to the set.
    pub beside_king: bool,
}

impl Squares {
    fn turned(self, view: View) -> Squares {
        Squares { named: view.turn_all(self.named), ..self }
    }
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
    /// How and where to, if it is said.
    pub aim: Option<(Act, Squares)>,
    /// Where from, if it is said.
    pub from: Option<Squares>,
    /// What it does to the other king, if it is said.
    pub check: Option<Check>,
    /// The least cost, in pawns; 0 if it is not said.
    pub giving_up: i32,
    /// The kinds of men of which it must give one up, if it is said.
    pub offering: Option<Men>,
    /// The least loss of another man that it allows, in pawns; 0 if it is not said.
    pub uncovering: i32,
    /// With which men the next move must take the man that moved, if it is said that it must.
    pub is_taken: Option<Men>,
    /// When it counts; an offer has no window.
    pub window: Window,
}

impl MoveSentence {
    /// The squares to which a capture, or a move that takes nothing, may go by this sentence, if those
    /// beside the defender's king are `beside_king`.
    #[must_use]
    pub fn targets(&self, is_capture: bool, beside_king: Bitboard) -> Bitboard {
        let Some((act, squares)) = self.aim else { return Bitboard::FULL };
        let is_possible = match act {
            Act::Takes(_) => is_capture,
            Act::MovesTo => !is_capture,
            Act::To => true,
        };
        match (is_possible, squares.beside_king) {
            (false, _) => Bitboard::EMPTY,
            (true, false) => squares.named,
            (true, true) => squares.named | beside_king,
        }
    }

    /// The squares it says the move goes to; none if it names none.
    #[must_use]
    pub fn squares(&self) -> Squares {
        self.aim.map(|(_, squares)| squares).unwrap_or_default()
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

/// How a man stands to a square.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Relation {
    /// Stands there.
    On,
    /// Stands there, pinned to its king.
    PinnedOn,
    /// Goes there in one move, pins and checks aside.
    Reaches,
    /// Attacks it.
    Guards,
    /// Attacks it, or would if own men that move along the same line were not in between.
    BearsOn,
}

/// How many men a fact asks for.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Amount {
    /// None at all.
    No,
    /// This number or more; a plain fact asks for 1.
    AtLeast(u32),
    /// More than there are of these men of that side.
    MoreThan(Side, Men),
}

/// A fact of the position just before the offer.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Fact {
    /// How many men it asks for.
    pub amount: Amount,
    /// Whose men.
    pub side: Side,
    /// The kinds of men.
    pub men: Men,
    /// How they stand to the squares.
    pub relation: Relation,
    /// The squares.
    pub squares: Squares,
}

impl Fact {
    /// The same fact with its squares turned between the attacker's view and the board.
    #[must_use]
    pub fn turned(&self, view: View) -> Fact {
        Fact { squares: self.squares.turned(view), ..*self }
    }
}

/// What must hold of a position: all the facts of one of these alternatives.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Condition {
    /// At least one, each with at least one fact.
    pub alternatives: Vec<Vec<Fact>>,
}

impl Condition {
    /// The same condition with its squares turned between the attacker's view and the board.
    #[must_use]
    pub fn turned(&self, view: View) -> Condition {
        let turn = |facts: &Vec<Fact>| facts.iter().map(|fact| fact.turned(view)).collect();
        Condition { alternatives: self.alternatives.iter().map(turn).collect() }
    }

    /// The squares that its facts are about.
    #[must_use]
    pub fn squares(&self) -> Squares {
        self.facts().fold(Squares::default(), |all, fact| Squares {
            named: all.named | fact.squares.named,
            beside_king: all.beside_king || fact.squares.beside_king,
        })
    }

    /// Every fact it names.
    pub fn facts(&self) -> impl Iterator<Item = &Fact> {
        self.alternatives.iter().flatten()
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

/// A named fact of the position just before the offer.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Factor {
    /// Its name, and with `x_` before it its column.
    pub name: String,
    /// The sentence as written.
    pub text: String,
    /// What it says.
    pub condition: Condition,
}
