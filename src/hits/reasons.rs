//! What stands behind an open verdict and behind a draw: why a count proves nothing, and who forces it.

/// Why a count of material proves nothing.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Unrest {
    /// It is not deep enough.
    Shallow,
    /// It came out otherwise one or two plies less deep.
    Unsteady,
    /// A king is in check where it ends, or the side to move has no move.
    Check,
    /// The side that stands worse mates from there within a few moves.
    Mate,
    /// That side can go on to give check.
    Checks,
    /// The attacker, down by the count, can go on to threaten mate.
    Attack,
    /// That side wins a man there.
    Men,
    /// That side queens a pawn there.
    Pawn,
    /// The budget ran out before that was known.
    Budget,
    /// A draw is forced, but not against every reply.
    OtherReplies,
}

impl Unrest {
    /// All of them.
    pub const ALL: [Unrest; 10] = [
        Unrest::Shallow,
        Unrest::Unsteady,
        Unrest::Check,
        Unrest::Mate,
        Unrest::Checks,
        Unrest::Attack,
        Unrest::Men,
        Unrest::Pawn,
        Unrest::Budget,
        Unrest::OtherReplies,
    ];

    /// Why a count proves nothing, in words behind it.
    #[must_use]
    pub const fn in_words(self) -> &'static str {
        match self {
            Unrest::Shallow => "not deep enough",
            Unrest::Unsteady => "not the same two plies before",
            Unrest::Check => "with a king in check there",
            Unrest::Mate => "with mate to follow",
            Unrest::Checks => "with checks to follow",
            Unrest::Attack => "with mate still threatened",
            Unrest::Men => "with a man to be won there",
            Unrest::Pawn => "with a pawn about to queen",
            Unrest::Budget => "which is not known to be settled",
            Unrest::OtherReplies => "and a draw against some replies",
        }
    }

    /// The word for it in tables.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Unrest::Shallow => "shallow",
            Unrest::Unsteady => "unsteady",
            Unrest::Check => "check",
            Unrest::Mate => "mate",
            Unrest::Checks => "checks",
            Unrest::Attack => "attack",
            Unrest::Men => "men",
            Unrest::Pawn => "pawn",
            Unrest::Budget => "budget",
            Unrest::OtherReplies => "other replies",
        }
    }

    /// The one that has this word.
    pub(super) fn of_word(word: &str) -> Option<Unrest> {
        Unrest::ALL.into_iter().find(|unrest| unrest.word() == word)
    }
}

/// Who can force a draw.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum DrawnBy {
    /// The side that offers: each reply is met by endless checks, stalemate or mate.
    Attacker,
    /// The side that is offered to, by endless checks or stalemate.
    Defender,
}

impl DrawnBy {
    /// The word for it in tables.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            DrawnBy::Attacker => "attacker",
            DrawnBy::Defender => "defender",
        }
    }

    /// The one that has this word.
    pub(super) fn of_word(word: &str) -> Option<DrawnBy> {
        [DrawnBy::Attacker, DrawnBy::Defender].into_iter().find(|by| by.word() == word)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_read_as_they_are_written() {
        for unrest in Unrest::ALL {
            assert_eq!(Unrest::of_word(unrest.word()), Some(unrest));
        }
        for by in [DrawnBy::Attacker, DrawnBy::Defender] {
            assert_eq!(DrawnBy::of_word(by.word()), Some(by));
        }
        assert_eq!((Unrest::of_word(""), DrawnBy::of_word("nobody")), (None, None));
    }
}
