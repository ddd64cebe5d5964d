//! Letters for the men in other languages.

use std::borrow::Cow;

/// Which letters stand for the men in moves that are read by people. Files for other programs keep English ones, as the
/// standards want.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, clap::ValueEnum)]
pub enum PieceLetters {
    /// K Q R B N
    #[default]
    English,
    /// K D V S J
    Czech,
    /// K D T L S
    Danish,
    /// K D T L P
    Dutch,
    /// K L V O R
    Estonian,
    /// K D T L R
    Finnish,
    /// R D T F C
    French,
    /// K D T L S
    German,
    /// K V B F H
    Hungarian,
    /// K D H B R
    Icelandic,
    /// R D T A C
    Italian,
    /// K D T L S
    Norwegian,
    /// K H W G S
    Polish,
    /// R D T B C
    Portuguese,
    /// R D T N C
    Romanian,
    /// R D T A C
    Spanish,
    /// K D T L S
    Swedish,
    /// ♔ ♕ ♖ ♗ ♘, the same in any language
    Figurines,
}

impl PieceLetters {
    /// The signs for king, queen, rook, bishop and knight: those of the table of languages in section 8.2.3 of the PGN
    /// standard (from memory), and the white chessmen of Unicode.
    const fn signs(self) -> [char; 5] {
        match self {
            PieceLetters::English => ['K', 'Q', 'R', 'B', 'N'],
            PieceLetters::Czech => ['K', 'D', 'V', 'S', 'J'],
            PieceLetters::Danish
            | PieceLetters::German
            | PieceLetters::Norwegian
            | PieceLetters::Swedish => ['K', 'D', 'T', 'L', 'S'],
            PieceLetters::Dutch => ['K', 'D', 'T', 'L', 'P'],
            PieceLetters::Estonian => ['K', 'L', 'V', 'O', 'R'],
            PieceLetters::Finnish => ['K', 'D', 'T', 'L', 'R'],
            PieceLetters::French => ['R', 'D', 'T', 'F', 'C'],
            PieceLetters::Hungarian => ['K', 'V', 'B', 'F', 'H'],
            PieceLetters::Icelandic => ['K', 'D', 'H', 'B', 'R'],
            PieceLetters::Italian | PieceLetters::Spanish => ['R', 'D', 'T', 'A', 'C'],
            PieceLetters::Polish => ['K', 'H', 'W', 'G', 'S'],
            PieceLetters::Portuguese => ['R', 'D', 'T', 'B', 'C'],
            PieceLetters::Romanian => ['R', 'D', 'T', 'N', 'C'],
            PieceLetters::Figurines => ['♔', '♕', '♖', '♗', '♘'],
        }
    }

    /// A text with these letters in its moves. What is not a move in SAN stays as it is.
    #[must_use]
    pub fn in_text(self, text: &str) -> Cow<'_, str> {
        if self == PieceLetters::English {
            return Cow::Borrowed(text);
        }
        Cow::Owned(
            text.split_inclusive(char::is_whitespace).map(|word| self.in_word(word)).collect(),
        )
    }

    /// A word with these letters, if a move is in it, with its number and with what stops a sentence or not.
    fn in_word(self, word: &str) -> Cow<'_, str> {
        let is_before = |letter: char| letter.is_ascii_digit() || matches!(letter, '.' | '…' | '(');
        let bare = word.trim_start_matches(is_before);
        let (before, bare) = word.split_at(word.len() - bare.len());
        let is_of_move = |letter: char| letter.is_ascii_alphanumeric() || "=+#-".contains(letter);
        let length = bare.find(|letter| !is_of_move(letter)).unwrap_or(bare.len());
        let (san, after) = bare.split_at(length);
        if !is_move(san) {
            return Cow::Borrowed(word);
        }
        let sign = |letter: char| {
            let place = PieceLetters::English.signs().iter().position(|known| *known == letter);
            place.map_or(letter, |place| self.signs()[place])
        };
        let san: String = san.chars().map(sign).collect();
        Cow::Owned([before, &san, after].concat())
    }
}

/// Whether a word is a move in SAN with the letter of a man in it.
fn is_move(word: &str) -> bool {
    let has_letter = word.contains(['K', 'Q', 'R', 'B', 'N']);
    has_letter && word.parse::<shakmaty::san::SanPlus>().is_ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn moves_have_the_letters_of_the_language_and_nothing_else_has() {
        let text = "After 8.Bxh7+ Kxh7 9.Ng5+ (or Kg8), 12…exd1=Q# and O-O. Black to move; Nora's Knight R.";
        for (letters, expected) in [
            (PieceLetters::English, text),
            (
                PieceLetters::German,
                "After 8.Lxh7+ Kxh7 9.Sg5+ (or Kg8), 12…exd1=D# and O-O. Black to move; Nora's Knight R.",
            ),
            (
                PieceLetters::Spanish,
                "After 8.Axh7+ Rxh7 9.Cg5+ (or Rg8), 12…exd1=D# and O-O. Black to move; Nora's Knight R.",
            ),
            (
                PieceLetters::Figurines,
                "After 8.♗xh7+ ♔xh7 9.♘g5+ (or ♔g8), 12…exd1=♕# and O-O. Black to move; Nora's Knight R.",
            ),
        ] {
            assert_eq!(letters.in_text(text), expected);
        }
        assert_eq!(
            PieceLetters::French.in_text("Does White's Bxh7+ work?"),
            "Does White's Fxh7+ work?"
        );
    }
}
