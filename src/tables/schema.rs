//! The columns of each table and the cells of its rows, whatever the format.

use shakmaty::Color;

use super::cell::{Cell, Column, Kind};
use crate::board::Wing;
use crate::collection::Reject;
use crate::mining::{BaseCount, BaseKind, GameInfo, Hit, Overlooked, Played, expected_score};
use crate::query::Query;

/// What the row of a hit is made from.
struct HitRow<'h> {
    source: &'h str,
    game: &'h GameInfo,
    query: &'h Query,
    hit: &'h Hit,
}

/// A column's name, what its cells hold, and the cell of a row.
type HitColumn = (&'static str, Kind, for<'h> fn(&HitRow<'h>) -> Cell<'h>);

/// The columns that every table of hits has, in order.
const HIT_COLUMNS: &[HitColumn] = &[
    ("id", Kind::Text, |row| Cell::Text(row.id().into())),
    ("source", Kind::Text, |row| row.source.into()),
    ("game", Kind::Integer, |row| row.game.number.0.into()),
    ("offset", Kind::Integer, |row| row.game.offset.0.into()),
    ("event", Kind::Text, |row| (*row.game.event).into()),
    ("site", Kind::Text, |row| (*row.game.site).into()),
    ("date", Kind::Text, |row| (*row.game.date).into()),
    ("round", Kind::Text, |row| (*row.game.round).into()),
    ("white", Kind::Text, |row| (*row.game.white).into()),
    ("black", Kind::Text, |row| (*row.game.black).into()),
    ("white_elo", Kind::Integer, |row| row.game.white_elo.into()),
    ("black_elo", Kind::Integer, |row| row.game.black_elo.into()),
    ("eco", Kind::Text, |row| (*row.game.eco).into()),
    ("time_control", Kind::Text, |row| (*row.game.time_control).into()),
    ("result", Kind::Text, |row| row.game.result.as_str().into()),
    ("plies", Kind::Integer, |row| row.game.plies.into()),
    ("side", Kind::Text, |row| row.hit.view.attacker.fold_wb("white", "black").into()),
    ("wing", Kind::Text, |row| wing_word(row.hit.view.wing).into()),
    ("ply", Kind::Integer, |row| row.hit.offer.ply.into()),
    ("move_number", Kind::Integer, |row| row.hit.offer.move_number.into()),
    ("offer", Kind::Text, |row| (*row.hit.offer.san).into()),
    ("fen", Kind::Text, |row| (*row.hit.offer.fen).into()),
    ("line", Kind::Text, |row| (*row.hit.offer.line).into()),
    ("played", Kind::Truth, |row| row.played().is_some().into()),
    ("instead", Kind::Text, |row| row.overlooked().map(|missed| &*missed.instead).into()),
    ("stayed", Kind::Integer, |row| row.overlooked().map(|missed| missed.stayed).into()),
    ("cost", Kind::Integer, |row| row.hit.offer.cost.into()),
    ("reply", Kind::Text, |row| row.played().and_then(|played| played.reply.as_deref()).into()),
    ("accepted", Kind::Truth, |row| row.played().and_then(|played| played.accepted).into()),
    ("king_goes", Kind::Text, |row| row.hit.king_goes.into()),
    ("king_after_check", Kind::Text, |row| row.hit.king_after_check.into()),
    ("invested", Kind::Integer, |row| row.played().map(|played| played.ledger.invested).into()),
    ("recovered", Kind::Integer, |row| {
        row.played().and_then(|played| played.ledger.recovered).into()
    }),
    ("balance_end", Kind::Integer, |row| {
        row.played().map(|played| played.ledger.balance_end).into()
    }),
    ("ends_in_mate", Kind::Truth, |row| row.hit.offer.ends_in_mate.into()),
    ("score", Kind::Hundredths, |row| row.score()),
    ("expected", Kind::Hundredths, |row| row.expected()),
    ("eval_before", Kind::Text, |row| row.hit.offer.eval_before.into()),
    ("eval_after", Kind::Text, |row| row.played().and_then(|played| played.eval_after).into()),
];

impl<'h> HitRow<'h> {
    fn played(&self) -> Option<&'h Played> {
        self.hit.offer.played()
    }

    fn overlooked(&self) -> Option<&'h Overlooked> {
        self.hit.offer.overlooked()
    }

    /// Source, game, ply and query; an overlooked offer also its move, since another may have been
    /// made on that ply.
    fn id(&self) -> String {
        let mut number = itoa::Buffer::new();
        let mut ply = itoa::Buffer::new();
        let (number, ply) = (number.format(self.game.number.0), ply.format(self.hit.offer.ply));
        let played = [self.source, number, ply, &self.query.name];
        match self.overlooked() {
            Some(_) => [&played[..], &[&self.hit.offer.san]].concat().join(":"),
            None => played.join(":"),
        }
    }

    fn score(&self) -> Cell<'h> {
        let halves = self.hit.half_points(self.game.result);
        halves.map_or(Cell::Blank, |halves| Cell::Hundredths(50 * i64::from(halves)))
    }

    fn expected(&self) -> Cell<'h> {
        let (own, other) = match self.hit.view.attacker {
            Color::White => (self.game.white_elo, self.game.black_elo),
            Color::Black => (self.game.black_elo, self.game.white_elo),
        };
        let expected = own.zip(other).map(|(own, other)| expected_score(own, other));
        expected.map_or(Cell::Blank, |score| Cell::Hundredths(score.into()))
    }
}

fn wing_word(wing: Wing) -> &'static str {
    match wing {
        Wing::Written => "as written",
        Wing::Mirrored => "mirrored",
    }
}

fn column(name: impl Into<String>, kind: Kind) -> Column {
    Column { name: name.into(), kind }
}

/// The columns of a query's table of hits.
#[must_use]
pub fn hit_columns(query: &Query) -> Vec<Column> {
    let fixed = HIT_COLUMNS.iter().map(|&(name, kind, _)| column(name, kind));
    let follow_ups = query.follow_ups.iter().map(|follow_up| format!("f_{}", follow_up.name));
    let factors = query.factors.iter().map(|factor| format!("x_{}", factor.name));
    fixed
        .chain(follow_ups.map(|name| column(name, Kind::Integer)))
        .chain(factors.map(|name| column(name, Kind::Truth)))
        .collect()
}

/// The names of the columns that every table of hits has, in order.
pub(super) fn fixed_hit_columns() -> impl Iterator<Item = &'static str> {
    HIT_COLUMNS.iter().map(|&(name, _, _)| name)
}

/// The place of a column that every table of hits has.
///
/// # Panics
///
/// If there is none of this name.
#[must_use]
pub fn hit_column(name: &str) -> usize {
    fixed_hit_columns().position(|known| known == name).expect("the name is one of the schema's")
}

/// The row of a hit.
#[must_use]
pub fn hit_row<'h>(
    source: &'h str,
    game: &'h GameInfo,
    query: &'h Query,
    hit: &'h Hit,
) -> Vec<Cell<'h>> {
    let row = HitRow { source, game, query, hit };
    let fixed = HIT_COLUMNS.iter().map(|(_, _, cell)| cell(&row));
    let follow_ups = hit.follow_ups.iter().map(|&ply| Cell::from(ply));
    let factors = hit.factors.iter().map(|&truth| Cell::from(truth));
    fixed.chain(follow_ups).chain(factors).collect()
}

/// The columns of the table of all games that were mined.
#[must_use]
pub fn collection_columns() -> Vec<Column> {
    vec![
        column("source", Kind::Text),
        column("year", Kind::Integer),
        column("rating_band", Kind::Integer),
        column("result", Kind::Text),
        column("games", Kind::Integer),
        column("plies", Kind::Integer),
    ]
}

/// The row of the games of one source and kind.
#[must_use]
pub fn collection_row(source: &str, kind: BaseKind, count: BaseCount) -> Vec<Cell<'_>> {
    vec![
        source.into(),
        kind.year.into(),
        kind.band.into(),
        kind.result.as_str().into(),
        count.games.into(),
        count.plies.into(),
    ]
}

/// The columns of the table of games that were not mined.
#[must_use]
pub fn reject_columns() -> Vec<Column> {
    vec![
        column("source", Kind::Text),
        column("game", Kind::Integer),
        column("offset", Kind::Integer),
        column("ply", Kind::Integer),
        column("reason", Kind::Text),
        column("text", Kind::Text),
        column("text_offset", Kind::Integer),
    ]
}

/// The row of a game that was not mined.
#[must_use]
pub fn reject_row<'t>(source: &'t str, reject: &'t Reject) -> Vec<Cell<'t>> {
    vec![
        source.into(),
        reject.game.0.into(),
        reject.offset.0.into(),
        reject.ply.into(),
        Cell::Text(reject.reason.to_string().into()),
        (*reject.text).into(),
        reject.fault_offset.0.into(),
    ]
}
