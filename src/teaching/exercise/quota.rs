//! How many exercises of which kind a sheet is to have, and the order of those that it gets.

use std::str::FromStr;

use clap::ValueEnum;

use super::Exercise;
use super::grade::Level;
use super::kind::ExerciseKind;

/// So many exercises of a kind.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Quota {
    /// What is asked.
    pub kind: ExerciseKind,
    /// How many times.
    pub count: u16,
}

/// What is wrong with a quota.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
pub enum QuotaFault {
    /// It is not a kind and a number.
    #[error("expected a kind and a number, such as find:6")]
    Unreadable,
    /// There is no such kind.
    #[error("there is no kind `{kind}`; the kinds are {}", words().join(", "))]
    NoKind {
        /// What was written.
        kind: String,
    },
    /// The number is none, or too large.
    #[error("{0} is not in 1..=1000")]
    Count(u32),
}

impl Quota {
    /// The most exercises of a kind.
    pub const MOST: u16 = 1000;
}

impl FromStr for Quota {
    type Err = QuotaFault;

    /// Reads a kind and a number, `find:6`.
    fn from_str(text: &str) -> Result<Quota, QuotaFault> {
        let (kind, count) = text.split_once(':').ok_or(QuotaFault::Unreadable)?;
        let kind = ExerciseKind::from_str(kind.trim(), false)
            .map_err(|_| QuotaFault::NoKind { kind: kind.trim().to_owned() })?;
        let count: u32 = count.trim().parse().map_err(|_| QuotaFault::Unreadable)?;
        let fitting = u16::try_from(count).ok().filter(|count| (1..=Quota::MOST).contains(count));
        fitting.map(|count| Quota { kind, count }).ok_or(QuotaFault::Count(count))
    }
}

fn words() -> Vec<&'static str> {
    ExerciseKind::value_variants().iter().map(|kind| kind.word()).collect()
}

/// Exercises of several kinds in the order of a sheet: the easiest first. Those of one kind stay in the order of
/// their choice, which tells no answer, and those of one offer stay together.
#[must_use]
pub fn sheet_order(choices: Vec<Vec<Exercise>>) -> Vec<Exercise> {
    let groups = choices.iter().flat_map(|chosen| chosen.chunk_by(is_of_one_offer));
    let mut groups: Vec<&[Exercise]> = groups.collect();
    groups.sort_by_key(|group| group.iter().map(|one| one.level).min().unwrap_or(Level::EASIEST));
    groups.concat()
}

fn is_of_one_offer(one: &Exercise, other: &Exercise) -> bool {
    one.hit.id == other.hit.id && one.hit.query == other.hit.query
}
