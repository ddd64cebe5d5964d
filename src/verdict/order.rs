//! The order in which the material search tries moves: what was best before, captures of much by little,
//! and quiet moves that refuted something elsewhere.

use shakmaty::{Color, Move, Square};

use crate::board::{gain, pawns};

/// What quiet moves did earlier in the search.
pub(super) struct Refuters {
    /// The last two quiet refuters at each distance from the start.
    recent: Vec<[Option<Move>; 2]>,
    /// How often, weighed by depth, a move between two squares refuted something, for each side.
    history: Vec<i32>,
}

const SQUARES: usize = 64;
const FIRST: i32 = 1 << 30;
const CAPTURE: i32 = 1 << 28;
const RECENT: i32 = 1 << 27;
/// More than any history counts, so that the ranks above stay above.
const MOST_HISTORY: i32 = 1 << 26;

impl Refuters {
    pub(super) fn new(plies: usize) -> Refuters {
        Refuters { recent: vec![[None; 2]; plies], history: vec![0; 2 * SQUARES * SQUARES] }
    }

    pub(super) fn forget(&mut self) {
        self.recent.fill([None; 2]);
        self.history.fill(0);
    }

    fn place(turn: Color, m: Move) -> usize {
        let from = m.from().unwrap_or(Square::A1);
        (turn as usize * SQUARES + from as usize) * SQUARES + m.to() as usize
    }

    /// Notes that a move made all others needless.
    pub(super) fn note(&mut self, turn: Color, m: Move, ply: usize, depth: i32) {
        if gain(m) != 0 {
            return;
        }
        let [newest, older] = &mut self.recent[ply];
        if *newest != Some(m) {
            *older = newest.replace(m);
        }
        let count = &mut self.history[Refuters::place(turn, m)];
        *count = (*count + depth * depth).min(MOST_HISTORY);
    }

    fn is_recent(&self, ply: usize, m: Move) -> bool {
        let [newest, older] = self.recent[ply];
        newest == Some(m) || older == Some(m)
    }

    /// How early a move should be tried; the greater, the earlier.
    pub(super) fn rank(&self, turn: Color, m: Move, ply: usize, best_before: Option<Move>) -> i32 {
        if Some(m) == best_before {
            FIRST
        } else if gain(m) != 0 {
            CAPTURE + capture_rank(m)
        } else if self.is_recent(ply, m) {
            RECENT
        } else {
            self.history[Refuters::place(turn, m)]
        }
    }
}

/// Captures of much come first, by little before by much.
pub(super) fn capture_rank(m: Move) -> i32 {
    gain(m) * 16 - pawns(m.role())
}

/// A move with how early it should be tried.
pub(super) type RankedMove = (i32, Move);

/// Whether nothing but its history speaks for a move of this rank.
pub(super) const fn is_by_history(rank: i32) -> bool {
    rank <= MOST_HISTORY
}

/// Brings the move of the highest rank to the front: it.
pub(super) fn next_of(ranked: &mut [RankedMove]) -> RankedMove {
    let mut best = 0;
    for place in 1..ranked.len() {
        if ranked[place].0 > ranked[best].0 {
            best = place;
        }
    }
    ranked.swap(0, best);
    ranked[0]
}
