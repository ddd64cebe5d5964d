//! Material after best play: alpha-beta search that counts nothing but men (pawn 1, knight and bishop 3,
//! rook 5, queen 9).
//!
//! A position in check is searched one ply deeper. At the end of the depth captures and promotions to
//! queens go on for as long as they pay (quiescence). A plain weigher cuts off only what can't change the
//! value: its result is that of plain minimax over the same tree. A quick one gets deeper with the same
//! nodes by looking less deep where little is to be expected (see [`Haste`]), so what it says is evidence and no
//! proof. Repetitions do not count here.

use shakmaty::{Chess, Move, Position};

use super::budget::Budget;
use super::key::PositionKey;
use super::value::{WeighedScore, is_mate};
use super::weighed::{Haste, MaterialSearch, WeighedNode, WeigherMemory};
use crate::board::{balance, played};

/// The outcome of a material search.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Weighing {
    /// The value of best play.
    pub score: WeighedScore,
    /// The same one ply less deep, if there was one.
    pub score_before: Option<WeighedScore>,
    /// The value at each depth, from one ply on.
    pub scores: Vec<WeighedScore>,
    /// The depth in plies that was searched in full.
    pub depth: u8,
    /// Best play, the captures after the full depth included.
    pub line: Vec<Move>,
}

/// Weighs positions. Holds the table, so keep one for many positions.
pub struct Weigher {
    memory: WeigherMemory,
}

/// The greatest depth that can be asked for, in plies.
const MOST_DEPTH: u8 = 60;

impl Weigher {
    /// A quick weigher that remembers at least `entries` positions, at 24 bytes each.
    #[must_use]
    pub fn with_entries(entries: usize) -> Weigher {
        Weigher::of(entries, Haste::Quick)
    }

    /// A plain weigher that remembers as many.
    #[must_use]
    pub fn plain(entries: usize) -> Weigher {
        Weigher::of(entries, Haste::Plain)
    }

    fn of(entries: usize, haste: Haste) -> Weigher {
        Weigher { memory: WeigherMemory::new(entries, haste) }
    }

    /// Forgets earlier positions, so that what a budget suffices for does not depend on them.
    pub fn forget(&mut self) {
        self.memory.table.forget();
        self.memory.refuters.forget();
    }

    /// The best of some legal moves, searched deeper and deeper up to `depth` plies or until the budget
    /// is spent or a mate is found. `None` if there are no moves or not even one ply was finished.
    pub fn weigh(
        &mut self,
        pos: &Chess,
        moves: &[Move],
        depth: u8,
        budget: &mut Budget,
    ) -> Option<Weighing> {
        let balance = balance(pos, pos.turn());
        let root = WeighedNode { pos: pos.clone(), key: PositionKey::of(pos), balance, ply: 0 };
        let mut moves = most_active_first(pos, moves);
        let mut weighing: Option<Weighing> = None;
        let (mut scores, used_before) = (Vec::new(), budget.used());
        for depth in 1..=depth.min(MOST_DEPTH) {
            // The next depth takes more than all before it, so this one would not be finished.
            if budget.used() - used_before > budget.left() {
                break;
            }
            self.memory.ranked.clear();
            let mut search = MaterialSearch { weigher: &mut self.memory, budget };
            let Ok(value) = search.best_of(&root, &moves, depth) else {
                break;
            };
            let line = self.memory.lines[0].clone();
            bring_to_front(&mut moves, *line.first()?);
            let (score, score_before) = (WeighedScore::of(value), scores.last().copied());
            scores.push(score);
            weighing = Some(Weighing { score, score_before, scores: scores.clone(), depth, line });
            if is_mate(value) {
                break;
            }
        }
        weighing
    }
}

/// The moves, those first after which the mover has most moves. Among moves of equal worth the first wins,
/// and it should not look aimless.
fn most_active_first(pos: &Chess, moves: &[Move]) -> Vec<Move> {
    let mut moves = moves.to_vec();
    let replies = |m: &Move| played(pos, *m).swap_turn().map_or(0, |pos| pos.legal_moves().len());
    moves.sort_by_cached_key(|m| std::cmp::Reverse(replies(m)));
    moves
}

fn bring_to_front(moves: &mut [Move], m: Move) {
    if let Some(place) = moves.iter().position(|&other| other == m) {
        moves[..=place].rotate_right(1);
    }
}
