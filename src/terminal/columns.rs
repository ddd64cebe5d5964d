//! Text in aligned columns.

/// To which side a column is aligned.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Align {
    /// Words.
    Left,
    /// Numbers.
    Right,
}

/// Rows in columns two blanks apart, each as wide as its widest cell, one line for each row.
#[must_use]
pub fn in_columns(align: &[Align], rows: &[Vec<String>]) -> String {
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
