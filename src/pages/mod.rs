//! What the class sees: lessons, courses and sheets of exercises, as pages and in the formats of other programs.
//!
//! Invariant: every text from outside is escaped by the templates or made safe for its format, nothing on a page
//! is fetched from elsewhere, and the same content gives the same bytes.

// A mark by which a page is recognised.
mod seal;
// The templates, and what all pages share.
mod template;
// What is written as PGN.
mod pgn;
// What is said about an exercise in words.
mod solution;
// An exercise as pages show it.
mod exercise;
// A game as pages show it.
mod game;
// How often by kind of sacrifice.
mod kinds;
// How often and how well.
mod numbers;
// What was played after the offer.
mod tree;
// The lesson.
mod lesson;
// The list of lessons.
mod course;
// Sheets of exercises.
mod sheet;
// Whole games.
mod whole_games;

pub use course::{Course, Listed, OtherPage};
pub use lesson::{Lesson, PlaceInCourse};
pub use seal::is_untouched;
pub use sheet::{Audience, ExerciseFormat, Motif, PerPage, SheetLayout, SheetOfExercises};
pub use whole_games::{GamesFormat, WholeGames};
