//! The plan on the desk: what a teacher changes in it, made in its file so that whatever else they wrote stays.
//!
//! Invariant: an edit changes nothing but what it is about, byte for byte, and is in the file before anybody hears that it
//! is done.

// What can be changed.
mod edit;
// Why it can't.
mod fault;
// The text of a plan as its tables stand in it.
mod ground;
// What is noted in it.
mod notes;
// Changes of the text.
mod splice;
// Which entry a name means.
mod named;
// Levels as they are written.
mod levels;
// Lists and their entries.
mod listing;
// Edits made.
mod apply;
mod lesson_edits;
mod sheet_edits;
// What an edit is about, and whether that is still so.
mod merge;
mod touched;
// Files written whole.
mod whole_file;
// The states that were.
mod state_name;
mod states;
// The file under edit.
mod keep;
mod trouble;
// Queries of a teacher's own.
mod query_shelf;

pub use apply::edited;
pub use edit::{
    CourseField, Edit, ExerciseName, LessonEdit, ListEdit, NewLesson, Noted, Nth, SheetGiven, Spot,
    WordsPlace,
};
pub use fault::EditFault;
pub use keep::{Changed, Desk, PlanNow};
pub use merge::Clash;
pub use named::{exercise_names, game_names, lesson_names, sheet_exercise_names, sheet_names};
pub use notes::PlanNotes;
pub use query_shelf::{QueryShelf, ShelfTrouble};
pub use state_name::{NoStateName, StateName};
pub use states::UNDONE_AT_LEAST;
pub use trouble::DeskTrouble;
