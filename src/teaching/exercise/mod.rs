//! Exercises: positions with a solution that is proved, or that an engine vouches for, chosen from tables of
//! judged hits.
//!
//! ```text
//! hits ──> candidates ──> proof ──> grade ──> selection
//!         (Candidates)  (Examiner)  (Grade)    (ExercisePool)
//! ```
//!
//! Invariant: what is asked is proved again, whatever the tables say; the same rows, seed and nodes give the
//! same exercises in the same order.

// What the pupil is asked to do.
mod kind;
// A row that may become an exercise, and which of them are kept.
mod candidate;
mod candidates;
// What a verdict is worth in pawns.
mod worth;
// Lines of moves, cut where the point is made.
mod moves;
// Why a position is left out.
mod flaw;
// How hard an exercise is.
mod grade;
// What moves come to.
mod upshot;
// What was found out about a position.
mod solution;
// Short ones, for beginners: which hits look fit, and what is proved of them.
mod short;
mod short_fit;
// The searches that prove a solution.
mod proof;
// An engine and what it answered.
mod hearing;
// What it says against an exercise.
mod objection;
// Exercises that rest on it.
mod advised;
// Which positions are too much the same.
mod likeness;
// Which were given before.
mod given;
// Which exercises make up a sheet.
mod pool;
// How many of which kind.
mod quota;
// The exercises of a lesson.
mod for_lesson;

use std::sync::Arc;

use shakmaty::{Chess, Color, Move, Position};

use crate::board::{balance, played_out};
use crate::hits::{JudgedHit, Verdict};

pub use advised::advised;
pub use candidate::{Candidate, Class};
pub use candidates::{Candidates, MOST_CANDIDATES, Met, Sides, Unjudged};
pub use flaw::Flaw;
pub use for_lesson::{ExerciseWish, LessonCandidates, LessonExercises};
pub use given::GivenPositions;
pub use grade::{Features, Level, Levels, LevelsFault};
pub use hearing::Look;
pub use kind::ExerciseKind;
pub use likeness::Likeness;
pub use objection::Objection;
pub use pool::{ExercisePool, SheetChoice};
pub use proof::Examiner;
pub use quota::{Quota, QuotaFault, sheet_order};
pub use upshot::Upshot;

/// A count of at least this many pawns is believed without an engine's word.
const CLEAR_GAIN: i32 = 3;

/// A position to solve, with its solution. What that rests on is told by what it comes to: mates and draws are
/// proved, all else is counted, and an engine vouches for it unless it [stands alone](Exercise::stands_alone).
#[derive(Clone, Debug)]
pub struct Exercise {
    /// What is asked.
    pub kind: ExerciseKind,
    /// The hit it is made of.
    pub hit: Arc<JudgedHit>,
    /// The position before the offer and the moves from it to the position that is shown; none if it is
    /// that one.
    pub lead: Stretch,
    /// The position that is shown.
    pub start: Chess,
    /// Who offers, or has offered.
    pub attacker: Color,
    /// The solution, or for [`ExerciseKind::Judge`] the offer and what confirms or refutes it.
    pub line: Vec<Move>,
    /// What the solution comes to.
    pub comes_to: Upshot,
    /// Whether the offer works; true if that is not the question.
    pub works: bool,
    /// Other first moves that are as correct, and what they come to.
    pub also: Vec<(Move, Upshot)>,
    /// What else may be played.
    pub asides: Vec<Aside>,
    /// What the level depends on.
    pub features: Features,
    /// How hard it is.
    pub level: Level,
    /// How many positions were looked at: by our own searches, or by the engine if it rests on that.
    pub nodes: u64,
    /// The lot of its candidate: a pseudo-random number.
    pub lot: u64,
}

/// A position and moves from it.
#[derive(Clone, Debug)]
pub struct Stretch {
    /// The position before the first move.
    pub start: Chess,
    /// The moves.
    pub moves: Vec<Move>,
}

/// Moves that part from the solution.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Aside {
    /// The place of the solution's move in whose stead they are played.
    pub at: usize,
    /// The moves.
    pub moves: Vec<Move>,
    /// What they come to.
    pub comes_to: Upshot,
    /// Why they are shown.
    pub role: AsideRole,
}

/// Why moves that part from the solution are shown.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum AsideRole {
    /// Another reply to the solution, and the answer to it.
    Reply,
    /// A mistake, and what refutes it.
    Mistake,
    /// What should be played instead of an offer that fails.
    Better,
}

impl Exercise {
    /// Whether it rests on proofs and clear gains alone, and so may be shown without an engine's word.
    #[must_use]
    pub fn stands_alone(&self) -> bool {
        if self.kind.is_short() {
            return true;
        }
        // Winning a piece while two down proves little.
        let before = balance(&self.lead.start, self.attacker);
        self.upshots().all(|comes_to| match comes_to {
            Upshot::Found(Verdict::Mates(_) | Verdict::Mated(_) | Verdict::Draws) => true,
            Upshot::Found(Verdict::Gains(pawns)) => pawns >= CLEAR_GAIN && before + pawns > 0,
            Upshot::Found(Verdict::Level | Verdict::Down(_) | Verdict::Open)
            | Upshot::Judged(_)
            | Upshot::Unmated(_)
            | Upshot::Answered
            | Upshot::Counted { .. } => false,
        })
    }

    /// All that is said of what its moves come to.
    fn upshots(&self) -> impl Iterator<Item = Upshot> {
        std::iter::once(self.comes_to)
            .chain(self.also.iter().map(|&(_, comes_to)| comes_to))
            .chain(self.asides.iter().map(|aside| aside.comes_to))
    }

    /// Whether the solution's first move is right; an offer that is to be judged and fails is not, nor a move of the
    /// king that runs into mate, nor a check that is to be mate and is none.
    #[must_use]
    pub fn is_first_right(&self) -> bool {
        self.kind != ExerciseKind::King && (!self.kind.has_halves() || self.works)
    }

    /// The position in which other moves are played.
    #[must_use]
    pub fn start_of(&self, aside: &Aside) -> Chess {
        played_out(&self.start, &self.line[..aside.at])
    }

    /// Who is to move.
    #[must_use]
    pub fn side(&self) -> Color {
        self.start.turn()
    }
}
