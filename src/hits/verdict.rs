//! A verdict: what an offer is worth for the side that makes it, and the word for it in tables.

/// What was found out about an offer, for the side that makes it.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Verdict {
    /// It mates within this many moves, the offer being the first.
    Mates(u8),
    /// It ends this many pawns (1 or more) up on the position before the offer.
    Gains(i32),
    /// It ends level with the position before the offer.
    Level,
    /// It gives perpetual check, or stalemate is the best the defender has.
    Draws,
    /// The budget did not suffice, or the fight was still on where the search ended.
    Unproved,
    /// It ends this many pawns (1 or more) down on the position before the offer.
    Costs(i32),
    /// It is mated within this many moves of the defender.
    Mated(u8),
}

impl Verdict {
    /// The result of a count of material, in pawns relative to the position before the offer.
    #[must_use]
    pub fn of_count(balance: i32) -> Verdict {
        match balance {
            1.. => Verdict::Gains(balance),
            0 => Verdict::Level,
            ..0 => Verdict::Costs(-balance),
        }
    }

    /// Orders verdicts by their worth for the side that offers; the greater, the better.
    ///
    /// Unproved stands above a loss and below the rest, so that the worse of two verdicts is what holds
    /// when the defender may choose.
    #[must_use]
    pub fn worth(self) -> i32 {
        const MOST_PAWNS: i32 = 200;
        match self {
            Verdict::Mates(moves) => 1_000 - i32::from(moves),
            Verdict::Gains(pawns) => 100 + pawns.min(MOST_PAWNS),
            Verdict::Level | Verdict::Draws => 1,
            Verdict::Unproved => 0,
            Verdict::Costs(pawns) => -100 - pawns.min(MOST_PAWNS),
            Verdict::Mated(moves) => i32::from(moves) - 1_000,
        }
    }

    /// Whether an offer of this worth is sound.
    #[must_use]
    pub fn sound(self) -> Sound {
        match self {
            Verdict::Mates(_) | Verdict::Gains(_) => Sound::Yes,
            Verdict::Level | Verdict::Draws => Sound::Holds,
            Verdict::Unproved => Sound::Open,
            Verdict::Costs(_) | Verdict::Mated(_) => Sound::No,
        }
    }

    /// The word for it in tables, without its number.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Verdict::Mates(_) => "mates",
            Verdict::Gains(_) => "gains",
            Verdict::Level => "level",
            Verdict::Draws => "draws",
            Verdict::Unproved => "unproved",
            Verdict::Costs(_) => "costs",
            Verdict::Mated(_) => "mated",
        }
    }

    /// The verdict that has this word, as yet without its moves or pawns.
    pub(super) fn of_word(word: &str) -> Option<Verdict> {
        let all = [
            Verdict::Mates(0),
            Verdict::Gains(0),
            Verdict::Level,
            Verdict::Draws,
            Verdict::Unproved,
            Verdict::Costs(0),
            Verdict::Mated(0),
        ];
        all.into_iter().find(|verdict| verdict.word() == word)
    }

    /// The same with its moves, if it is a mate.
    pub(super) fn with_moves(self, moves: impl FnOnce() -> Option<u8>) -> Option<Verdict> {
        match self {
            Verdict::Mates(_) => moves().map(Verdict::Mates),
            Verdict::Mated(_) => moves().map(Verdict::Mated),
            _ => Some(self),
        }
    }

    /// The same with its pawns, if it has some.
    pub(super) fn with_pawns(self, pawns: impl FnOnce() -> Option<i32>) -> Option<Verdict> {
        match self {
            Verdict::Gains(_) => pawns().map(|pawns| Verdict::Gains(pawns.abs())),
            Verdict::Costs(_) => pawns().map(|pawns| Verdict::Costs(pawns.abs())),
            _ => Some(self),
        }
    }

    /// Reads what a verdict prints as: `mates in 5`, `gains 3`, `level`.
    #[must_use]
    pub fn parse(text: &str) -> Option<Verdict> {
        let (word, number) = text.split_once(' ').unwrap_or((text, ""));
        let number = number.trim_start_matches("in ");
        let verdict = Verdict::of_word(word)?
            .with_moves(|| number.parse().ok())?
            .with_pawns(|| number.parse().ok())?;
        (verdict.to_string() == text).then_some(verdict)
    }

    /// The moves to mate, of either side.
    #[must_use]
    pub fn mate_in(self) -> Option<u8> {
        match self {
            Verdict::Mates(moves) | Verdict::Mated(moves) => Some(moves),
            _ => None,
        }
    }
}

impl std::fmt::Display for Verdict {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let word = self.word();
        match self {
            Verdict::Mates(moves) | Verdict::Mated(moves) => write!(f, "{word} in {moves}"),
            Verdict::Gains(pawns) | Verdict::Costs(pawns) => write!(f, "{word} {pawns}"),
            Verdict::Level | Verdict::Draws | Verdict::Unproved => f.write_str(word),
        }
    }
}

/// Whether an offer is sound, as far as that is known.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Sound {
    /// It mates, or wins back what it gave with something over.
    Yes,
    /// It draws by force or comes out level.
    Holds,
    /// It loses material by force with nothing to show for it, or gets mated.
    No,
    /// None of these is known.
    Open,
}

impl Sound {
    /// All of them.
    pub const ALL: [Sound; 4] = [Sound::Yes, Sound::Holds, Sound::No, Sound::Open];

    /// The word for it in tables.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Sound::Yes => "yes",
            Sound::Holds => "holds",
            Sound::No => "no",
            Sound::Open => "open",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn verdicts_are_read_as_they_are_printed() {
        for text in [
            "mates in 1",
            "mates in 12",
            "mated in 3",
            "gains 9",
            "costs 1",
            "level",
            "draws",
            "unproved",
        ] {
            assert_eq!(
                Verdict::parse(text).map(|verdict| verdict.to_string()).as_deref(),
                Some(text)
            );
        }
        for wrong in
            ["", "mates", "mates 5", "mates in 0x5", "gains in 3", "gains -3", "level 0", "wins"]
        {
            assert_eq!(Verdict::parse(wrong), None, "{wrong}");
        }
    }
}
