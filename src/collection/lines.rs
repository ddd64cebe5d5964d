//! White space and lines of PGN, in bytes.

use memchr::memchr;

/// White space by the standard: space and the four control characters of PGN 4.1.
pub(super) fn is_blank(byte: u8) -> bool {
    matches!(byte, b' ' | b'\n' | b'\r' | b'\t' | 0x0B)
}

/// Where the white space at a place ends.
pub(super) fn skip_blank(text: &[u8], mut at: usize) -> usize {
    while text.get(at).is_some_and(|&byte| is_blank(byte)) {
        at += 1;
    }
    at
}

/// Whether a line starts at a place.
pub(super) fn is_line_start(text: &[u8], at: usize) -> bool {
    at == 0 || text[at - 1] == b'\n'
}

/// The end of the line that a place is in: its line feed, or the end of the text.
pub(super) fn line_end(text: &[u8], at: usize) -> usize {
    memchr(b'\n', &text[at..]).map_or(text.len(), |length| at + length)
}

/// The start of the line after the one that a place is in, or the end of the text.
pub(super) fn next_line(text: &[u8], at: usize) -> usize {
    text.len().min(line_end(text, at) + 1)
}
