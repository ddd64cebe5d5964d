//! What is said about an offer: the verdict, the best reply and line, and the better move.

use shakmaty::Move;

use crate::hits::Verdict;

/// What an offer comes to against some of the replies.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Outcome {
    /// What was proved or counted.
    pub verdict: Verdict,
    /// The balance relative to the position before the offer, in pawns, where material was counted; with
    /// [`Verdict::Open`] it is what the search saw, and no more.
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
            verdict: Verdict::Open,
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
