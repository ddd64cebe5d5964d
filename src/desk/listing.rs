//! Edits of a list, made in a plan's text, and the entries that are written into lists.

use toml_edit::Value;

use super::edit::{ExerciseName, ListEdit, Noted, Nth, Spot};
use super::fault::{EditFault, Made};
use super::levels::levels_value;
use super::named::place_of;
use super::splice::{List, NewTable, add, drop_entry, move_entry};
use crate::plan::GameSource;

/// A list in a plan's text.
pub(super) struct ListText<'l> {
    pub(super) text: &'l str,
    pub(super) list: List<'l>,
}

impl ListText<'_> {
    /// The text with a list edited whose entries name these.
    pub(super) fn changed<K: PartialEq + Clone>(
        &self,
        names: &[K],
        edit: &ListEdit<K>,
        table: fn(&Noted<K>) -> NewTable,
    ) -> Made {
        let what = self.list.key;
        match edit {
            ListEdit::Add(new, _) | ListEdit::Replace(_, new) if names.contains(&new.name) => {
                Err(EditFault::There(what.to_owned()))
            }
            ListEdit::Add(new, spot) => self.added(names, spot, &table(new)),
            ListEdit::Drop(one) => self.dropped(place_of(names, one, what)?),
            ListEdit::Replace(one, new) => {
                let at = place_of(names, one, what)?;
                // The new one comes first, so that the list is never empty.
                let text = self.put(at, &table(new))?;
                self.other(&text).dropped(at + 1)
            }
            ListEdit::Move(one, spot) => self.moved(place_of(names, one, what)?, names, spot),
        }
    }

    fn other<'o>(&'o self, text: &'o str) -> ListText<'o> {
        ListText { text, list: List { parent: self.list.parent, key: self.list.key } }
    }

    pub(super) fn added<K: PartialEq>(&self, names: &[K], spot: &Spot<K>, new: &NewTable) -> Made {
        let index = match spot {
            Spot::First => 0,
            Spot::Last => names.len(),
            Spot::After(one) => self.neighbour(names, one)? + 1,
        };
        self.put(index, new)
    }

    fn put(&self, index: usize, new: &NewTable) -> Made {
        add(self.text, &self.list, index, new).ok_or_else(|| self.scattered())
    }

    pub(super) fn dropped(&self, at: usize) -> Made {
        drop_entry(self.text, &self.list, at).ok_or_else(|| self.scattered())
    }

    pub(super) fn moved<K: PartialEq>(&self, from: usize, names: &[K], spot: &Spot<K>) -> Made {
        let to = match spot {
            Spot::First => 0,
            Spot::Last => names.len() - 1,
            Spot::After(one) => match self.neighbour(names, one)? {
                after if after < from => after + 1,
                after => after,
            },
        };
        if to == from {
            return Ok(self.text.to_owned());
        }
        move_entry(self.text, &self.list, from, to).ok_or_else(|| self.scattered())
    }

    fn neighbour<K: PartialEq>(&self, names: &[K], one: &Nth<K>) -> Result<usize, EditFault> {
        let what = self.list.key;
        place_of(names, one, what).map_err(|_| EditFault::NoNeighbour(what))
    }

    fn scattered(&self) -> EditFault {
        EditFault::Scattered(self.list.key.to_owned())
    }
}

/// How many entries a list of this many has after an edit.
pub(super) fn count_after<K>(count: usize, edit: &ListEdit<K>) -> usize {
    match edit {
        ListEdit::Add(..) => count + 1,
        ListEdit::Drop(_) => count - 1,
        ListEdit::Replace(..) | ListEdit::Move(..) => count,
    }
}

/// A game as it is written.
pub(super) fn game_table(game: &Noted<GameSource>) -> NewTable {
    let values = match &game.name {
        GameSource::Hit(id) => vec![("id", Value::from(id))],
        GameSource::File(path, number) => {
            let number = (*number != 1).then(|| ("number", Value::from(*number as i64)));
            let path = Value::from(path.to_string_lossy().into_owned());
            [("file", path)].into_iter().chain(number).collect()
        }
    };
    NewTable { says: game.says.clone(), values, blank: 1 }
}

/// Exercises as they are written.
pub(super) fn exercise_table(exercise: &Noted<ExerciseName>) -> NewTable {
    let values = match &exercise.name {
        ExerciseName::One(kind, id) => {
            vec![("kind", Value::from(kind.word())), ("id", Value::from(id))]
        }
        ExerciseName::Some(kind, count, levels) => {
            let count = [("kind", Value::from(kind.word())), ("count", Value::from(*count as i64))];
            let level = levels_value(*levels).map(|value| ("level", value));
            count.into_iter().chain(level).collect()
        }
    };
    NewTable { says: exercise.says.clone(), values, blank: 1 }
}

/// Words as they are written: lines end alike whoever sent them, and blanks alone say nothing.
pub(super) fn said(words: &str) -> Option<Value> {
    let words = words.replace("\r\n", "\n").replace('\r', "\n");
    let words = words.trim_end();
    (!words.trim().is_empty()).then(|| Value::from(words))
}

/// The way to a table below another.
pub(super) fn below(path: &[(String, usize)], key: &str, index: usize) -> Vec<(String, usize)> {
    let step = (key.to_owned(), index);
    path.iter().cloned().chain([step]).collect()
}
