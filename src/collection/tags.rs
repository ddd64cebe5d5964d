//! Tag pairs: reading the section in front of a game.
//!
//! Reads what the standard allows on import (any white space between the four tokens, several pairs on
//! a line, a pair over several lines; PGN standard 8.1) and forgives unescaped quotes inside a value. A
//! line that starts like a tag pair and is none is passed over.

use std::borrow::Cow;

use memchr::memchr;

use super::date::year_of;
use super::game_result::GameResult;
use super::lines::{is_line_start, next_line, skip_blank};
use super::pair::{plain_line, read_pair, unescape};
use super::rating::{self, Rating};

/// The tag pairs of a game. The values that every game is asked for are at hand, all others are looked
/// up in the text.
#[derive(Clone, Copy, Debug, Default)]
pub struct Tags<'a> {
    /// The text of the tag section.
    pub text: &'a [u8],
    result: &'a [u8],
    white_elo: &'a [u8],
    black_elo: &'a [u8],
    variant: &'a [u8],
    fen: &'a [u8],
    date: &'a [u8],
}

impl<'a> Tags<'a> {
    /// Reads the tag section at the start of `text` up to the first byte that belongs to movetext, and
    /// says how long it is.
    #[must_use]
    pub(super) fn read(text: &'a [u8]) -> (Tags<'a>, usize) {
        let mut tags = Tags::default();
        let mut has_event = false;
        let mut at = 0;
        loop {
            while let Some((line, behind)) = plain_line(text, at) {
                has_event |= tags.keep_line(line);
                at = behind;
            }
            let line_start = at;
            at = skip_start(text, at);
            match text.get(at) {
                Some(b'[') => {
                    let is_after_blank_line =
                        is_line_start(text, line_start) && has_line_end(&text[line_start..at]);
                    if is_after_blank_line && has_event && text[at..].starts_with(b"[Event ") {
                        at = line_start;
                        break;
                    }
                    at = match read_pair(text, at) {
                        Some((name, value, end)) => {
                            has_event |= name == b"Event";
                            tags.keep(name, value);
                            end
                        }
                        None => next_line(text, at),
                    };
                    at = skip_line_end(text, at);
                }
                Some(b'%') if is_line_start(text, at) => at = next_line(text, at),
                Some(b';') => at = next_line(text, at),
                _ => break,
            }
        }
        tags.text = &text[..at];
        (tags, at)
    }

    fn keep(&mut self, name: &[u8], value: &'a [u8]) {
        match name {
            b"Result" => self.result = value,
            b"WhiteElo" => self.white_elo = value,
            b"BlackElo" => self.black_elo = value,
            b"Variant" => self.variant = value,
            b"FEN" => self.fen = value,
            b"Date" => self.date = value,
            _ => {}
        }
    }

    /// Keeps the value of a plain line, if it is one that every game is asked for; says whether the
    /// line is an Event tag.
    #[inline]
    fn keep_line(&mut self, line: &'a [u8]) -> bool {
        let kept = match line[1] {
            b'E' => return line.starts_with(b"[Event "),
            b'R' => (line.strip_prefix(b"[Result \""), &mut self.result),
            b'W' => (line.strip_prefix(b"[WhiteElo \""), &mut self.white_elo),
            b'B' => (line.strip_prefix(b"[BlackElo \""), &mut self.black_elo),
            b'V' => (line.strip_prefix(b"[Variant \""), &mut self.variant),
            b'F' => (line.strip_prefix(b"[FEN \""), &mut self.fen),
            b'D' => (line.strip_prefix(b"[Date \""), &mut self.date),
            _ => return false,
        };
        if let (Some(value), place) = kept {
            *place = value.strip_suffix(b"\"]").unwrap_or_default();
        }
        false
    }

    /// The raw value of a tag, empty if there is none.
    #[must_use]
    pub fn value(&self, name: &[u8]) -> &'a [u8] {
        let mut at = skip_start(self.text, 0);
        while at < self.text.len() {
            // What is no pair is passed over to its line's end, as it was when the section was read.
            at = match read_pair(self.text, at) {
                Some((found, value, _)) if found == name => return value,
                Some((_, _, end)) => end,
                None => next_line(self.text, at),
            };
            at = skip_blank(self.text, at);
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

/// Where white space and a byte order mark at the start of a section end.
fn skip_start(text: &[u8], at: usize) -> usize {
    let has_mark = at == 0 && text.starts_with(b"\xEF\xBB\xBF");
    skip_blank(text, if has_mark { 3 } else { at })
}

fn has_line_end(text: &[u8]) -> bool {
    memchr(b'\n', text).is_some()
}

/// Skips the line end that usually follows a pair, so that a blank line can be told.
fn skip_line_end(text: &[u8], at: usize) -> usize {
    match text[at..] {
        [b'\n', ..] => at + 1,
        [b'\r', b'\n', ..] => at + 2,
        _ => at,
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
