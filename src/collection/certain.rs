//! Where a game starts for certain in a text that may begin anywhere: in a game, a tag or a comment.
//!
//! Invariant: a place that is given is the start of a game for whoever reads the source from its first byte on,
//! too, unless it is in a game that is too long to be mined.

use std::io::{self, Read};
use std::ops::Range;

use memchr::{memchr2, memmem};

use super::games::{COMMENT_WINDOW, follows_movetext, is_outside_comments};
use super::lines::{line_start, may_be_stray};
use super::pair::starts_pair;

/// How many bytes before a place are looked at.
pub(super) const LOOKBACK: usize = 1 << 16;

/// How many bytes are looked through at a time.
const STEP: usize = 1 << 18;

/// The first place at which a game starts for certain, in bytes of the input, but for those in its first `skip`
/// bytes; `None` if there is none up to its end.
pub(super) fn first_certain_start(mut input: impl Read, skip: usize) -> io::Result<Option<u64>> {
    let (mut text, mut passed, mut at) = (Vec::new(), 0, skip);
    loop {
        let missing = at + STEP + COMMENT_WINDOW - text.len();
        let read = input.by_ref().take(missing as u64).read_to_end(&mut text)?;
        let is_at_end = read < missing;
        let end = if is_at_end { text.len() } else { text.len() - COMMENT_WINDOW };
        if let Some(start) = certain_start_in(&text, at.min(end)..end) {
            return Ok(Some(passed + start as u64));
        }
        if is_at_end {
            return Ok(None);
        }
        let gone = end.saturating_sub(LOOKBACK);
        text.drain(..gone);
        passed += gone as u64;
        at = end - gone;
    }
}

/// The first certain start in a range of a text, which goes on for [`COMMENT_WINDOW`] bytes after it, or ends.
fn certain_start_in(text: &[u8], range: Range<usize>) -> Option<usize> {
    let from = range.start.saturating_sub(1);
    memmem::find_iter(&text[from..range.end], b"\n[")
        .map(|newline| from + newline + 1)
        .find(|&start| start >= range.start && is_certain_start(text, start))
}

/// Whether a game starts here wherever the text begins. A comment that was open here would be closed by the next
/// brace: if there is none near, or it opens one, a comment was never closed, and games start in it all the same.
fn is_certain_start(text: &[u8], start: usize) -> bool {
    let next = &text[start..text.len().min(start + COMMENT_WINDOW)];
    starts_pair(next)
        && knows_line_before(text, start)
        && follows_movetext(text, start)
        && is_outside_comments(&text[..start])
        && memchr2(b'{', b'}', next).is_none_or(|brace| next[brace] == b'{')
}

/// Whether the last line before a place that is not blank is there from its start on.
fn knows_line_before(text: &[u8], start: usize) -> bool {
    let last = text[..start].iter().rposition(|&byte| !may_be_stray(byte));
    last.is_some_and(|last| line_start(text, last) > 0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn start(text: &str, skip: usize) -> Option<u64> {
        first_certain_start(text.as_bytes(), skip).ok().flatten()
    }

    const GAME: &str = "[Event \"a\"]\n[White \"b\"]\n\n1. e4 { why } e5\n2. Nf3 *\n\n";

    #[test]
    fn game_after_the_one_that_a_text_begins_in_starts_for_certain() {
        let text = GAME.repeat(3);
        for skip in 0..=2 * GAME.len() {
            let next = skip.div_ceil(GAME.len()).max(1) * GAME.len();
            assert_eq!(start(&text, skip), Some(next as u64), "{skip}");
        }
        assert_eq!(start(&text, 2 * GAME.len() + 1), None);
    }

    #[test]
    fn games_in_a_comment_start_nothing_and_those_after_it_do() {
        let quoted = GAME.replace(['{', '}'], "");
        let text = format!("17. Kf1 as in\n2. Nf3 *\n\n{quoted}and so on }} 1-0\n\n{GAME}{GAME}");
        let after = text.len() - 2 * GAME.len();
        assert_eq!(start(&text, 0), Some(after as u64));
    }

    /// What is read in steps must be the same as what is read at once.
    #[test]
    fn long_movetext_is_passed_over() {
        let long = format!("1. e4 *\n{}", "; a line of talk\n".repeat(100_000));
        let text = format!("{long}2. d4 *\n\n{GAME}{GAME}");
        let expected = text.len() - 2 * GAME.len();
        assert_eq!(start(&text, 10), Some(expected as u64));
    }
}
