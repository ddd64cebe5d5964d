//! One tag pair (PGN standard 8.1).

use std::borrow::Cow;

use memchr::{memchr, memchr3};

use super::lines::{skip_blank, skip_line_end};

/// The line at a place, and where the next one starts, if the line is plainly one pair: its bracket, its
/// name, one blank, and a value in quotes up to the closing bracket at the line's end.
#[inline]
pub(super) fn plain_line(text: &[u8], at: usize) -> Option<(&[u8], usize)> {
    let [b'[', first, rest @ ..] = text.get(at..)? else { return None };
    let length = memchr3(b'\n', b'\r', b'[', rest)?;
    let end = at + 2 + length;
    let (line, next) = (&text[at..end], skip_line_end(text, end));
    let name = rest.iter().position(|&byte| !is_name_byte(byte))?;
    let is_plain = next > end
        && first.is_ascii_alphabetic()
        && rest[name..].starts_with(b" \"")
        && line.len() > name + 5
        && line.ends_with(b"\"]")
        && !line.ends_with(b"\\\"]");
    is_plain.then_some((line, next))
}

fn is_name_byte(byte: u8) -> bool {
    IS_NAME_BYTE[usize::from(byte)]
}

/// For each byte whether it may stand in the name of a tag.
const IS_NAME_BYTE: [bool; 256] = {
    let mut is_name = [false; 256];
    let mut byte = 0;
    while byte < is_name.len() {
        is_name[byte] = (byte as u8).is_ascii_alphanumeric() || byte as u8 == b'_';
        byte += 1;
    }
    is_name
};

/// Whether a tag pair, or a line meant as one, starts here.
pub(super) fn starts_like_pair(text: &[u8]) -> bool {
    let [b'[', rest @ ..] = text else {
        return false;
    };
    let name = &rest[skip_blank(rest, 0)..];
    name.first().is_some_and(u8::is_ascii_alphabetic)
}

/// Whether a tag pair with its quoted value starts here, beyond doubt: it also starts like one.
pub(super) fn starts_pair(text: &[u8]) -> bool {
    starts_like_pair(text) && read_name(text, 0).is_some()
}

/// The name of the tag pair, or of the line meant as one, that starts here.
pub(super) fn name_at(text: &[u8], at: usize) -> Option<&[u8]> {
    if !text.get(at..).is_some_and(starts_like_pair) {
        return None;
    }
    let start = skip_blank(text, at + 1);
    let length = text[start..].iter().take_while(|&&byte| is_name_byte(byte)).count();
    Some(&text[start..start + length])
}

/// Reads `[ name "` and gives the name's range and where the value starts.
#[inline]
fn read_name(text: &[u8], at: usize) -> Option<(std::ops::Range<usize>, usize)> {
    if text.get(at) != Some(&b'[') {
        return None;
    }
    let start = skip_blank(text, at + 1);
    let mut end = start;
    while text.get(end).is_some_and(|&byte| is_name_byte(byte)) {
        end += 1;
    }
    let quote = skip_blank(text, end);
    (end > start && text.get(quote) == Some(&b'"')).then_some((start..end, quote + 1))
}

/// Reads a tag pair: its name, its raw value and where it ends.
#[inline]
pub(super) fn read_pair(text: &[u8], at: usize) -> Option<(&[u8], &[u8], usize)> {
    let (name, start) = read_name(text, at)?;
    let mut quote = start;
    loop {
        quote += memchr3(b'"', b'\n', b'\r', &text[quote..])?;
        if text[quote] != b'"' {
            return None;
        }
        let end = skip_blank(text, quote + 1);
        if text.get(end) == Some(&b']') && !is_escaped(&text[start..quote]) {
            return Some((&text[name], &text[start..quote], end + 1));
        }
        quote += 1;
    }
}

/// Whether a quote after this text is escaped: an odd number of backslashes stands before it.
fn is_escaped(before: &[u8]) -> bool {
    before.iter().rev().take_while(|&&byte| byte == b'\\').count() % 2 == 1
}

/// Resolves `\"` and `\\` (PGN standard 7).
pub(super) fn unescape(raw: &[u8]) -> Cow<'_, [u8]> {
    if memchr(b'\\', raw).is_none() {
        return Cow::Borrowed(raw);
    }
    let mut bytes = Vec::with_capacity(raw.len());
    let mut rest = raw.iter().copied().peekable();
    while let Some(byte) = rest.next() {
        let is_escape = byte == b'\\' && matches!(rest.peek(), Some(b'"' | b'\\'));
        bytes.push(if is_escape { rest.next().unwrap_or(byte) } else { byte });
    }
    Cow::Owned(bytes)
}
