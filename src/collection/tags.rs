//! Tag pairs: reading the section in front of a game.
//!
//! Reads what the standard allows on import (any white space between the four tokens, several pairs on
//! a line, a pair over several lines; PGN standard 8.1) and forgives unescaped quotes inside a value. A
//! line that starts like a tag pair and is none is passed over, and told. Of several tags of one name, which
//! the standard does not allow, the first that says something counts.

use std::borrow::Cow;

use super::date::year_of;
use super::game_result::GameResult;
use super::lines::{next_line, skip_line_end, skip_strays};
use super::pair::{plain_line, unescape};
use super::rating::{self, Rating};
use super::section::{Apart, Element, Names, element, holds_more, skip_apart};

/// How the tag starts that comes first in a section (PGN standard 8.1.1): a second one begins another game.
const EVENT: &[u8] = b"[Event \"";

/// The value of a tag, if it says something: `?` stands for what is unknown, and `-` for what there is none of (PGN
/// standard 8.1.1).
#[must_use]
pub fn known(value: &str) -> Option<&str> {
    Some(value).filter(|value| !["", "?", "-"].contains(value))
}

/// The tag pairs of a game. The values that every game is asked for are at hand, all others are looked
/// up in the text.
#[derive(Clone, Copy, Debug, Default)]
pub struct Tags<'a> {
    /// The text of the tag section.
    pub text: &'a [u8],
    /// The first line that was meant as a tag pair and can't be read; empty if there is none. Of several, one
    /// that holds more than a pair comes before others.
    pub broken: &'a [u8],
    result: &'a [u8],
    white_elo: &'a [u8],
    black_elo: &'a [u8],
    variant: &'a [u8],
    fen: &'a [u8],
    date: &'a [u8],
}

impl<'a> Tags<'a> {
    /// Reads the tag section at the start of `text` up to the first byte that belongs to movetext or to the
    /// tags of another game, and says how long it is.
    #[must_use]
    pub(super) fn read(text: &'a [u8]) -> (Tags<'a>, usize) {
        let mut tags = Tags::default();
        let mut names = Names::default();
        let mut is_behind_line = false;
        let mut has_event = false;
        let mut at = 0;
        loop {
            while !is_behind_line
                && let Some((line, next)) = plain_line(text, at)
                && !(has_event && line.starts_with(EVENT))
            {
                has_event |= tags.keep_line(line);
                at = next;
            }
            let line_start = at;
            let (place, apart) = skip_apart(text, at, is_behind_line);
            at = place;
            if apart != Apart::No
                && text.get(at) == Some(&b'[')
                && names.begin_anew(text, at, apart)
            {
                at = line_start;
                break;
            }
            let found = element(text, at);
            if let Element::Pair(b"Event", ..) = found
                && std::mem::replace(&mut has_event, true)
            {
                break;
            }
            is_behind_line = !matches!(found, Element::Pair(..));
            at = match found {
                Element::Pair(name, value, end) => {
                    tags.keep(name, value);
                    skip_line_end(text, end)
                }
                Element::Broken(line, end) => {
                    tags.tell_broken(line);
                    skip_line_end(text, end)
                }
                Element::Passed(end) => end,
                Element::End => break,
            };
        }
        tags.text = &text[..at];
        (tags, at)
    }

    fn tell_broken(&mut self, line: &'a [u8]) {
        if self.broken.is_empty() || holds_more(line) && !holds_more(self.broken) {
            self.broken = line;
        }
    }

    /// Whether a line that can't be read may hold movetext, too.
    #[must_use]
    pub fn may_hold_moves(&self) -> bool {
        holds_more(self.broken)
    }

    fn keep(&mut self, name: &[u8], value: &'a [u8]) {
        let place = match name {
            b"Result" => &mut self.result,
            b"WhiteElo" => &mut self.white_elo,
            b"BlackElo" => &mut self.black_elo,
            b"Variant" => &mut self.variant,
            b"FEN" => &mut self.fen,
            b"Date" => &mut self.date,
            _ => return,
        };
        keep_first(place, value);
    }

    /// Keeps the value of a plain line, if it is one that every game is asked for; says whether the line is
    /// an Event tag.
    #[inline]
    fn keep_line(&mut self, line: &'a [u8]) -> bool {
        let kept = match line[1] {
            b'E' => return line.starts_with(EVENT),
            b'R' => (line.strip_prefix(b"[Result \""), &mut self.result),
            b'W' => (line.strip_prefix(b"[WhiteElo \""), &mut self.white_elo),
            b'B' => (line.strip_prefix(b"[BlackElo \""), &mut self.black_elo),
            b'V' => (line.strip_prefix(b"[Variant \""), &mut self.variant),
            b'F' => (line.strip_prefix(b"[FEN \""), &mut self.fen),
            b'D' => (line.strip_prefix(b"[Date \""), &mut self.date),
            _ => return false,
        };
        if let (Some(value), place) = kept {
            keep_first(place, value.strip_suffix(b"\"]").unwrap_or_default());
        }
        false
    }

    /// The raw value of a tag, empty if there is none.
    #[must_use]
    pub fn value(&self, name: &[u8]) -> &'a [u8] {
        let mut at = skip_strays(self.text, 0);
        while at < self.text.len() {
            let end = match element(self.text, at) {
                Element::Pair(found, value, _) if found == name && !value.is_empty() => {
                    return value;
                }
                Element::Pair(_, _, end) | Element::Broken(_, end) | Element::Passed(end) => end,
                // Nothing of the section does, but for its length nobody else knows.
                Element::End => next_line(self.text, at),
            };
            at = skip_strays(self.text, end);
        }
        b""
    }

    /// The value of a tag, decoded; empty if there is none.
    #[must_use]
    pub fn text_of(&self, name: &[u8]) -> String {
        decode(&unescape(self.value(name))).into_owned()
    }

    /// The Result tag, if it holds a result.
    #[must_use]
    pub fn result(&self) -> Option<GameResult> {
        GameResult::parse(self.result)
    }

    /// White's rating.
    #[must_use]
    pub fn white_elo(&self) -> Option<Rating> {
        rating::parse(self.white_elo)
    }

    /// Black's rating.
    #[must_use]
    pub fn black_elo(&self) -> Option<Rating> {
        rating::parse(self.black_elo)
    }

    /// The year of the Date tag, if it is known.
    #[must_use]
    pub fn year(&self) -> Option<u16> {
        year_of(self.date)
    }

    /// The raw Variant tag.
    #[must_use]
    pub fn variant(&self) -> &'a [u8] {
        self.variant
    }

    /// The raw FEN tag.
    #[must_use]
    pub fn fen(&self) -> &'a [u8] {
        self.fen
    }
}

/// Keeps a value unless there is one already.
#[inline]
fn keep_first<'a>(place: &mut &'a [u8], value: &'a [u8]) {
    if place.is_empty() {
        *place = value;
    }
}

/// Bytes to text: UTF-8 if they are that, else ISO 8859-1, which the standard asks for (PGN 4.1).
#[must_use]
pub fn decode(bytes: &[u8]) -> Cow<'_, str> {
    match std::str::from_utf8(bytes) {
        Ok(text) => Cow::Borrowed(text),
        Err(_) => Cow::Owned(bytes.iter().map(|&byte| char::from(byte)).collect()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn value(section: &str, name: &str) -> String {
        Tags::read(section.as_bytes()).0.text_of(name.as_bytes())
    }

    #[test]
    fn import_format_of_the_standard_is_read() {
        // PGN standard 8.1 and 7: white space, several pairs on a line, a pair over lines, escapes.
        assert_eq!(value("[ White  \"A\" ]\n\n1. e4", "White"), "A");
        assert_eq!(value("[White \"A\"] [Black \"B\"]\n1. e4", "Black"), "B");
        assert_eq!(value("[White\n\"A\"\n]\n[Black \"B\"]\n", "White"), "A");
        assert_eq!(value(r#"[Event "the \"big\" \\ one"]"#, "Event"), r#"the "big" \ one"#);
    }

    #[test]
    fn forgiven_values_keep_their_text() {
        assert_eq!(value("[White \"A \"x\" B\"]\n", "White"), "A \"x\" B");
        assert_eq!(value("[White A]\n[Black \"B\"]\n", "Black"), "B");
        assert_eq!(Tags::read(b"[White \"Andr\xE9\"]\n").0.text_of(b"White"), "André");
        assert_eq!(value("\u{FEFF}[White \"A\"]\n", "White"), "A");
    }

    #[test]
    fn section_ends_at_movetext_or_at_the_next_event() {
        let (_, end) = Tags::read(b"[Event \"a\"]\n\n1. e4");
        assert_eq!(end, 13);
        let (tags, end) = Tags::read(b"[Event \"a\"]\n[Site \"b\"]\n\n[Event \"c\"]\n");
        assert_eq!((tags.text_of(b"Event").as_str(), end), ("a", 23));
    }
}
