//! Sentences to patterns: what to look for, written as a teacher would say it.
//!
//! A query file (values of TOML with their places) becomes a [`Query`] (checked), then a [`Pattern`]
//! (turned to each colour, wing and file, ready to run).
//!
//! Invariant: nothing here knows collections, games or threads; the only file it reads is a query.

mod condition;
mod example;
mod file;
mod grammar;
mod hints;
mod index;
mod library;
mod named;
mod needs;
mod pattern;
mod reading;
mod sentence;
mod shift;
mod slip;
mod squares;
mod terms;
mod words;

pub use condition::{Amount, Condition, Fact, Factor, Kinds, MenFact, Moment, Relation};
pub use example::{Example, Worth};
pub use file::{Query, names_query};
pub use index::{LensId, MOVE_KINDS, move_kind, move_kinds};
pub use library::{Library, built_in_names, every_sacrifice_names, meant};
pub use needs::Needs;
pub use pattern::{Lens, Pattern};
pub use sentence::{
    Act, Chapter, Check, Files, Finds, FollowUp, MoveSentence, Requirement, Window, Wings,
};
pub use shift::Shift;
pub use slip::Slip;
pub use squares::{NearKing, Squares};
pub use terms::{PawnRange, Side};
