//! Mines chess game collections for sacrifices, measures how they score and writes tables of them.
//!
//! One picture, data flowing one way:
//!
//! ```text
//! collection ──> blocks ──> games ──> hits ──> tables ──> verdicts ──> numbers ──> lessons
//!   (bytes)    (whole games)    ^    (offers)   (files)   (proofs)    (tally)    (pages)
//!                               │
//!                            queries (what to look for)
//! ```
//!
//! The modules stand in the order in which data flows; each imports only from those above it, and
//! [`commands`] from all.
//!
//! This is a program and no library: its modules are public for its own tests, benches and fuzz targets,
//! and promise nothing to anybody else.

// What to do about an error.
pub mod advice;
// How text that is not ours is shown.
pub mod visible;
// Chess that the move generator lacks.
pub mod board;
// What pages say, in the reader's language.
pub mod words;
// Files that people write, and what is wrong with them.
pub mod toml_files;
// Sentences to patterns: what to look for.
pub mod query;
// Bytes to games.
pub mod collection;
// The one ordered pool of work.
pub mod work;
// Queries over games: hits.
pub mod mining;
// Other programs' judgement of positions.
pub mod engine;
// Rows to files and back.
pub mod tables;
// A hit and all that is known of it, written and read.
pub mod hits;
// What an offer is worth against best play.
pub mod verdict;
// Numbers of what was found.
pub mod statistics;
// Mining written up, and resumed where it was cut short.
pub mod run;
// Several runs made one.
pub mod joining;
// Positions and numbers as pictures.
pub mod drawing;
// Which games are shown and which exercises are set.
pub mod teaching;
// Every hit at hand, to be chosen from.
pub mod finding;
// What a teacher wants of a course.
pub mod plan;
// The plan under edit, kept safe.
pub mod desk;
// What the class sees.
pub mod pages;
// A run on the screen, served to this machine alone.
pub mod open;
// The only door to standard output and error.
pub mod terminal;
// The commands, each wiring these stages together.
pub mod commands;
