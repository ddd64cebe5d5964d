//! Changes of a plan's text, each in one place: all other bytes stay.

use std::ops::Range;

use toml_edit::{Array, InlineTable, Item, Key, Table, Value};

use super::ground::{Ground, Path, Site};

/// A table to be written: a comment, and its keys with their values.
pub(super) struct NewTable {
    pub(super) says: Option<String>,
    pub(super) values: Vec<(&'static str, Value)>,
    /// How many blank lines stand above it.
    pub(super) blank: usize,
}

/// A list of a plan: the way to the table that has it, and its key.
pub(super) struct List<'l> {
    pub(super) parent: &'l [(String, usize)],
    pub(super) key: &'static str,
}

impl List<'_> {
    /// The way to an entry.
    pub(super) fn entry(&self, index: usize) -> Path {
        let mut path = self.parent.to_vec();
        path.push((self.key.to_owned(), index));
        path
    }
}

/// Gives a key of a table a value, or takes it away; the table is made if it is not there.
pub(super) fn set(
    text: &str,
    path: &[(String, usize)],
    key: &str,
    value: Option<Value>,
) -> Option<String> {
    let ground = Ground::read(text)?;
    match ground.site(path) {
        Site::Lines { table, keys, end } => {
            Some(set_line(&ground, path, (table, &keys, end), key, value))
        }
        Site::Value { span, rest } => changed_value(text, span, |outer| {
            let mut inner = inside(outer, &rest[..1])?;
            for (key, _) in &rest[1..] {
                inner = made_inside(inner, key)?;
            }
            set_inside(inner, key, value);
            Some(())
        }),
        Site::Missing { known } => match value {
            None => Some(text.to_owned()),
            Some(value) => make_table(&ground, path, known, key, value),
        },
    }
}

/// Gives a key in lines of its own a value, or takes its line away.
fn set_line(
    ground: &Ground<'_>,
    path: &[(String, usize)],
    (table, keys, end): (&Table, &[String], usize),
    key: &str,
    value: Option<Value>,
) -> String {
    let text = ground.text;
    match (table.get_key_value(key), value) {
        (Some((_, Item::Value(old))), Some(value)) => {
            let span = old.span().unwrap_or_default();
            spliced(text, span, &value.to_string())
        }
        (Some((name, Item::Value(old))), None) => {
            let (start, end) = (name.span().unwrap_or_default().start, old.span());
            let end = end.unwrap_or_default().end;
            let line = ground.line_of(start, end);
            // What was noted beside the value stays.
            let beside = text[end..line.end].trim_start();
            let without = spliced(text, line, beside);
            if table.get_values().len() == 1 { without_empty(without, path) } else { without }
        }
        (None, Some(value)) => {
            let name = keys.iter().map(|key| Key::new(key).to_string() + ".");
            let name: String = name.chain([Key::new(key).to_string()]).collect();
            let line = format!("{name} = {value}{}", ground.line_break());
            let is_line = end == 0 || text[..end].ends_with('\n');
            let broken = if is_line { "" } else { ground.line_break() };
            let has_table_below = path.is_empty() && table.get_values().is_empty();
            let blank = if has_table_below && !text[..end].trim().is_empty() {
                ground.line_break()
            } else {
                ""
            };
            spliced(text, end..end, &format!("{broken}{blank}{line}"))
        }
        _ => text.to_owned(),
    }
}

/// The text without a table that holds neither values nor comments.
fn without_empty(text: String, path: &[(String, usize)]) -> String {
    let is_optional = path.last().is_some_and(|(key, _)| key == "words" || key == "at");
    let entry = is_optional.then(|| Ground::read(&text)?.entry(path)).flatten();
    match entry {
        Some(place) if !text[place.clone()].contains('#') => spliced(&text, place, ""),
        _ => text,
    }
}

/// Makes a table of one value below another.
fn make_table(
    ground: &Ground<'_>,
    path: &[(String, usize)],
    known: usize,
    key: &str,
    value: Value,
) -> Option<String> {
    if known + 1 != path.len() {
        return None;
    }
    let names: Vec<&str> = path.iter().map(|(key, _)| &**key).collect();
    let end = ground.line_break();
    let table = format!("[{}]{end}{} = {value}{end}", names.join("."), Key::new(key));
    let at = ground.place_of_first(&path[..known], &path[known].0)?;
    Some(pasted(ground, at, &table, 1))
}

/// Adds an entry to a list.
pub(super) fn add(text: &str, list: &List<'_>, index: usize, new: &NewTable) -> Option<String> {
    let ground = Ground::read(text)?;
    if let Some(changed) = changed_list(&ground, list, |array| {
        let mut table = InlineTable::new();
        for (key, value) in &new.values {
            table.insert(*key, value.clone());
        }
        array.insert(index, Value::InlineTable(table));
    }) {
        return changed;
    }
    let names = list.parent.iter().map(|(key, _)| &**key).chain([list.key]);
    let header = format!("[[{}]]", names.collect::<Vec<_>>().join("."));
    let comment = new.says.iter().map(|says| format!("# {}", plain_line(says)));
    let values = new.values.iter().map(|(key, value)| format!("{key} = {value}"));
    let lines = [header].into_iter().chain(comment).chain(values);
    let entry: String = lines.map(|line| line + ground.line_break()).collect();
    let at = place(&ground, list, index)?;
    Some(pasted(&ground, at, &entry, new.blank))
}

/// Takes an entry off a list.
pub(super) fn drop_entry(text: &str, list: &List<'_>, index: usize) -> Option<String> {
    let ground = Ground::read(text)?;
    let changed = changed_list(&ground, list, |array| {
        let dropped = array.remove(index);
        let noted = dropped.decor().prefix().and_then(|noted| noted.as_str()).unwrap_or_default();
        if noted.contains('#') {
            keep_noted(array, index, noted);
        }
    });
    changed.unwrap_or_else(|| Some(spliced(text, ground.entry(&list.entry(index))?, "")))
}

/// Keeps what was noted before an entry of a list that is gone.
fn keep_noted(array: &mut Array, index: usize, noted: &str) {
    match array.get_mut(index) {
        Some(next) => {
            let own = next.decor().prefix().and_then(|own| own.as_str()).unwrap_or_default();
            let both = format!("{noted}{own}");
            next.decor_mut().set_prefix(both);
        }
        None => {
            let own = array.trailing().as_str().unwrap_or_default();
            let both = format!("{noted}{own}");
            array.set_trailing(both);
        }
    }
}

/// Moves an entry of a list to another index.
pub(super) fn move_entry(text: &str, list: &List<'_>, from: usize, to: usize) -> Option<String> {
    let ground = Ground::read(text)?;
    let changed = changed_list(&ground, list, |array| {
        let value = array.remove(from);
        array.insert_formatted(to, value);
    });
    changed.unwrap_or_else(|| {
        let span = ground.entry(&list.entry(from))?;
        let without = spliced(text, span.clone(), "");
        let rest = Ground::read(&without)?;
        let at = place(&rest, list, to)?;
        Some(pasted(&rest, at, &text[span], 0))
    })
}

/// The text of an entry.
pub(super) fn entry_text(text: &str, path: &[(String, usize)]) -> Option<String> {
    let ground = Ground::read(text)?;
    match ground.site(path) {
        Site::Value { span, rest } => {
            let mut value: Value = text[span].parse().ok()?;
            Some(inside(&mut value, &rest)?.to_string())
        }
        _ => Some(text[ground.entry(path)?].trim().to_owned()),
    }
}

/// Where an entry goes that is to have this index.
fn place(ground: &Ground<'_>, list: &List<'_>, index: usize) -> Option<usize> {
    match index.checked_sub(1) {
        Some(before) => Some(ground.entry(&list.entry(before))?.end),
        None => match ground.entry(&list.entry(0)) {
            Some(first) => Some(first.start),
            None => ground.place_of_first(list.parent, list.key),
        },
    }
}

/// The text with a list changed that is written as a value; nothing if it is not.
fn changed_list(
    ground: &Ground<'_>,
    list: &List<'_>,
    change: impl FnOnce(&mut Array),
) -> Option<Option<String>> {
    let path = list.entry(0);
    let Site::Value { span, rest } = ground.site(&path) else {
        return None;
    };
    Some(changed_value(ground.text, span, |outer| {
        let array = match &rest[..] {
            [_] => outer.as_array_mut()?,
            [way @ .., _] => {
                let table = inside(outer, way)?;
                let empty = Value::Array(Array::new());
                table.entry(list.key).or_insert(empty).as_array_mut()?
            }
            [] => return None,
        };
        change(array);
        Some(())
    }))
}

/// The text with a value changed.
fn changed_value(
    text: &str,
    span: Range<usize>,
    change: impl FnOnce(&mut Value) -> Option<()>,
) -> Option<String> {
    let mut value: Value = text[span.clone()].parse().ok()?;
    change(&mut value)?;
    Some(spliced(text, span, &value.to_string()))
}

/// A table inside a value; the key of the first step is that of the value itself.
fn inside<'v>(value: &'v mut Value, way: &[(String, usize)]) -> Option<&'v mut InlineTable> {
    let ((_, index), rest) = way.split_first()?;
    let table = match value {
        Value::Array(array) => array.get_mut(*index)?.as_inline_table_mut()?,
        Value::InlineTable(table) => table,
        _ => return None,
    };
    match rest.first() {
        None => Some(table),
        Some((key, _)) => inside(table.get_mut(key)?, rest),
    }
}

/// A table inside another one, made if it is not there.
fn made_inside<'v>(table: &'v mut InlineTable, key: &str) -> Option<&'v mut InlineTable> {
    let inner = table.entry(key).or_insert(Value::InlineTable(InlineTable::new()));
    match inner {
        Value::InlineTable(table) => Some(table),
        _ => None,
    }
}

fn set_inside(table: &mut InlineTable, key: &str, value: Option<Value>) {
    match (value, table.get_mut(key)) {
        (Some(value), Some(old)) => {
            let decor = old.decor().clone();
            *old = value;
            *old.decor_mut() = decor;
        }
        (Some(value), None) => {
            table.insert(key, value);
        }
        (None, _) => {
            table.remove(key);
        }
    }
}

/// The text with some of it replaced.
fn spliced(text: &str, place: Range<usize>, with: &str) -> String {
    [&text[..place.start], with, &text[place.end..]].concat()
}

/// The text with a piece of whole lines put in, parted from what stands above and below by blank lines.
fn pasted(ground: &Ground<'_>, at: usize, piece: &str, blank: usize) -> String {
    let (above, below) = ground.text.split_at(at);
    let line_break = ground.line_break();
    let is_blank = |line: Option<&str>| line.is_none_or(|line| line.trim().is_empty());
    let is_whole = |text: &str| text.is_empty() || text.ends_with('\n');
    let least = usize::from(!is_blank(piece.lines().next()));
    let blank = if above.trim().is_empty() { 0 } else { blank.max(least) };
    let before = usize::from(!is_whole(above)) + blank;
    let after = usize::from(!is_whole(piece)) + usize::from(!is_blank(below.lines().next()));
    [above, &line_break.repeat(before), piece, &line_break.repeat(after), below].concat()
}

/// A text as one line of a comment; what would end it is a blank.
fn plain_line(text: &str) -> String {
    let line: String = text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
    line.trim().to_owned()
}
