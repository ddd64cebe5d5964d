//! A hit: one offer found in one game by one query, with everything the tables say of it.

use std::fmt::Write as _;
use std::sync::Arc;

use shakmaty::fen::Fen;
use shakmaty::{Chess, Color, EnPassantMode, Move, Position, Role, Square};

use super::evaluation::Evaluation;
use super::matcher::{Offer, Watch, fits, holds};
use super::replay::Replay;
use crate::board::{self, Ledger, View, captures_on, destination};
use crate::collection::{ByteOffset, GameNumber, GameResult, Rating, Tags};
use crate::query::{Lens, Pattern};

/// How many plies from the offer on the line of a hit holds.
const LINE_PLIES: usize = 20;

/// What the tables say of the game of a hit.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct GameInfo {
    /// Its number in the source.
    pub number: GameNumber,
    /// Where it starts in the source.
    pub offset: ByteOffset,
    /// The Event tag; like all tags, empty if it is missing.
    pub event: String,
    /// The Site tag.
    pub site: String,
    /// The Date tag.
    pub date: String,
    /// The Round tag.
    pub round: String,
    /// The White tag.
    pub white: String,
    /// The Black tag.
    pub black: String,
    /// White's rating.
    pub white_elo: Option<Rating>,
    /// Black's rating.
    pub black_elo: Option<Rating>,
    /// The ECO tag.
    pub eco: String,
    /// The TimeControl tag.
    pub time_control: String,
    /// The result.
    pub result: GameResult,
    /// The number of plies.
    pub plies: usize,
}

impl GameInfo {
    /// Takes what the tables need from a game's tags.
    #[must_use]
    pub fn new(
        number: GameNumber,
        offset: ByteOffset,
        tags: &Tags<'_>,
        result: GameResult,
        plies: usize,
    ) -> GameInfo {
        GameInfo {
            number,
            offset,
            event: tags.text_of(b"Event"),
            site: tags.text_of(b"Site"),
            date: tags.text_of(b"Date"),
            round: tags.text_of(b"Round"),
            white: tags.text_of(b"White"),
            black: tags.text_of(b"Black"),
            white_elo: tags.white_elo(),
            black_elo: tags.black_elo(),
            eco: tags.text_of(b"ECO"),
            time_control: tags.text_of(b"TimeControl"),
            result,
            plies,
        }
    }
}

/// What there is to say of an offer, whatever query found it. Plies are counted from 1.
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
    pub course: Course,
    /// Whether the game ends in mate, of either king.
    pub ends_in_mate: bool,
    /// What a program thought before the offer, from the attacker's side.
    pub eval_before: Option<Evaluation>,
}

/// Whether an offer was made, and what came of it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Course {
    /// It was made.
    Played(Played),
    /// It could legally have been made and was not.
    Overlooked(Overlooked),
}

/// What came of an offer that was made.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Played {
    /// The next move in SAN, if there is one.
    pub reply: Option<String>,
    /// Whether the reply takes the piece offered, if there is a reply.
    pub accepted: Option<bool>,
    /// How the material went. Its indices of positions are plies.
    pub ledger: Ledger,
    /// What a program thought after the offer, from the attacker's side.
    pub eval_after: Option<Evaluation>,
}

/// What was done instead of an offer.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Overlooked {
    /// The move that was played instead, in SAN.
    pub instead: String,
    /// For how many plies the chance stayed, the first included.
    pub stayed: usize,
}

impl OfferRecord {
    /// The record of the move played at an index. `balances` are White's in the positions of the game;
    /// `evaluation` answers with what was thought after so
    /// many plies, from White's side.
    pub(super) fn of_played(
        replay: &Replay,
        index: usize,
        balances: &[i32],
        evaluation: impl Fn(usize) -> Option<Evaluation>,
    ) -> OfferRecord {
        let side = replay.positions[index].turn();
        let course = Course::Played(Played {
            reply: replay.moves.get(index + 1).map(|_| replay.san(index + 1).to_string()),
            accepted: accepting(replay, index).map(|(_, takes)| takes),
            ledger: Ledger::of(balances, index, side),
            eval_after: evaluation(index + 1).map(|value| from_side(value, side)),
        });
        OfferRecord::new(replay, index, replay.moves[index], course, evaluation)
    }

    /// The record of a move that could have been played at an index, and stayed possible for so many
    /// plies.
    pub(super) fn of_overlooked(
        replay: &Replay,
        index: usize,
        m: Move,
        stayed: usize,
        evaluation: impl Fn(usize) -> Option<Evaluation>,
    ) -> OfferRecord {
        let instead = replay.san(index).to_string();
        let course = Course::Overlooked(Overlooked { instead, stayed });
        OfferRecord::new(replay, index, m, course, evaluation)
    }

    fn new(
        replay: &Replay,
        index: usize,
        m: Move,
        course: Course,
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
            Course::Played(played) => Some(played),
            Course::Overlooked(_) => None,
        }
    }

    /// What was done instead of the offer, if it was overlooked.
    #[must_use]
    pub fn overlooked(&self) -> Option<&Overlooked> {
        match &self.course {
            Course::Played(_) => None,
            Course::Overlooked(overlooked) => Some(overlooked),
        }
    }
}

/// One offer found in one game by one query.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Hit {
    /// The index of the query in the run.
    pub query: usize,
    /// Who offers, and on which wing.
    pub view: View,
    /// The offer; hits of several queries at one move share it.
    pub offer: Arc<OfferRecord>,
    /// Where the king that took it goes next, in the attacker's view.
    pub king_goes: Option<Square>,
    /// Where the king goes at the first check after the offer was accepted, in the attacker's view.
    pub king_after_check: Option<Square>,
    /// The ply of each follow-up of the query, in its order.
    pub follow_ups: Vec<Option<usize>>,
    /// Whether each factor of the query held, in its order.
    pub factors: Vec<bool>,
}

impl Hit {
    /// Judges a move that fits the offer of a lens of a pattern on the board: whether it is a hit, and
    /// what there is to say of it. `watch` is the lens's in this game.
    pub(super) fn judge(
        offer: Offer,
        pattern: &Pattern,
        replay: &Replay,
        watch: &mut Watch<'_>,
        record: impl FnOnce() -> Arc<OfferRecord>,
    ) -> Option<Hit> {
        let Offer { seen, index } = offer;
        let lens = &pattern.lenses[seen.lens];
        if !fits(&lens.offer, lens.view, replay, index) {
            return None;
        }
        let follow_ups = watch.after(replay, index);
        let came = |&index: &usize| follow_ups[index].is_some();
        let is_complete = pattern.query.requires.iter().all(|any_of| any_of.iter().any(came));
        is_complete.then(|| Hit {
            query: seen.query,
            view: lens.view,
            offer: record(),
            king_goes: king_goes(replay, index).map(|square| lens.view.turn(square)),
            king_after_check: king_after_check(replay, index).map(|square| lens.view.turn(square)),
            follow_ups: follow_ups.into_iter().map(|found| found.map(|index| index + 1)).collect(),
            factors: factors(lens, &replay.positions[index]),
        })
    }

    /// The hit of an offer that was overlooked.
    pub(super) fn overlooked(
        query: usize,
        lens: &Lens,
        pos: &Chess,
        offer: Arc<OfferRecord>,
    ) -> Hit {
        Hit {
            query,
            view: lens.view,
            offer,
            king_goes: None,
            king_after_check: None,
            follow_ups: vec![None; lens.follow_ups.len()],
            factors: factors(lens, pos),
        }
    }

    /// The attacker's game points in halves, if the game has a result.
    #[must_use]
    pub fn half_points(&self, result: GameResult) -> Option<u8> {
        match (result, self.view.attacker) {
            (GameResult::Open, _) => None,
            (GameResult::Draw, _) => Some(1),
            (GameResult::WhiteWins, Color::White) | (GameResult::BlackWins, Color::Black) => {
                Some(2)
            }
            _ => Some(0),
        }
    }
}

fn factors(lens: &Lens, pos: &Chess) -> Vec<bool> {
    lens.factors.iter().map(|condition| holds(condition, lens.view, pos)).collect()
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

/// The reply to an offer and whether it takes the man that was offered.
fn accepting(replay: &Replay, offer: usize) -> Option<(Move, bool)> {
    let reply = *replay.moves.get(offer + 1)?;
    Some((reply, captures_on(reply, destination(replay.moves[offer]))))
}

/// Where the king goes with its first move after it took the man that was offered.
fn king_goes(replay: &Replay, offer: usize) -> Option<Square> {
    let (reply, is_accepted) = accepting(replay, offer)?;
    if !is_accepted || reply.role() != Role::King {
        return None;
    }
    let later = replay.moves.iter().skip(offer + 3).step_by(2);
    later.copied().find(|m| m.role() == Role::King).map(destination)
}

/// Where the king goes in reply to the attacker's first check after the offer was accepted, if it is
/// the king that replies.
fn king_after_check(replay: &Replay, offer: usize) -> Option<Square> {
    accepting(replay, offer).filter(|&(_, is_accepted)| is_accepted)?;
    let checks = (offer + 2..replay.moves.len()).step_by(2);
    let check = checks.into_iter().find(|&index| replay.positions[index + 1].is_check())?;
    let reply = *replay.moves.get(check + 1)?;
    (reply.role() == Role::King).then(|| destination(reply))
}
