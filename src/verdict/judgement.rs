//! What is said about an offer: the verdict, the best reply and line, and the better move.

use shakmaty::Move;

use crate::hits::{DrawnBy, Unrest, Verdict};

/// What an offer comes to against some of the replies.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Outcome {
    /// What was proved or counted.
    pub verdict: Verdict,
    /// The balance relative to the position before the offer, in pawns, where material was counted; with
    /// [`Verdict::Open`] it is what the search saw, and no more.
    pub balance: Option<i32>,
    /// The attacker's balance itself where that count ended, in pawns.
    pub end: Option<i32>,
    /// The depth of that count in plies after the offer.
    pub depth: u8,
    /// The least depth from which on every count came out for the same side, or for neither.
    pub held_from: u8,
    /// Why the count proves nothing; `None` if it does, or if nothing was counted.
    pub unrest: Option<Unrest>,
    /// Of a draw, who can force it; the other side may only fail to do better.
    pub drawn_by: Option<DrawnBy>,
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

    /// A draw that one side forces, beginning with a reply.
    pub(super) fn drawn(by: DrawnBy, reply: Move, rest: &[Move]) -> Outcome {
        Outcome { drawn_by: Some(by), ..Outcome::of(Verdict::Draws, reply, rest) }
    }

    /// Whether the defender would rather force a draw than come to this: the attacker gains and is ahead in
    /// the end, and nothing but checks speaks against that. Who is ahead has no need of a draw.
    pub(super) fn invites_a_draw(&self) -> bool {
        let is_gain = self.balance.is_some_and(|balance| balance > 0);
        let is_ahead = self.end.is_some_and(|end| end > 0);
        is_gain && is_ahead && matches!(self.unrest, None | Some(Unrest::Checks))
    }

    /// What is left of a draw that is not forced against every reply.
    pub(super) fn half_drawn(self) -> Outcome {
        let (verdict, unrest) = (Verdict::Open, Some(Unrest::OtherReplies));
        Outcome { verdict, unrest, drawn_by: None, ..self }
    }

    /// Nothing is known.
    pub(super) fn unknown() -> Outcome {
        Outcome {
            verdict: Verdict::Open,
            balance: None,
            end: None,
            depth: 0,
            held_from: 0,
            unrest: None,
            drawn_by: None,
            may_be_sooner: false,
            reply: None,
            line: Vec::new(),
        }
    }
}

/// The worst of some outcomes for the attacker, where the defender chooses among them.
pub(super) fn worst_of(outcomes: &[Outcome]) -> Option<Outcome> {
    let is_drawn = |outcome: &Outcome| outcome.drawn_by == Some(DrawnBy::Attacker);
    let rank = |outcome: &&Outcome| (outcome.verdict.worth(), is_drawn(outcome));
    outcomes.iter().min_by_key(rank).cloned()
}

/// The same where each outcome is that of all replies of a kind: a draw forced by the attacker must be
/// forced against every kind.
pub(super) fn worst_of_kinds(outcomes: &[Outcome]) -> Option<Outcome> {
    let worst = worst_of(outcomes)?;
    let holds = |outcome: &Outcome| {
        outcome.drawn_by == Some(DrawnBy::Attacker) || matches!(outcome.verdict, Verdict::Mates(_))
    };
    let is_half = holds(&worst) && !outcomes.iter().all(holds);
    Some(if is_half { worst.half_drawn() } else { worst })
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
    /// No move was better: the offer is mated, and so is every other move.
    AllMated,
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
