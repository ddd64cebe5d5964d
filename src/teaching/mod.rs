//! Hits to something to learn from: so far, diagrams of positions.
//!
//! Invariant: nothing here knows files, threads or queries; a position goes in, text comes out.

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

pub use diagram::{Coordinates, Diagram, symbols};
pub use marks::{Line, MarkError, rings};
pub use paint::DARK;
pub use words::in_words;
