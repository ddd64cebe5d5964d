//! Movetext to tokens, without a board.
//!
//! Finds the moves of the main line with their places, the evaluation comments between them and the
//! result, and everything that makes a text unfit: brackets that do not match, text behind the result.
//! It does not judge whether a move is well written; it only tells at a glance which man goes where.
//!
//! Source: PGN standard, sections 5 to 8.2.

use memchr::{memchr, memmem};
use shakmaty::{Color, File, Rank, Role, Square};

use super::reject::{Fault, Reason};
use super::tags::{GameResult, is_blank};

/// A move of the main line as it stands in the movetext.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct MoveToken {
    /// Where it starts, in bytes of the movetext.
    pub start: u32,
    /// Its length in bytes, without a suffix such as `!?`.
    pub length: u16,
}

/// Which man goes where, as far as a move's text says it.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct MoveKind {
    /// The man that moves.
    pub role: Role,
    /// Whether it captures.
    pub is_capture: bool,
    /// The square it goes to; for castling, the king's.
    pub to: Square,
}

impl MoveToken {
    /// The text of the move.
    #[must_use]
    pub fn text<'a>(&self, movetext: &'a [u8]) -> &'a [u8] {
        &movetext[self.start as usize..][..usize::from(self.length)]
    }
}

impl MoveKind {
    /// Tells the kind of a move from its text and the colour of its mover. `None` if it is no SAN.
    #[must_use]
    #[inline]
    pub fn of(san: &[u8], mover: Color) -> Option<MoveKind> {
        let role = ROLES[usize::from(*san.first()?)]?;
        if role == Role::King && matches!(san[0], b'O' | b'0') {
            let file = if is_castling_long(san) { File::C } else { File::G };
            let to = Square::from_coords(file, mover.fold_wb(Rank::First, Rank::Eighth));
            return Some(MoveKind { role, is_capture: false, to });
        }
        // Behind the square stand only a promotion and marks, which hold no digit.
        let rank_at = san.iter().rposition(u8::is_ascii_digit)?;
        let [.., file, rank] = &san[..=rank_at] else { return None };
        let (file, rank) = (file.wrapping_sub(b'a'), rank.wrapping_sub(b'1'));
        if file > 7 || rank > 7 {
            return None;
        }
        let to = Square::new(u32::from(8 * rank + file));
        let is_capture = rank_at >= 2 && san[rank_at - 2] == b'x';
        Some(MoveKind { role, is_capture, to })
    }
}

/// The man that a move's first byte stands for.
const ROLES: [Option<Role>; 256] = {
    let mut roles = [None; 256];
    let mut file = b'a';
    while file <= b'h' {
        roles[file as usize] = Some(Role::Pawn);
        file += 1;
    }
    roles[b'N' as usize] = Some(Role::Knight);
    roles[b'B' as usize] = Some(Role::Bishop);
    roles[b'R' as usize] = Some(Role::Rook);
    roles[b'Q' as usize] = Some(Role::Queen);
    roles[b'K' as usize] = Some(Role::King);
    roles[b'O' as usize] = Some(Role::King);
    roles[b'0' as usize] = Some(Role::King);
    roles
};

fn is_castling_long(san: &[u8]) -> bool {
    san.starts_with(b"O-O-O") || san.starts_with(b"0-0-0")
}

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
}

/// The most plies a game can have here; a text with more is not fit to be mined.
const MAX_PLIES: usize = 10_000;

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

    /// Reads what may stand behind the result: comments.
    fn read_behind_result(&mut self, movetext: &[u8], mut at: usize) -> Result<(), Fault> {
        while at < movetext.len() {
            at = match movetext[at] {
                b'{' => self.comment(movetext, at)?,
                b';' => line_end(movetext, at),
                b'%' if is_line_start(movetext, at) => line_end(movetext, at),
                byte if is_blank(byte) => at + 1,
                _ => {
                    return Err(self.fault(
                        Reason::TextAfterResult,
                        at,
                        word_length(&movetext[at..]),
                    ));
                }
            };
        }
        Ok(())
    }

    /// The index of the move that stands at a place in the movetext.
    #[must_use]
    pub fn move_at(&self, place: usize) -> Option<usize> {
        let index =
            self.moves.partition_point(|token| token.start as usize <= place).checked_sub(1)?;
        let token = self.moves[index];
        (place < token.start as usize + usize::from(token.length)).then_some(index)
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
                    move_number_end(text, at).unwrap_or(at)
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
        // One byte more than a result has is enough to see that a word is none, however long it is.
        let near = &text[at..text.len().min(at + LONGEST_RESULT + 1)];
        let word = &near[..word_length(near)];
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
        Ok((at + digits, false))
    }

    fn move_token(&mut self, text: &[u8], at: usize) -> Result<usize, Fault> {
        let length = word_length(&text[at..]).max(1);
        match (u32::try_from(at), u16::try_from(length)) {
            (Ok(start), Ok(length)) if self.moves.len() < MAX_PLIES => {
                self.moves.push(MoveToken { start, length });
                Ok(at + usize::from(length))
            }
            _ => Err(self.fault(Reason::UnreadableMove, at, length)),
        }
    }
}

/// Where the digits of a move number that is followed by a full stop end.
#[inline]
fn move_number_end(text: &[u8], at: usize) -> Option<usize> {
    let digits = text[at..].iter().take_while(|byte| byte.is_ascii_digit()).count();
    (text.get(at + digits) == Some(&b'.')).then_some(at + digits + 1)
}

/// The length of the word at the start of a text: up to a blank or a byte that ends a token.
fn word_length(text: &[u8]) -> usize {
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

fn is_line_start(text: &[u8], at: usize) -> bool {
    at == 0 || text[at - 1] == b'\n'
}

fn line_end(text: &[u8], at: usize) -> usize {
    memchr(b'\n', &text[at..]).map_or(text.len(), |length| at + length)
}

/// The result and the number of plies of a game, from the last words of its movetext: the last move
/// number and the moves behind it.
///
/// `None` where the end is not plain enough for that: a variation stands there, or no move number, or
/// the moves behind it are too many. The number is the one written; it is not counted.
#[must_use]
pub fn plies_at_a_glance(movetext: &[u8]) -> Option<(Option<GameResult>, usize)> {
    let mut rest = movetext;
    let mut result = None;
    let mut moves = 0;
    loop {
        rest = &rest[..rest.iter().rposition(|&byte| !is_blank(byte)).map_or(0, |last| last + 1)];
        if rest.last() == Some(&b'}') {
            rest = &rest[..memchr::memrchr(b'{', rest)?];
            // Braces do not nest (PGN standard 5): if one stands open before this, the comment began there.
            if memchr::memrchr2(b'{', b'}', rest).is_some_and(|brace| rest[brace] == b'{') {
                return None;
            }
            continue;
        }
        let start =
            rest.iter().rposition(|&byte| is_blank(byte) || byte == b'}').map_or(0, |at| at + 1);
        let word = &rest[start..];
        rest = &rest[..start];
        if result.is_none() && moves == 0 && GameResult::parse(word).is_some() {
            result = GameResult::parse(word);
            continue;
        }
        let digits = word.iter().take_while(|byte| byte.is_ascii_digit()).count();
        let dots = word[digits..].iter().take_while(|&&byte| byte == b'.').count();
        let san = without_suffix(&word[digits + dots..]);
        match (digits, san) {
            (0, san) if dots == 0 && is_move(san) => moves += 1,
            (1.., b"") => return plies(&word[..digits], dots, moves).map(|plies| (result, plies)),
            (1.., san) if dots > 0 && is_move(san) => {
                return plies(&word[..digits], dots, moves + 1).map(|plies| (result, plies));
            }
            _ => return None,
        }
        if moves > 2 {
            return None;
        }
    }
}

/// Whether a word is one move and nothing is glued to it, as in `e4!*`; `0-1` is no castling.
fn is_move(san: &[u8]) -> bool {
    word_length(san) == san.len()
        && (san.first() != Some(&b'0') || san.starts_with(b"0-0"))
        && MoveKind::of(san, Color::White).is_some()
}

/// The plies of a game whose last move number has so many dots and moves behind it.
fn plies(number: &[u8], dots: usize, moves: usize) -> Option<usize> {
    let number: usize = std::str::from_utf8(number).ok()?.parse().ok()?;
    let full_moves = number.checked_sub(1).filter(|&moves| moves < MAX_PLIES / 2)?;
    match (dots, moves) {
        (0 | 1, 0..=2) => Some(2 * full_moves + moves),
        (_, 0 | 1) if dots > 1 => Some(2 * full_moves + 1 + moves),
        _ => None,
    }
}

/// A move without the suffixes that judge it (PGN standard 8.2.3.8).
fn without_suffix(word: &[u8]) -> &[u8] {
    let kept =
        word.iter().rposition(|byte| !matches!(byte, b'!' | b'?')).map_or(0, |last| last + 1);
    &word[..kept]
}
