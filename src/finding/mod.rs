//! Every hit of some runs at hand: held in columns, counted by whatever is chosen, and put in order.
//!
//! Invariant: nothing here knows files, pages or addresses; a choice goes in, and which hits are left, how many would
//! be left by any other choice, and how they went comes out. What is held of a hit is of fixed size, names aside, which
//! are held once each.

// What hits are chosen by.
mod facet;
// Texts that come again and again.
mod names;
// All hits, in columns.
mod found;
// Read from the tables.
mod gathering;
// One hit.
mod sought;
// What is chosen.
mod choice;
// In which order hits are shown.
mod order;
mod sorting;
// What is left by a choice.
mod sifted;

pub use choice::HitChoice;
pub use facet::Facet;
pub use found::{FoundHit, FoundHits};
pub use gathering::{Gathering, MotifTold};
pub use order::ListOrder;
pub use sifted::{HowTheyWent, Sifted, ValueCount};
pub use sought::Sought;
