//! Text in aligned columns.

use crate::visible::visible;

/// To which side a column is aligned.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Align {
    /// Words.
    Left,
    /// Numbers.
    Right,
}

/// The widest that a cell gets, in characters. What is longer, such as a name of a thousand letters, is cut.
const WIDEST: usize = 80;

/// Rows in columns two blanks apart, each as wide as its widest cell, one line for each row. Cells show what
/// can't be seen by its code, and are cut where they are too long for a table that people read.
#[must_use]
pub fn in_columns(align: &[Align], rows: &[Vec<String>]) -> String {
    let rows: Vec<Vec<String>> =
        rows.iter().map(|row| row.iter().map(|cell| fit(cell)).collect()).collect();
    let width = |column: usize| {
        rows.iter()
            .filter_map(|row| row.get(column))
            .map(|cell| cell.chars().count())
            .max()
            .unwrap_or(0)
    };
    let widths: Vec<usize> = (0..align.len()).map(width).collect();
    let line = |row: &Vec<String>| {
        let cells: Vec<String> = row
            .iter()
            .zip(align.iter().zip(&widths))
            .map(|(cell, (align, &width))| match align {
                Align::Left => format!("{cell:<width$}"),
                Align::Right => format!("{cell:>width$}"),
            })
            .collect();
        cells.join("  ").trim_end().to_owned() + "\n"
    };
    rows.iter().map(line).collect()
}

/// How many characters wide a cell is shown.
pub(super) fn width_of(cell: &str) -> usize {
    fit(cell).chars().count()
}

/// A cell as it is shown. What is not shown is not looked at.
fn fit(cell: &str) -> String {
    let start = cell.char_indices().nth(WIDEST + 1).map_or(cell, |(end, _)| &cell[..end]);
    let shown = visible(start);
    match shown.char_indices().nth(WIDEST) {
        None => shown.into_owned(),
        Some(_) => shown.chars().take(WIDEST - 1).chain(['…']).collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn long_cells_are_cut_with_a_mark_and_others_are_not() {
        let rows = |cell: &str| vec![vec![cell.to_owned(), "end".to_owned()]];
        let table = |cell: &str| in_columns(&[Align::Left, Align::Right], &rows(cell));
        let fits = "é".repeat(WIDEST);
        assert_eq!(table(&fits), format!("{fits}  end\n"));
        let cut = "é".repeat(WIDEST - 1) + "…";
        for length in [WIDEST + 1, 65_536, 1 << 20] {
            assert_eq!(table(&"é".repeat(length)), format!("{cut}  end\n"));
        }
    }

    #[test]
    fn cells_do_nothing_to_the_terminal() {
        let rows = [vec!["\u{1b}[2J\u{202e}x\n".to_owned()]];
        assert_eq!(in_columns(&[Align::Left], &rows), "\\u{1b}[2J\\u{202e}x\\n\n");
    }
}
