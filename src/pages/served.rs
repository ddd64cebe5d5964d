//! What pages need that are served and not written: the look of all pages, the board's script, and a game as it is
//! shown, fit for a page on which no style stands between the lines.

use std::collections::BTreeSet;
use std::fmt::Write as _;

use minijinja::syntax::SyntaxConfig;
use minijinja::{Environment, Value};

use super::game;
use super::template::{SCRIPT, STYLE, TEMPLATES};
use crate::board::PieceLetters;
use crate::drawing::{DARK, Diagram, Way, symbols};
use crate::query::Query;
use crate::statistics::{counted, grouped};
use crate::teaching::LessonGame;

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
    let mut templates = Environment::new();
    let syntax = SyntaxConfig::builder().trim_blocks(true).lstrip_blocks(true).build()?;
    templates.set_syntax(syntax);
    for (name, source) in TEMPLATES.iter().chain(own) {
        templates.add_template(name, source)?;
    }
    templates.add_filter("grouped", grouped);
    templates.add_filter("times", |number: u64, thing: &str| counted(number, thing));
    templates.add_filter("moves", move |text: &str| letters.in_text(text).into_owned());
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
    let shown = game::model((game, 1), query, letters);
    let diagram = shown.get_attr("diagram").map(|diagram| diagram.to_string()).unwrap_or_default();
    let diagram = Value::from_safe_string(without_inline_style(&diagram));
    minijinja::context! { diagram, ..shown }
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
    let drawings = symbols("man", [&full]) + &marked.to_svg() + &marked.to_svg_sharing("man", "x");
    let parts = drawings.split(STYLE_ATTRIBUTE).skip(1);
    parts.filter_map(|part| part.split('"').next()).map(str::to_owned).collect()
}
