//! What the end of a movetext tells about the whole game, for games that are not read.
//!
//! Source: PGN standard, sections 5 and 8.2.

use shakmaty::Color;

use super::game_result::GameResult;
use super::lines::is_blank;
use super::move_token::MoveKind;
use super::movetext::{MAX_PLIES, word_length};

/// The result and the number of plies of a game, from the last words of its movetext: the last move
/// number and the moves after it.
///
/// `None` where the end is not plain enough for that: a variation stands there, no move number or nothing but
/// one, or the moves after it are too many. The number is the one written; it is not counted.
#[must_use]
pub fn plies_at_a_glance(movetext: &[u8]) -> Option<(Option<GameResult>, usize)> {
    let mut rest = movetext;
    let mut result = None;
    let mut moves = 0;
    loop {
        rest = &rest[..rest.iter().rposition(|&byte| !is_blank(byte)).map_or(0, |last| last + 1)];
        if rest.last() == Some(&b'}') {
            rest = &rest[..rest.len() - 1];
            rest = &rest[..memchr::memrchr2(b'{', b'}', rest).filter(|&at| rest[at] == b'{')?];
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
            // It may be of a heading that stands after the result.
            (1.., b"") if moves == 0 && result.is_none() => return None,
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
    word_length(san) == san.len() && MoveKind::of(san, Color::White).is_some()
}

/// The plies of a game whose last move number is followed by `dots` dots and `moves` moves.
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
