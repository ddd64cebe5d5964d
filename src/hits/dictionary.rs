//! Every column of every table of a run, for whoever reads the tables with other programs.

use super::base::{collection_columns, reject_columns};
use super::games::game_columns;
use super::layout::{Layout, Verdicts, verdict_columns};
use super::left_out::duplicate_columns;
use super::meanings::{ANY, HITS, VERDICTS};
use crate::tables::{COLLECTION_TABLE, Column, DUPLICATES_TABLE, GAMES_TABLE, REJECTS_TABLE};

/// Every column of every table of a run, in order, with the table's name. A follow-up and a factor stand for
/// all of their kind.
#[must_use]
pub fn dictionary() -> Vec<(&'static str, Column)> {
    let names = vec![ANY.to_owned()];
    let (follow_ups, factors) = (names.clone(), names);
    let hits = Layout { follow_ups, factors, verdicts: Verdicts::Missing }.hit_columns();
    let tables = [
        (HITS, hits),
        (VERDICTS, verdict_columns(Verdicts::WithAdvice)),
        (COLLECTION_TABLE, collection_columns()),
        (GAMES_TABLE, game_columns()),
        (DUPLICATES_TABLE, duplicate_columns()),
        (REJECTS_TABLE, reject_columns()),
    ];
    tables
        .into_iter()
        .flat_map(|(table, columns)| columns.into_iter().map(move |it| (table, it)))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hits::meanings::lines;

    #[test]
    fn the_dictionary_has_each_column_once_and_in_order() {
        let written: Vec<(&str, &str)> = lines().collect();
        let columns = dictionary();
        let columns: Vec<(&str, &str)> =
            columns.iter().map(|(table, column)| (*table, &*column.name)).collect();
        assert_eq!(written, columns);
    }
}
