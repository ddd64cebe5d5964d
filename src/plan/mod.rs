//! A teacher's plan: which lessons a course has, which games and exercises they show, and what the teacher says.
//!
//! Invariant: a plan is read whole or every fault in it is told at its place; what is written into it changes nothing
//! else in it.

// What a plan holds.
mod course;
// How it is read.
mod reading;
// Moves as a teacher names them.
mod move_name;
// A first plan.
mod written;

pub use course::{
    GameSource, Part, Plan, Planned, PlannedExercise, PlannedGame, PlannedLesson, WordsAtMove,
};
pub use move_name::{MoveName, MoveNotFound};
pub use written::{WrittenExercise, WrittenGame, WrittenLesson, written};
