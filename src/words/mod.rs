//! What pages and sheets say: whole sentences out of a catalogue, in the language of the class.
//!
//! A catalogue is a file in Fluent (projectfluent.org), one a language, embedded in the program. The English one is
//! the source; the others say the same. Which plural a number wants is told by CLDR's rules.
//!
//! Invariant: nothing here knows what a message is about; names and values go in, sentences come out.

// The languages there are.
mod language;
// How numbers are written.
mod figures;
// The files and what is read from them.
mod catalogue;
// What is said.
mod say;

pub use fluent_bundle::FluentValue as Filling;
pub use language::Language;
pub use say::{Words, decimal, of_side, yes_or_no};
