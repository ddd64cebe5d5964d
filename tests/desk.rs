//! What a teacher changes in a plan changes nothing else in its file, and what was confirmed is never lost.

mod edits;
mod keeping;
mod plans;
