//! Where games start and end in text that starts with a game.
//!
//! A game starts at a tag pair that follows movetext, most often at the start of a line, but where files were
//! joined also after a result; or after a blank line in a tag section, if the tags there are those of
//! another game (`section`). What stands in comments starts nothing, unless the comment is never closed: a
//! `{` that meets the start of a game and then, before any `}`, another `{`, the end of the source or
//! [`COMMENT_WINDOW`] bytes, is taken as a slip that spoils its own game only.
//!
//! Invariant: the games joined give back the text.

use memchr::memmem;
use memchr::{memchr, memchr_iter, memchr2, memchr3, memchr3_iter, memrchr2};

use super::game_result::GameResult;
use super::lines::{is_blank, is_line_start, line_end, line_start, may_be_stray, skip_strays};
use super::movetext::Scan;
use super::pair::{starts_like_pair, starts_pair};
use super::section::broken_line;
use super::tags::Tags;

/// How far the end of a comment is looked for before a game that starts inside it is believed.
pub(super) const COMMENT_WINDOW: usize = 1 << 20;

/// The text of one game.
#[derive(Clone, Copy, Debug)]
pub struct RawGame<'a> {
    /// Where it starts, in bytes of the text.
    pub start: usize,
    /// Its tag pairs.
    pub tags: Tags<'a>,
    /// Its movetext.
    pub movetext: &'a [u8],
    /// Where its movetext starts, in bytes of the text.
    pub movetext_start: usize,
}

/// The games of a text, in order.
#[derive(Clone, Debug)]
pub struct Games<'a> {
    text: &'a [u8],
    at: usize,
    /// Where a run of games without tags ends; after it, 0 or less than `at`.
    untagged_end: usize,
}

impl<'a> Games<'a> {
    /// The games of `text`, which starts with a game.
    #[must_use]
    pub fn of(text: &'a [u8]) -> Games<'a> {
        Games { text, at: 0, untagged_end: 0 }
    }
}

impl<'a> Iterator for Games<'a> {
    type Item = RawGame<'a>;

    fn next(&mut self) -> Option<RawGame<'a>> {
        let start = self.at;
        let text = &self.text[start..];
        let (tags, tags_end) = Tags::read(text);
        if tags_end == text.len() && skip_strays(text, 0) == text.len() {
            return None;
        }
        let end = if memchr(b'[', tags.text).is_some() || !tags.broken.is_empty() {
            movetext_end(text, tags_end)
        } else {
            if self.untagged_end <= start {
                self.untagged_end = start + movetext_end(text, tags_end);
            }
            tags_end + first_game_without_tags(&text[tags_end..self.untagged_end - start])
        };
        self.at = start + end;
        Some(RawGame {
            start,
            tags,
            movetext: &text[tags_end..end],
            movetext_start: start + tags_end,
        })
    }
}

/// Without tags nothing but results parts games from each other.
fn first_game_without_tags(text: &[u8]) -> usize {
    Scan::new().end_of_first_game(text).unwrap_or(text.len())
}

/// Where the movetext that starts at `from` ends: at the start of the next game or of the text's end.
///
/// Movetext is most often plain, or its comments are all closed; only where neither can be seen at a
/// glance is it read comment by comment.
fn movetext_end(text: &[u8], from: usize) -> usize {
    match memchr3(b'[', b'{', b';', &text[from..]) {
        None => text.len(),
        Some(skipped) => start_without_comments(text, from, from + skipped)
            .or_else(|| end_at_first_pair(text, from))
            .unwrap_or_else(|| end_by_reading(text, from)),
    }
}

/// Where the game starts whose first tag pair stands at the first special byte of movetext.
fn start_without_comments(text: &[u8], from: usize, at: usize) -> Option<usize> {
    if text[at] != b'[' {
        return None;
    }
    let mut line = LineStart { at: from };
    line.follow(text, from, at);
    start_of_game(text, from, line.at, at)
}

/// Where the game starts whose first whole tag pair stands at a place of a line, in movetext outside of
/// comments; `None` if none does.
///
/// A pair with its quotes starts one wherever it stands, unless its line is an escape. A line that only
/// starts like a pair starts one if the game before it has its result. A broken line of tags before the pair
/// belongs to it.
fn start_of_game(text: &[u8], from: usize, line: usize, at: usize) -> Option<usize> {
    if is_escape(text, line) {
        return None;
    }
    if starts_pair(&text[at..]) {
        return Some(broken_line_before(text, from, line).unwrap_or(at));
    }
    (line == at && starts_like_pair(&text[at..]) && is_over(&text[from..at])).then_some(at)
}

/// Whether a line is an escape, which nobody reads (PGN standard 6).
fn is_escape(text: &[u8], line: usize) -> bool {
    text[line] == b'%' && is_line_start(text, line)
}

/// Where a broken line of tags starts that stands right before a line.
fn broken_line_before(text: &[u8], from: usize, line: usize) -> Option<usize> {
    let last = text[from..line].iter().rposition(|&byte| !is_blank(byte))?;
    let before = line_start(text, from + last);
    let is_broken =
        before > from && !is_escape(text, before) && broken_line(text, before).is_some();
    is_broken.then_some(before)
}

/// Whether movetext ends with a result.
fn is_over(movetext: &[u8]) -> bool {
    let end = movetext.iter().rposition(|&byte| !may_be_stray(byte)).map_or(0, |last| last + 1);
    let start = movetext[..end].iter().rposition(|&byte| is_blank(byte)).map_or(0, |at| at + 1);
    GameResult::parse(&movetext[start..end]).is_some()
}

/// The first line that starts with a tag pair, if there is one near, it is certainly outside of comments, and
/// no other pair stands before it: there would be a quote.
fn end_at_first_pair(text: &[u8], from: usize) -> Option<usize> {
    /// Most movetext is shorter. Where lines end otherwise, every game would look through all text after it.
    const NEAR: usize = 1 << 15;
    let near = &text[from..text.len().min(from + NEAR)];
    let first = memmem::find_iter(near, b"\n[")
        .map(|newline| from + newline + 1)
        .find(|&start| starts_like_pair(&text[start..]))?;
    let is_certain = starts_pair(&text[first..])
        && memchr(b'"', &text[from..first]).is_none()
        && is_outside_comments(&text[from..first]);
    is_certain.then_some(first)
}

/// Finds the end of movetext comment by comment.
fn end_by_reading(text: &[u8], from: usize) -> usize {
    let mut line = LineStart { at: from };
    let mut at = from;
    while let Some(skipped) = memchr3(b'[', b'{', b';', &text[at..]) {
        let found = at + skipped;
        line.follow(text, at, found);
        at = match text[found] {
            _ if is_escape(text, line.at) => line_end(text, found),
            b'{' => match comment_end(text, found) {
                CommentEnd::Closed(end) => end,
                CommentEnd::GameStart(end) => return end,
                CommentEnd::TextEnd => return text.len(),
            },
            b';' => line_end(text, found),
            _ => match start_of_game(text, from, line.at, found) {
                Some(start) => return start,
                None => found + 1,
            },
        };
    }
    text.len()
}

/// Follows the start of the current line without reading any text twice.
struct LineStart {
    at: usize,
}

impl LineStart {
    fn follow(&mut self, text: &[u8], from: usize, to: usize) {
        if let Some(end) = memrchr2(b'\n', b'\r', &text[from..to]) {
            self.at = from + end + 1;
        }
    }
}

/// What ends a comment.
enum CommentEnd {
    /// Its `}`; the place after it.
    Closed(usize),
    /// It is never closed, and a game starts at this place.
    GameStart(usize),
    /// It is never closed, and no game starts in it.
    TextEnd,
}

fn comment_end(text: &[u8], open: usize) -> CommentEnd {
    let mut at = open + 1;
    loop {
        let window = &text[at..text.len().min(at + COMMENT_WINDOW)];
        let length = match memchr2(b'{', b'}', window) {
            Some(length) if window[length] == b'}' => return CommentEnd::Closed(at + length + 1),
            Some(length) => length + 1,
            None => window.len(),
        };
        if let Some(start) = game_start_within(text, at - 1, at + length) {
            return CommentEnd::GameStart(start);
        }
        at += length;
        if at == text.len() {
            return CommentEnd::TextEnd;
        }
    }
}

/// The first tag pair at the start of a line between two places, or right after a brace at the first.
fn game_start_within(text: &[u8], from: usize, to: usize) -> Option<usize> {
    let may_start =
        |start: usize| is_line_start(text, start) || start == from + 1 && text[from] == b'{';
    memchr_iter(b'[', &text[from..to])
        .map(|bracket| from + bracket)
        .find(|&start| start > from && may_start(start) && starts_pair(&text[start..]))
}

/// The last place in `text`, but for its start, at which a game starts for certain whatever text may
/// follow, found from the end and at little cost; if there is none, it may still be that
/// [`last_start_by_reading`] finds one.
pub(super) fn last_start_from_end(text: &[u8]) -> Option<usize> {
    const TRIES: usize = 32;
    memmem::rfind_iter(text, b"\n[")
        .map(|newline| newline + 1)
        .filter(|&start| starts_pair(&text[start..]) && follows_movetext(text, start))
        .take(TRIES)
        .find(|&start| is_outside_comments(&text[..start]))
}

/// Whether the last line before `start` that is not blank is certainly none of a tag section: neither
/// a part of a pair nor a line that is passed over.
pub(super) fn follows_movetext(text: &[u8], start: usize) -> bool {
    let Some(last) = text[..start].iter().rposition(|&byte| !may_be_stray(byte)) else {
        return false;
    };
    let line = &text[line_start(text, last)..=last];
    let first = line.iter().find(|&&byte| !may_be_stray(byte));
    // A pair may be written over several lines (PGN 8.1); the later ones hold a quote or start with its
    // bracket, and after it a broken pair may stand.
    let may_go_on_with_pair = first == Some(&b']') || memchr(b'"', line).is_some();
    text[last] != b']'
        && !may_go_on_with_pair
        && !has_bracket_outside_comments(line)
        && !matches!(first, Some(b'[' | b'%' | b';') | None)
}

/// Whether a square bracket stands outside of the comments of a line: after the result of a game without
/// tags, those of the next one may start on its line.
fn has_bracket_outside_comments(line: &[u8]) -> bool {
    let mut is_comment = false;
    memchr3_iter(b'[', b'{', b'}', line).any(|at| {
        is_comment = line[at] == b'{' || line[at] == b'[' && is_comment;
        line[at] == b'[' && !is_comment
    })
}

/// Whether the last brace of a text that starts outside of comments closes one, or there is none.
pub(super) fn is_outside_comments(text: &[u8]) -> bool {
    memrchr2(b'{', b'}', text).is_none_or(|brace| text[brace] == b'}')
}

/// The last place in `text`, but for its start, at which a game starts whatever text may follow, found
/// by reading every game.
pub(super) fn last_start_by_reading(text: &[u8]) -> Option<usize> {
    let certain = text.len().saturating_sub(COMMENT_WINDOW);
    Games::of(text)
        .map(|game| game.start)
        .take_while(|&start| start <= certain)
        .filter(|&start| start > 0)
        .last()
}

/// The first place in `text` at which a tag pair starts a line, whatever stands around it.
pub(super) fn first_pair_line(text: &[u8]) -> Option<usize> {
    game_start_within(text, 0, text.len())
}
