//! The dark squares: rising lines, so that they print in one colour.
//!
//! The lines are drawn one by one, not by a repeated pattern, since not every printer of SVG knows those.

use std::fmt::Write;

use super::board::SQUARE;
use super::colours::{HATCH, stroke};
use super::pieces::Size;

/// How close the lines are.
struct Spacing {
    /// Where the first line meets the edge of a square, counted from a corner. The last leaves as much,
    /// and none goes through a corner, so that squares stay apart.
    first: i32,
    /// From line to line along the edge.
    step: usize,
    /// The width of a line: about a fifth of the square is ink in both sizes.
    width: f64,
}

fn spacing(size: Size) -> Spacing {
    match size {
        Size::Caption => Spacing { first: 10, step: 20, width: 3.2 },
        Size::Text => Spacing { first: 9, step: 14, width: 2.2 },
    }
}

/// The name of the drawing.
pub(super) fn name(size: Size) -> String {
    format!("{}hatching", size.prefix())
}

/// All 32 dark squares, which lie the same for both sides.
pub(super) fn element(id: &str, size: Size) -> String {
    let spacing = spacing(size);
    let mut path = String::new();
    for square in 0..64 {
        let (column, row) = (square % 8, square / 8);
        if (column + row) % 2 == 1 {
            hatch(&mut path, column * SQUARE, row * SQUARE, &spacing);
        }
    }
    format!("<path id=\"{id}\" d=\"{path}\" {}/>\n", stroke(HATCH, spacing.width))
}

fn hatch(path: &mut String, x: i32, y: i32, spacing: &Spacing) {
    for sum in (spacing.first..2 * SQUARE).step_by(spacing.step) {
        let (left, low) = ((sum - SQUARE).max(0), sum.min(SQUARE));
        let run = low - left;
        let _ = write!(path, "M{} {}l{run} -{run}", x + left, y + low);
    }
}
