//! What is wrong with a file, shown at its place.

use std::fmt;
use std::ops::Range;

use annotate_snippets::renderer::DecorStyle;
use annotate_snippets::{AnnotationKind, Level, Renderer, Snippet};

use crate::visible::{is_hidden, visible};

/// One thing that is wrong in a file.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Problem {
    /// Where, in bytes of the file.
    pub span: Range<usize>,
    /// What is wrong, in one line.
    pub message: String,
    /// What was expected at that place, if that can be said.
    pub expected: Option<String>,
    /// What to do about it, if that can be said.
    pub hint: Option<String>,
}

impl Problem {
    pub(crate) fn new(span: Range<usize>, message: impl Into<String>) -> Problem {
        Problem { span, message: message.into(), expected: None, hint: None }
    }

    pub(crate) fn with_hint(self, hint: impl Into<String>) -> Problem {
        Problem { hint: Some(hint.into()), ..self }
    }

    /// Adds "did you mean" if a near word is known.
    pub(crate) fn with_nearest(self, nearest: Option<&str>) -> Problem {
        match nearest {
            Some(word) => self.with_hint(format!("did you mean `{word}`?")),
            None => self,
        }
    }
}

/// All problems of one file.
#[derive(Clone, Debug)]
pub struct FileProblems {
    /// The file as the user named it.
    pub path: String,
    /// Its text.
    pub text: String,
    /// What is wrong, in the order of the file; never empty.
    pub problems: Vec<Problem>,
}

impl FileProblems {
    /// What is wrong with a file, put in its order.
    pub(crate) fn new(path: &str, text: &str, mut problems: Vec<Problem>) -> FileProblems {
        problems.sort_by_key(|problem| problem.span.start);
        FileProblems { path: path.to_owned(), text: text.to_owned(), problems }
    }

    /// The problems with file, line, column, the line itself and a caret under the place.
    #[must_use]
    pub fn render(&self, styled: bool) -> String {
        let renderer = if styled { Renderer::styled() } else { Renderer::plain() };
        let renderer = renderer.decor_style(DecorStyle::Ascii);
        let path = visible(&self.path);
        let reports: Vec<String> = self
            .problems
            .iter()
            .map(|problem| {
                let seen = Seen::of(problem, &self.text);
                renderer.render(&[seen.report(&path)])
            })
            .collect();
        reports.join("\n\n")
    }
}

/// A problem and the text it is in, as they are shown: what can't be seen is there by its code.
struct Seen {
    problem: Problem,
    text: String,
}

impl Seen {
    fn of(problem: &Problem, text: &str) -> Seen {
        let seen = |words: &Option<String>| words.as_deref().map(|words| visible(words).into());
        let span = visible_span(&problem.span, text);
        let seen_until = |end: usize| seen_text(text.get(..end).unwrap_or(text)).len();
        Seen {
            problem: Problem {
                span: seen_until(span.start)..seen_until(span.end),
                message: visible(&problem.message).into(),
                expected: seen(&problem.expected),
                hint: seen(&problem.hint),
            },
            text: seen_text(text),
        }
    }

    fn report<'a>(&'a self, path: &'a str) -> annotate_snippets::Group<'a> {
        let problem = &self.problem;
        let title = Level::ERROR.primary_title(&*problem.message);
        let report = if self.text.is_empty() {
            annotate_snippets::Group::with_title(title)
        } else {
            let mark = AnnotationKind::Primary.span(problem.span.clone());
            title.element(Snippet::source(&*self.text).path(path).annotation(mark))
        };
        let report = match &problem.expected {
            Some(expected) => {
                report.element(Level::NOTE.with_name("expected").message(&**expected))
            }
            None => report,
        };
        match &problem.hint {
            Some(hint) => report.element(Level::HELP.with_name("hint").message(&**hint)),
            None => report,
        }
    }
}

/// A text with codes for what can't be seen; its lines and tabs stay.
fn seen_text(text: &str) -> String {
    let stays = |c| !is_hidden(c) || matches!(c, '\n' | '\r' | '\t');
    if text.chars().all(stays) {
        return text.to_owned();
    }
    let mut buffer = [0; 4];
    let seen = |c: char| match stays(c) {
        true => c.to_string(),
        false => visible(c.encode_utf8(&mut buffer)).into_owned(),
    };
    text.chars().map(seen).collect()
}

/// The span cut to the text and to its first line.
fn visible_span(span: &Range<usize>, text: &str) -> Range<usize> {
    let end = text.len();
    let start = span.start.min(end);
    let line_end = text[start..].find('\n').map_or(end, |length| start + length);
    start..span.end.clamp(start, line_end)
}

impl fmt::Display for FileProblems {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.render(false))
    }
}

impl std::error::Error for FileProblems {}
