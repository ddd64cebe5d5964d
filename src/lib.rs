//! Mines chess game collections for sacrifices, measures how they fare and writes tables of them.
//!
//! One picture, data flowing one way:
//!
//! ```text
//! collection ──> blocks ──> games ──> hits ──> tables ──> numbers
//!   (bytes)    (whole games)    ^    (offers)   (files)  (summary)
//!                               │
//!                            queries (what to look for)
//! ```
//!
//! The modules stand in the order in which data flows; each imports only from those above it, and
//! [`commands`] from all.

pub mod board;
pub mod collection;
pub mod commands;
pub mod mining;
pub mod query;
pub mod statistics;
pub mod tables;
pub mod terminal;
