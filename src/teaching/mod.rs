//! Hits to something to learn from: diagrams, plots, lessons.
//!
//! Invariant: nothing here knows games, threads or where a page is written; rows of tables go in, text
//! comes out.

// A position in words.
mod words;
// What is shown beside the men.
mod marks;
// Colours that a page may set, and text made safe.
mod paint;
// The six men.
mod lathe;
mod pieces;
// The board they stand on.
mod hatching;
mod sheet;
// All of it put together.
mod diagram;

// Numbers as pictures.
mod plot;
// A line of moves played out.
mod steps;
// What was proved of an offer.
mod proved;
// A game in which the offer was made.
mod specimen;
// What is to be varied in a choice.
mod variety;
// Which of them a lesson shows.
mod choose;
// The page itself.
mod lesson;
// Positions to solve, with proof.
mod exercise;

pub use choose::{Choice, MODEL_GAMES, Shelf};
pub use diagram::{Coordinates, Diagram, symbols};
pub use exercise::{
    Candidate, Candidates, Class, Examiner, Exercise, ExerciseFormat, Features, Flaw,
    GameReference, Level, Likeness, MOST_CANDIDATES, Motif, Pool, SheetChoice, SheetOfExercises,
    Task,
};
pub use lesson::{Course, Lesson, Listed, Place};
pub use marks::{Line, MarkError, rings};
pub use paint::DARK;
pub use plot::{Measured, Plot, in_one_picture};
pub use proved::Proved;
pub use specimen::{Bearing, Specimen, Traits};
pub use steps::{Step, Steps, StepsError};
pub use words::in_words;
