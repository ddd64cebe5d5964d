//! Pictures: diagrams of positions, and plots of numbers, as SVG.
//!
//! Invariant: nothing here knows games, hits or pages; positions and numbers go in, SVG comes out, and the same
//! input gives the same bytes.

// Text made safe for XML.
mod xml;
// Colours that a page may set.
mod colours;
// A position in words.
mod words;
// What is shown besides the men.
mod marks;
// The six men.
mod outline;
mod pieces;
// The board they stand on.
mod board;
mod hatching;
// All of it put together.
mod diagram;
// Numbers as pictures.
mod plot;

pub use colours::DARK;
pub use diagram::{Coordinates, Diagram, symbols};
pub use marks::{MarkError, Way, rings};
pub(crate) use plot::widest;
pub use plot::{Measured, Plot, in_one_picture};
pub use words::in_words;
pub(crate) use words::list;
