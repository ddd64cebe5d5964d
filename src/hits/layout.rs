//! Which columns the tables of a query have, and which of them somebody asks for.

use super::columns::{ADVICE_COLUMNS, HIT_COLUMNS, HitColumn, VERDICT_COLUMNS};
use super::judged_hit::HitRow;
use super::meanings::{FACTOR, FOLLOW_UP, HITS, VERDICTS, column};
use crate::query::Query;
use crate::tables::{Cell, Column, Kind};

/// The columns of a query's tables: those that all have, its follow-ups and its factors, and what
/// there is about the verdicts.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Layout {
    /// The names of the follow-ups, in order.
    pub follow_ups: Vec<String>,
    /// The names of the factors, in order.
    pub factors: Vec<String>,
    /// What there is about the verdicts.
    pub verdicts: Verdicts,
}

/// What there is in tables about the verdicts.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Verdicts {
    /// Nothing: the hits were not verified.
    Missing,
    /// What was found out here.
    Own,
    /// That, and what an engine says.
    WithAdvice,
}

/// A column of a layout.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct ColumnId(ColumnPlace);

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum ColumnPlace {
    Hit(usize),
    FollowUp(usize),
    Factor(usize),
    Verdict(usize),
    Advice(usize),
}

fn find(columns: &[HitColumn], name: &str) -> Option<usize> {
    columns.iter().position(|column| column.name == name)
}

impl Layout {
    /// The layout of the hits of a query, before they are verified.
    #[must_use]
    pub fn of_query(query: &Query) -> Layout {
        Layout {
            follow_ups: query.follow_ups.iter().map(|follow_up| follow_up.name.clone()).collect(),
            factors: query.factors.iter().map(|factor| factor.name.clone()).collect(),
            verdicts: Verdicts::Missing,
        }
    }

    /// The layout of a table of hits with these columns. Unknown columns are ignored.
    pub(super) fn of_columns(columns: &[String]) -> Layout {
        let named = |start| {
            let names = columns.iter().filter_map(move |name| name.strip_prefix(start));
            names.map(str::to_owned).collect()
        };
        Layout { follow_ups: named(FOLLOW_UP), factors: named(FACTOR), verdicts: Verdicts::Missing }
    }

    /// The columns of a table of hits.
    #[must_use]
    pub fn hit_columns(&self) -> Vec<Column> {
        let plain = HIT_COLUMNS.iter().map(|it| column(HITS, it.name, it.kind));
        plain
            .chain(self.follow_up_columns().map(|name| column(HITS, &name, Kind::Integer)))
            .chain(self.factor_columns().map(|name| column(HITS, &name, Kind::Truth)))
            .collect()
    }

    /// The names of the columns of the follow-ups, in order.
    pub(super) fn follow_up_columns(&self) -> impl Iterator<Item = String> {
        self.follow_ups.iter().map(|name| format!("{FOLLOW_UP}{name}"))
    }

    /// The names of the columns of the factors, in order.
    pub(super) fn factor_columns(&self) -> impl Iterator<Item = String> {
        self.factors.iter().map(|name| format!("{FACTOR}{name}"))
    }

    /// The place in a table of hits of a column that every such table has.
    pub(super) fn place_of(name: &str) -> Option<usize> {
        find(HIT_COLUMNS, name)
    }

    /// The column of a name, or the follow-up or factor that is called so.
    #[must_use]
    pub fn find(&self, name: &str) -> Option<ColumnId> {
        let among = |names: &[String], name: Option<&str>| {
            names.iter().position(|known| Some(&**known) == name)
        };
        let follow_up =
            || among(&self.follow_ups, name.strip_prefix(FOLLOW_UP)).map(ColumnPlace::FollowUp);
        let factor = || among(&self.factors, name.strip_prefix(FACTOR)).map(ColumnPlace::Factor);
        let of_verdicts = || {
            let own = find(VERDICT_COLUMNS, name).map(ColumnPlace::Verdict);
            own.filter(|_| self.verdicts != Verdicts::Missing)
        };
        let of_advice = || {
            let advice = find(ADVICE_COLUMNS, name).map(ColumnPlace::Advice);
            advice.filter(|_| self.verdicts == Verdicts::WithAdvice)
        };
        let place = follow_up()
            .or_else(|| find(HIT_COLUMNS, name).map(ColumnPlace::Hit))
            .or_else(factor)
            .or_else(of_verdicts)
            .or_else(of_advice)
            .or_else(|| among(&self.follow_ups, Some(name)).map(ColumnPlace::FollowUp))
            .or_else(|| among(&self.factors, Some(name)).map(ColumnPlace::Factor));
        place.map(ColumnId)
    }

    /// The names that [`Layout::find`] knows.
    #[must_use]
    pub fn names(&self) -> Vec<String> {
        let mut names: Vec<String> = HIT_COLUMNS.iter().map(|it| it.name.to_owned()).collect();
        names.extend(self.follow_up_columns().chain(self.factor_columns()));
        if self.verdicts != Verdicts::Missing {
            names.extend(of_verdicts(self.verdicts).skip(1).map(|it| it.name.to_owned()));
        }
        names.extend(self.follow_ups.iter().chain(&self.factors).cloned());
        names
    }

    /// The cells of a table of hits.
    #[must_use]
    pub fn hit_cells<'h>(&self, row: &HitRow<'h>) -> Vec<Cell<'h>> {
        let follow_ups = row.follow_ups.iter().map(|&ply| Cell::from(ply));
        let factors = row.factors.iter().map(|&truth| Cell::from(truth));
        let plain = HIT_COLUMNS.iter().map(|column| (column.write)(row));
        plain.chain(follow_ups).chain(factors).collect()
    }
}

/// The columns of a table of verdicts.
#[must_use]
pub fn verdict_columns(verdicts: Verdicts) -> Vec<Column> {
    of_verdicts(verdicts).map(|it| column(VERDICTS, it.name, it.kind)).collect()
}

/// The cells of a table of verdicts.
#[must_use]
pub fn verdict_cells<'h>(verdicts: Verdicts, row: &HitRow<'h>) -> Vec<Cell<'h>> {
    of_verdicts(verdicts).map(|column| (column.write)(row)).collect()
}

/// The columns that a table of verdicts has.
pub(super) fn of_verdicts(verdicts: Verdicts) -> impl Iterator<Item = &'static HitColumn> + Clone {
    let more: &[HitColumn] = if verdicts == Verdicts::WithAdvice { ADVICE_COLUMNS } else { &[] };
    VERDICT_COLUMNS.iter().chain(more)
}

impl ColumnId {
    /// Whether it tells when a follow-up came.
    #[must_use]
    pub fn is_follow_up(self) -> bool {
        matches!(self.0, ColumnPlace::FollowUp(_))
    }

    /// The cell of a row.
    #[must_use]
    pub fn cell<'h>(self, row: &HitRow<'h>) -> Cell<'h> {
        match self.0 {
            ColumnPlace::Hit(index) => (HIT_COLUMNS[index].write)(row),
            ColumnPlace::FollowUp(index) => row.follow_ups.get(index).copied().flatten().into(),
            ColumnPlace::Factor(index) => row.factors.get(index).copied().into(),
            ColumnPlace::Verdict(index) => (VERDICT_COLUMNS[index].write)(row),
            ColumnPlace::Advice(index) => (ADVICE_COLUMNS[index].write)(row),
        }
    }
}

/// Which columns somebody asks for. Others may stay unread, which saves a lot where a table stores its
/// columns separately.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Wanted {
    hit: [bool; HIT_COLUMNS.len()],
    pub(super) follow_ups: bool,
    pub(super) factors: bool,
    pub(super) verdict: bool,
}

/// What is counted of every hit.
const ALWAYS: [&str; 11] = [
    "white_elo",
    "black_elo",
    "result",
    "plies",
    "side",
    "ply",
    "played",
    "cost",
    "accepted",
    "kind",
    "ends_in_mate",
];

impl Wanted {
    /// What is counted of every hit, and no more.
    #[must_use]
    pub fn figures() -> Wanted {
        let is_counted = |index: usize| ALWAYS.contains(&HIT_COLUMNS[index].name);
        Wanted {
            hit: std::array::from_fn(is_counted),
            follow_ups: false,
            factors: false,
            verdict: false,
        }
    }

    /// Everything.
    #[must_use]
    pub fn everything() -> Wanted {
        Wanted { hit: [true; HIT_COLUMNS.len()], follow_ups: true, factors: true, verdict: true }
    }

    /// The position before the offer and the offer itself, too.
    #[must_use]
    pub fn with_offer(self) -> Wanted {
        self.with_columns(&["id", "fen", "offer", "instead"])
    }

    /// The man that is given up, too.
    #[must_use]
    pub fn with_offered(self) -> Wanted {
        self.with_columns(&["offered"])
    }

    /// The moves of the game and where it is from, too.
    #[must_use]
    pub fn with_line(self) -> Wanted {
        self.with_columns(&["source", "game", "white", "black", "wing", "line"])
    }

    /// What tells the same offer of the same game in another run, too.
    #[must_use]
    pub(super) fn with_identity(self) -> Wanted {
        self.with_columns(&["date", "round", "white", "black", "offer", "fen", "line"])
    }

    /// The date, opening and time control, from which some groups are made, too.
    #[must_use]
    pub fn with_circumstances(self) -> Wanted {
        self.with_columns(&["date", "eco", "time_control"])
    }

    /// What is known of the worth of an offer before anybody judges it, too.
    #[must_use]
    pub fn with_evidence(self) -> Wanted {
        self.with_columns(&["balance_before", "eval_before", "eval_after"])
    }

    /// The wing and files on which the query fits, too.
    #[must_use]
    pub fn with_view(self) -> Wanted {
        self.with_columns(&["wing"])
    }

    /// The balance before the offer, too.
    #[must_use]
    pub fn with_balance(self) -> Wanted {
        self.with_columns(&["balance_before"])
    }

    fn with_columns(mut self, names: &[&str]) -> Wanted {
        for index in names.iter().filter_map(|name| Layout::place_of(name)) {
            self.hit[index] = true;
        }
        self
    }

    /// The factors, too.
    #[must_use]
    pub fn with_factors(self) -> Wanted {
        Wanted { factors: true, ..self }
    }

    /// The verdict, too.
    #[must_use]
    pub fn with_verdict(self) -> Wanted {
        // Verdicts are found by the hit's id.
        Wanted { verdict: true, ..self.with_columns(&["id"]) }
    }

    /// One more column.
    #[must_use]
    pub fn with(mut self, column: ColumnId) -> Wanted {
        match column.0 {
            ColumnPlace::Hit(index) => self.hit[index] = true,
            ColumnPlace::FollowUp(_) => self.follow_ups = true,
            ColumnPlace::Factor(_) => self.factors = true,
            ColumnPlace::Verdict(_) | ColumnPlace::Advice(_) => self = self.with_verdict(),
        }
        self
    }

    /// What either asks for.
    #[must_use]
    pub fn and(self, other: &Wanted) -> Wanted {
        Wanted {
            hit: std::array::from_fn(|index| self.hit[index] || other.hit[index]),
            follow_ups: self.follow_ups || other.follow_ups,
            factors: self.factors || other.factors,
            verdict: self.verdict || other.verdict,
        }
    }

    /// The places in a table of hits of the columns that every such table has.
    pub(super) fn hit_places(&self) -> impl Iterator<Item = usize> + '_ {
        (0..HIT_COLUMNS.len()).filter(|&index| self.hit[index])
    }
}
