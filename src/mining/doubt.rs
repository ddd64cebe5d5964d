//! What makes a game doubtful that was mined all the same.

/// What makes a game doubtful that was mined all the same.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Doubt {
    /// A line that was meant as a tag could not be read.
    BrokenTag,
    /// A value of its tags is longer than [`super::MOST_OF_VALUE`].
    LongTag,
    /// Castling rights that its set-up position can't have were dropped.
    Castling,
    /// An en passant square that its set-up position can't have was dropped.
    EnPassant,
    /// Its movetext has no result: it may have been cut off.
    NoResult,
    /// Its move numbers are not those of its moves: some may be missing.
    Numbers,
    /// A comment holds a `{`: the comment before that may never have been closed.
    Brace,
    /// It was read from an archive whose check failed further on.
    Unchecked,
}

impl Doubt {
    /// The words for it in tables.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Doubt::BrokenTag => "unreadable tag line",
            Doubt::LongTag => "tag cut",
            Doubt::Castling => "castling rights corrected",
            Doubt::EnPassant => "en passant square dropped",
            Doubt::NoResult => "no result after the moves",
            Doubt::Numbers => "move numbers skip",
            Doubt::Brace => "brace in a comment",
            Doubt::Unchecked => "damaged source",
        }
    }

    /// Adds it to the doubts there are, as they stand in tables.
    pub fn add_to(self, doubts: &mut String) {
        if !doubts.is_empty() {
            doubts.push_str(", ");
        }
        doubts.push_str(self.words());
    }

    /// Removes it from the doubts there are, as they stand in tables, if it is the last of them.
    pub fn remove_from(self, doubts: &mut String) {
        if let Some(rest) = doubts.strip_suffix(self.words()) {
            doubts.truncate(rest.trim_end_matches(", ").len());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn doubt_that_is_added_last_is_removed() {
        for before in ["", "tag cut", "tag cut, move numbers skip"] {
            let mut doubts = before.to_owned();
            Doubt::Unchecked.add_to(&mut doubts);
            assert!(doubts.ends_with("damaged source"), "{doubts}");
            Doubt::Unchecked.remove_from(&mut doubts);
            assert_eq!(doubts, before);
            Doubt::Unchecked.remove_from(&mut doubts);
            assert_eq!(doubts, before);
        }
    }
}
