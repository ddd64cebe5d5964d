//! Movetext to tokens, without a board.
//!
//! Finds the moves of the main line with their places, the evaluation comments between them and the
//! result, and everything that makes a text unfit: brackets that do not match, text after the result.
//! It does not judge whether a move is well written.
//!
//! Source: PGN standard, sections 5 to 8.2.

use memchr::{memchr, memmem};
use shakmaty::Color;

use super::game_result::GameResult;
use super::lines::{is_line_start, line_end, skip_strays};
use super::move_token::{MoveKind, MoveToken};
use super::pair::starts_pair;
use super::reject::{Fault, Reason};

/// The tokens of one game's movetext. One scan serves many games, so that its lists keep their room.
#[derive(Clone, Debug, Default)]
pub struct Scan {
    /// The moves of the main line.
    pub moves: Vec<MoveToken>,
    /// The comments of the main line that hold an evaluation: how many moves stand before each, and
    /// its place in the movetext.
    pub evaluations: Vec<(u16, std::ops::Range<usize>)>,
    /// The result at the end, if there is one.
    pub result: Option<GameResult>,
    /// Whether a comment of the main line holds a `{`: the one before it may never have been closed.
    pub has_brace_in_comment: bool,
    /// The move numbers.
    pub numbers: MoveNumbers,
}

/// Whether move numbers are those of the moves that they stand before.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct MoveNumbers {
    /// How many moves of both sides were made before the first one, by its number.
    pub first: Option<usize>,
    /// Whether a later one is not as the first one says.
    pub skip: bool,
}

impl MoveNumbers {
    /// Takes note of a number that stands after some plies; `is_for_black` if dots say so.
    fn note(&mut self, digits: &[u8], plies: usize, is_for_black: bool) {
        let number =
            digits.iter().take(6).fold(0, |number, byte| 10 * number + usize::from(byte - b'0'));
        let Some(first) = self.first else {
            let before = 2 * number.saturating_sub(1) + usize::from(is_for_black);
            self.first = Some(before.saturating_sub(plies));
            return;
        };
        self.skip |= number != (first + plies) / 2 + 1;
    }
}

/// The most plies a game can have here; a text with more is not fit to be mined.
pub const MAX_PLIES: usize = 10_000;

/// The length of the longest result, `1/2-1/2`, in bytes.
const LONGEST_RESULT: usize = 7;

impl Scan {
    /// A scan with nothing in it.
    #[must_use]
    pub fn new() -> Scan {
        Scan::default()
    }

    /// Reads a game's movetext to its end.
    ///
    /// # Errors
    ///
    /// The first thing that makes it unfit.
    pub fn read(&mut self, movetext: &[u8]) -> Result<(), Fault> {
        self.clear();
        let at = self.read_to_result(movetext)?;
        self.read_behind_result(movetext, at)
    }

    /// Reads what may stand after the result: comments, and from the next line on also what is neither a
    /// move nor a tag, such as a heading between files that were joined.
    fn read_behind_result(&mut self, movetext: &[u8], mut at: usize) -> Result<(), Fault> {
        let line = line_end(movetext, at);
        loop {
            at = skip_strays(movetext, at);
            at = match movetext.get(at) {
                None => return Ok(()),
                Some(b'{') => self.comment(movetext, at)?,
                Some(b';') => line_end(movetext, at),
                Some(b'%') if is_line_start(movetext, at) => line_end(movetext, at),
                Some(_) => {
                    let length = word_length(&movetext[at..]).max(1);
                    let word = &movetext[at..at + length];
                    if at < line || is_of_a_game(word) || starts_pair(&movetext[at..]) {
                        return Err(self.fault(Reason::TextAfterResult, at, length));
                    }
                    at + length
                }
            };
        }
    }

    /// Where the first game of a text ends whose games are parted by results alone: at its result, or,
    /// if nothing but comments follows, at the text's end. `None` if it has no result, or something
    /// before it is unfit.
    pub(super) fn end_of_first_game(&mut self, text: &[u8]) -> Option<usize> {
        self.clear();
        let end = self.read_to_result(text).ok()?;
        self.result?;
        let is_last = self.read_behind_result(text, end).is_ok();
        Some(if is_last { text.len() } else { end })
    }

    fn clear(&mut self) {
        self.moves.clear();
        self.evaluations.clear();
        self.result = None;
        self.has_brace_in_comment = false;
        self.numbers = MoveNumbers::default();
    }

    fn fault(&self, reason: Reason, at: usize, length: usize) -> Fault {
        let ply = u16::try_from(self.moves.len() + 1).ok();
        Fault { reason, at, length, ply }
    }

    /// Reads up to and with the result, or to the end.
    fn read_to_result(&mut self, text: &[u8]) -> Result<usize, Fault> {
        let mut at = 0;
        while let Some(&byte) = text.get(at) {
            at = match byte {
                b' ' | b'\n' | b'\r' | b'\t' | 0x0B | b'.' | b'!' | b'?' => at + 1,
                b'{' => self.comment(text, at)?,
                b'(' => self.variation(text, at)?,
                b'$' => {
                    at + 1 + text[at + 1..].iter().take_while(|byte| byte.is_ascii_digit()).count()
                }
                b';' => line_end(text, at),
                b'%' if is_line_start(text, at) => line_end(text, at),
                b'}' | b')' => return Err(self.fault(Reason::StrayBracket, at, 1)),
                b'1'..=b'9' if move_number_end(text, at).is_some() => {
                    let end = move_number_end(text, at).unwrap_or(at + 1);
                    let is_for_black = text.get(end) == Some(&b'.');
                    self.numbers.note(&text[at..end - 1], self.moves.len(), is_for_black);
                    end
                }
                b'0'..=b'9' | b'*' | 0xC2 => {
                    let (end, is_over) = self.number_or_result(text, at)?;
                    if is_over {
                        return Ok(end);
                    }
                    end
                }
                _ => self.move_token(text, at)?,
            };
        }
        Ok(at)
    }

    fn comment(&mut self, text: &[u8], open: usize) -> Result<usize, Fault> {
        let Some(length) = memchr(b'}', &text[open..]) else {
            return Err(self.fault(Reason::UnterminatedComment, open, line_end(text, open) - open));
        };
        let end = open + length + 1;
        self.has_brace_in_comment |= memchr(b'{', &text[open + 1..end]).is_some();
        if memmem::find(&text[open..end], b"[%eval").is_some()
            && let Ok(moves) = u16::try_from(self.moves.len())
        {
            self.evaluations.push((moves, open + 1..end - 1));
        }
        Ok(end)
    }

    /// Passes over a variation and all that nest in it, without recursion.
    fn variation(&mut self, text: &[u8], open: usize) -> Result<usize, Fault> {
        let mut depth = 0_usize;
        let mut at = open;
        while let Some(&byte) = text.get(at) {
            at = match byte {
                b'(' => {
                    depth += 1;
                    at + 1
                }
                b')' => {
                    depth -= 1;
                    if depth == 0 {
                        return Ok(at + 1);
                    }
                    at + 1
                }
                b'{' => match memchr(b'}', &text[at..]) {
                    Some(length) => at + length + 1,
                    None => {
                        return Err(self.fault(
                            Reason::UnterminatedComment,
                            at,
                            line_end(text, at) - at,
                        ));
                    }
                },
                b';' => line_end(text, at),
                b'%' if is_line_start(text, at) => line_end(text, at),
                _ => at + 1,
            };
        }
        Err(self.fault(Reason::UnterminatedVariation, open, line_end(text, open) - open))
    }

    /// Reads what starts with a digit, a star or a half: a move number, a result, or castling written
    /// with zeros. Says where it ends and whether the game is over.
    fn number_or_result(&mut self, text: &[u8], at: usize) -> Result<(usize, bool), Fault> {
        // A few bytes more than a result has are enough to see that a word is none, however long it is, or
        // which stray follows it.
        let near = &text[at..text.len().min(at + LONGEST_RESULT + 3)];
        let word = without_strays(&near[..word_length(near)]);
        let result = match word {
            b"\xC2\xBD-\xC2\xBD" => Some(GameResult::Draw),
            _ => GameResult::parse(word),
        };
        if result.is_some() {
            self.result = result;
            return Ok((at + word.len(), true));
        }
        if word.starts_with(b"0-0") {
            return Ok((self.move_token(text, at)?, false));
        }
        let digits = text[at..].iter().take_while(|byte| byte.is_ascii_digit()).count();
        if digits == 0 {
            return Err(self.fault(Reason::UnreadableMove, at, word_length(&text[at..])));
        }
        self.numbers.note(&text[at..at + digits], self.moves.len(), false);
        Ok((at + digits, false))
    }

    fn move_token(&mut self, text: &[u8], at: usize) -> Result<usize, Fault> {
        let length = word_length(&text[at..]).max(1);
        match (u32::try_from(at), u16::try_from(length)) {
            (Ok(start), Ok(length)) if self.moves.len() < MAX_PLIES => {
                self.moves.push(MoveToken { start, length });
                Ok(at + usize::from(length))
            }
            (_, Ok(_)) => Err(self.fault(Reason::TooManyPlies, at, length)),
            _ => Err(self.fault(Reason::UnreadableMove, at, length)),
        }
    }
}

/// Whether a word after a result may belong to another game: it is a result, the end of a comment or no text at
/// all, or looks like a move, with or without its number. No move of this kind is read, so it may look like any.
fn is_of_a_game(word: &[u8]) -> bool {
    let digits = word.iter().take_while(|byte| byte.is_ascii_digit()).count();
    let dots = word[digits..].iter().take_while(|&&byte| byte == b'.').count();
    let unnumbered = if dots > 0 { &word[digits + dots..] } else { word };
    word[0] == b'}'
        || word.iter().any(u8::is_ascii_control)
        || [word, unnumbered].into_iter().any(|word| {
            GameResult::parse(word).is_some() || MoveKind::of(word, Color::White).is_some()
        })
}

/// The part of a word before what was left there where files were joined.
fn without_strays(word: &[u8]) -> &[u8] {
    let stray = (1..word.len()).find(|&at| skip_strays(word, at) > at);
    &word[..stray.unwrap_or(word.len())]
}

/// Where the digits of a move number that is followed by a full stop end.
#[inline]
fn move_number_end(text: &[u8], at: usize) -> Option<usize> {
    let digits = text[at..].iter().take_while(|byte| byte.is_ascii_digit()).count();
    (text.get(at + digits) == Some(&b'.')).then_some(at + digits + 1)
}

/// The length of the word at the start of a text: up to a blank or a byte that ends a token.
pub(super) fn word_length(text: &[u8]) -> usize {
    text.iter().position(|&byte| ends_word(byte)).unwrap_or(text.len())
}

fn ends_word(byte: u8) -> bool {
    ENDS_WORD[usize::from(byte)]
}

/// For each byte whether a word ends before it.
const ENDS_WORD: [bool; 256] = {
    let mut ends = [false; 256];
    let enders = b" \n\r\t\x0B{}()!?$;";
    let mut index = 0;
    while index < enders.len() {
        ends[enders[index] as usize] = true;
        index += 1;
    }
    ends
};
