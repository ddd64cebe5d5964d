//! The queries that the detector knows: their files, for the program, and what these say, as code.

use cozy_chess::{Board, Piece, Square};

use super::factors::{self, Held};
use super::follow_ups::{self, Seen};
use super::games::Course;
use super::giving::Giving;
use super::rules::Played;
use super::scene::Scene;
use super::view::{Step, Turn};

/// A query, written twice.
pub(crate) struct Query {
    pub(crate) name: &'static str,
    /// The text of its file.
    pub(crate) text: &'static str,
    /// Whether the board is mirrored, for each view that is tried.
    pub(super) wings: &'static [bool],
    /// `offer` and `when`.
    pub(super) offer: fn(&Offer) -> bool,
    /// The follow-ups that must come.
    pub(super) requires: &'static [&'static str],
    pub(super) follow_ups: fn(&[Step]) -> Seen,
    pub(super) factors: fn(&Scene) -> Held,
}

/// A move that may be an offer, in one view.
pub(super) struct Offer<'g> {
    pub(super) course: &'g Course,
    pub(super) index: usize,
    pub(super) giving: &'g Giving,
    pub(super) turn: Turn,
    pub(super) step: Step,
}

impl<'g> Offer<'g> {
    pub(super) fn new(course: &'g Course, index: usize, giving: &'g Giving, turn: Turn) -> Self {
        let step = Step::new(&course.moves[index], index, turn);
        Self { course, index, giving, turn, step }
    }

    pub(super) fn before(&self) -> &'g Board {
        &self.course.moves[self.index].before
    }

    pub(super) fn reply(&self) -> Option<&'g Played> {
        self.course.moves.get(self.index + 1)
    }

    /// The moves that come after it.
    pub(super) fn later(&self) -> Vec<Step> {
        let indexes = self.index + 1..self.course.moves.len();
        indexes.map(|at| Step::new(&self.course.moves[at], at, self.turn)).collect()
    }
}

const AS_WRITTEN: &[bool] = &[false];
const BOTH: &[bool] = &[false, true];

/// In alphabetical order.
pub(crate) const QUERIES: [Query; 5] = [
    Query {
        name: "bishop-offered",
        text: include_str!("queries/bishop-offered.toml"),
        wings: AS_WRITTEN,
        offer: |offer| offer.giving.man() == Piece::Bishop && offer.giving.cost() >= 2,
        requires: &[],
        follow_ups: |later| vec![("mate", follow_ups::mate(later))],
        factors: |_| Vec::new(),
    },
    Query {
        name: "bishop-takes-h7",
        text: include_str!("queries/bishop-takes-h7.toml"),
        wings: BOTH,
        offer: bishop_takes_h7,
        requires: &[],
        follow_ups: follow_ups::bishop_takes_h7,
        factors: factors::bishop_takes_h7,
    },
    Query {
        name: "double-bishop",
        text: include_str!("queries/double-bishop.toml"),
        wings: BOTH,
        offer: bishop_takes_h7,
        requires: &["second-bishop"],
        follow_ups: follow_ups::double_bishop,
        factors: factors::double_bishop,
    },
    Query {
        name: "knight-follow-up",
        text: include_str!("queries/knight-follow-up.toml"),
        wings: BOTH,
        offer: bishop_takes_h7,
        requires: &["knight-jump"],
        follow_ups: follow_ups::knight_follow_up,
        factors: factors::knight_follow_up,
    },
    Query {
        name: "queen-lift",
        text: include_str!("queries/queen-lift.toml"),
        wings: BOTH,
        offer: bishop_takes_h7,
        requires: &["queen-edge"],
        follow_ups: follow_ups::queen_lift,
        factors: factors::queen_lift,
    },
];

/// "bishop takes pawn on h7 with check"
fn bishop_takes_h7(offer: &Offer) -> bool {
    let step = &offer.step;
    step.man == Piece::Bishop
        && step.takes == Some(Piece::Pawn)
        && step.to == Square::H7
        && step.check
}
