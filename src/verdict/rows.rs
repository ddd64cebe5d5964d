//! Judgements in the words of tables.

use shakmaty::{Chess, Move, Position};

use super::judgement::{Better, Judgement};
use crate::board::{balance, line_in_san, played};
use crate::hits::{Circumstances, OfferWorth, VerdictRecord};

impl Judgement {
    /// What a table says of the offer that was judged, which must be legal in the position before it, if
    /// nothing else is known of it.
    #[must_use]
    pub fn record(&self, before: &Chess, offer: Move) -> VerdictRecord {
        let mut record = self.record_of_searches(before, offer);
        let balance_before = balance(before, before.turn());
        record.weigh(&Circumstances { balance_before, ..Circumstances::default() });
        record
    }

    /// What the searches say, before the evidence is weighed.
    #[must_use]
    pub fn record_of_searches(&self, before: &Chess, offer: Move) -> VerdictRecord {
        let after = played(before, offer);
        let overall = &self.overall;
        let is_mate = overall.verdict.mate_in().is_some();
        VerdictRecord {
            verdict: overall.verdict,
            is_shortest: is_mate.then_some(!overall.may_be_sooner),
            balance: overall.balance,
            depth: overall.depth,
            unrest: overall.unrest,
            drawn_by: overall.drawn_by,
            best_reply: line_in_san(&after, overall.reply.as_slice()),
            best_line: line_in_san(&after, &overall.line),
            if_accepted: self.accepted.as_ref().map(|outcome| outcome.verdict),
            if_declined: self.declined.as_ref().map(|outcome| outcome.verdict),
            forced_kind: self.forced_kind(before, offer),
            is_best: match self.better {
                Better::No | Better::AllMated => Some(true),
                Better::Yes { .. } => Some(false),
                Better::Unknown => None,
            },
            better: match self.better {
                Better::Yes { m, verdict, .. } => Some((line_in_san(before, &[m]), Some(verdict))),
                Better::No | Better::AllMated | Better::Unknown => None,
            },
            nodes: self.nodes,
            worth: match self.better {
                Better::AllMated if before.legal_moves().len() == 1 => OfferWorth::ONLY_MOVE_MATED,
                Better::AllMated => OfferWorth::ALL_MATED,
                _ => OfferWorth::UNKNOWN,
            },
            opinion: None,
            instead: None,
            line_fits: None,
        }
    }
}
