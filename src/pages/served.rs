//! What pages need that are served and not written: the look of all pages, the board's script, and a game as it is
//! shown, fit for a page on which no style stands between the lines.

use std::collections::BTreeSet;
use std::fmt::Write as _;

use minijinja::{Environment, Value};
use serde_json::json;
use shakmaty::fen::Fen;
use shakmaty::{Chess, EnPassantMode};

use super::solution::of_kind;
use super::template::{SCRIPT, STYLE, TEMPLATES, environment, of_boards, speak};
use super::{game, press};
use crate::board::PieceLetters;
use crate::drawing::{DARK, Diagram, Measured, Plot, Way, symbols};
use crate::query::Query;
use crate::statistics::counted;
use crate::teaching::{ExerciseKind, GameTree, LessonGame, Specimen};
use crate::words::Words;

/// What the style of an element of a drawing stands in here.
const STYLE_ATTRIBUTE: &str = "style=\"";
/// What it stands in on pages that are served: rules of the style sheet find it there.
const MOVED_ATTRIBUTE: &str = "data-style=\"";

/// The templates that served pages share with written ones, with their filters, and these.
///
/// # Errors
///
/// If a template is none.
pub fn served_templates(
    own: &[(&'static str, &'static str)],
    letters: PieceLetters,
) -> Result<Environment<'static>, minijinja::Error> {
    let mut templates = environment((Words::ENGLISH, letters))?;
    speak(&mut templates, Words::ENGLISH);
    let words_of_boards = Value::from_safe_string(of_boards(Words::ENGLISH));
    templates.add_global("words_of_boards", words_of_boards);
    templates.add_global("has_pdf", press::IS_BUILT);
    templates.add_global("no_pdf", press::NO_PDF);
    for (name, source) in TEMPLATES.iter().chain(own) {
        templates.add_template(name, source)?;
    }
    templates.add_filter("times", |number: u64, thing: &str| counted(number, thing));
    Ok(templates)
}

/// The look of all pages, and of drawings whose own style was moved.
#[must_use]
pub fn served_style() -> String {
    let mut style = STYLE.replace("/*dark*/", DARK);
    for declarations in drawn_styles() {
        let _ = writeln!(style, "[data-style=\"{declarations}\"] {{ {declarations} }}");
    }
    style
}

/// What makes boards move.
#[must_use]
pub fn served_board_script() -> &'static str {
    SCRIPT
}

/// A game as a page shows it; the page must have [`served_symbols`].
#[must_use]
pub fn served_game(game: &LessonGame, query: &Query, letters: PieceLetters) -> Value {
    let shown = game::model((game, 1), query, (Words::ENGLISH, letters));
    let diagram = shown.get_attr("diagram").map(|diagram| diagram.to_string()).unwrap_or_default();
    let diagram = Value::from_safe_string(without_inline_style(&diagram));
    minijinja::context! { diagram, ..shown }
}

/// What a query's rules of thumb say of an offer, as the board has them, and whether they held.
#[must_use]
pub fn served_factors(specimen: &Specimen, query: &Query) -> Vec<(String, bool)> {
    let factors = query.factors.iter().zip(&specimen.hit.factors);
    factors.map(|(factor, &held)| (game::on_the_board(&factor.text, specimen), held)).collect()
}

/// What is offered, and for what.
#[must_use]
pub fn served_given(specimen: &Specimen) -> String {
    game::given(specimen)
}

/// A plot of scores by level; the values must be at least two.
#[must_use]
pub fn served_scores(bands: &[(String, Measured)]) -> Value {
    let title = "The attacker’s score in per cent, by rating";
    let plot = Plot::of_scores(title, "mean rating, in bands of 200", bands, Words::ENGLISH);
    Value::from_safe_string(without_inline_style(&plot.to_svg("score-by-rating")))
}

/// Every position of a game and of what branches off it, and the move that was made there, as JSON that may stand in a
/// script element; lines are numbered as on the board.
#[must_use]
pub fn served_positions(game: &LessonGame) -> String {
    let mut lines = Vec::new();
    positions(game.tree(), 0, &mut lines);
    let start = fen(&game.tree().replay.positions[0]);
    json!({ "start": start, "lines": lines }).to_string().replace('<', "\\u003c")
}

fn positions(tree: &GameTree, from: usize, lines: &mut Vec<serde_json::Value>) {
    let fens: Vec<String> = tree.replay.positions[1..].iter().map(fen).collect();
    let moves: Vec<String> = tree.replay.sans().collect();
    lines.push(json!({ "from": from, "fens": fens, "moves": moves }));
    for index in 0..tree.replay.moves.len() {
        for branch in tree.branches_at(index) {
            positions(&branch.tree, from + index, lines);
        }
    }
}

fn fen(pos: &Chess) -> String {
    Fen::from_position(pos, EnPassantMode::Legal).to_string()
}

/// What is asked in exercises of a kind.
#[must_use]
pub fn served_kind(kind: ExerciseKind) -> String {
    Words::ENGLISH.say(&of_kind(kind))
}

/// The title of a course that has none of its own.
#[must_use]
pub fn served_usual_title() -> String {
    Words::ENGLISH.say("course-title")
}

/// A diagram of a page that has [`served_symbols`]; its `id` must differ from those of all others there.
#[must_use]
pub fn served_diagram(diagram: &Diagram, id: &str) -> Value {
    Value::from_safe_string(without_inline_style(&diagram.to_svg_sharing("man", id)))
}

/// The men and hatchings of all boards of a page.
#[must_use]
pub fn served_symbols() -> Value {
    let full = Diagram::of(&shakmaty::Setup::initial());
    Value::from_safe_string(without_inline_style(&symbols("man", [&full])))
}

/// A drawing without inline style, which a page with a strict policy would not heed.
fn without_inline_style(svg: &str) -> String {
    svg.replace(STYLE_ATTRIBUTE, MOVED_ATTRIBUTE)
}

/// Every style that stands in a drawing.
fn drawn_styles() -> BTreeSet<String> {
    let full = Diagram::of(&shakmaty::Setup::initial());
    let (from, to) = (shakmaty::Square::E2, shakmaty::Square::E4);
    let marked = full.clone().line([Way { from, to }]).ring([to]);
    let half = Measured { value: 0.5, lower: 0.4, upper: 0.6 };
    let bands = ["1600", "1800"].map(|band| (band.to_owned(), half));
    let plot = Plot::of_scores("scores", "rating", &bands, Words::ENGLISH).to_svg("x");
    let drawings = symbols("man", [&full]) + &marked.to_svg() + &plot;
    let parts = drawings.split(STYLE_ATTRIBUTE).skip(1);
    parts.filter_map(|part| part.split('"').next()).map(str::to_owned).collect()
}
