//! What there is to say about an offer, whatever query found it.

use std::cell::OnceCell;

use shakmaty::fen::Fen;
use shakmaty::{Color, EnPassantMode, Move, Position, Role, Square};

use super::evaluation::Evaluation;
use crate::board::{self, Ledger, MaterialCourse, Offered, Replay, SacrificeKind};

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
    /// The man that is given up, or the one that moved if none is.
    pub offered: (Role, Square),
    /// What it gives up, in pawns.
    pub cost: i32,
    /// What the attacker would have lost by passing, in pawns.
    pub was_hanging: i32,
    /// The attacker's material less the defender's before it, in pawns.
    pub balance_before: i32,
    /// What kind of sacrifice it is; not known of an offer that was overlooked and gives something up.
    pub kind: Option<SacrificeKind>,
    /// Whether it was made, and what came of it.
    pub course: OfferCourse,
    /// Whether the attacker ends the game with mate.
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
    /// What a program thought after the move that was played instead, from the attacker's side.
    pub eval_after: Option<Evaluation>,
}

/// How a game went and ended, as far as offers need to know.
pub(super) struct GameCourse<'g> {
    /// White's material less Black's in each position, in pawns.
    pub(super) balances: &'g [i32],
    /// Who won, if somebody did.
    pub(super) winner: Option<Color>,
}

impl OfferRecord {
    /// The record of the move played at an index. `evaluation` gives the evaluation after a number of
    /// plies, from White's side.
    pub(super) fn of_played(
        sans: &Sans<'_>,
        index: usize,
        game: &GameCourse<'_>,
        evaluation: impl Fn(usize) -> Option<Evaluation>,
    ) -> OfferRecord {
        let replay = sans.replay;
        let (pos, offer) = (&replay.positions[index], replay.moves[index]);
        let (side, reply) = (pos.turn(), replay.moves.get(index + 1));
        let offered = Offered::by(pos, offer, &replay.positions[index + 1]);
        let accepted = reply.map(|&reply| offered.is_accepted_by(reply));
        let course = OfferCourse::Played(Played {
            reply: reply.map(|_| sans.of(index + 1).to_owned()),
            accepted,
            ledger: Ledger::of(game.balances, index, side),
            eval_after: evaluation(index + 1).map(|value| from_side(value, side)),
        });
        let kind = SacrificeKind::at_once(pos, offer, &offered).unwrap_or_else(|| {
            let is_won = game.winner == Some(side);
            let course =
                MaterialCourse { balances: game.balances, offer: index, attacker: side, is_won };
            if accepted == Some(true) {
                SacrificeKind::of_accepted(&course)
            } else {
                SacrificeKind::Declined
            }
        });
        OfferRecord {
            kind: Some(kind),
            ..OfferRecord::new(sans, index, offer, &offered, course, evaluation)
        }
    }

    /// The record of a move that could have been played at an index, and stayed possible for `stayed`
    /// plies.
    pub(super) fn of_overlooked(
        sans: &Sans<'_>,
        index: usize,
        m: Move,
        stayed: usize,
        evaluation: impl Fn(usize) -> Option<Evaluation>,
    ) -> OfferRecord {
        let instead = sans.of(index).to_owned();
        let pos = &sans.replay.positions[index];
        let eval_after = evaluation(index + 1).map(|value| from_side(value, pos.turn()));
        let course = OfferCourse::Overlooked(Overlooked { instead, stayed, eval_after });
        let offered = Offered::by(pos, m, &board::played(pos, m));
        let kind = SacrificeKind::at_once(pos, m, &offered);
        OfferRecord { kind, ..OfferRecord::new(sans, index, m, &offered, course, evaluation) }
    }

    fn new(
        sans: &Sans<'_>,
        index: usize,
        m: Move,
        offered: &Offered,
        course: OfferCourse,
        evaluation: impl Fn(usize) -> Option<Evaluation>,
    ) -> OfferRecord {
        let replay = sans.replay;
        let pos = &replay.positions[index];
        OfferRecord {
            ply: index + 1,
            move_number: pos.fullmoves().get(),
            san: replay.san_of(index, m).to_string(),
            fen: Fen::from_position(pos, EnPassantMode::Always).to_string(),
            line: sans.line(index),
            offered: (offered.man, offered.square),
            cost: offered.cost,
            was_hanging: board::hanging(pos),
            balance_before: board::balance(pos, pos.turn()),
            kind: None,
            course,
            ends_in_mate: replay.end().is_checkmate() && replay.end().turn() != pos.turn(),
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

    /// Whether the reply took what is offered, if the offer was made and there was a reply.
    #[must_use]
    pub fn is_accepted(&self) -> Option<bool> {
        self.played().and_then(|played| played.accepted)
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

/// The moves of a game in SAN, each written when it is first asked for.
pub(super) struct Sans<'r> {
    pub(super) replay: &'r Replay,
    written: Vec<OnceCell<String>>,
}

impl<'r> Sans<'r> {
    pub(super) fn new(replay: &'r Replay) -> Sans<'r> {
        Sans { replay, written: vec![OnceCell::new(); replay.moves.len()] }
    }

    /// The move at an index.
    fn of(&self, index: usize) -> &str {
        self.written[index].get_or_init(|| self.replay.san(index).to_string())
    }

    /// The moves from an index on that the line of a hit holds.
    fn line(&self, offer: usize) -> String {
        let end = self.written.len().min(offer + LINE_PLIES);
        let mut line = String::with_capacity(6 * LINE_PLIES);
        for index in offer..end {
            if index > offer {
                line.push(' ');
            }
            line.push_str(self.of(index));
        }
        line
    }
}
