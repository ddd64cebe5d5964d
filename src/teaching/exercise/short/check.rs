//! Checks that are mate, and checks that only look like it.

use shakmaty::{Chess, Move, Position, attacks};

use super::{ShortCase, ShortSolution};
use crate::board::{Replay, played};
use crate::teaching::exercise::flaw::Flaw;
use crate::teaching::exercise::grade::{Features, Level};
use crate::teaching::exercise::upshot::Upshot;
use crate::teaching::exercise::{Aside, AsideRole};

/// A check with more ways out does not look like mate.
const MOST_WAYS_OUT: usize = 2;
/// With more squares to look at an exercise is of the second level.
const FEW_SQUARES: usize = 3;

/// A check and all ways out of it.
struct CheckAnswered {
    at: usize,
    check: Move,
    ways_out: Vec<Move>,
}

impl ShortCase<'_> {
    /// The mate that ends the game, or the check in it that looks most like one.
    pub(super) fn check(&mut self) -> Result<ShortSolution, Flaw> {
        let course = self.course()?;
        self.nodes = 1;
        let is_mate = self.candidate.class.is_sound;
        let found = if is_mate { mate(&course) } else { nearly_mate(&course) };
        let CheckAnswered { at, check, ways_out } = found.ok_or(Flaw::Otherwise)?;
        let start = course.positions[at].clone();
        let (first, others) = ways_out.split_at(ways_out.len().min(1));
        let other = |&m: &Move| Aside {
            at: 1,
            moves: vec![m],
            comes_to: Upshot::Answered,
            role: AsideRole::Reply,
        };
        let looked_at = squares_to_look_at(&played(&start, check));
        let none = Features::of(&start, &[], start.turn(), 0);
        Ok(ShortSolution {
            lead: course.moves[..at].to_vec(),
            line: [&[check], first].concat(),
            comes_to: if is_mate {
                crate::hits::Verdict::Mates(1).into()
            } else {
                Upshot::Answered
            },
            also: Vec::new(),
            asides: others.iter().map(other).collect(),
            // The same for both halves, so that it does not tell the answer.
            features: Features { moves: 1, looked_at, tempting: 0, ..none },
            level: Level(if looked_at > FEW_SQUARES { 2 } else { 1 }),
            start,
        })
    }
}

fn mate(course: &Replay) -> Option<CheckAnswered> {
    let at = course.moves.len().checked_sub(1).filter(|at| at % 2 == 0)?;
    let mates = course.end().is_checkmate();
    mates.then(|| CheckAnswered { at, check: course.moves[at], ways_out: Vec::new() })
}

/// Of all checks that the attacker could give in the game, the first with the fewest ways out; those from which the
/// king can't step away before the others.
fn nearly_mate(course: &Replay) -> Option<CheckAnswered> {
    let places = (0..course.moves.len()).step_by(2);
    let checks = places.flat_map(|at| {
        let pos = &course.positions[at];
        let moves = pos.legal_moves().into_iter();
        moves.filter_map(move |check| answered(pos, at, check))
    });
    let is_by_king =
        |found: &CheckAnswered| found.ways_out.iter().any(|m| m.role() == shakmaty::Role::King);
    checks.min_by_key(|found| (is_by_king(found), found.ways_out.len()))
}

fn answered(pos: &Chess, at: usize, check: Move) -> Option<CheckAnswered> {
    let after = played(pos, check);
    if !after.is_check() {
        return None;
    }
    let ways_out: Vec<Move> = after.legal_moves().into_iter().collect();
    let is_near = (1..=MOST_WAYS_OUT).contains(&ways_out.len());
    is_near.then_some(CheckAnswered { at, check, ways_out })
}

/// The squares beside the king that no man of its own stands on.
fn squares_to_look_at(pos: &Chess) -> usize {
    let (board, side) = (pos.board(), pos.turn());
    board
        .king_of(side)
        .map_or(0, |king| (attacks::king_attacks(king) & !board.by_color(side)).count())
}
