//! What is taught of a motif: which games are shown, which exercises are set, and what both rest on.
//!
//! Invariant: nothing here knows files, threads or where a page is written; hits go in, and what to show of
//! them comes out.

// A game that a teacher brings.
mod own_game;
// A line of moves played out.
mod steps;
// What was found out about an offer, in words.
mod proved;
// A game in which the offer was made.
mod specimen;
// The whole of its game.
mod whole_game;
// What is to be varied in a choice.
mod variety;
// Which of them a lesson shows.
mod choose;
// Positions to solve, with proof.
mod exercise;
// What plots show of a query.
mod measured;
// All that a lesson shows of a motif.
mod findings;

pub use choose::{Choice, MODEL_GAMES, Shelf};
pub use exercise::{
    Aside, AsideRole, Candidate, Candidates, Class, Examiner, Exercise, ExerciseKind, ExercisePool,
    Features, Flaw, GivenPositions, LessonCandidates, Level, Levels, LevelsFault, Likeness, Look,
    MOST_CANDIDATES, Met, Objection, Quota, QuotaFault, SheetChoice, Sides, Stretch, Unjudged,
    Upshot, advised, sheet_order,
};
pub use findings::Findings;
pub use measured::{frequency_by_year, gains, scores_by_band};
pub use own_game::{OwnGameError, read_game};
pub(crate) use proved::in_words;
pub use specimen::{Bearing, Specimen, Traits};
pub use steps::{Step, Steps, StepsError};
pub use whole_game::{MissedPlay, WholeGame, WholeGameError};
