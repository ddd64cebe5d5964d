//! The columns of each table and the cells of its rows, whatever the format.

use shakmaty::Color;

use crate::board::Wing;
use crate::collection::{GameResult, Rating, Reject, expected_score};
use crate::mining::{BaseCount, Evaluation, GameInfo, Hit};
use crate::query::Query;

/// A column by its name.
pub type Column = String;

/// One value of a row.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Cell {
    /// No value.
    Blank,
    /// Words.
    Text(String),
    /// A whole number.
    Integer(i64),
    /// A number in hundredths.
    Hundredths(i64),
    /// True or false.
    Truth(bool),
}

impl From<&str> for Cell {
    fn from(text: &str) -> Cell {
        if text.is_empty() { Cell::Blank } else { Cell::Text(text.to_owned()) }
    }
}

impl From<bool> for Cell {
    fn from(truth: bool) -> Cell {
        Cell::Truth(truth)
    }
}

macro_rules! integer_cells {
    ($($kind:ty),*) => {$(
        impl From<$kind> for Cell {
            fn from(number: $kind) -> Cell {
                i64::try_from(number).map_or(Cell::Blank, Cell::Integer)
            }
        }
    )*};
}

integer_cells!(u16, u32, u64, usize, i32);

impl From<Evaluation> for Cell {
    fn from(evaluation: Evaluation) -> Cell {
        match evaluation {
            Evaluation::Centipawns(value) => Cell::Hundredths(value.into()),
            Evaluation::Mate(_) => Cell::Text(evaluation.to_string()),
        }
    }
}

impl<T: Into<Cell>> From<Option<T>> for Cell {
    fn from(value: Option<T>) -> Cell {
        value.map_or(Cell::Blank, Into::into)
    }
}

/// A number in hundredths in its shortest form: `0.5`, `1`, `-0.25`.
pub(super) fn shortest(hundredths: i64) -> String {
    let sign = if hundredths < 0 { "-" } else { "" };
    let (whole, part) = (hundredths.abs() / 100, hundredths.abs() % 100);
    match part {
        0 => format!("{sign}{whole}"),
        part if part % 10 == 0 => format!("{sign}{whole}.{}", part / 10),
        part => format!("{sign}{whole}.{part:02}"),
    }
}

fn named(names: &[&str]) -> Vec<Column> {
    names.iter().map(|&name| name.to_owned()).collect()
}

/// The columns of a query's table of hits.
#[must_use]
pub fn hit_columns(query: &Query) -> Vec<Column> {
    let mut columns = named(&[
        "id",
        "source",
        "game",
        "offset",
        "event",
        "site",
        "date",
        "round",
        "white",
        "black",
        "white_elo",
        "black_elo",
        "eco",
        "time_control",
        "result",
        "plies",
        "side",
        "wing",
        "ply",
        "move_number",
        "offer",
        "fen",
        "line",
        "played",
        "cost",
        "reply",
        "accepted",
        "king_goes",
        "invested",
        "recovered",
        "balance_end",
        "ends_in_mate",
        "score",
        "expected",
        "eval_before",
        "eval_after",
    ]);
    columns.extend(query.follow_ups.iter().map(|follow_up| format!("f_{}", follow_up.name)));
    columns.extend(query.factors.iter().map(|factor| format!("x_{}", factor.name)));
    columns
}

/// The row of a hit.
#[must_use]
pub fn hit_row(source: &str, game: &GameInfo, query: &Query, hit: &Hit) -> Vec<Cell> {
    let (own, other) = match hit.view.attacker {
        Color::White => (game.white_elo, game.black_elo),
        Color::Black => (game.black_elo, game.white_elo),
    };
    let expected = own.zip(other).map(|(own, other)| expected_score(own, other));
    let mut row = vec![
        Cell::Text(format!("{source}:{}:{}:{}", game.number, hit.offer.ply, query.name)),
        source.into(),
        game.number.0.into(),
        game.offset.0.into(),
        (*game.event).into(),
        (*game.site).into(),
        (*game.date).into(),
        (*game.round).into(),
        (*game.white).into(),
        (*game.black).into(),
        game.white_elo.into(),
        game.black_elo.into(),
        (*game.eco).into(),
        (*game.time_control).into(),
        game.result.as_str().into(),
        game.plies.into(),
        hit.view.attacker.fold_wb("white", "black").into(),
        wing_word(hit.view.wing).into(),
        hit.offer.ply.into(),
        hit.offer.move_number.into(),
        (*hit.offer.san).into(),
        (*hit.offer.fen).into(),
        (*hit.offer.line).into(),
        hit.offer.played.into(),
        hit.offer.cost.into(),
        hit.offer.reply.as_deref().into(),
        hit.offer.accepted.into(),
        hit.king_goes.map(|square| Cell::Text(square.to_string())).unwrap_or(Cell::Blank),
        hit.offer.invested.into(),
        hit.offer.recovered.into(),
        hit.offer.balance_end.into(),
        hit.offer.ends_in_mate.into(),
        hit.half_points(game.result)
            .map_or(Cell::Blank, |halves| Cell::Hundredths(50 * i64::from(halves))),
        expected.map_or(Cell::Blank, |score| Cell::Hundredths(score.into())),
        hit.offer.eval_before.into(),
        hit.offer.eval_after.into(),
    ];
    row.extend(hit.follow_ups.iter().map(|&ply| Cell::from(ply)));
    row.extend(hit.factors.iter().map(|&truth| Cell::from(truth)));
    row
}

fn wing_word(wing: Wing) -> &'static str {
    match wing {
        Wing::Written => "as written",
        Wing::Mirrored => "mirrored",
    }
}

/// The columns of the table of all games that were mined.
#[must_use]
pub fn collection_columns() -> Vec<Column> {
    named(&["source", "rating_band", "result", "games", "plies"])
}

/// The row of the games of one source, rating band and result.
#[must_use]
pub fn collection_row(
    source: &str,
    band: Option<Rating>,
    result: GameResult,
    count: BaseCount,
) -> Vec<Cell> {
    vec![source.into(), band.into(), result.as_str().into(), count.games.into(), count.plies.into()]
}

/// The columns of the table of games that were not mined.
#[must_use]
pub fn reject_columns() -> Vec<Column> {
    named(&["source", "game", "offset", "ply", "reason", "text", "text_offset"])
}

/// The row of a game that was not mined.
#[must_use]
pub fn reject_row(source: &str, reject: &Reject) -> Vec<Cell> {
    vec![
        source.into(),
        reject.game.0.into(),
        reject.offset.0.into(),
        reject.ply.into(),
        Cell::Text(reject.reason.to_string()),
        (*reject.text).into(),
        reject.fault_offset.0.into(),
    ]
}
