//! Evaluations in comments: `[%eval 0.25]`, `[%eval #-3]`, `[%eval 0.25,18]`.
//!
//! Source: PGN supplement of 2001, sections 3.2 and 4, for the form of commands in comments; that the
//! number is in pawns or moves to mate and from White's side is common practice, no source.

use std::fmt;

use memchr::memmem;

/// The longest mate in moves that is believed.
const LONGEST_MATE: i32 = 10_000;

/// What a program thought of a position.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Evaluation {
    /// In hundredths of a pawn.
    Centipawns(i32),
    /// Mate in this many moves; negative if it is one's own king that is mated.
    Mate(i32),
}

impl Evaluation {
    /// Reads the first evaluation of a comment, from White's side.
    #[must_use]
    pub fn of_comment(comment: &[u8]) -> Option<Evaluation> {
        let start = memmem::find(comment, b"[%eval")? + b"[%eval".len();
        let end = start + memchr::memchr(b']', &comment[start..])?;
        let operand = std::str::from_utf8(&comment[start..end]).ok()?;
        Evaluation::of_text(operand.split(',').next()?.trim())
    }

    /// Reads an evaluation as it is written: `0.25`, `#-3`.
    #[must_use]
    pub fn of_text(text: &str) -> Option<Evaluation> {
        match text.strip_prefix('#') {
            Some(moves) => {
                let moves: i32 = moves.parse().ok()?;
                (-LONGEST_MATE..=LONGEST_MATE).contains(&moves).then_some(Evaluation::Mate(moves))
            }
            None => {
                let pawns: f64 = text.parse().ok().filter(|pawns: &f64| pawns.abs() < 10_000.0)?;
                #[expect(
                    clippy::cast_possible_truncation,
                    reason = "less than 1,000,000 by the line above"
                )]
                Some(Evaluation::Centipawns((pawns * 100.0).round() as i32))
            }
        }
    }

    /// The same seen from the other side.
    #[must_use]
    pub fn reversed(self) -> Evaluation {
        match self {
            Evaluation::Centipawns(value) => Evaluation::Centipawns(-value),
            Evaluation::Mate(moves) => Evaluation::Mate(-moves),
        }
    }
}

impl fmt::Display for Evaluation {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Evaluation::Centipawns(value) => {
                let sign = if *value < 0 { "-" } else { "" };
                write!(f, "{sign}{}.{:02}", value.abs() / 100, value.abs() % 100)
            }
            Evaluation::Mate(moves) => write!(f, "#{moves}"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn forms_of_the_supplement_are_read() {
        let read = |comment: &str| Evaluation::of_comment(comment.as_bytes());
        assert_eq!(read("[%clk 0:00:07][%eval -6.05] lost"), Some(Evaluation::Centipawns(-605)));
        assert_eq!(read("[%eval 0.25,18]"), Some(Evaluation::Centipawns(25)));
        assert_eq!(read("[%eval #-3]"), Some(Evaluation::Mate(-3)));
        for nothing in [
            "",
            "[%eval]",
            "[%eval x]",
            "[%eval 1.0",
            "eval 1.0",
            "[%eval NaN]",
            "[%eval inf]",
            "[%eval #-2147483648]",
        ] {
            assert_eq!(read(nothing), None, "{nothing}");
        }
    }
}
