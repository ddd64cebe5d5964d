//! What is said of an offer: the verdict, what it says of the offer's soundness, the best reply and line,
//! and the better move.

use shakmaty::Move;

/// What was proved, for the side that offers.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Verdict {
    /// It mates within so many moves, the offer being the first.
    Mates(u8),
    /// It ends so many pawns (1 or more) up on the position before the offer.
    Gains(i32),
    /// It ends level with the position before the offer.
    Level,
    /// It checks for ever, or stalemate is the best the defender has.
    Draws,
    /// The budget did not suffice, or the fight was still on where the search ended.
    Unproved,
    /// It ends so many pawns (1 or more) down on the position before the offer.
    Costs(i32),
    /// It is mated within so many moves of the defender.
    Mated(u8),
}

impl Verdict {
    /// What a count of material comes to, in pawns on the position before the offer.
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
}

/// Whether an offer is sound, as far as was proved.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Sound {
    /// It mates, or wins back what it gave with something over.
    Yes,
    /// It draws by force or comes out level.
    Holds,
    /// It loses material by force with nothing to show for it, or gets mated.
    No,
    /// None of these was proved.
    Open,
}

/// What an offer comes to against some of the replies.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Outcome {
    /// What was proved.
    pub verdict: Verdict,
    /// The balance relative to the position before the offer, in pawns, where material was counted; with
    /// [`Verdict::Unproved`] it is what the search saw, and no more.
    pub balance: Option<i32>,
    /// The depth of that count in plies after the offer.
    pub depth: u8,
    /// Of a mate, whether it was not ruled out that there is a shorter one.
    pub may_be_sooner: bool,
    /// The best reply; `None` if there is no legal one.
    pub reply: Option<Move>,
    /// The best reply and best play after it.
    pub line: Vec<Move>,
}

impl Outcome {
    /// The outcome of a proof against a reply, with best play after it.
    pub(super) fn of(verdict: Verdict, reply: Move, rest: &[Move]) -> Outcome {
        let line = [&[reply], rest].concat();
        Outcome { verdict, reply: Some(reply), line, ..Outcome::unknown() }
    }

    /// Nothing is known.
    pub(super) fn unknown() -> Outcome {
        Outcome {
            verdict: Verdict::Unproved,
            balance: None,
            depth: 0,
            may_be_sooner: false,
            reply: None,
            line: Vec::new(),
        }
    }
}

/// A move that would have been better than the offer.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Better {
    /// No better move was found.
    No,
    /// This one.
    Yes {
        /// The better move.
        m: Move,
        /// What it comes to.
        verdict: Verdict,
        /// The move and best play after it.
        line: Vec<Move>,
    },
    /// What is known of the offer or of the other moves does not allow a comparison.
    Unknown,
}

/// All that was found out about an offer.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Judgement {
    /// Against the best reply that accepts; `None` if none does.
    pub accepted: Option<Outcome>,
    /// Against the best reply that declines; `None` if none does.
    pub declined: Option<Outcome>,
    /// Against the best reply of all.
    pub overall: Outcome,
    /// Whether something else was better.
    pub better: Better,
    /// Nodes visited by all searches.
    pub nodes: u64,
}

impl Judgement {
    /// Whether the offer is sound.
    #[must_use]
    pub fn sound(&self) -> Sound {
        self.overall.verdict.sound()
    }
}
