//! What there is to say about an offer, whatever query found it.

use std::fmt::Write as _;

use shakmaty::fen::Fen;
use shakmaty::{Color, EnPassantMode, Move, Position};

use super::evaluation::Evaluation;
use crate::board::{self, Ledger, Replay};

/// How many plies from the offer on the line of a hit holds.
const LINE_PLIES: usize = 20;

/// What there is to say about an offer, whatever query found it. Plies are counted from 1.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct OfferRecord {
    /// The ply of the offer.
    pub ply: usize,
    /// Its move number.
    pub move_number: u32,
    /// The offer in SAN.
    pub san: String,
    /// The position before the offer.
    pub fen: String,
    /// The next plies of the game in SAN; the offer is the first if it was played.
    pub line: String,
    /// What it gives up on its square, in pawns.
    pub cost: i32,
    /// Whether it was made, and what came of it.
    pub course: OfferCourse,
    /// Whether the game ends in mate, of either king.
    pub ends_in_mate: bool,
    /// What a program thought before the offer, from the attacker's side.
    pub eval_before: Option<Evaluation>,
}

/// Whether an offer was made, and what came of it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum OfferCourse {
    /// It was made.
    Played(Played),
    /// It could legally have been made and was not.
    Overlooked(Overlooked),
}

/// What came of an offer that was made.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Played {
    /// The next move in SAN, if there is one.
    pub reply: Option<String>,
    /// Whether the reply takes what is offered, if there is a reply.
    pub accepted: Option<bool>,
    /// How the material went. Its indices of positions are plies.
    pub ledger: Ledger,
    /// What a program thought after the offer, from the attacker's side.
    pub eval_after: Option<Evaluation>,
}

/// What was done instead of an offer.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Overlooked {
    /// The move that was played instead, in SAN.
    pub instead: String,
    /// For how many plies the chance stayed, the first included.
    pub stayed: usize,
}

impl OfferRecord {
    /// The record of the move played at an index. `balances` are White's in the positions of the game;
    /// `evaluation` gives the evaluation after a number of plies, from White's side.
    pub(super) fn of_played(
        replay: &Replay,
        index: usize,
        balances: &[i32],
        evaluation: impl Fn(usize) -> Option<Evaluation>,
    ) -> OfferRecord {
        let (pos, offer) = (&replay.positions[index], replay.moves[index]);
        let (side, reply) = (pos.turn(), replay.moves.get(index + 1));
        let course = OfferCourse::Played(Played {
            reply: reply.map(|_| replay.san(index + 1).to_string()),
            accepted: reply.map(|&reply| board::accepts(pos, offer, reply)),
            ledger: Ledger::of(balances, index, side),
            eval_after: evaluation(index + 1).map(|value| from_side(value, side)),
        });
        OfferRecord::new(replay, index, offer, course, evaluation)
    }

    /// The record of a move that could have been played at an index, and stayed possible for `stayed`
    /// plies.
    pub(super) fn of_overlooked(
        replay: &Replay,
        index: usize,
        m: Move,
        stayed: usize,
        evaluation: impl Fn(usize) -> Option<Evaluation>,
    ) -> OfferRecord {
        let instead = replay.san(index).to_string();
        let course = OfferCourse::Overlooked(Overlooked { instead, stayed });
        OfferRecord::new(replay, index, m, course, evaluation)
    }

    fn new(
        replay: &Replay,
        index: usize,
        m: Move,
        course: OfferCourse,
        evaluation: impl Fn(usize) -> Option<Evaluation>,
    ) -> OfferRecord {
        let pos = &replay.positions[index];
        OfferRecord {
            ply: index + 1,
            move_number: pos.fullmoves().get(),
            san: replay.san_of(index, m).to_string(),
            fen: Fen::from_position(pos, EnPassantMode::Always).to_string(),
            line: line(replay, index),
            cost: board::cost(pos, m),
            course,
            ends_in_mate: replay.end().is_checkmate(),
            eval_before: evaluation(index).map(|value| from_side(value, pos.turn())),
        }
    }

    /// What came of the offer, if it was made.
    #[must_use]
    pub fn played(&self) -> Option<&Played> {
        match &self.course {
            OfferCourse::Played(played) => Some(played),
            OfferCourse::Overlooked(_) => None,
        }
    }

    /// What was done instead of the offer, if it was overlooked.
    #[must_use]
    pub fn overlooked(&self) -> Option<&Overlooked> {
        match &self.course {
            OfferCourse::Played(_) => None,
            OfferCourse::Overlooked(overlooked) => Some(overlooked),
        }
    }
}

fn from_side(evaluation: Evaluation, side: Color) -> Evaluation {
    side.fold_wb(evaluation, evaluation.reversed())
}

fn line(replay: &Replay, offer: usize) -> String {
    let end = replay.moves.len().min(offer + LINE_PLIES);
    let mut line = String::with_capacity(6 * LINE_PLIES);
    for index in offer..end {
        let blank = if index == offer { "" } else { " " };
        // Writing to a text can't fail.
        let _ = write!(line, "{blank}{}", replay.san(index));
    }
    line
}
