//! A position to be drawn as SVG, as a printed book would: hatched dark squares, a hair-line frame, line
//! work, and all of it in words for people who can't see it.
//!
//! Invariant: the same diagram gives the same bytes, and every text from outside is escaped.

use shakmaty::{Board, Color, Piece, Role, Setup, Square};

use super::board::{DrawnBoard, men};
use super::marks::Way;
use super::pieces::Size;
use super::xml::escaped;
use super::{colours, hatching, pieces, words};
use crate::words::Words;

/// Whether the files and ranks are named at the edge.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Coordinates {
    /// Letters below, figures on the left.
    Shown,
    /// None, and no room left for them.
    Hidden,
}

/// A position, and what is to be shown of it.
#[derive(Clone, Debug)]
pub struct Diagram {
    board: Board,
    turn: Option<Color>,
    bottom: Color,
    rings: Vec<Square>,
    lines: Vec<Way>,
    coordinates: Coordinates,
    title: Option<String>,
    width: u16,
    language: Words,
}

impl Diagram {
    /// A diagram of a position, with a mark for the side to move.
    pub fn of(position: &Setup) -> Self {
        Self { turn: Some(position.turn), ..Self::of_board(&position.board) }
    }

    /// A diagram of men alone; it does not say who is to move.
    pub fn of_board(board: &Board) -> Self {
        Self {
            board: board.clone(),
            turn: None,
            bottom: Color::White,
            rings: Vec::new(),
            lines: Vec::new(),
            coordinates: Coordinates::Shown,
            title: None,
            width: 80,
            language: Words::ENGLISH,
        }
    }

    /// Puts a side at the bottom; White stands there if nothing is said.
    #[must_use]
    pub fn seen_by(self, bottom: Color) -> Self {
        Self { bottom, ..self }
    }

    /// Rings these squares too.
    #[must_use]
    pub fn ring(mut self, squares: impl IntoIterator<Item = Square>) -> Self {
        self.rings.extend(squares);
        self
    }

    /// Draws these lines too, each with an open dot where it ends.
    #[must_use]
    pub fn line(mut self, lines: impl IntoIterator<Item = Way>) -> Self {
        self.lines.extend(lines);
        self
    }

    /// Names files and ranks or does not; they are named if nothing is said.
    #[must_use]
    pub fn coordinates(self, coordinates: Coordinates) -> Self {
        Self { coordinates, ..self }
    }

    /// Gives the diagram a title, which is read out first; it is `Chess diagram` if nothing is said.
    #[must_use]
    pub fn titled(self, title: impl Into<String>) -> Self {
        Self { title: Some(title.into()), ..self }
    }

    /// Says what it says in these words; in English ones if nothing is said.
    #[must_use]
    pub fn told_in(self, words: Words) -> Self {
        Self { language: words, ..self }
    }

    /// Sets the width of the board in millimetres, margins not counted: 80 if nothing is said, 10 at
    /// least. Below 45 the men are drawn sturdier.
    #[must_use]
    pub fn wide(self, millimetres: u16) -> Self {
        Self { width: millimetres.max(10), ..self }
    }

    /// What the diagram shows, in words.
    pub fn in_words(&self) -> String {
        let said = self.language;
        let mut text = words::in_words(&self.board, self.turn, said) + ".";
        let rings: Vec<String> = self.rings.iter().map(Square::to_string).collect();
        if !rings.is_empty() {
            text.push(' ');
            text += &said.tell("diagram-ringed", [("squares", said.list(&rings).into())]);
        }
        for Way { from, to } in &self.lines {
            let [from, to] = [from, to].map(|square| square.to_string().into());
            text.push(' ');
            text += &said.tell("diagram-line", [("from", from), ("to", to)]);
        }
        text
    }

    /// A drawing that has in it all it needs, to be a file of its own.
    pub fn to_svg(&self) -> String {
        let shared = format!("<defs>\n{}</defs>\n", definitions("man", &[self]));
        self.drawn("man", "diagram", &shared)
    }

    /// The same in black and white, for readers that know no custom properties of style sheets.
    pub fn to_plain_svg(&self) -> String {
        colours::plain(&self.to_svg())
    }

    /// A drawing for a page that has the [`symbols`] of the same `prefix` before it.
    ///
    /// `id` must differ from those of all other diagrams of the page. It and `prefix` should be made of
    /// letters, digits and hyphens, a letter first.
    pub fn to_svg_sharing(&self, prefix: &str, id: &str) -> String {
        self.drawn(&escaped(prefix), &escaped(id), "")
    }

    fn drawn(&self, prefix: &str, id: &str, shared: &str) -> String {
        let sheet = DrawnBoard { bottom: self.bottom, width: self.width };
        let extent = sheet.extent(self.coordinates == Coordinates::Shown, self.turn.is_some());
        let hatching = format!("{prefix}-{}", hatching::name(self.size()));
        [
            self.opening(id, &sheet.size(&extent)),
            shared.to_owned(),
            sheet.ground(&extent, &hatching),
            group("rings", self.rings.iter().map(|square| sheet.ring(*square))),
            group("lines", self.lines.iter().map(|line| sheet.line(&self.board, *line))),
            group("men", self.drawn_men(sheet, prefix)),
            group("dots", self.lines.iter().map(|line| sheet.dot(&self.board, *line))),
            sheet.frame(),
            if self.coordinates == Coordinates::Shown { sheet.names() } else { String::new() },
            group("turn", self.turn.map(|turn| sheet.mark(turn))),
            "</svg>\n".to_owned(),
        ]
        .concat()
    }

    fn opening(&self, id: &str, size: &str) -> String {
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" {size} role=\"img\" lang=\"{}\" \
             aria-labelledby=\"{id}-title\" aria-describedby=\"{id}-words\">\n\
             <title id=\"{id}-title\">{}</title>\n<desc id=\"{id}-words\">{}</desc>\n",
            self.language.language().code(),
            escaped(&self.title.clone().unwrap_or_else(|| self.language.say("diagram"))),
            escaped(&self.in_words())
        )
    }

    fn drawn_men(&self, sheet: DrawnBoard, prefix: &str) -> impl Iterator<Item = String> {
        men(&self.board).map(move |(square, man)| {
            sheet.man(square, &format!("{prefix}-{}", pieces::name(man, self.size())))
        })
    }

    fn size(&self) -> Size {
        if self.width < 45 { Size::Caption } else { Size::Text }
    }

    fn shows(&self, man: Piece, size: Size) -> bool {
        self.size() == size && self.board.by_piece(man).any()
    }
}

/// A part of a drawing under a name by which a page finds it; nothing if there is nothing in it.
fn group(class: &str, parts: impl IntoIterator<Item = String>) -> String {
    let parts: String = parts.into_iter().collect();
    if parts.is_empty() { parts } else { format!("<g class=\"{class}\">\n{parts}</g>\n") }
}

/// What these diagrams share, to stand once on their page and before them: an SVG that takes no room.
pub fn symbols<'a>(prefix: &str, diagrams: impl IntoIterator<Item = &'a Diagram>) -> String {
    let diagrams: Vec<&Diagram> = diagrams.into_iter().collect();
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"0\" height=\"0\" aria-hidden=\"true\" \
         style=\"position:absolute\"><defs>\n{}</defs></svg>\n",
        definitions(&escaped(prefix), &diagrams)
    )
}

/// The hatchings and men these diagrams need, each once.
fn definitions(prefix: &str, diagrams: &[&Diagram]) -> String {
    let mut svg = String::new();
    for size in [Size::Text, Size::Caption] {
        if diagrams.iter().any(|diagram| diagram.size() == size) {
            svg += &hatching::element(&format!("{prefix}-{}", hatching::name(size)), size);
        }
        for man in all_men() {
            if diagrams.iter().any(|diagram| diagram.shows(man, size)) {
                let id = format!("{prefix}-{}", pieces::name(man, size));
                svg += &pieces::element(&id, man, size);
            }
        }
    }
    svg
}

fn all_men() -> impl Iterator<Item = Piece> {
    Color::ALL.into_iter().flat_map(|side| Role::ALL.map(|role| role.of(side)))
}
