//! What stands in a tag section, one element after the other, and where the section of another game
//! begins in it.
//!
//! Invariant: every line of a section is a pair, is passed over, or is told as broken.

use std::collections::HashSet;

use memchr::{memchr3, memrchr};

use super::lines::{
    has_line_end, is_blank, is_line_start, line_end, next_line, skip_line_end, skip_strays,
};
use super::pair::{name_at, read_pair, starts_pair};

/// What stands at a place in a tag section.
pub(super) enum Element<'a> {
    /// A tag pair: its name, its raw value and where it ends.
    Pair(&'a [u8], &'a [u8], usize),
    /// A line, or a part of one, that was meant as a pair, and where it ends.
    Broken(&'a [u8], usize),
    /// A comment or an escape (PGN standard 5 and 6), and where it ends.
    Passed(usize),
    /// Nothing: movetext begins here.
    End,
}

/// What stands at a place in a tag section that is no white space.
pub(super) fn element(text: &[u8], at: usize) -> Element<'_> {
    let broken = |end: usize| Element::Broken(&text[at..end], end);
    match text.get(at) {
        None => Element::End,
        Some(b'[') => match read_pair(text, at) {
            Some((name, value, end)) => Element::Pair(name, value, end),
            None => broken(line_end(text, at)),
        },
        Some(b';') => Element::Passed(next_line(text, at)),
        Some(b'%') if is_line_start(text, at) => Element::Passed(next_line(text, at)),
        Some(_) => broken_line(text, at).or_else(|| junk(text, at)).map_or(Element::End, broken),
    }
}

/// The end of the line that starts here, if it ends as only a line of tags does, `"]` outside of comments, and
/// no pair starts in it.
pub(super) fn broken_line(text: &[u8], at: usize) -> Option<usize> {
    let end = line_end(text, at);
    let line = text[at..end].trim_ascii_end();
    // The bracket at its start may be whole where its name is not.
    let rest = line.strip_prefix(b"[").unwrap_or(line);
    let is_broken = is_line_start(text, at)
        && line.ends_with(b"\"]")
        && memchr3(b'[', b'{', b';', rest).is_none();
    is_broken.then_some(end)
}

/// The place of the pair after a few bytes that stand between two pairs of a line.
fn junk(text: &[u8], at: usize) -> Option<usize> {
    const MOST: usize = 8;
    let near = &text[at..text.len().min(at + MOST)];
    let length = near.iter().position(|&byte| byte == b'[' || is_blank(byte))?;
    (!is_line_start(text, at) && starts_pair(&text[at + length..])).then_some(at + length)
}

/// Whether a broken line holds more than a pair: what stands after its bracket may be movetext.
pub(super) fn holds_more(broken: &[u8]) -> bool {
    memrchr(b']', broken)
        .is_some_and(|bracket| broken[bracket + 1..].iter().any(|&byte| !is_blank(byte)))
}

/// How what comes in a tag section is apart from what came before it.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Apart {
    /// It is not.
    No,
    /// By a blank line.
    Blank,
    /// By a line that is no pair and may have been movetext.
    Line,
}

/// Where white space and strays at a place in a section end, and how what comes then is apart.
pub(super) fn skip_apart(text: &[u8], at: usize, is_behind_line: bool) -> (usize, Apart) {
    let end = skip_strays(text, at);
    let is_behind_blank = is_line_start(text, at) && has_line_end(&text[at..end]);
    let apart = match (is_behind_blank, is_behind_line) {
        (true, _) => Apart::Blank,
        (false, true) => Apart::Line,
        (false, false) => Apart::No,
    };
    (end, apart)
}

/// The names of the tags of a section so far, as far as somebody asked.
#[derive(Debug, Default)]
pub(super) struct Names<'a> {
    seen: HashSet<&'a [u8]>,
    read_to: usize,
}

impl<'a> Names<'a> {
    /// Whether the tags from `at` on belong to another game than those before it: an Event tag is among
    /// them, which comes first in a section (PGN standard 8.1.1), or one that there was before.
    pub(super) fn begin_anew(&mut self, text: &'a [u8], at: usize, apart: Apart) -> bool {
        self.read_up_to(text, at);
        if self.seen.is_empty() {
            return false;
        }
        let is_another = |name: &[u8]| name == b"Event" || self.seen.contains(name);
        match apart {
            Apart::No => false,
            Apart::Line => name_at(text, at).is_some_and(is_another),
            Apart::Blank => names_of_paragraph(text, at).any(is_another),
        }
    }

    fn read_up_to(&mut self, text: &'a [u8], end: usize) {
        let mut at = self.read_to;
        while at < end {
            self.seen.extend(name_at(text, at));
            at = skip_strays(text, after(text, at));
        }
        self.read_to = end;
    }
}

/// The names of the tags up to the next blank line, if that is near.
fn names_of_paragraph(text: &[u8], start: usize) -> impl Iterator<Item = &[u8]> {
    /// A paragraph is read anew for each blank line before it.
    const NEAR: usize = 1 << 16;
    let mut next = Some(start);
    std::iter::from_fn(move || {
        let at = next?;
        let name = name_at(text, at)?;
        let (then, apart) = skip_apart(text, after(text, at), false);
        next = (apart != Apart::Blank && then < start + NEAR).then_some(then);
        Some(name)
    })
}

/// The place after the element at a place, and after its line end.
fn after(text: &[u8], at: usize) -> usize {
    match element(text, at) {
        Element::Pair(_, _, end) | Element::Broken(_, end) => skip_line_end(text, end),
        Element::Passed(end) => end,
        Element::End => next_line(text, at),
    }
}
