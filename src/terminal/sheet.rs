//! Tables of results, written as aligned text, CSV, JSON or Markdown.

use std::borrow::Cow;

use serde::ser::{Serialize, SerializeMap, Serializer};
use textwrap::WordSplitter;

use super::columns::{Align, in_columns, width_of};
use super::figure::Figure;
use crate::tables::csv_text;
use crate::visible::{visible, visible_lines};

/// How a table of results is written.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, clap::ValueEnum)]
pub enum SheetFormat {
    /// Aligned text that fits the terminal
    #[default]
    Text,
    /// Comma-separated values with every column
    Csv,
    /// A JSON array of objects with every column
    Json,
    /// A Markdown table with every column
    Markdown,
}

/// A table of results.
#[derive(Clone, PartialEq, Debug)]
pub struct Sheet {
    /// What stands above it as text or Markdown.
    pub title: String,
    /// Its columns.
    pub columns: Vec<SheetColumn>,
    /// Its rows, a figure for each column.
    pub rows: Vec<Vec<Figure>>,
    /// What stands below it as text or Markdown.
    pub note: String,
}

/// A column of a table of results.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct SheetColumn {
    /// Its name in CSV and JSON.
    pub name: String,
    /// Its heading as text or Markdown.
    pub heading: String,
    /// How soon it is left out where text lacks the room: 0 never, then the greatest first, columns of the
    /// same rank together. The greatest rank of all is only in CSV and JSON.
    pub leave_out: u8,
}

/// The rank of a column that the title already says to people.
const IN_TITLE: u8 = u8::MAX;

impl SheetColumn {
    /// A column that text always shows.
    pub fn kept(name: impl Into<String>, heading: impl Into<String>) -> SheetColumn {
        SheetColumn { name: name.into(), heading: heading.into(), leave_out: 0 }
    }

    /// A column for programs; people read it in the title.
    pub fn in_title(name: impl Into<String>) -> SheetColumn {
        SheetColumn { leave_out: IN_TITLE, ..SheetColumn::kept(name, "") }
    }

    /// A column that text leaves out where it lacks the room, the greatest rank first.
    pub fn spared(rank: u8, name: impl Into<String>, heading: impl Into<String>) -> SheetColumn {
        SheetColumn { leave_out: rank, ..SheetColumn::kept(name, heading) }
    }
}

impl Sheet {
    /// The table as aligned text of at most `width` columns, as far as leaving out columns does that;
    /// a line below says which were left out.
    #[must_use]
    pub fn as_text(&self, width: usize) -> String {
        let (shown, left_out) = self.fitting(width);
        let body = self.aligned(&shown);
        let title = match &*self.title {
            "" => String::new(),
            title => format!("{}\n", visible(title)),
        };
        let rest = if left_out.is_empty() {
            String::new()
        } else {
            let text = format!("(no room for {})", left_out.join(", "));
            textwrap::fill(&text, width) + "\n"
        };
        let unbroken = textwrap::Options::new(width).word_splitter(WordSplitter::NoHyphenation);
        let note = textwrap::fill(&visible_lines(&self.note), unbroken);
        let note = if note.is_empty() { note } else { format!("\n{note}\n") };
        title + &body + &rest + &note
    }

    /// The columns for which text of this width has room, and the names of those for which it has none.
    fn fitting(&self, width: usize) -> (Vec<usize>, Vec<&str>) {
        let mut shown = self.shown();
        let mut left_out: Vec<&str> = Vec::new();
        let widths: Vec<usize> = (0..self.columns.len()).map(|it| self.width(it)).collect();
        let taken = |shown: &[usize]| -> usize {
            let apart = 2 * shown.len().saturating_sub(1);
            shown.iter().map(|&column| widths[column]).sum::<usize>() + apart
        };
        while taken(&shown) > width {
            let rank = |column: &usize| self.columns[*column].leave_out;
            let greatest = shown.iter().map(rank).max().unwrap_or(0);
            if greatest == 0 {
                break;
            }
            // Half an interval says nothing.
            let spared: Vec<usize> =
                shown.extract_if(.., |column| rank(column) == greatest).collect();
            left_out.extend(spared.iter().rev().map(|&column| &*self.columns[column].name));
        }
        left_out.reverse();
        (shown, left_out)
    }

    /// How many characters wide a column is.
    fn width(&self, column: usize) -> usize {
        let cells = self.rows.iter().map(|row| width_of(&row[column].shown()));
        cells.max().unwrap_or(0).max(width_of(&self.columns[column].heading))
    }

    /// The columns that people read.
    fn shown(&self) -> Vec<usize> {
        let columns = 0..self.columns.len();
        columns.filter(|&column| self.columns[column].leave_out != IN_TITLE).collect()
    }

    fn aligned(&self, shown: &[usize]) -> String {
        let align: Vec<Align> = shown.iter().map(|&column| self.align(column)).collect();
        let heading = shown.iter().map(|&column| self.columns[column].heading.clone()).collect();
        let cells = |row: &Vec<Figure>| shown.iter().map(|&column| row[column].shown()).collect();
        let heading = Some(heading)
            .filter(|heading: &Vec<String>| heading.iter().any(|word| !word.is_empty()));
        let rows: Vec<Vec<String>> =
            heading.into_iter().chain(self.rows.iter().map(cells)).collect();
        in_columns(&align, &rows)
    }

    fn align(&self, column: usize) -> Align {
        let cells = self.rows.iter().map(|row| &row[column]);
        let mut filled = cells.filter(|cell| **cell != Figure::Blank).peekable();
        if filled.peek().is_some_and(|cell| cell.align() == Align::Left) {
            Align::Left
        } else {
            Align::Right
        }
    }

    /// The table as Markdown.
    #[must_use]
    pub fn as_markdown(&self) -> String {
        let line = |cells: Vec<String>| format!("| {} |\n", cells.join(" | "));
        let shown = self.shown();
        let headings = shown.iter().map(|&column| escaped(&self.columns[column].heading));
        let rules = shown.iter().map(|&column| match self.align(column) {
            Align::Left => "---".to_owned(),
            Align::Right => "--:".to_owned(),
        });
        let cells = |row: &Vec<Figure>| {
            line(shown.iter().map(|&column| escaped(&visible(&row[column].shown()))).collect())
        };
        let rows: String = self.rows.iter().map(cells).collect();
        let body = line(headings.collect()) + &line(rules.collect()) + &rows;
        let title = match &*self.title {
            "" => String::new(),
            title => format!("**{}**\n\n", escaped(title)),
        };
        let note = match &*self.note {
            "" => String::new(),
            note => format!("\n{}\n", escaped(note)),
        };
        title + &body + &note
    }
}

/// A text that does not break a Markdown table, and is neither HTML nor a link in it.
fn escaped(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for c in visible_lines(text).chars() {
        match c {
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '&' => escaped.push_str("&amp;"),
            '\\' | '|' | '*' | '_' | '[' => escaped.extend(['\\', c]),
            _ => escaped.push(c),
        }
    }
    escaped
}

/// Tables one after the other. As CSV and JSON they are one table, with a column for each name that one
/// of them has, in the order in which the names come first.
#[must_use]
pub fn written(sheets: &[Sheet], format: SheetFormat, width: usize) -> String {
    let apart = |text: &dyn Fn(&Sheet) -> String| {
        joined(sheets).iter().map(|sheet| text(sheet)).collect::<Vec<_>>().join("\n")
    };
    match format {
        SheetFormat::Text => apart(&|sheet| sheet.as_text(width)),
        SheetFormat::Markdown => apart(&Sheet::as_markdown),
        SheetFormat::Csv => as_csv(sheets),
        SheetFormat::Json => as_json(sheets),
    }
}

/// The same tables, those without a title joined to the one before if it is of the same kind.
fn joined(sheets: &[Sheet]) -> Vec<Cow<'_, Sheet>> {
    let mut joined: Vec<Cow<'_, Sheet>> = Vec::new();
    for sheet in sheets {
        match joined.last_mut() {
            Some(last)
                if last.title.is_empty()
                    && sheet.title.is_empty()
                    && last.columns == sheet.columns =>
            {
                last.to_mut().rows.extend(sheet.rows.iter().cloned());
            }
            _ => joined.push(Cow::Borrowed(sheet)),
        }
    }
    joined
}

/// The names of all columns, each once.
fn names(sheets: &[Sheet]) -> Vec<&str> {
    let mut names: Vec<&str> = Vec::new();
    for column in sheets.iter().flat_map(|sheet| &sheet.columns) {
        if !names.contains(&&*column.name) {
            names.push(&column.name);
        }
    }
    names
}

fn figure<'s>(sheet: &'s Sheet, row: &'s [Figure], name: &str) -> Option<&'s Figure> {
    let index = sheet.columns.iter().position(|column| column.name == name)?;
    row.get(index)
}

fn as_csv(sheets: &[Sheet]) -> String {
    let names = names(sheets);
    let cells = |sheet: &Sheet, row: &[Figure]| -> Vec<String> {
        let cell = |name: &&str| figure(sheet, row, name).map(Figure::cell).unwrap_or_default();
        names.iter().map(cell).collect()
    };
    let heading = names.iter().map(|&name| name.to_owned()).collect();
    let rows = sheets.iter().flat_map(|sheet| sheet.rows.iter().map(|row| cells(sheet, row)));
    csv_text(std::iter::once(heading).chain(rows))
}

fn as_json(sheets: &[Sheet]) -> String {
    // Writing plain values to memory can't fail.
    serde_json::to_string_pretty(&Objects(sheets)).unwrap_or_default() + "\n"
}

/// The rows of all tables as objects, one after the other.
struct Objects<'s>(&'s [Sheet]);

impl Serialize for Objects<'_> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_seq(self.0.iter().flat_map(|sheet| {
            sheet.rows.iter().map(move |row| Object { columns: &sheet.columns, row })
        }))
    }
}

/// A row as an object.
struct Object<'s> {
    columns: &'s [SheetColumn],
    row: &'s [Figure],
}

impl Serialize for Object<'_> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let mut object = to.serialize_map(Some(self.columns.len()))?;
        for (column, figure) in self.columns.iter().zip(self.row) {
            object.serialize_entry(&column.name, figure)?;
        }
        object.end()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sheet() -> Sheet {
        Sheet {
            title: "a|b".to_owned(),
            columns: vec![
                SheetColumn::kept("name", "name"),
                SheetColumn::spared(1, "score", "score %"),
                SheetColumn::spared(2, "gain", "gain"),
            ],
            rows: vec![
                vec![Figure::Text("x|y".to_owned()), Figure::Share(0.5), Figure::Gain(-0.0123)],
                vec![Figure::Text("z".to_owned()), Figure::Blank, Figure::Blank],
            ],
            note: String::new(),
        }
    }

    #[test]
    fn text_leaves_out_what_has_no_room_and_says_so() {
        assert_eq!(
            sheet().as_text(80),
            "a|b\nname  score %  gain\nx|y      50.0  -1.2\nz           -     -\n"
        );
        assert_eq!(
            sheet().as_text(15),
            "a|b\nname  score %\nx|y      50.0\nz           -\n(no room for\ngain)\n"
        );
    }

    #[test]
    fn both_ends_of_an_interval_are_left_out_together() {
        let columns = [(0, "score"), (1, "from"), (1, "to")];
        let sheet = Sheet {
            title: String::new(),
            columns: columns.map(|(rank, name)| SheetColumn::spared(rank, name, name)).to_vec(),
            rows: vec![[0.5, 0.25, 0.75].map(Figure::Share).to_vec()],
            note: String::new(),
        };
        assert_eq!(sheet.as_text(17), "score  from    to\n 50.0  25.0  75.0\n");
        assert!(sheet.as_text(16).starts_with("score\n 50.0\n(no room for"));
    }

    #[test]
    fn markdown_holds_no_html_and_no_control_characters() {
        let mut sheet = sheet();
        sheet.title = "<b>&\u{1b}".to_owned();
        sheet.rows[0][0] = Figure::Text("<script>[x](y)\n\u{202e}".to_owned());
        let text = sheet.as_markdown();
        assert!(text.starts_with("**&lt;b&gt;&amp;\\\\u{1b}**\n"), "{text}");
        assert!(text.contains("| &lt;script&gt;\\[x](y)\\\\n\\\\u{202e} |"), "{text}");
    }

    #[test]
    fn data_stay_as_they_are() {
        let mut sheet = sheet();
        let name = "x".repeat(70_000) + "<\u{1b}";
        sheet.rows[0][0] = Figure::Text(name.clone());
        assert!(written(&[sheet.clone()], SheetFormat::Csv, 80).contains(&name));
        let json: serde_json::Value =
            serde_json::from_str(&written(&[sheet.clone()], SheetFormat::Json, 80))
                .unwrap_or_default();
        assert_eq!(json[0]["name"], name);
        assert!(written(&[sheet], SheetFormat::Text, 80).len() < 1000);
    }

    #[test]
    fn other_formats_hold_everything() {
        assert_eq!(
            written(&[sheet()], SheetFormat::Csv, 10),
            "name,score,gain\nx|y,0.5,-0.0123\nz,,\n"
        );
        assert!(sheet().as_markdown().contains("| x\\|y | 50.0 | -1.2 |"));
        let json: serde_json::Value =
            serde_json::from_str(&written(&[sheet()], SheetFormat::Json, 10)).unwrap_or_default();
        assert_eq!(json[0]["gain"], -0.0123);
        assert_eq!(json[1]["score"], serde_json::Value::Null);
    }
}
