//! What is wrong with a query file, shown at its place.

use std::fmt;
use std::ops::Range;

use annotate_snippets::renderer::DecorStyle;
use annotate_snippets::{AnnotationKind, Level, Renderer, Snippet};

/// One thing that is wrong in a query file.
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
    pub(super) fn new(span: Range<usize>, message: impl Into<String>) -> Problem {
        Problem { span, message: message.into(), expected: None, hint: None }
    }

    pub(super) fn with_hint(self, hint: impl Into<String>) -> Problem {
        Problem { hint: Some(hint.into()), ..self }
    }

    /// Adds "did you mean" if a near word is known.
    pub(super) fn with_nearest(self, nearest: Option<&str>) -> Problem {
        match nearest {
            Some(word) => self.with_hint(format!("did you mean `{word}`?")),
            None => self,
        }
    }
}

/// All problems of one query file.
#[derive(Clone, Debug)]
pub struct QueryProblems {
    /// The file as the user named it.
    pub path: String,
    /// Its text.
    pub text: String,
    /// What is wrong, in the order of the file; never empty.
    pub problems: Vec<Problem>,
}

impl QueryProblems {
    /// The problems with file, line, column, the line itself and a caret under the place.
    #[must_use]
    pub fn render(&self, styled: bool) -> String {
        let renderer = if styled { Renderer::styled() } else { Renderer::plain() };
        let renderer = renderer.decor_style(DecorStyle::Ascii);
        let reports: Vec<String> =
            self.problems.iter().map(|problem| renderer.render(&[self.report(problem)])).collect();
        reports.join("\n\n")
    }

    fn report<'a>(&'a self, problem: &'a Problem) -> annotate_snippets::Group<'a> {
        let title = Level::ERROR.primary_title(&*problem.message);
        let report = if self.text.is_empty() {
            annotate_snippets::Group::with_title(title)
        } else {
            title.element(self.snippet(problem))
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

    fn snippet<'a>(&'a self, problem: &Problem) -> Snippet<'a, annotate_snippets::Annotation<'a>> {
        let mark = AnnotationKind::Primary.span(self.visible(&problem.span));
        Snippet::source(&*self.text).path(&*self.path).annotation(mark)
    }

    /// The span cut to the text and to its first line.
    fn visible(&self, span: &Range<usize>) -> Range<usize> {
        let end = self.text.len();
        let start = span.start.min(end);
        let line_end = self.text[start..].find('\n').map_or(end, |length| start + length);
        start..span.end.clamp(start, line_end)
    }
}

impl fmt::Display for QueryProblems {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.render(false))
    }
}

impl std::error::Error for QueryProblems {}
