//! White space and lines of PGN, in bytes.
//!
//! A line ends with a line feed, a carriage return or both.

use memchr::memchr2;

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

/// What programs leave between games where files were joined: NUL, form feed, the end-of-file mark of old
/// systems, no-break spaces in both encodings, and byte order marks (common practice, no source).
const STRAYS: [&[u8]; 6] = [b"\0", b"\x0C", b"\x1A", b"\xA0", b"\xC2\xA0", b"\xEF\xBB\xBF"];

/// Where the white space and the strays at a place end.
pub(super) fn skip_strays(text: &[u8], at: usize) -> usize {
    let mut at = skip_blank(text, at);
    if text.get(at).is_none_or(u8::is_ascii_graphic) {
        return at;
    }
    while let Some(stray) = STRAYS.iter().find(|&&stray| text[at..].starts_with(stray)) {
        at = skip_blank(text, at + stray.len());
    }
    at
}

/// Whether a byte may be white space or belong to a stray.
pub(super) fn may_be_stray(byte: u8) -> bool {
    is_blank(byte) || STRAYS.iter().any(|stray| stray.contains(&byte))
}

fn ends_line(byte: u8) -> bool {
    matches!(byte, b'\n' | b'\r')
}

/// Whether a line starts at a place.
pub(super) fn is_line_start(text: &[u8], at: usize) -> bool {
    at == 0 || ends_line(text[at - 1])
}

/// Whether a line ends in a text.
pub(super) fn has_line_end(text: &[u8]) -> bool {
    memchr2(b'\n', b'\r', text).is_some()
}

/// The end of the line that a place is in: the first byte of its line end, or the end of the text.
pub(super) fn line_end(text: &[u8], at: usize) -> usize {
    memchr2(b'\n', b'\r', &text[at..]).map_or(text.len(), |length| at + length)
}

/// The start of the line that a place is in.
pub(super) fn line_start(text: &[u8], at: usize) -> usize {
    text[..at].iter().rposition(|&byte| ends_line(byte)).map_or(0, |end| end + 1)
}

/// The place after the line end at a place, or the place itself if there is none.
pub(super) fn skip_line_end(text: &[u8], at: usize) -> usize {
    match text[at..] {
        [b'\r', b'\n', ..] => at + 2,
        [b'\n' | b'\r', ..] => at + 1,
        _ => at,
    }
}

/// The start of the line after the one that a place is in, or the end of the text.
pub(super) fn next_line(text: &[u8], at: usize) -> usize {
    skip_line_end(text, line_end(text, at))
}
