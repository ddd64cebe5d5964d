//! Files in TOML that people write: read with the place of every value, and all that is wrong told at its place.

// The text.
mod text;
// What is wrong.
mod problem;
// Values with their places.
mod reader;

pub use problem::{FileProblems, Problem};
pub(crate) use reader::{Text, TomlReader, Value};
pub use text::read_text;
