//! The queries that the detector knows: their files, for the program, and what these say, as code.

use cozy_chess::{Board, Color, Piece, Square, get_between_rays};

use super::exchange::is_en_prise;
use super::factors::{self, Held};
use super::follow_ups::{self, Seen};
use super::games::Course;
use super::giving::Giving;
use super::kinds::balance;
use super::rules::Played;
use super::scene::Scene;
use super::view::Camp::Defender;
use super::view::{Step, Turn};

/// A query, written twice.
pub(crate) struct Query {
    pub(crate) name: &'static str,
    /// The text of its file.
    pub(crate) text: &'static str,
    /// Whether the board is mirrored, for each view that is tried.
    pub(super) wings: &'static [bool],
    /// By how many files the squares that are named are moved to the right, for each view that is tried, and
    /// how that is told as written and mirrored.
    pub(super) files: &'static [(i8, [&'static str; 2])],
    /// `offer`, `when` and `after`.
    pub(super) offer: fn(&Offer) -> bool,
    /// The follow-ups that must come, and those that must not.
    pub(super) requires: fn(&[Step]) -> bool,
    pub(super) follow_ups: fn(&[Step]) -> Seen,
    pub(super) factors: fn(&Offer) -> Held,
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
        let mut place = Some(self.step.to);
        indexes
            .map(|at| {
                let mut step = Step::new(&self.course.moves[at], at, self.turn);
                step.is_by_the_same = place == Some(step.from);
                if step.is_by_the_same {
                    place = Some(step.to);
                }
                place = place.filter(|&here| step.victim != Some(here));
                step
            })
            .collect()
    }
}

const AS_WRITTEN: &[bool] = &[false];
const BOTH: &[bool] = &[false, true];

const HERE: &[(i8, [&str; 2])] = &[(0, ["as written", "mirrored"])];
/// Where b7, c6 and d7 can be together; the b-file of the query is its first, but the offer names the c-file.
const AROUND_C: &[(i8, [&str; 2])] = &[
    (0, ["as written", "mirrored"]),
    (-1, ["c as b", "mirrored, c as g"]),
    (1, ["c as d", "mirrored, c as e"]),
    (2, ["c as e", "mirrored, c as d"]),
    (3, ["c as f", "mirrored, c as c"]),
    (4, ["c as g", "mirrored, c as b"]),
];

/// In alphabetical order.
pub(crate) const QUERIES: [Query; 11] = [
    Query {
        name: "bishop-offered",
        text: include_str!("queries/bishop-offered.toml"),
        wings: AS_WRITTEN,
        files: HERE,
        offer: |offer| offer.giving.man() == Piece::Bishop && offer.giving.cost() >= 2,
        requires: |_| true,
        follow_ups: |later| vec![("mate", follow_ups::mate(later))],
        factors: |_| Vec::new(),
    },
    Query {
        name: "bishop-takes-h7",
        text: include_str!("queries/bishop-takes-h7.toml"),
        wings: BOTH,
        files: HERE,
        offer: bishop_takes_h7,
        requires: |_| true,
        follow_ups: follow_ups::bishop_takes_h7,
        factors: |offer| factors::bishop_takes_h7(&offer.step.scene),
    },
    Query {
        name: "dear-farewell",
        text: include_str!("queries/dear-farewell.toml"),
        wings: AS_WRITTEN,
        files: HERE,
        offer: dear_farewell,
        requires: |_| true,
        follow_ups: |_| Vec::new(),
        factors: |_| Vec::new(),
    },
    Query {
        name: "double-bishop",
        text: include_str!("queries/double-bishop.toml"),
        wings: BOTH,
        files: HERE,
        offer: bishop_takes_h7,
        requires: |later| follow_ups::second_bishop(later).is_some(),
        follow_ups: follow_ups::double_bishop,
        factors: |offer| factors::double_bishop(&offer.step.scene),
    },
    Query {
        name: "heavy-man-offered",
        text: include_str!("queries/heavy-man-offered.toml"),
        wings: AS_WRITTEN,
        files: HERE,
        offer: heavy_man_offered,
        requires: |_| true,
        follow_ups: follow_ups::heavy_man_offered,
        factors: factors::heavy_man_offered,
    },
    Query {
        name: "knight-follow-up",
        text: include_str!("queries/knight-follow-up.toml"),
        wings: BOTH,
        files: HERE,
        offer: bishop_takes_h7,
        requires: |later| follow_ups::knight_jump(later).is_some(),
        follow_ups: follow_ups::knight_follow_up,
        factors: |offer| factors::knight_follow_up(&offer.step.scene),
    },
    Query {
        name: "man-before-the-king",
        text: include_str!("queries/man-before-the-king.toml"),
        wings: AS_WRITTEN,
        files: HERE,
        offer: man_before_the_king,
        requires: |_| true,
        follow_ups: follow_ups::man_before_the_king,
        factors: |offer| factors::man_before_the_king(&offer.step.scene),
    },
    Query {
        name: "man-between",
        text: include_str!("queries/man-between.toml"),
        wings: AS_WRITTEN,
        files: HERE,
        offer: man_between,
        requires: |_| true,
        follow_ups: |_| Vec::new(),
        factors: |_| Vec::new(),
    },
    Query {
        name: "pawn-kept",
        text: include_str!("queries/pawn-kept.toml"),
        wings: AS_WRITTEN,
        files: HERE,
        offer: pawn_kept,
        requires: follow_ups::pawn_kept_as_required,
        follow_ups: follow_ups::pawn_kept,
        factors: |_| Vec::new(),
    },
    Query {
        name: "queen-lift",
        text: include_str!("queries/queen-lift.toml"),
        wings: BOTH,
        files: HERE,
        offer: bishop_takes_h7,
        requires: |later| follow_ups::queen_on_edge(later).is_some(),
        follow_ups: follow_ups::queen_lift,
        factors: |offer| factors::queen_lift(&offer.step.scene),
    },
    Query {
        name: "rook-for-knight",
        text: include_str!("queries/rook-for-knight.toml"),
        wings: BOTH,
        files: AROUND_C,
        offer: rook_for_knight,
        requires: |_| true,
        follow_ups: follow_ups::rook_for_knight,
        factors: factors::rook_for_knight,
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

/// "piece takes on any square was en prise giving up 1 or more"
fn dear_farewell(offer: &Offer) -> bool {
    let step = &offer.step;
    !matches!(step.man, Piece::Pawn | Piece::King)
        && step.takes.is_some()
        && offer.giving.cost() >= 1
        && is_en_prise(offer.before(), offer.course.moves[offer.index].mv.from)
}

/// "any man offering rook or queen giving up 1 to 4", "material is level or else attacker ahead by 1 to
/// 4 or else defender ahead"; and after it "at most 2 attacker men on any square are en prise".
fn heavy_man_offered(offer: &Offer) -> bool {
    matches!(offer.giving.man(), Piece::Rook | Piece::Queen)
        && (1..=4).contains(&offer.giving.cost())
        && offer.step.scene.lead() <= 4
        && loose_men(&offer.giving.after, offer.turn.attacker, &Piece::ALL) <= 2
}

/// How many men of these kinds are en prise.
pub(super) fn loose_men(board: &Board, color: Color, kinds: &[Piece]) -> usize {
    let is_loose = |&square: &Square| {
        board.piece_on(square).is_some_and(|kind| kinds.contains(&kind))
            && is_en_prise(board, square)
    };
    board.colors(color).into_iter().filter(is_loose).count()
}

/// "any man to in front of the king giving up at most 1"
fn man_before_the_king(offer: &Offer) -> bool {
    offer.step.lands_on(&offer.step.scene.before_the_king()) && offer.giving.cost() <= 1
}

/// "any man to any square between rook or queen and minor piece"
fn man_between(offer: &Offer) -> bool {
    let (before, after) = (&offer.step.scene, Scene::new(&offer.giving.after, offer.turn));
    let heavy = after.men(Defender, &[Piece::Rook, Piece::Queen]);
    let light = after.men(Defender, &[Piece::Knight, Piece::Bishop]);
    heavy.iter().any(|&one| {
        light.iter().any(|&other| {
            let between = get_between_rays(one, other);
            let was_open = between.into_iter().all(|square| before.at(square).is_none());
            let moves_so = before.moves_along(one, other) || before.moves_along(other, one);
            between.has(offer.step.to) && was_open && moves_so
        })
    })
}

/// "minor piece takes pawn on any square not taken back within 2 moves"
fn pawn_kept(offer: &Offer) -> bool {
    let attacker = offer.turn.attacker;
    let balance_at = |plies: usize| balance(&offer.course.position(plies), attacker);
    let (last, answered) = (offer.course.moves.len(), [offer.index + 4, offer.index + 6]);
    let mut looked_at: Vec<usize> = answered.into_iter().filter(|&ply| ply <= last).collect();
    if last < answered[1] {
        looked_at.push(last);
    }
    matches!(offer.step.man, Piece::Knight | Piece::Bishop)
        && offer.step.takes == Some(Piece::Pawn)
        && looked_at.into_iter().all(|plies| balance_at(plies) < balance_at(offer.index))
}

/// "rook takes knight on c6 giving up 1 or more", "defender pawn on b7 or d7", on any file
fn rook_for_knight(offer: &Offer) -> bool {
    let (step, turn) = (&offer.step, offer.turn);
    let pawns = [turn.moved(Square::B7), turn.moved(Square::D7)];
    step.man == Piece::Rook
        && step.takes == Some(Piece::Knight)
        && step.to == turn.moved(Square::C6)
        && offer.giving.cost() >= 1
        && step.scene.on(Defender, Piece::Pawn, &pawns)
}
