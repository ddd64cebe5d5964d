//! What the class sees: lessons, courses and sheets of exercises, as pages and in the formats of other programs.
//!
//! Invariant: every text from outside is escaped by the templates or made safe for its format, nothing on a page
//! is fetched from elsewhere, and the same content gives the same bytes.

// A mark by which a page is recognised.
mod seal;
// A text with its pictures set as PDF.
mod press;
// The templates, and what all pages share.
mod telling;
mod template;
// Why a page can't be written.
mod page_fault;
// A teacher's words.
mod own_words;
// What is written as PGN.
mod pgn;
// What is said about an exercise in words.
mod solution;
// An exercise as pages show it.
mod exercise;
// The moves of a game with what is said at them.
mod printed_game;
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
// What a first plan says.
mod first_plan;
// Whole games.
mod whole_games;
// Pages that are served.
mod served;

pub use course::{Course, Listed, ListedSheet, OtherPage};
pub use first_plan::{about_exercise, in_plan};
pub use lesson::{Lesson, PlaceInCourse};
pub use page_fault::PageFault;
pub use press::NO_PDF;
pub use seal::is_untouched;
pub use served::{
    served_board_script, served_diagram, served_factors, served_game, served_given, served_kind,
    served_positions, served_scores, served_style, served_symbols, served_templates,
    served_usual_title,
};
pub use sheet::{ExerciseFormat, Motif, SheetOfExercises};
pub use telling::Telling;
pub use template::motif_title;
pub use whole_games::{GamesFormat, WholeGames};
