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
    Open,
    /// It is this many pawns (1 or more) down on the position before the offer where the count ended. There
    /// may be more to it than material.
    Down(i32),
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
            ..0 => Verdict::Down(-balance),
        }
    }

    /// The result of a count of material, in pawns relative to the position before the offer; nothing of the others.
    #[must_use]
    pub fn change(self) -> Option<i32> {
        match self {
            Verdict::Gains(up) => Some(up),
            Verdict::Level => Some(0),
            Verdict::Down(down) => Some(-down),
            Verdict::Mates(_) | Verdict::Draws | Verdict::Mated(_) | Verdict::Open => None,
        }
    }

    /// Orders verdicts by their worth for the side that offers; the greater, the better.
    ///
    /// An open one stands above a loss and below the rest, so that the worse of two verdicts is what holds
    /// when the defender may choose.
    #[must_use]
    pub fn worth(self) -> i32 {
        const MOST_PAWNS: i32 = 200;
        match self {
            Verdict::Mates(moves) => 1_000 - i32::from(moves),
            Verdict::Gains(pawns) => 100 + pawns.min(MOST_PAWNS),
            Verdict::Level | Verdict::Draws => 1,
            Verdict::Open => 0,
            Verdict::Down(pawns) => -100 - pawns.min(MOST_PAWNS),
            Verdict::Mated(moves) => i32::from(moves) - 1_000,
        }
    }

    /// Whether it mates, or is up where the count ended.
    #[must_use]
    pub fn is_ahead(self) -> bool {
        matches!(self, Verdict::Mates(_) | Verdict::Gains(_))
    }

    /// Whether it is mated, or down where the count ended.
    #[must_use]
    pub fn is_behind(self) -> bool {
        matches!(self, Verdict::Mated(_) | Verdict::Down(_))
    }

    /// The word for it in tables, without its number.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Verdict::Mates(_) => "mates",
            Verdict::Gains(_) => "gains",
            Verdict::Level => "level",
            Verdict::Draws => "draws",
            Verdict::Open => "open",
            Verdict::Down(_) => "down",
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
            Verdict::Open,
            Verdict::Down(0),
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
            Verdict::Down(_) => pawns().map(|pawns| Verdict::Down(pawns.abs())),
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

    /// Whether every line was played out; a count of material is no proof.
    #[must_use]
    pub fn is_proof(self) -> bool {
        matches!(self, Verdict::Mates(_) | Verdict::Draws | Verdict::Mated(_))
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
            Verdict::Gains(pawns) | Verdict::Down(pawns) => write!(f, "{word} {pawns}"),
            Verdict::Level | Verdict::Draws | Verdict::Open => f.write_str(word),
        }
    }
}

/// Whether an offer is sound, as far as that is known.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Sound {
    /// It is the best that can be had, or nearly, and promises more than half of the points.
    Yes,
    /// It throws nothing away.
    Holds,
    /// Another move was clearly better.
    No,
    /// The position was lost anyway.
    LastTry,
    /// None of these is known.
    Open,
}

impl Sound {
    /// All of them.
    pub const ALL: [Sound; 5] = [Sound::Yes, Sound::Holds, Sound::No, Sound::LastTry, Sound::Open];

    /// The word for it in tables.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Sound::Yes => "yes",
            Sound::Holds => "holds",
            Sound::No => "no",
            Sound::LastTry => "last try",
            Sound::Open => "open",
        }
    }

    /// The one that has this word.
    pub(super) fn of_word(word: &str) -> Option<Sound> {
        Sound::ALL.into_iter().find(|sound| sound.word() == word)
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
            "down 1",
            "level",
            "draws",
            "open",
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
