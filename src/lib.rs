//! Mines chess game collections for sacrifices, measures how they fare and writes tables of them.
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

// Chess that the move generator lacks.
pub mod board;
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
// Hits to files.
pub mod tables;
// What an offer is worth against best play.
pub mod verdict;
// Numbers of what was found.
pub mod statistics;
// Hits to something to learn from.
pub mod teaching;
// The only door to standard output and error.
pub mod terminal;
// The commands, each wiring these stages together.
pub mod commands;
