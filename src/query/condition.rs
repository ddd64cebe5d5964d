//! What a condition says of a position once it is read. Squares are in the attacker's view until
//! [`Condition::turned`] puts them on the board.

use shakmaty::{Bitboard, Board, Color};

use super::squares::Squares;
use super::terms::{PawnRange, Side};
use crate::board::{Men, View, passed_pawns};

/// How a man stands to a square.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Relation {
    /// Stands there.
    On,
    /// Stands there, pinned to its king.
    PinnedOn,
    /// Stands there, and the other side would win something by capturing it.
    EnPriseOn,
    /// Goes there in one move, pins and checks aside.
    Reaches,
    /// Attacks it.
    Guards,
    /// Attacks it, or would if own men that move along the same line were not in between.
    BearsOn,
}

impl Relation {
    /// Whether the man stands on the square.
    #[must_use]
    pub fn is_standing(self) -> bool {
        matches!(self, Relation::On | Relation::PinnedOn | Relation::EnPriseOn)
    }
}

/// The kinds of men that a fact speaks of.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Kinds {
    /// Men of these kinds.
    pub men: Men,
    /// Passed pawns as well.
    pub passed_pawns: bool,
}

impl Kinds {
    /// Men of these kinds.
    #[must_use]
    pub fn of(men: Men) -> Kinds {
        Kinds { men, passed_pawns: false }
    }

    /// Passed pawns.
    pub const PASSED_PAWNS: Kinds = Kinds { men: Men::NONE, passed_pawns: true };

    /// The union of two sets.
    #[must_use]
    pub fn or(self, other: Kinds) -> Kinds {
        Kinds { men: self.men.or(other.men), passed_pawns: self.passed_pawns || other.passed_pawns }
    }

    /// Where such men of this colour stand.
    #[must_use]
    pub fn on(self, board: &Board, color: Color) -> Bitboard {
        let men = self.men.on(board, color);
        if self.passed_pawns { men | passed_pawns(board, color) } else { men }
    }

    /// The kinds of men among which they are.
    #[must_use]
    pub fn widest(self) -> Men {
        if self.passed_pawns { self.men.or(Men::of(shakmaty::Role::Pawn)) } else { self.men }
    }
}

/// How many men a fact asks for.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Amount {
    /// None at all.
    No,
    /// This number or more; a plain fact asks for 1.
    AtLeast(u32),
    /// This number or fewer, or none.
    AtMost(u32),
    /// More than there are of these men of that side.
    MoreThan(Side, Kinds),
}

/// A fact of a position.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Fact {
    /// How many men stand somehow to some squares.
    Men(MenFact),
    /// The attacker's material less the defender's is in a range.
    Ahead(PawnRange),
}

/// How many men stand somehow to some squares.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct MenFact {
    /// How many men it asks for.
    pub amount: Amount,
    /// Whose men.
    pub side: Side,
    /// The kinds of men.
    pub kinds: Kinds,
    /// How they stand to the squares.
    pub relation: Relation,
    /// The squares.
    pub squares: Squares,
    /// The kinds of own men through which they are seen.
    pub past: Men,
}

impl Fact {
    /// The same fact about other squares.
    fn about(&self, squares: impl Fn(Squares) -> Squares) -> Fact {
        match *self {
            Fact::Men(fact) => Fact::Men(MenFact { squares: squares(fact.squares), ..fact }),
            Fact::Ahead(range) => Fact::Ahead(range),
        }
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
        self.about(|squares| squares.turned(view))
    }

    /// The same condition with its letters moved by this many files to the right.
    #[must_use]
    pub fn shifted(&self, by: i8) -> Condition {
        self.about(|squares| squares.shifted(by))
    }

    /// The same condition about other squares.
    fn about(&self, squares: impl Fn(Squares) -> Squares) -> Condition {
        let about = |facts: &Vec<Fact>| facts.iter().map(|fact| fact.about(&squares)).collect();
        Condition { alternatives: self.alternatives.iter().map(about).collect() }
    }

    /// The squares that its facts are about.
    #[must_use]
    pub fn squares(&self) -> Squares {
        let squares = self.facts().filter_map(|fact| match fact {
            Fact::Men(fact) => Some(fact.squares),
            Fact::Ahead(_) => None,
        });
        squares.fold(Squares::default(), Squares::or)
    }

    /// Every fact it names.
    pub fn facts(&self) -> impl Iterator<Item = &Fact> {
        self.alternatives.iter().flatten()
    }
}

/// Which position a factor is about.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Moment {
    /// The one just before the offer.
    Before,
    /// The one just after it, with the defender to move.
    After,
}

/// A named fact of the position just before or just after the offer.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Factor {
    /// Its name, and with `x_` before it its column.
    pub name: String,
    /// The sentence as written.
    pub text: String,
    /// What it says.
    pub condition: Condition,
    /// Of which position.
    pub moment: Moment,
}
