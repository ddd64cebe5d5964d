//! Figures of results: one value, as people and as programs read it.

use serde::ser::{Serialize, Serializer};

use super::columns::Align;
use crate::statistics::{grouped, percent};
use crate::tables::guarded;

/// One cell of a table of results.
#[derive(Clone, PartialEq, Debug)]
pub enum Figure {
    /// Nothing is known, or too little to say it.
    Blank,
    /// Words.
    Text(String),
    /// A number of things.
    Count(u64),
    /// A share or score from 0 to 1; text shows it in per cent.
    Share(f64),
    /// A difference of such; text shows it in percentage points with its sign.
    Gain(f64),
    /// Any number, and how many decimals text shows of it.
    Number(f64, usize),
}

impl Figure {
    /// A figure if there is a value.
    pub fn of<T>(value: Option<T>, figure: impl FnOnce(T) -> Figure) -> Figure {
        value.map_or(Figure::Blank, figure)
    }

    /// As people read it.
    #[must_use]
    pub fn shown(&self) -> String {
        match self {
            Figure::Blank => "-".to_owned(),
            Figure::Text(text) => text.clone(),
            Figure::Count(count) => grouped(*count),
            Figure::Share(share) => percent(*share),
            Figure::Gain(gain) => format!("{:+.1}", 100.0 * gain),
            Figure::Number(number, decimals) => format!("{number:.decimals$}"),
        }
    }

    /// As a cell of comma-separated values; numbers with six decimals at most.
    pub(super) fn cell(&self) -> String {
        match self {
            Figure::Blank => String::new(),
            Figure::Text(text) => guarded(text).into_owned(),
            Figure::Count(count) => count.to_string(),
            Figure::Share(number) | Figure::Gain(number) | Figure::Number(number, _) => {
                rounded(*number).to_string()
            }
        }
    }

    /// How it stands in its column.
    pub(super) fn align(&self) -> Align {
        if matches!(self, Figure::Text(_)) { Align::Left } else { Align::Right }
    }
}

/// As a value of JSON; what is no number there is null.
impl Serialize for Figure {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        match self {
            Figure::Blank => to.serialize_unit(),
            Figure::Text(text) => to.serialize_str(text),
            Figure::Count(count) => to.serialize_u64(*count),
            Figure::Share(number) | Figure::Gain(number) | Figure::Number(number, _) => {
                to.serialize_f64(rounded(*number))
            }
        }
    }
}

/// A number with six decimals; what rounds to 0 has no sign.
fn rounded(number: f64) -> f64 {
    (number * 1e6).round() / 1e6 + 0.0
}
