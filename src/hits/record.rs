//! What was found out about an offer, and what it is worth by all of that.

use super::evidence::Evidence;
use super::reasons::{DrawnBy, Unrest};
use super::rule::LOSS;
use super::verdict::{Sound, Verdict};
use super::worth::{Circumstances, Judged, OfferWorth, Searched};
use crate::board::SacrificeKind;
use crate::engine::Points;
use crate::mining::Evaluation;

/// What was found out about an offer, in the words of its table. Moves are in SAN.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct VerdictRecord {
    /// Against the best reply of all.
    pub verdict: Verdict,
    /// Of a mate, whether there is none shorter.
    pub is_shortest: Option<bool>,
    /// The balance relative to the position before the offer, in pawns, where material was counted.
    pub balance: Option<i32>,
    /// The depth of that count in plies after the offer.
    pub depth: u8,
    /// Why that count proves nothing; `None` if it does, or if nothing was counted.
    pub unrest: Option<Unrest>,
    /// Of a draw, who can force it.
    pub drawn_by: Option<DrawnBy>,
    /// The best reply; empty if there is no legal one.
    pub best_reply: String,
    /// The best reply and best play after it.
    pub best_line: String,
    /// Against the best reply that accepts; `None` if none does.
    pub if_accepted: Option<Verdict>,
    /// Against the best reply that declines; `None` if none does.
    pub if_declined: Option<Verdict>,
    /// The kind of sacrifice if the offer is taken and both sides play their best, if that is known.
    pub forced_kind: Option<SacrificeKind>,
    /// Whether the offer was the best move, if that is known.
    pub is_best: Option<bool>,
    /// A better move, and its verdict if the searches found it.
    pub better: Option<(String, Option<Verdict>)>,
    /// Positions visited by all searches.
    pub nodes: u64,
    /// What the offer is worth, and how that is known.
    pub worth: OfferWorth,
    /// What an engine says, if one was asked.
    pub opinion: Option<Opinion>,
    /// What an engine expects for the attacker after the move that was played instead, if the offer was
    /// overlooked and is sound.
    pub instead: Option<Points>,
    /// Whether the best line shows what the query requires after an offer that was overlooked, if that is known.
    pub line_fits: Option<bool>,
}

/// What an engine says about an offer, or why it did not.
pub type Opinion = Result<Advice, String>;

/// What an engine says about an offer. Evaluations are from the attacker's side.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Advice {
    /// The position before the offer.
    pub before: Evaluation,
    /// The position after it.
    pub after: Evaluation,
    /// The reply it would choose; empty if there is no legal one.
    pub reply: String,
    /// What it expects after the offer.
    pub line: String,
    /// What it would play instead of the offer, and what that is worth.
    pub instead: Option<(String, Evaluation)>,
}

impl VerdictRecord {
    /// Nothing is known.
    pub(super) fn unknown() -> VerdictRecord {
        VerdictRecord {
            verdict: Verdict::Open,
            is_shortest: None,
            balance: None,
            depth: 0,
            unrest: None,
            drawn_by: None,
            best_reply: String::new(),
            best_line: String::new(),
            if_accepted: None,
            if_declined: None,
            forced_kind: None,
            is_best: None,
            better: None,
            nodes: 0,
            worth: OfferWorth::UNKNOWN,
            opinion: None,
            instead: None,
            line_fits: None,
        }
    }

    /// Weighs the evidence: what the searches found, what else is known, and the engine's opinion, if the
    /// record has one. What explains the verdict is from the stronger of them.
    pub fn weigh(&mut self, known: &Circumstances) {
        let better = self.better.take();
        let has_better_mate = matches!(better, Some((_, Some(Verdict::Mates(_)))));
        let VerdictRecord { verdict, drawn_by, .. } = *self;
        let OfferWorth { best, .. } = self.worth;
        let are_all_mated = self.worth.are_all_mated();
        let searched = Searched { verdict, drawn_by, has_better_mate, are_all_mated };
        self.worth = OfferWorth::of(&searched, known);
        if are_all_mated {
            // There may be no other move.
            self.worth.best = best;
        }
        let is_judged = self.worth.evidence == Some(Evidence::Judged);
        if let Some(Ok(advice)) = &self.opinion
            && !self.verdict.is_proof()
        {
            self.best_reply.clone_from(&advice.reply);
            self.best_line.clone_from(&advice.line);
        }
        let named = better.filter(|(_, verdict)| self.is_surely_better(*verdict));
        self.better = named.or_else(|| self.judged_better(known.judged?));
        self.is_best = match self.better {
            Some(_) => Some(false),
            None if is_judged => Some(true),
            None => self.is_best.filter(|&is_best| is_best),
        };
    }

    /// Whether a move that the searches found is better by a proof: it mates, or saves half of the points where
    /// the offer leaves clearly less. A count is not enough.
    fn is_surely_better(&self, verdict: Option<Verdict>) -> bool {
        match verdict {
            Some(Verdict::Mates(_)) => true,
            Some(Verdict::Draws) => {
                self.worth.after.is_some_and(|after| Points::HALF.over(after) >= LOSS)
            }
            _ => false,
        }
    }

    /// The engine's move, if the verdict rests on nothing stronger and that move is clearly better, or mates.
    fn judged_better(&self, judged: Judged) -> Option<(String, Option<Verdict>)> {
        let advice = self.opinion.as_ref()?.as_ref().ok()?;
        let (san, score) = advice.instead.as_ref()?;
        let is_mate = |score| matches!(score, Evaluation::Mate(moves) if moves > 0);
        let is_better = judged.best?.over(self.worth.after?) >= LOSS
            || (is_mate(*score) && !is_mate(advice.after));
        let is_weaker = self.worth.evidence == Some(Evidence::Proved);
        (is_better && !is_weaker).then(|| (san.clone(), None))
    }

    /// Whether the offer is sound.
    #[must_use]
    pub fn sound(&self) -> Sound {
        self.worth.sound
    }
}
