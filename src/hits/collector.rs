//! Collectors, which see every hit of a pass, and why a pass may come to nothing.

use super::field::CellTrouble;
use super::judged_hit::JudgedHit;
use super::layout::{Layout, Wanted};
use super::row_place::HitPlace;
use crate::tables::TableTrouble;

/// What takes what it needs from hits as they pass by.
pub trait Collector {
    /// Learns which columns the hits of the next run have, and says which of them it will look at.
    ///
    /// # Errors
    ///
    /// The column that it was to look at, and there is none.
    fn begin(&mut self, layout: &Layout) -> Result<Wanted, NoColumn>;

    /// Learns where the hit stands that it takes next, if it may be read again from there.
    fn comes_from(&mut self, _: Option<HitPlace>) {}

    /// Takes a hit.
    ///
    /// # Errors
    ///
    /// Which cell can't be understood.
    fn take(&mut self, hit: &JudgedHit) -> Result<(), CellTrouble>;

    /// How many groups it has room for, in words, once it has met more.
    fn too_few_groups(&self) -> Option<String> {
        None
    }
}

/// A column that hits do not have.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct NoColumn {
    /// The name that was asked for.
    pub name: String,
    /// The names that there are.
    pub known: Vec<String>,
}

/// Why hits could not be gone through, or not to their end.
#[derive(thiserror::Error, Clone, PartialEq, Eq, Debug)]
pub enum PassTrouble {
    /// A table is not as it should be.
    #[error(transparent)]
    Table(#[from] TableTrouble),
    /// There is no such column.
    #[error("the hits of `{query}` have no column `{}`", column.name)]
    NoColumn {
        /// The query.
        query: String,
        /// The column.
        column: NoColumn,
    },
    /// Runs have different queries of one name.
    #[error(
        "`{query}` is not the same query in `{one}` ({one_hash}) as in `{other}` ({other_hash})"
    )]
    OtherQuery {
        /// The name.
        query: String,
        /// A run.
        one: String,
        /// How its query's hash begins.
        one_hash: String,
        /// Another run.
        other: String,
        /// How that one's begins.
        other_hash: String,
    },
    /// Nobody waits for it any more.
    #[error("it was stopped")]
    Stopped,
    /// The hits are of more groups than are counted at a time.
    #[error("the hits of `{query}` fall into more than {most} groups by these columns")]
    TooManyGroups {
        /// The query.
        query: String,
        /// How many there can be.
        most: String,
    },
}

/// What a pass over hits left out.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct LeftOut {
    /// The hits that an earlier run holds, too.
    pub hits: u64,
    /// Whether there were too many hits to know them all again.
    pub may_be_more: bool,
}
