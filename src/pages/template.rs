//! The templates, and what all pages share.

use minijinja::syntax::SyntaxConfig;
use minijinja::{Environment, Value, context};

use super::seal::sealed;
use crate::board::PieceLetters;
use crate::drawing::{DARK, Diagram};
use crate::query::Chapter;
use crate::statistics::grouped;

/// The templates by name. What ends in `.html` is escaped.
pub(super) const TEMPLATES: [(&str, &str); 5] = [
    ("page.html", include_str!("templates/page.html")),
    ("lesson.html", include_str!("templates/lesson.html")),
    ("game.html", include_str!("templates/game.html")),
    ("answer.html", include_str!("templates/answer.html")),
    ("course.html", include_str!("templates/course.html")),
];

/// The look of all pages.
pub(super) const STYLE: &str =
    concat!(include_str!("templates/style.css"), include_str!("templates/print.css"));
/// What makes boards move.
pub(super) const SCRIPT: &str = include_str!("templates/board.js");

/// A page from a template and what it is to show, with these letters in its moves.
pub(super) fn rendered(
    template: &str,
    letters: PieceLetters,
    content: Value,
) -> Result<String, minijinja::Error> {
    rendered_with(&[], "", template, letters, content)
}

/// The same with more templates, and with more style after that of all pages.
pub(super) fn rendered_with(
    more: &[(&'static str, &'static str)],
    more_style: &str,
    template: &str,
    letters: PieceLetters,
    content: Value,
) -> Result<String, minijinja::Error> {
    let mut templates = Environment::new();
    let syntax = SyntaxConfig::builder().trim_blocks(true).lstrip_blocks(true).build()?;
    templates.set_syntax(syntax);
    for (name, source) in TEMPLATES.iter().chain(more) {
        templates.add_template(name, source)?;
    }
    templates.add_filter("grouped", grouped);
    templates.add_filter("times", times);
    // What has moves in it is shown with the reader's letters.
    templates.add_filter("moves", move |text: &str| letters.in_text(text).into_owned());
    let shared = context! {
        style => Value::from_safe_string(STYLE.replace("/*dark*/", DARK) + more_style),
        script => Value::from_safe_string(SCRIPT.to_owned()),
        version => env!("CARGO_PKG_VERSION"),
    };
    let page = templates.get_template(template)?.render(context! { ..content, ..shared })?;
    Ok(sealed(&page))
}

/// A number of things: `1 game`, `1,000 games`.
fn times(number: u64, thing: &str) -> String {
    crate::statistics::counted(number, thing)
}

/// A diagram of a page that has the symbols `man`.
pub(super) fn drawn(diagram: &Diagram, id: &str) -> Value {
    Value::from_safe_string(diagram.to_svg_sharing("man", id))
}

/// What a chapter is called in headings.
pub(super) fn chapter_title(chapter: Chapter) -> &'static str {
    match chapter {
        Chapter::Bishop => "The bishop",
        Chapter::Knight => "The knight",
        Chapter::Rook => "The rook",
        Chapter::Queen => "The queen",
        Chapter::Pawn => "The pawn",
        Chapter::Any => "Any man",
    }
}

/// A share in whole per cent.
pub(super) fn whole(share: f64) -> String {
    format!("{:.0}", 100.0 * share)
}

/// With the apostrophes of a printed book; queries are written with those of a keyboard.
pub(super) fn curly(text: &str) -> String {
    text.replace('\'', "\u{2019}")
}

/// A tag's value, if it says something.
pub(super) fn known(text: &str) -> Option<&str> {
    Some(text).filter(|text| !["", "?", "-"].contains(text))
}

/// Year, month and day as far as they are known: `2031-03-04`, `2031`.
pub(super) fn date(tag: &str) -> Option<String> {
    let parts: Vec<&str> =
        tag.split('.').take_while(|part| part.bytes().all(|byte| byte.is_ascii_digit())).collect();
    known(&parts.join("-")).map(str::to_owned)
}

/// A source without its folders.
pub(super) fn file_name(source: &str) -> &str {
    source.rsplit(['/', '\\']).next().unwrap_or(source)
}
