//! A teacher's plan: which lessons a course has, which games and exercises they show, and what the teacher says.
//!
//! Invariant: a plan is read whole or every fault in it is told at its place; what is written into it changes nothing
//! else in it.

// Whom a sheet is for.
mod audience;
// How it is laid out.
mod layout;
// A value with its place.
mod planned;
// What a plan holds.
mod course;
// A sheet of it, and what classes had.
mod sheet;
// How it is read.
mod reading;
mod reading_sheets;
// Moves as a teacher names them.
mod move_name;
// A first plan.
mod written;

pub use audience::Audience;
pub use course::{
    CoursePlan, GameSource, Part, PlannedExercise, PlannedGame, PlannedLesson, WordsAtMove,
};
pub use layout::{NoSuchLayout, Paper, PerPage, SheetLayout};
pub use move_name::{MoveName, MoveNotFound};
pub use planned::Planned;
pub use reading_sheets::SHEET_KEYS;
pub use sheet::{Given, PlannedSheet, SheetExercise, SheetWanted, given_entry};
pub use written::{WrittenExercise, WrittenGame, WrittenLesson, written};
