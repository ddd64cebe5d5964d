//! The templates, and what all pages share.

use minijinja::syntax::SyntaxConfig;
use minijinja::value::{Kwargs, ValueKind};
use minijinja::{AutoEscape, Environment, Error, State, Value, context};
use shakmaty::{Color, Role};

use super::press;
use super::seal::sealed;
use crate::board::{PieceLetters, word_of};
use crate::collection::known;
use crate::drawing::{DARK, Diagram};
use crate::query::Chapter;
use crate::words::{Filling, Language, Words, of_side};

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

/// A page from a template and what it is to show, in these words and with these letters in its moves.
pub(super) fn rendered(
    template: &str,
    (words, letters): (Words, PieceLetters),
    content: Value,
) -> Result<String, Error> {
    rendered_with(&[], "", template, (words, letters), content)
}

/// The same with more templates, and with more style after that of all pages.
pub(super) fn rendered_with(
    more: &[(&'static str, &'static str)],
    more_style: &str,
    template: &str,
    (words, letters): (Words, PieceLetters),
    content: Value,
) -> Result<String, Error> {
    let mut templates = environment((words, letters))?;
    for (name, source) in TEMPLATES.iter().chain(more) {
        templates.add_template(name, source)?;
    }
    speak(&mut templates, words);
    let shared = context! {
        style => Value::from_safe_string(STYLE.replace("/*dark*/", DARK) + more_style),
        script => Value::from_safe_string(SCRIPT.to_owned()),
        words_of_boards => Value::from_safe_string(of_boards(words)),
        language => words.language().code(),
        // What is in English wherever it stands says so on a page that is not.
        english => Value::from_safe_string(english(words).to_owned()),
        version => env!("CARGO_PKG_VERSION"),
    };
    let page = templates.get_template(template)?.render(context! { ..content, ..shared })?;
    Ok(sealed(&page))
}

/// Lets pages say what stands in a catalogue.
pub(super) fn speak(templates: &mut Environment<'_>, words: Words) {
    templates.add_function("say", move |state: &mut State<'_, '_>, name: &str, values: Kwargs| {
        said(state, words, name, &values)
    });
}

/// A text to be typeset, from templates of that kind and what it is to show.
pub(super) fn typeset(
    sources: &[(&'static str, &'static str)],
    template: &str,
    (words, letters): (Words, PieceLetters),
    content: Value,
) -> Result<String, Error> {
    let mut templates = environment((words, letters))?;
    templates.set_auto_escape_callback(|_| AutoEscape::Custom(press::TYPESET.into()));
    templates.set_formatter(press::set);
    templates.add_filter("code", |value: &Value| press::in_code(value));
    templates.add_filter("line", move |moves: &Value| line_in_text(moves, letters));
    templates.add_function("say", move |name: &str, values: Kwargs| told(words, name, &values));
    for (name, source) in sources {
        templates.add_template(name, source)?;
    }
    let shared = context! { version => env!("CARGO_PKG_VERSION") };
    templates.get_template(template)?.render(context! { ..content, ..shared })
}

/// What all templates can do.
pub(super) fn environment(
    (words, letters): (Words, PieceLetters),
) -> Result<Environment<'static>, Error> {
    let mut templates = Environment::new();
    let syntax = SyntaxConfig::builder().trim_blocks(true).lstrip_blocks(true).build()?;
    templates.set_syntax(syntax);
    templates.add_filter("grouped", move |number: u64| words.number(number));
    // What has moves in it is shown with the reader's letters.
    templates.add_filter("moves", move |text: &str| letters.in_text(text).into_owned());
    Ok(templates)
}

/// A message with its values as plain text.
fn told(words: Words, name: &str, values: &Kwargs) -> Result<String, Error> {
    let mut filled: Vec<(&str, Filling<'_>)> =
        MARKUP.iter().map(|&(name, _)| (name, Filling::from(""))).collect();
    for key in values.args() {
        let value: Value = values.get(key)?;
        filled.push((key, number_of(&value).unwrap_or_else(|| value.to_string().into())));
    }
    Ok(words.tell_all(name, filled))
}

/// A value as a number, if it is one.
fn number_of(value: &Value) -> Option<Filling<'static>> {
    let is_number = value.kind() == ValueKind::Number;
    is_number.then(|| f64::try_from(value.clone()).ok().map(Filling::from)).flatten()
}

/// Moves with their numbers, as they stand in a line of text.
fn line_in_text(moves: &Value, letters: PieceLetters) -> Result<String, Error> {
    let mut each = Vec::new();
    for one in moves.try_iter()? {
        let san = one.get_attr("san")?.to_string();
        let number = one.get_attr("number")?;
        let number = if number.is_none() { String::new() } else { number.to_string() };
        each.push(number + &letters.in_text(&san));
    }
    Ok(each.join(" "))
}

/// The markup that messages may have in them.
const MARKUP: [(&str, &str); 6] = [
    ("em", "<em>"),
    ("em_end", "</em>"),
    ("strong", "<strong>"),
    ("strong_end", "</strong>"),
    ("unseen", "<span class=\"unseen\">"),
    ("unseen_end", "</span>"),
];

/// A message with its values, which are escaped unless they are safe; a number among them decides about plurals and is
/// written as the language writes it.
fn said(
    state: &mut State<'_, '_>,
    words: Words,
    name: &str,
    values: &Kwargs,
) -> Result<Value, Error> {
    let mut filled: Vec<(&str, Filling<'_>)> =
        MARKUP.iter().map(|&(name, markup)| (name, Filling::from(markup))).collect();
    for key in values.args() {
        let value: Value = values.get(key)?;
        let filling = match number_of(&value) {
            Some(number) => number,
            None => Filling::from(minijinja::filters::escape(state, &value)?.to_string()),
        };
        filled.push((key, filling));
    }
    let text = words.tell_all(name, filled).replace('\u{a0}', "&nbsp;");
    Ok(Value::from_safe_string(text))
}

/// What marks English text on a page in another language.
fn english(words: Words) -> &'static str {
    if words.language() == Language::English { "" } else { " lang=\"en\"" }
}

/// The words of boards that move, as JSON; what is filled in later stands in braces.
pub(super) fn of_boards(words: Words) -> String {
    let gap = |name: &'static str| (name, Filling::from(format!("{{{name}}}")));
    let men = Role::ALL.map(|role| {
        let said = |count: usize| {
            let values = [("man", word_of(role).into()), ("count", count.into()), gap("squares")];
            words.tell("diagram-men", values)
        };
        (role.char().to_string(), serde_json::json!([said(1), said(2)]))
    });
    let turn = |side| words.tell("to-move", [("side", of_side(side))]);
    let side = |side| words.tell("diagram-side", [("side", of_side(side)), gap("men")]);
    let both = |of: &dyn Fn(Color) -> String| [of(Color::White), of(Color::Black)];
    serde_json::json!({
        "men": serde_json::Map::from_iter(men),
        "list": words.tell("list", [gap("first"), gap("last")]),
        "sides": both(&side),
        "turns": both(&turn),
        "at": words.tell("board-at-move", [gap("move"), gap("at"), gap("last")]),
        "start": words.say("board-at-start"),
        "titleAfter": words.tell("game-after-move", [gap("number"), gap("move")]),
        "titleAtStart": words.tell("game-at-start", [gap("number")]),
        "board": words.say("board-keys"),
        "plain": words.say("board-plain"),
    })
    .to_string()
    .replace('<', "\\u003c")
}

/// A diagram of a page that has the symbols `man`.
pub(super) fn drawn(diagram: &Diagram, id: &str) -> Value {
    Value::from_safe_string(diagram.to_svg_sharing("man", id))
}

/// What a chapter is called in headings.
pub(super) fn chapter_title(chapter: Chapter, words: Words) -> String {
    words.say(match chapter {
        Chapter::Bishop => "chapter-bishop",
        Chapter::Knight => "chapter-knight",
        Chapter::Rook => "chapter-rook",
        Chapter::Queen => "chapter-queen",
        Chapter::Pawn => "chapter-pawn",
        Chapter::Any => "chapter-any",
    })
}

/// What a motif is called: by the catalogue, or as its own query says where that is not the built-in one.
pub fn motif_title(name: &str, title: &str, words: Words) -> String {
    let message = format!("motif-{name}");
    let is_built_in = Words::ENGLISH.has(&message) && Words::ENGLISH.say(&message) == title;
    if is_built_in { words.say(&message) } else { title.to_owned() }
}

/// A share in whole per cent.
pub(super) fn whole(share: f64) -> String {
    format!("{:.0}", 100.0 * share)
}

/// With the apostrophes of a printed book; queries are written with those of a keyboard.
pub(super) fn curly(text: &str) -> String {
    text.replace('\'', "\u{2019}")
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
