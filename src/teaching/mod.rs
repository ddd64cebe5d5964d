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
// A game with what is said at its moves.
mod game_tree;
// The whole of its game.
mod whole_game;
// A game as a lesson shows it.
mod lesson_game;
// What is to be varied in a choice.
mod variety;
// Those that a teacher names.
mod picked;
// Which of them a lesson shows.
mod choose;
// What else could be replied.
mod what_if;
// Why a game is shown.
mod why;
// Positions to solve, with proof.
mod exercise;
// What plots show of a query.
mod measured;
// All that a lesson shows of a motif.
mod findings;

pub use choose::{Choice, MODEL_GAMES, Shelf};
pub use exercise::{
    Aside, AsideRole, Candidate, Candidates, Class, Examiner, Exercise, ExerciseKind, ExercisePool,
    ExerciseWish, Features, Flaw, GivenPositions, LessonCandidates, LessonExercises, Level, Levels,
    LevelsFault, Likeness, Look, MOST_CANDIDATES, Met, Objection, Quota, QuotaFault, SheetChoice,
    Sides, Stretch, Unjudged, Upshot, advised, sheet_order,
};
pub use findings::{Findings, LessonWishes, shown};
pub use game_tree::{GameTree, Note, Variation, VariationNote};
pub use lesson_game::{GameShown, LessonGame};
pub use measured::{frequency_by_year, gains, scores_by_band};
pub use own_game::{OwnGame, OwnGameError, read_game};
pub use picked::{Picked, is_called};
pub(crate) use proved::in_words;
pub use specimen::{Bearing, Specimen, Traits, how_little_it_teaches};
pub use steps::{Step, Steps, StepsError};
pub use what_if::{Answered, WhatIf};
pub use whole_game::{WholeGame, WholeGameError};
pub(crate) use why::why;
