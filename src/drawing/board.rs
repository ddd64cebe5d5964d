//! The parts of a drawn diagram, each put where it belongs: ground, marks, men, frame, names.
//!
//! A square is 100 units wide and the board reaches from 0 to 800, so that a man's box is a square. What
//! must stay legible at any width (frame, rings, lines, letters) is measured in millimetres instead.
//!
//! Invariant: nothing here chooses what is shown; that is the diagram's.

use std::fmt::Write;

use shakmaty::{Board, Color, Piece, Square};

use super::colours::{BLACK_MAN, INK, PAPER, WHITE_MAN, fill, fill_in_ink, stroke};
use super::marks::Way;

/// The width of a square.
pub(super) const SQUARE: i32 = 100;
/// The width of the board.
const BOARD: i32 = 8 * SQUARE;
/// What is left around the board for the stroke of the frame.
const EDGE: i32 = 6;
/// The space between the board and what is written beside it.
const GAP: i32 = 14;
/// The radius of a ring: about as large as a square allows.
const RING: i32 = 45;
/// How much paper is laid under a ring or line on both sides together, to lift it off the hatching.
const CLEARING: f64 = 12.0;

/// The stroke of the frame and of the mark, in millimetres.
const HAIR_LINE: f64 = 0.2;

/// Where things lie on a board of a certain width, seen from a certain side.
#[derive(Clone, Copy)]
pub(super) struct DrawnBoard {
    /// The side at the bottom.
    pub(super) bottom: Color,
    /// The width of the board in millimetres.
    pub(super) width: u16,
}

/// The rectangle of a drawing, in its units.
pub(super) struct DrawnArea {
    left: i32,
    top: i32,
    width: i32,
    height: i32,
}

impl DrawnBoard {
    /// The board, with room for names of files and ranks and for the mark of the side to move, if asked.
    pub(super) fn extent(&self, named: bool, marked: bool) -> DrawnArea {
        let room = |wanted: bool| if wanted { self.type_size() + GAP + 10 } else { EDGE };
        DrawnArea {
            left: -room(named),
            top: -EDGE,
            width: room(named) + BOARD + room(marked),
            height: EDGE + BOARD + room(named),
        }
    }

    /// The attributes that say how large the drawing is.
    pub(super) fn size(&self, extent: &DrawnArea) -> String {
        let DrawnArea { left, top, width, height } = extent;
        let millimetres = |units: i32| f64::from(units) / self.units(1.0);
        format!(
            r#"viewBox="{left} {top} {width} {height}" width="{:.2}mm" height="{:.2}mm""#,
            millimetres(*width),
            millimetres(*height)
        )
    }

    pub(super) fn ground(&self, extent: &DrawnArea, hatching: &str) -> String {
        let DrawnArea { left, top, width, height } = extent;
        let paper = fill(PAPER);
        format!(r#"<rect x="{left}" y="{top}" width="{width}" height="{height}" {paper}/>"#)
            + &format!("\n<use href=\"#{hatching}\"/>\n")
    }

    pub(super) fn ring(&self, square: Square) -> String {
        let (x, y) = self.centre(square);
        let width = self.ring_stroke();
        [stroke(PAPER, width + CLEARING), stroke(INK, width)]
            .map(|paint| format!("<circle cx=\"{x}\" cy=\"{y}\" r=\"{RING}\" {paint}/>\n"))
            .concat()
    }

    pub(super) fn line(&self, board: &Board, line: Way) -> String {
        let ((x, y), (u, v)) =
            (self.rim(board, line.from, line.to), self.rim(board, line.to, line.from));
        let width = self.line_stroke();
        [stroke(PAPER, width + CLEARING), stroke(INK, width)]
            .map(|paint| format!("<path d=\"M{x} {y}L{u} {v}\" {paint}/>\n"))
            .concat()
    }

    /// The open dot in which a line ends; to be drawn in front of the men.
    pub(super) fn dot(&self, board: &Board, line: Way) -> String {
        let (x, y) = self.rim(board, line.to, line.from);
        let width = self.ring_stroke();
        let radius = rounded(7.0 + width / 2.0);
        let paint = fill_in_ink(PAPER, width);
        format!("<circle cx=\"{x}\" cy=\"{y}\" r=\"{radius}\" {paint}/>\n")
    }

    pub(super) fn man(&self, square: Square, drawing: &str) -> String {
        let (x, y) = self.corner(square);
        format!("<use href=\"#{drawing}\" x=\"{x}\" y=\"{y}\"/>\n")
    }

    pub(super) fn frame(&self) -> String {
        let paint = stroke(INK, self.units(HAIR_LINE));
        format!("<rect width=\"{BOARD}\" height=\"{BOARD}\" {paint}/>\n")
    }

    /// The letters of the files below, the figures of the ranks on the left.
    pub(super) fn names(&self) -> String {
        let size = self.type_size();
        let (left, below) = (-GAP - size / 2, BOARD + GAP + size * 3 / 4);
        let mut svg = format!(
            "<g {} font-family=\"Georgia,'Times New Roman',Times,serif\" font-size=\"{size}\" \
             text-anchor=\"middle\">\n",
            fill(INK)
        );
        for square in Square::ALL {
            let (x, y) = self.centre(square);
            if y + SQUARE > BOARD {
                let _ = writeln!(svg, r#"<text x="{x}" y="{below}">{}</text>"#, square.file());
            }
            if x < SQUARE {
                let y = y + size / 3;
                let _ = writeln!(svg, r#"<text x="{left}" y="{y}">{}</text>"#, square.rank());
            }
        }
        svg + "</g>\n"
    }

    /// A lozenge beside the edge where the side to move sits: open for White, solid for Black.
    pub(super) fn mark(&self, turn: Color) -> String {
        let size = self.type_size();
        let (wide, high) = (size * 2 / 5, size / 2);
        let x = BOARD + GAP + size / 2;
        let y = if turn == self.bottom { BOARD - SQUARE / 2 } else { SQUARE / 2 } - high;
        let paint = fill_in_ink(turn.fold_wb(WHITE_MAN, BLACK_MAN), self.units(HAIR_LINE));
        format!("<path d=\"M{x} {y}l{wide} {high}l-{wide} {high}l-{wide} -{high}z\" {paint}/>\n")
    }

    /// Millimetres in units of the drawing.
    fn units(&self, millimetres: f64) -> f64 {
        rounded(millimetres * f64::from(BOARD) / f64::from(self.width))
    }

    /// The stroke of rings and dots: 0.29 mm on a board of 3 cm, 0.46 mm on one of 8 cm.
    fn ring_stroke(&self) -> f64 {
        self.units(0.18 + 0.0035 * f64::from(self.width))
    }

    /// The stroke of lines: 0.37 mm on a board of 3 cm, 0.62 mm on one of 8 cm.
    fn line_stroke(&self) -> f64 {
        self.units(0.22 + 0.005 * f64::from(self.width))
    }

    /// The height of the type: 1.5 mm beside a board of 3 cm, 2.5 mm beside one of 8 cm.
    fn type_size(&self) -> i32 {
        self.units(0.9 + 0.02 * f64::from(self.width)).round() as i32
    }

    /// Where a line meets a square: in its middle if it is empty, at the rim towards `other` if a man
    /// stands on it.
    fn rim(&self, board: &Board, square: Square, other: Square) -> (i32, i32) {
        let ((x, y), (u, v)) = (self.centre(square), self.centre(other));
        let length = f64::from(u - x).hypot(f64::from(v - y));
        if board.piece_at(square).is_none() || square == other {
            return (x, y);
        }
        let towards = |whole: i32| (f64::from(whole * RING) / length).round() as i32;
        (x + towards(u - x), y + towards(v - y))
    }

    /// The top left corner of a square as it is seen.
    fn corner(&self, square: Square) -> (i32, i32) {
        let (file, rank) = (i32::from(square.file()), i32::from(square.rank()));
        match self.bottom {
            Color::White => (file * SQUARE, (7 - rank) * SQUARE),
            Color::Black => ((7 - file) * SQUARE, rank * SQUARE),
        }
    }

    fn centre(&self, square: Square) -> (i32, i32) {
        let (x, y) = self.corner(square);
        (x + SQUARE / 2, y + SQUARE / 2)
    }
}

/// Two places after the point are finer than any eye.
fn rounded(number: f64) -> f64 {
    (number * 100.0).round() / 100.0
}

/// The men of a board in the order of their squares, from a1 to h8.
pub(super) fn men(board: &Board) -> impl Iterator<Item = (Square, Piece)> {
    Square::ALL.into_iter().filter_map(|square| Some((square, board.piece_at(square)?)))
}
