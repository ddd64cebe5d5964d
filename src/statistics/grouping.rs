//! Hits sorted into groups by the values of columns.

use std::collections::BTreeMap;
use std::collections::btree_map::Entry;

use super::balance::BalanceBand;
use super::base::Base;
use super::numbers::grouped;
use super::outcome::Outcomes;
use super::tally::Tally;
use crate::collection::{TimeControl, year_of};
use crate::hits::{CellTrouble, Collector, ColumnId, JudgedHit, Layout, NoColumn, Wanted};

/// How many groups are counted at a time. A group takes about half a kilobyte, and its row of results more.
pub const MOST_GROUPS: usize = 50_000;

/// What is known of a hit besides its columns.
const DERIVED: [(&str, GroupKey); 5] = [
    ("rating", GroupKey::Band),
    ("balance", GroupKey::Balance),
    ("year", GroupKey::Year),
    ("eco-letter", GroupKey::EcoLetter),
    ("time-category", GroupKey::TimeCategory),
];

/// How one value of a hit is found.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum GroupKey {
    /// The band of 200 points of the mean rating.
    Band,
    /// The band of the balance before the offer.
    Balance,
    /// The year of the date.
    Year,
    /// The first letter of the ECO code.
    EcoLetter,
    /// The category of the time control.
    TimeCategory,
    /// A cell as it stands; of a follow-up whether it came.
    Cell(ColumnId),
}

/// A value by which hits are grouped; numbers are sorted as numbers, before words, bands of the balance
/// from behind to ahead, and what is unknown comes last.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum KeyValue {
    /// A whole number.
    Number(i64),
    /// The balance before the offer.
    Balance(BalanceBand),
    /// Words.
    Text(String),
    /// The cell is blank.
    Unknown,
}

impl KeyValue {
    /// What a text says: a whole number, words, or nothing.
    fn of(text: &str) -> KeyValue {
        match text {
            "" => KeyValue::Unknown,
            text => text.parse().map_or_else(|_| KeyValue::Text(text.to_owned()), KeyValue::Number),
        }
    }
}

impl std::fmt::Display for KeyValue {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            KeyValue::Number(number) => write!(f, "{number}"),
            KeyValue::Balance(band) => f.write_str(band.word()),
            KeyValue::Text(text) => f.write_str(text),
            KeyValue::Unknown => f.write_str("?"),
        }
    }
}

impl GroupKey {
    fn find(name: &str, layout: &Layout) -> Result<GroupKey, NoColumn> {
        let derived = DERIVED.iter().find(|(known, _)| *known == name).map(|&(_, key)| key);
        derived.or_else(|| layout.find(name).map(GroupKey::Cell)).ok_or_else(|| {
            let derived = DERIVED.iter().map(|&(name, _)| name.to_owned());
            NoColumn { name: name.to_owned(), known: derived.chain(layout.names()).collect() }
        })
    }

    fn value(self, hit: &JudgedHit) -> KeyValue {
        match self {
            GroupKey::Band => {
                hit.band().map_or(KeyValue::Unknown, |band| KeyValue::Number(band.into()))
            }
            GroupKey::Balance => KeyValue::Balance(BalanceBand::of(hit.offer.balance_before)),
            GroupKey::Year => {
                let year = year_of(hit.game.date.as_bytes());
                year.map_or(KeyValue::Unknown, |year| KeyValue::Number(year.into()))
            }
            GroupKey::EcoLetter => KeyValue::of(hit.game.eco.get(..1).unwrap_or_default()),
            GroupKey::TimeCategory => {
                let category = TimeControl::of_tag(hit.game.time_control.as_bytes());
                KeyValue::of(category.map_or("", TimeControl::word))
            }
            GroupKey::Cell(column) => {
                let row = hit.row();
                let cell = column.cell(&row);
                match (column.is_follow_up(), &*cell.text()) {
                    (true, "") => KeyValue::Text("no".to_owned()),
                    (true, _) => KeyValue::Text("yes".to_owned()),
                    (false, text) => KeyValue::of(text),
                }
            }
        }
    }
}

/// The columns by which hits are grouped.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub(super) struct GroupKeys {
    names: Vec<String>,
    keys: Vec<GroupKey>,
}

impl GroupKeys {
    /// These columns.
    pub(super) fn by(names: &[String]) -> GroupKeys {
        GroupKeys { names: names.to_owned(), keys: Vec::new() }
    }

    /// Finds the columns among those of the next run, and says what must be read for them.
    pub(super) fn begin(&mut self, layout: &Layout) -> Result<Wanted, NoColumn> {
        let keys = self.names.iter().map(|name| GroupKey::find(name, layout));
        self.keys = keys.collect::<Result<_, _>>()?;
        Ok(self.keys.iter().fold(Wanted::figures(), |wanted, key| match key {
            GroupKey::Band => wanted,
            GroupKey::Balance => wanted.with_balance(),
            GroupKey::Year | GroupKey::EcoLetter | GroupKey::TimeCategory => {
                wanted.with_circumstances()
            }
            GroupKey::Cell(column) => wanted.with(*column),
        }))
    }

    /// Whether there are none.
    pub(super) fn is_empty(&self) -> bool {
        self.names.is_empty()
    }

    /// The group of a hit.
    pub(super) fn of(&self, hit: &JudgedHit) -> Vec<KeyValue> {
        self.keys.iter().map(|key| key.value(hit)).collect()
    }
}

/// Tallies the hits of each group apart. Without columns there is one group.
///
/// Columns are found by name: `rating`, `balance`, `year`, `eco-letter`, `time-category`, the name of a
/// column, or that of a follow-up or factor without its `f_` or `x_`.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Groups {
    keys: GroupKeys,
    tallies: BTreeMap<Vec<KeyValue>, Tally>,
    /// Whether there were more than are counted.
    is_full: bool,
}

/// A group of hits.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Group {
    /// What the hits have in common.
    pub values: Vec<KeyValue>,
    /// What they came to.
    pub tally: Tally,
    /// How the games that they are compared with ended for White.
    pub white: Outcomes,
}

impl Groups {
    /// Groups by the values of these columns.
    #[must_use]
    pub fn by(names: &[String]) -> Groups {
        Groups { keys: GroupKeys::by(names), ..Groups::default() }
    }

    /// The groups, sorted by their values. Each is compared with the games of its year and rating band, if
    /// it is one of a year or rating band, else with all games.
    #[must_use]
    pub fn beside(self, base: &Base) -> Vec<Group> {
        let keys = self.keys.keys;
        let white = |values: &[KeyValue]| {
            let agrees = |wanted: GroupKey, found: Option<u16>| {
                let found = found.map_or(KeyValue::Unknown, |it| KeyValue::Number(it.into()));
                let mut pairs = keys.iter().zip(values);
                pairs.all(|(&key, value)| key != wanted || *value == found)
            };
            base.white(|year, band| agrees(GroupKey::Year, year) && agrees(GroupKey::Band, band))
        };
        let group = |(values, tally): (Vec<KeyValue>, Tally)| Group {
            white: white(&values),
            values,
            tally,
        };
        self.tallies.into_iter().map(group).collect()
    }

    /// The tally of all groups, where there is no more than one.
    #[must_use]
    pub fn into_tally(self) -> Tally {
        self.tallies.into_values().next().unwrap_or_default()
    }
}

impl Collector for Groups {
    fn begin(&mut self, layout: &Layout) -> Result<Wanted, NoColumn> {
        self.keys.begin(layout)
    }

    fn take(&mut self, hit: &JudgedHit) -> Result<(), CellTrouble> {
        let values = self.keys.of(hit);
        let has_room = self.tallies.len() < MOST_GROUPS;
        match self.tallies.entry(values) {
            Entry::Occupied(known) => known.into_mut().add(hit),
            Entry::Vacant(new) if has_room => new.insert(Tally::default()).add(hit),
            Entry::Vacant(_) => self.is_full = true,
        }
        Ok(())
    }

    fn too_few_groups(&self) -> Option<String> {
        self.is_full.then(|| grouped(MOST_GROUPS as u64))
    }
}
