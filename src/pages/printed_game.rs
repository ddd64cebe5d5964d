//! The moves of a game as a page prints them, with what is said at them, and what its board needs to step through them.
//!
//! A game is printed in passages: as many moves of one line as nothing interrupts, then what is said there, then what
//! could have been played instead, set deeper, and then the line goes on.

use minijinja::{Value, context};
use serde_json::json;
use shakmaty::{Chess, Color, Position};

use super::own_words::marked_up;
use super::solution::says;
use crate::board::{PieceLetters, PrintedMove, Replay};
use crate::drawing::Way;
use crate::teaching::{GameTree, LessonGame, Note};
use crate::words::Words;

/// The signs of glyphs in print (section 10 of the PGN standard, from memory). Some have words besides or instead, in a
/// message of their own.
const GLYPHS: [(u8, &str); 37] = [
    (1, "!"),
    (2, "?"),
    (3, "!!"),
    (4, "??"),
    (5, "!?"),
    (6, "?!"),
    (7, ""),
    (8, ""),
    (9, ""),
    (10, " ="),
    (11, " ="),
    (12, " ="),
    (13, " ∞"),
    (14, " ⩲"),
    (15, " ⩱"),
    (16, " ±"),
    (17, " ∓"),
    (18, " +−"),
    (19, " −+"),
    (20, " +−"),
    (21, " −+"),
    (22, ""),
    (23, ""),
    (32, ""),
    (33, ""),
    (36, ""),
    (37, ""),
    (40, ""),
    (41, ""),
    (44, ""),
    (45, ""),
    (132, ""),
    (133, ""),
    (136, ""),
    (137, ""),
    (138, ""),
    (139, ""),
];

/// Branches of branches are set no deeper than this.
const DEEPEST: usize = 4;

/// A game that is being written.
pub(super) struct PrintedGame<'g> {
    model: &'g LessonGame,
    words: Words,
    letters: PieceLetters,
    /// The lines so far, as the board needs them: the first is the game itself.
    lines: Vec<serde_json::Value>,
    passages: Vec<MovesPassage>,
}

/// Moves of a line that nothing interrupts, and what comes after them.
#[derive(Debug)]
struct MovesPassage {
    place: Place,
    plies: Vec<Value>,
    /// Whether it leads up to the board with which the game opens.
    is_opening: bool,
    /// Whether its line ends with it.
    is_last: bool,
    /// The comment there.
    comment: Option<String>,
    /// What the teacher of the course says there.
    own: Option<Value>,
    /// What the program knows of the line that ends with it.
    known: Option<String>,
}

/// A line of the game: its number, where it leaves the one before, and how deep it is set.
#[derive(Clone, Copy, Debug)]
struct Place {
    line: usize,
    /// How many moves of the game were made before its first.
    from: usize,
    depth: usize,
}

impl<'g> PrintedGame<'g> {
    pub(super) fn of(
        model: &'g LessonGame,
        words: Words,
        letters: PieceLetters,
    ) -> PrintedGame<'g> {
        PrintedGame { model, words, letters, lines: Vec::new(), passages: Vec::new() }
    }

    /// The passages of the game, in reading order.
    pub(super) fn passages(&mut self) -> Vec<Value> {
        let tree = self.model.tree();
        let place = self.begin(tree, None, 0, 0);
        self.write(tree, place);
        let shown = |passage: MovesPassage| {
            let MovesPassage { place: Place { line, depth, .. }, plies, .. } = passage;
            let MovesPassage { is_opening, is_last, comment, own, known, .. } = passage;
            let depth = depth.min(DEEPEST);
            context! { line, depth, plies, is_opening, is_last, comment, own, known }
        };
        std::mem::take(&mut self.passages).into_iter().map(shown).collect()
    }

    /// Start and lines as JSON that may stand in a script element.
    pub(super) fn steps(&self) -> String {
        let start = placement(&self.model.tree().replay.positions[0]);
        let is_turned = self.model.bottom() == Color::Black;
        steps(is_turned, &start, self.model.opened_at(), &self.lines)
    }

    /// Adds a line to those of the board; `of` is the line that it leaves.
    fn begin(&mut self, tree: &GameTree, of: Option<usize>, from: usize, depth: usize) -> Place {
        let moves = moves(&tree.replay, self.letters);
        self.lines.push(json!({ "of": of, "from": from, "moves": moves }));
        Place { line: self.lines.len() - 1, from, depth }
    }

    fn write(&mut self, tree: &GameTree, place: Place) {
        let printed = tree.replay.in_print();
        let mut first = 0;
        for index in 0..printed.len() {
            let note = tree.notes.get(&index).filter(|note| says_something(note));
            let is_opened =
                place.line == 0 && index + 1 == self.model.opened_at() && index + 1 < printed.len();
            let is_interrupted = note.is_some() || tree.branches_at(index).next().is_some();
            if !is_interrupted && !is_opened && index + 1 < printed.len() {
                continue;
            }
            let is_last = index + 1 == printed.len();
            self.passage(tree, place, first, &printed[first..=index], (note, is_last));
            first = index + 1;
            for branch in tree.branches_at(index) {
                let deeper =
                    self.begin(&branch.tree, Some(place.line), place.from + index, place.depth + 1);
                self.write(&branch.tree, deeper);
                if let Some(last) = self.passages.last_mut() {
                    last.known = says(branch, self.model.bottom(), self.words);
                }
            }
        }
    }

    /// Adds moves of a line, the first of which has this index in it, and what is said after them.
    fn passage(
        &mut self,
        tree: &GameTree,
        place: Place,
        first: usize,
        printed: &[PrintedMove],
        (note, is_last): (Option<&Note>, bool),
    ) {
        let ply = |(one, index): (&PrintedMove, usize)| {
            let number = PrintedMove { is_first: index == first, ..one.clone() }.number_in_print();
            let glyphs = tree.notes.get(&index).map(|note| &note.glyphs[..]).unwrap_or_default();
            let signs: String =
                glyphs.iter().filter_map(|&glyph| sign(glyph, self.words)).collect();
            let is_offer = place.line == 0 && index == self.model.opened_at();
            let at = place.from + index + 1;
            context! { at, number, san => one.san.clone() + &signs, is_offer }
        };
        let plies: Vec<Value> = printed.iter().zip(first..).map(ply).collect();
        let is_opening = place.line == 0 && first < self.model.opened_at();
        let comment = note.and_then(|note| note.comment.clone());
        let own = note.and_then(|note| note.own.as_deref()).map(marked_up);
        let known = None;
        self.passages.push(MovesPassage { place, plies, is_opening, is_last, comment, own, known });
    }
}

fn sign(glyph: u8, words: Words) -> Option<String> {
    let &(_, sign) = GLYPHS.iter().find(|&&(known, _)| known == glyph)?;
    // Of the two that say zugzwang, one has the message.
    let message = format!("glyph-{}", if glyph == 23 { 22 } else { glyph });
    let says = Words::ENGLISH.has(&message).then(|| format!(" ({})", words.say(&message)));
    Some(sign.to_owned() + &says.unwrap_or_default())
}

fn says_something(note: &Note) -> bool {
    note.comment.is_some() || note.own.is_some()
}

/// The same of one line that opens with its start.
pub(super) fn steps_of_line(replay: &Replay, is_turned: bool, letters: PieceLetters) -> String {
    let line = json!({ "of": null, "from": 0, "moves": moves(replay, letters) });
    steps(is_turned, &placement(&replay.positions[0]), 0, &[line])
}

fn steps(is_turned: bool, start: &str, opened: usize, lines: &[serde_json::Value]) -> String {
    json!({ "turned": is_turned, "start": start, "opened": opened, "lines": lines })
        .to_string()
        .replace('<', "\\u003c")
}

/// The moves of a line: each as it is shown above the board, where the men stand after it, and which way its man went.
fn moves(replay: &Replay, letters: PieceLetters) -> Vec<serde_json::Value> {
    let printed = replay.in_print();
    let one = |(index, one): (usize, &PrintedMove)| {
        let number = format!("{}{}", one.number, one.side.fold_wb(".", "…"));
        let way = Way::of(replay.moves[index]);
        let way = way.map(|way| format!("{}{}", way.from, way.to));
        json!([number + &letters.in_text(&one.san), placement(&replay.positions[index + 1]), way])
    };
    printed.iter().enumerate().map(one).collect()
}

fn placement(pos: &Chess) -> String {
    pos.board().board_fen().to_string()
}
