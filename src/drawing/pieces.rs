//! The six men, drawn for this project in the manner of a woodcut, in a box of 100 by 100.
//!
//! Five are turned on the [`lathe`](super::outline): what stands here is the right half of their profile.
//! The knight is carved: its head stands here whole. All six stand on the same foot. The light comes
//! from the left: white men are shaded with strokes on the right, black men have a glint on the left.
//!
//! Invariant: nothing here knows squares or boards; a man stands in the middle of its box.

use shakmaty::{Color, Piece, Role};

use super::colours::{BLACK_MAN, PAPER, WHITE_MAN, fill, fill_in_ink, stroke};
use super::outline::Cut::{self, Bend, To};
use super::outline::turned;
use crate::board::word_of;

/// Where the body ends and the foot begins.
const FOOT_TOP: f32 = 73.5;
/// Where the foot steps out to its plinth.
const PLINTH_TOP: f32 = 81.0;

/// The stroke of shade and glint.
const FINE: f64 = 1.8;

/// The drawing of one sort of man.
struct Drawing {
    body: Body,
    /// Half the width of the foot.
    foot: f32,
    /// Lines of the form itself, as path data; drawn on both men.
    lines: &'static str,
    /// Small filled places; drawn on both men.
    dots: &'static str,
    /// Strokes in the shade; drawn on the white man.
    shade: &'static str,
    /// Strokes in the light; drawn on the black man.
    glint: &'static str,
}

/// What stands on the foot.
enum Body {
    /// Where the profile begins on the axis, and its right half.
    Turned(f32, &'static [Cut]),
    /// A closed outline, as path data.
    Carved(&'static str),
}

const PAWN: Drawing = Drawing {
    body: Body::Turned(
        26.0,
        &[
            Bend((8.0, 26.0), (13.5, 31.5), (13.5, 39.0)),
            Bend((13.5, 44.0), (11.5, 48.0), (8.5, 51.0)),
            To((13.0, 51.0)),
            Bend((16.0, 51.0), (16.0, 57.0), (13.0, 57.0)),
            To((8.5, 57.0)),
            Bend((9.0, 65.0), (12.5, 70.0), (18.5, 73.5)),
            To((0.0, 73.5)),
        ],
    ),
    foot: 26.0,
    lines: "M41.5 57H58.5M41.5 51H58.5",
    dots: "",
    shade: "M59 34H62.5M59 38.5H63.5M58 43H62.5M55 62H59M57 67H62",
    glint: "M42 44.5C39.5 40 40.5 33.5 45 31M44.5 61.5C43.5 65.5 41.5 68 38.5 70",
};

const KNIGHT: Drawing = Drawing {
    body: Body::Carved(
        "M72 73.5C76.5 68.5 77 61.5 73 57.5C77 53 76.5 46 71.5 42.5C74.5 37.5 72 31 66 29.5\
         C66.5 23.5 62.5 19.5 57.5 18.5L54 8C49 11.5 46.5 15.5 46 20C39 23.5 34.5 30 30 37.5\
         C27 42.5 22.5 46 20 50.5C17.5 55 19 61 24 62.5C27 63.5 29.5 62.5 31.5 60.5C35.5 60 40 59.5 44.5 57\
         C42 63.5 30.5 65 27.5 73.5z",
    ),
    foot: 30.0,
    lines: "M73 57.5C70 57.5 67 59 65.5 62M71.5 42.5C68.5 43 66 45 65 48M66 29.5C63 30.5 60.5 32.5 59.5 36\
            M44.5 57C50.5 53.5 53 47.5 51.5 41M24.5 57.5C27 57.5 29 57 31 55.5",
    dots: "M36.5 35C38 30.5 43 30 45 34C43 36 39.5 36.5 36.5 35zM22.5 51.5C23.5 49.5 25 49 26.5 49.5\
           C26.5 51 25 52 22.5 51.5z",
    shade: "M60 42H65.5M58.5 46.5H62.5M57.5 51H71M56.5 55.5H70M55.5 60H63M54 64.5H72M52 69H72",
    glint: "M34 70.5C37 67 45.5 66 48.5 59.5M33.5 40.5L41 28.5",
};

const BISHOP: Drawing = Drawing {
    body: Body::Turned(
        12.0,
        &[
            Bend((6.0, 12.0), (6.5, 20.0), (3.0, 21.5)),
            Bend((11.5, 28.0), (17.5, 36.5), (17.5, 45.5)),
            Bend((17.5, 52.0), (13.5, 56.0), (9.5, 59.0)),
            To((14.0, 59.0)),
            Bend((17.0, 59.0), (17.0, 64.5), (14.0, 64.5)),
            To((9.0, 64.5)),
            Bend((10.0, 69.0), (15.0, 72.5), (22.0, 73.5)),
            To((0.0, 73.5)),
        ],
    ),
    foot: 30.0,
    lines: "M41 64.5H59M41 59H59",
    dots: "M50.5 45.5L58.5 27.5L62.5 32.5L54.5 47.5z",
    shade: "M60 44.5H66.5M60.5 48.5H66M60 52.5H64M57 69H62",
    glint: "M40.5 54C35.5 49 36 40 41 33",
};

const ROOK: Drawing = Drawing {
    body: Body::Turned(
        21.0,
        &[
            To((6.0, 21.0)),
            To((6.0, 28.5)),
            To((14.5, 28.5)),
            To((14.5, 21.0)),
            To((26.0, 21.0)),
            To((25.0, 36.0)),
            To((18.0, 43.0)),
            Bend((18.0, 55.0), (19.0, 65.0), (22.5, 73.5)),
            To((0.0, 73.5)),
        ],
    ),
    foot: 30.0,
    lines: "M25 36H75M32 43H68",
    dots: "M48 61V54C48 51.5 52 51.5 52 54V61z",
    shade: "M60 47.5H67M60.5 52H67M61 56.5H67.5M61.5 61H68.5M62 65.5H69.5M62.5 70H71M69 25H74.5M69 29H74M69 33H74",
    glint: "M37 47.5C37 56 35.5 64 33.5 69.5M29.5 25.5L30 32",
};

const QUEEN: Drawing = Drawing {
    body: Body::Turned(
        11.0,
        &[
            Bend((6.0, 11.0), (6.0, 19.0), (3.0, 20.5)),
            Bend((4.0, 28.0), (6.5, 31.0), (9.0, 31.0)),
            Bend((12.0, 30.5), (14.0, 25.0), (15.5, 19.0)),
            Bend((16.5, 28.0), (18.5, 32.0), (21.0, 32.0)),
            Bend((24.0, 31.5), (27.5, 27.5), (30.0, 23.0)),
            Bend((27.0, 37.0), (18.0, 46.0), (11.0, 58.0)),
            To((15.0, 58.0)),
            Bend((18.0, 58.0), (18.0, 64.0), (15.0, 64.0)),
            To((10.0, 64.0)),
            Bend((11.0, 69.0), (16.0, 72.5), (22.0, 73.5)),
            To((0.0, 73.5)),
        ],
    ),
    foot: 30.0,
    lines: "M40 64H60M39 58H61M28 38C40 42.5 60 42.5 72 38",
    dots: "",
    shade: "M59 45H67.5M58 49.5H65M57 54H62M69 35.5L73.5 33.5M58 69H63",
    glint: "M41 54.5C38.5 50.5 36 47.5 34 45M28.5 34.5L25.5 31",
};

const KING: Drawing = Drawing {
    body: Body::Turned(
        6.5,
        &[
            To((4.5, 6.5)),
            Bend((3.0, 9.0), (2.5, 10.5), (2.5, 12.0)),
            Bend((4.0, 12.0), (7.0, 11.5), (10.0, 10.0)),
            To((10.0, 18.5)),
            Bend((7.0, 17.0), (4.0, 16.5), (2.5, 16.5)),
            Bend((2.5, 19.0), (3.0, 21.5), (4.5, 24.0)),
            Bend((13.0, 24.5), (20.0, 27.0), (23.5, 32.0)),
            Bend((24.5, 33.5), (24.5, 35.5), (23.5, 37.0)),
            Bend((19.0, 44.0), (13.5, 51.0), (11.0, 59.0)),
            To((15.0, 59.0)),
            Bend((18.0, 59.0), (18.0, 65.0), (15.0, 65.0)),
            To((10.5, 65.0)),
            Bend((11.5, 69.5), (16.5, 72.5), (22.0, 73.5)),
            To((0.0, 73.5)),
        ],
    ),
    foot: 30.0,
    lines: "M39.5 65H60.5M39 59H61M26.5 32C40 36 60 36 73.5 32M26.5 37C40 41.5 60 41.5 73.5 37",
    dots: "",
    shade: "M61 44H68M59.5 48.5H65.5M58.5 53H62.5M63 29.5L68.5 28.5M58 69.5H63",
    glint: "M41.5 55.5C39 50 36 46 33 42.5M33 29.5C36 28 39 27.5 42 27.5",
};

fn drawing(role: Role) -> &'static Drawing {
    match role {
        Role::Pawn => &PAWN,
        Role::Knight => &KNIGHT,
        Role::Bishop => &BISHOP,
        Role::Rook => &ROOK,
        Role::Queen => &QUEEN,
        Role::King => &KING,
    }
}

/// The two sizes of drawing, as founders cut type: a caption is sturdier and leaves out the fine work.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Size {
    /// For boards a column of a page may hold several of.
    Caption,
    /// For all others.
    Text,
}

impl Size {
    /// What the names of drawings of this size begin with.
    pub(super) fn prefix(self) -> &'static str {
        match self {
            Self::Caption => "small-",
            Self::Text => "",
        }
    }
}

/// The name of a man's drawing, such as `white-king` or `small-white-king`.
pub(super) fn name(man: Piece, size: Size) -> String {
    let side = man.color.fold_wb("white", "black");
    let noun = word_of(man.role);
    format!("{}{side}-{noun}", size.prefix())
}

/// A man in its box: a halo of paper, the body, the work on it.
pub(super) fn element(id: &str, man: Piece, size: Size) -> String {
    let drawing = drawing(man.role);
    let outline = drawing.outline();
    let (body, work, strokes) = match man.color {
        Color::White => (WHITE_MAN, BLACK_MAN, drawing.shade),
        Color::Black => (BLACK_MAN, WHITE_MAN, drawing.glint),
    };
    let (halo, contour, form) = match size {
        Size::Caption => (15.0, 5.0, 3.2),
        Size::Text => (13.0, 3.4, 2.4),
    };
    let lines = drawing.all_lines(size);
    let mut paths = vec![
        (outline.as_str(), stroke(PAPER, halo)),
        (outline.as_str(), fill_in_ink(body, contour)),
        (lines.as_str(), stroke(work, form)),
        (drawing.dots, fill(work)),
    ];
    if size == Size::Text {
        paths.push((strokes, stroke(work, FINE)));
    }
    paths.retain(|(path, _)| !path.is_empty());
    let paths: String =
        paths.iter().map(|(path, paint)| format!("<path d=\"{path}\" {paint}/>\n")).collect();
    format!("<g id=\"{id}\" stroke-linecap=\"round\" stroke-linejoin=\"round\">\n{paths}</g>\n")
}

impl Drawing {
    /// The outlines of body and foot, as path data.
    fn outline(&self) -> String {
        let body = match self.body {
            Body::Turned(top, profile) => turned(top, profile),
            Body::Carved(outline) => outline.to_owned(),
        };
        body + &turned(FOOT_TOP, &foot(self.foot))
    }

    /// The lines of the form with those of the foot, whose plinth is too low for one in a caption.
    fn all_lines(&self, size: Size) -> String {
        let across = |half: f32, y: f32| format!("M{} {y}H{}", 50.0 - half, 50.0 + half);
        let foot = across(self.foot - 7.5, FOOT_TOP);
        let plinth = across(self.foot - 2.0, PLINTH_TOP);
        match size {
            Size::Caption => format!("{}{foot}", self.lines),
            Size::Text => format!("{}{foot}{plinth}", self.lines),
        }
    }
}

/// The right half of the foot all men stand on, from the axis at its top to the axis below.
fn foot(half: f32) -> [Cut; 5] {
    [
        To((half - 7.5, FOOT_TOP)),
        Bend((half - 3.0, 74.5), (half - 2.0, 78.0), (half - 2.0, PLINTH_TOP)),
        Bend((half, PLINTH_TOP), (half + 0.5, 82.5), (half + 0.5, 84.0)),
        To((half + 0.5, 88.0)),
        To((0.0, 88.0)),
    ]
}
