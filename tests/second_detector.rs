//! A second way of finding the hits of queries, to check the program against.
//!
//! Nothing here is shared with the program: the rules of chess come from `cozy-chess`, and every
//! sentence of some query files, which lie in the folder `second_detector/queries`, is written out by
//! hand as plain code. The words mean what the topics `query-files` and `columns` of the reference say.
//! A token that is not taken for a move never arrives here, so feed this collections that are known to
//! be clean.
//!
//! The board is first turned into the attacker's view (see [`view::Turn`]), so that the code can name
//! squares as the queries do: "h7" is the pawn to be taken, whoever attacks and on whichever wing.

mod exchange;
mod factors;
mod follow_ups;
mod games;
mod giving;
mod kinds;
mod queries;
mod rules;
mod san;
mod scene;
mod view;

use std::io::Cursor;

use cozy_chess::Piece;
use pgn_reader::Reader;

use games::{Course, Cutter};
use giving::Giving;
pub(crate) use queries::QUERIES;
use queries::{Offer, Query};
use san::write_san;
use view::Turn;

/// One hit: an offer that one query finds in one game.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Found {
    /// Which query finds it.
    pub query: &'static str,
    /// Ordinal of the game in the collection, from 1.
    pub game: u64,
    /// Ordinal of the half-move that makes the offer, from 1.
    pub ply: usize,
    /// The attacker: `white` or `black`.
    pub side: &'static str,
    /// `as written` or `mirrored`, or on which files else.
    pub wing: &'static str,
    /// The man that is given up and its square, in the attacker's view.
    pub offered: String,
    /// What the offer gives up, in pawns.
    pub cost: i32,
    /// What the attacker would have lost by passing.
    pub was_hanging: i32,
    /// The attacker's material less the defender's just before the offer.
    pub balance_before: i32,
    /// `free`, `desperado`, `declined`, `sham` or `real`.
    pub kind: &'static str,
    /// The next move in SAN, if the game goes on.
    pub reply: Option<String>,
    /// Whether the next move takes what is offered, if the game goes on.
    pub accepted: Option<bool>,
    /// If a king captured it: where the next move of that king goes, in the attacker's view.
    pub king_goes: Option<String>,
    /// Every follow-up of the query with the ply at which it is first seen.
    pub follow_ups: follow_ups::Seen,
    /// Every factor of the query.
    pub factors: factors::Held,
}

impl Found {
    /// The columns of the tables of hits that are told here, and what is in them.
    pub(crate) fn cells(&self) -> Vec<(String, String)> {
        let word = |value: bool| value.to_string();
        let fixed = [
            ("side", self.side.to_owned()),
            ("wing", self.wing.to_owned()),
            ("offered", self.offered.clone()),
            ("cost", self.cost.to_string()),
            ("was_hanging", self.was_hanging.to_string()),
            ("balance_before", self.balance_before.to_string()),
            ("kind", self.kind.to_owned()),
            ("reply", self.reply.clone().unwrap_or_default()),
            ("accepted", self.accepted.map_or(String::new(), word)),
            ("king_goes", self.king_goes.clone().unwrap_or_default()),
        ];
        let ply = |ply: Option<usize>| ply.map_or(String::new(), |ply| ply.to_string());
        let follow_ups = self.follow_ups.iter().map(|&(name, at)| (format!("f_{name}"), ply(at)));
        let factors = self.factors.iter().map(|&(name, holds)| (format!("x_{name}"), word(holds)));
        let fixed = fixed.map(|(column, cell)| (column.to_owned(), cell));
        fixed.into_iter().chain(follow_ups).chain(factors).collect()
    }
}

/// Finds the hits of all queries, in order of game, ply and query.
///
/// # Panics
///
/// If a game cannot be replayed to its end; the message tells its number.
pub(crate) fn detect(pgn: &[u8]) -> Vec<Found> {
    let mut found = Vec::new();
    let mut game = 0;
    let mut reader = Reader::new(Cursor::new(pgn));
    while let Some(text) =
        reader.read_game(&mut Cutter).unwrap_or_else(|error| panic!("after game {game}: {error}"))
    {
        game += 1;
        let course = Course::of(text).unwrap_or_else(|fault| panic!("game {game}: {fault}"));
        for index in 0..course.moves.len() {
            found.extend(hits_at(game, &course, index));
        }
    }
    found
}

/// The hits of all queries that the move at `index` makes, each in the first view in which it is one.
fn hits_at(game: u64, course: &Course, index: usize) -> Vec<Found> {
    let giving = Giving::of(&course.moves[index]);
    let attacker = course.moves[index].before.side_to_move();
    let hit = |query: &Query| {
        let wings = query.wings.iter();
        let views =
            wings.flat_map(|&mirrored| query.files.iter().map(move |file| (mirrored, file)));
        let offer =
            |mirrored, by| Offer::new(course, index, &giving, Turn { attacker, mirrored, by });
        views
            .map(|(mirrored, &(by, told))| (offer(mirrored, by), told[usize::from(mirrored)]))
            .find(|(offer, _)| (query.offer)(offer) && (query.requires)(&offer.later()))
            .map(|(offer, wing)| found(query, game, &offer, wing))
    };
    QUERIES.iter().filter_map(hit).collect()
}

fn found(query: &Query, game: u64, offer: &Offer, wing: &'static str) -> Found {
    let (giving, turn, reply) = (offer.giving, offer.turn, offer.reply());
    Found {
        query: query.name,
        game,
        ply: offer.index + 1,
        side: turn.side(),
        wing,
        offered: format!("{} {}", name(giving.man()), turn.view(giving.square())),
        cost: giving.cost(),
        was_hanging: giving::hanging(offer.before()),
        balance_before: kinds::balance(offer.before(), turn.attacker),
        kind: kinds::kind(offer.course, offer.index, giving),
        reply: reply.map(|reply| write_san(&reply.before, reply.mv)),
        accepted: reply.map(|reply| giving.is_accepted_by(reply)),
        king_goes: king_goes(offer),
        follow_ups: (query.follow_ups)(&offer.later()),
        factors: (query.factors)(offer),
    }
}

fn king_goes(offer: &Offer) -> Option<String> {
    let reply = offer.reply()?;
    let next = offer.course.moves.get(offer.index + 3)?;
    let is_kings = reply.man() == Piece::King && next.man() == Piece::King;
    let accepted = offer.giving.is_accepted_by(reply);
    (is_kings && accepted).then(|| offer.turn.view(next.target()).to_string())
}

fn name(piece: Piece) -> &'static str {
    match piece {
        Piece::Pawn => "pawn",
        Piece::Knight => "knight",
        Piece::Bishop => "bishop",
        Piece::Rook => "rook",
        Piece::Queen => "queen",
        Piece::King => "king",
    }
}

/// A game that breaks off is named, and not passed over.
#[test]
#[should_panic(expected = "game 2: ply 2: 0 legal moves fit e4")]
fn an_illegal_game_is_named() {
    detect(b"[Event \"?\"]\n\n1. e4 e5 *\n\n[Event \"?\"]\n\n1. e4 e4 *\n");
}
