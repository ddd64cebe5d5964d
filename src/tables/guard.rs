//! Texts that a spreadsheet would run as a formula, made harmless in tables of comma-separated values.
//!
//! The rule: a text that starts with one of [`STARTS_FORMULA`], or with an apostrophe, is written with an
//! apostrophe before it; whoever reads a text that starts with an apostrophe removes that one. Numbers
//! and truths are written as they are, and so is the lone hyphen by which PGN says that a value does
//! not apply (PGN standard 8.1.1.4), which is not a formula.
//!
//! Source: OWASP, "CSV Injection" (the first characters and the apostrophe; from memory).
//!
//! Invariant: what is guarded and read is the same text again.

use std::borrow::Cow;

/// What stands before a text that might be taken for a formula.
const GUARD: char = '\'';

/// The first characters by which a spreadsheet takes a cell for a formula, their full-width twins among
/// them.
const STARTS_FORMULA: [char; 11] =
    ['=', '+', '-', '@', '\t', '\r', '\n', '\u{FF1D}', '\u{FF0B}', '\u{FF0D}', '\u{FF20}'];

/// A text as it is written to a cell.
#[must_use]
pub fn guarded(text: &str) -> Cow<'_, str> {
    let is_harmless = text == "-" || !text.starts_with(STARTS_FORMULA) && !text.starts_with(GUARD);
    if is_harmless { Cow::Borrowed(text) } else { Cow::Owned(format!("{GUARD}{text}")) }
}

/// The text that a cell holds.
#[must_use]
pub(super) fn unguarded(cell: &str) -> &str {
    cell.strip_prefix(GUARD).unwrap_or(cell)
}
