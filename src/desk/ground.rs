//! The text of a plan as its tables stand in it: where each starts, ends, and which comments are its own.
//!
//! A comment directly above a header belongs to the table, and so does one directly below its last value. Whatever else
//! stands between two tables belongs to neither.

use std::ops::Range;

use toml_edit::{Document, Item, Table};

/// The way to a table: keys, each with the index in its list, or 0.
pub(super) type Path = Vec<(String, usize)>;

/// A plan's text with the places of its tables.
pub(super) struct Ground<'t> {
    pub(super) text: &'t str,
    root: Table,
    /// The tables that stand under headers of their own, in the order of the text; the first is the file itself.
    headed: Vec<Headed>,
}

/// A table under a header.
struct Headed {
    path: Path,
    /// Where its header's line starts.
    start: usize,
    /// Where its last line ends.
    end: usize,
}

/// Where a table of a plan stands.
pub(super) enum Site<'g> {
    /// In lines: the table, the keys that each of its lines starts with, and where a new line goes.
    Lines { table: &'g Table, keys: Vec<String>, end: usize },
    /// In a value, with the rest of the way from the key of that value on.
    Value { span: Range<usize>, rest: Path },
    /// Nowhere yet; the way to the last table that is there is so long.
    Missing { known: usize },
}

impl<'t> Ground<'t> {
    /// Reads a text that the plan's own reader took for TOML.
    pub(super) fn read(text: &'t str) -> Option<Ground<'t>> {
        let root = Document::parse(text).ok()?.into_table();
        let mut ground = Ground { text, root, headed: Vec::new() };
        let mut headed = Vec::new();
        ground.add(&ground.root, &mut Vec::new(), &mut headed);
        headed.sort_by_key(|one| one.start);
        ground.headed = headed;
        ground.end_root();
        Some(ground)
    }

    fn add(&self, table: &Table, path: &mut Path, headed: &mut Vec<Headed>) {
        let header = if path.is_empty() { Some(0..0) } else { table.span() };
        if let Some(header) = header.filter(|_| !table.is_dotted() && !table.is_implicit()) {
            let end = self.body_end(table).unwrap_or(header.end);
            let start = self.line_start(header.start);
            headed.push(Headed { path: path.clone(), start, end: self.line_end(end) });
        }
        for (key, item) in table {
            let tables: Vec<&Table> = match item {
                Item::Table(table) => vec![table],
                Item::ArrayOfTables(tables) => tables.iter().collect(),
                _ => Vec::new(),
            };
            for (index, table) in tables.into_iter().enumerate() {
                path.push((key.to_owned(), index));
                self.add(table, path, headed);
                path.pop();
            }
        }
    }

    /// A file without values of its own ends before its first table.
    fn end_root(&mut self) {
        if self.body_end(&self.root).is_none() {
            let first = self.headed.get(1).map(|first| first.start);
            let end = first.map_or(self.text.len(), |start| self.blank_before(self.own(start, 0)));
            self.headed[0].end = end;
        }
    }

    /// Where the last value of a table ends.
    fn body_end(&self, table: &Table) -> Option<usize> {
        let ends = table.get_values().into_iter().filter_map(|(_, value)| value.span());
        ends.map(|span| span.end).max()
    }

    fn line_start(&self, at: usize) -> usize {
        self.text[..at].rfind('\n').map_or(0, |end| end + 1)
    }

    fn line_end(&self, at: usize) -> usize {
        self.text[at..].find('\n').map_or(self.text.len(), |length| at + length + 1)
    }

    /// The place of the key and value at an offset: its whole line, and where the value ends.
    pub(super) fn line_of(&self, key: usize, end: usize) -> Range<usize> {
        self.line_start(key)..self.line_end(end)
    }

    /// The start of the comments directly above a header, not before `least`.
    fn own(&self, header: usize, least: usize) -> usize {
        let mut start = header;
        while start > least {
            let line = self.line_start(start - 1);
            if line < least || !self.text[line..start].trim_start().starts_with('#') {
                break;
            }
            start = line;
        }
        start
    }

    /// The start of the blank lines directly above an offset.
    fn blank_before(&self, at: usize) -> usize {
        let mut start = at;
        while start > 0 {
            let line = self.line_start(start - 1);
            if !self.text[line..start].trim().is_empty() {
                break;
            }
            start = line;
        }
        start
    }

    fn start_of(&self, index: usize) -> usize {
        let least = index.checked_sub(1).map_or(0, |before| self.headed[before].end);
        self.own(self.headed[index].start, least)
    }

    /// Where a table ends, with the comments directly below its last value.
    fn end_of(&self, index: usize) -> usize {
        let body = self.headed[index].end;
        let next = self.headed.get(index + 1).map_or(usize::MAX, |next| next.start);
        let mut end = body;
        while end < self.text.len() {
            let line = self.line_end(end);
            if !self.text[end..line].trim_start().starts_with('#') {
                return end;
            }
            end = line;
            if end >= next {
                // These stand directly above the next header.
                return body;
            }
        }
        end
    }

    /// The indices of the tables of an entry: itself, and all below it.
    fn block(&self, path: &[(String, usize)]) -> Option<Range<usize>> {
        let is_in = |one: &Headed| one.path.starts_with(path);
        let first = self.headed.iter().position(is_in)?;
        let last = self.headed.iter().rposition(is_in)?;
        Some(first..last + 1).filter(|block| self.headed[block.clone()].iter().all(is_in))
    }

    /// The place of an entry with all below it, its own comments and the blank lines above; nothing if it stands in
    /// several places.
    pub(super) fn entry(&self, path: &[(String, usize)]) -> Option<Range<usize>> {
        let block = self.block(path)?;
        let start = self.blank_before(self.start_of(block.start));
        Some(start..self.end_of(block.end - 1))
    }

    /// Where the first entry of a list goes.
    pub(super) fn place_of_first(&self, parent: &[(String, usize)], list: &str) -> Option<usize> {
        let goes_before = |one: &Headed| match (one.path.get(parent.len()), parent.is_empty()) {
            (None, _) => true,
            (Some((key, _)), true) => list == "sheet" && key == "lesson",
            (Some((key, _)), false) => list == "exercise" || key != "exercise",
        };
        let block = self.block(parent)?;
        let before = self.headed[block.clone()].iter().rposition(goes_before)?;
        Some(self.end_of(block.start + before))
    }

    /// Where a table stands.
    pub(super) fn site(&self, path: &[(String, usize)]) -> Site<'_> {
        let (mut table, mut keys, mut headed) = (&self.root, Vec::new(), 0);
        for (known, (key, index)) in path.iter().enumerate() {
            table = match table.get(key) {
                Some(Item::Table(table)) => table,
                Some(Item::ArrayOfTables(tables)) => match tables.get(*index) {
                    Some(table) => table,
                    None => return Site::Missing { known },
                },
                Some(Item::Value(value)) => {
                    let span = value.span().unwrap_or_default();
                    return Site::Value { span, rest: path[known..].to_vec() };
                }
                _ => return Site::Missing { known },
            };
            if table.is_dotted() {
                keys.push(key.clone());
            } else {
                keys.clear();
                headed = known + 1;
            }
        }
        let of_header = self.headed.iter().find(|one| one.path == path[..headed]);
        let end = match (keys.is_empty(), self.body_end(table)) {
            (false, Some(end)) => self.line_end(end),
            _ => of_header.map_or(self.text.len(), |one| one.end),
        };
        Site::Lines { table, keys, end }
    }

    /// What ends a line here.
    pub(super) fn line_break(&self) -> &'static str {
        if self.text.contains("\r\n") { "\r\n" } else { "\n" }
    }
}
