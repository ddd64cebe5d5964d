//! What all pages have in common: the head, the way from one to another, the look; and what is said if one can't be
//! made.

use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Response};
use minijinja::{Environment, Value, context};

use crate::board::PieceLetters;
use crate::pages::served_templates;

/// The templates by name. What ends in `.html` is escaped.
const TEMPLATES: [(&str, &str); 18] = [
    ("frame.html", include_str!("templates/frame.html")),
    ("reading.html", include_str!("templates/reading.html")),
    ("find.html", include_str!("templates/find.html")),
    ("found.html", include_str!("templates/found.html")),
    ("look.html", include_str!("templates/look.html")),
    ("numbers.html", include_str!("templates/numbers.html")),
    ("told.html", include_str!("templates/told.html")),
    ("desk.html", include_str!("templates/desk.html")),
    ("plan.html", include_str!("templates/plan.html")),
    ("no-plan.html", include_str!("templates/no-plan.html")),
    ("clash.html", include_str!("templates/clash.html")),
    ("keep.html", include_str!("templates/keep.html")),
    ("plan-game.html", include_str!("templates/plan-game.html")),
    ("unmade.html", include_str!("templates/unmade.html")),
    ("motifs.html", include_str!("templates/motifs.html")),
    ("motif-told.html", include_str!("templates/motif-told.html")),
    ("motif-tried.html", include_str!("templates/motif-tried.html")),
    ("see.html", include_str!("templates/see.html")),
];

/// What all pages are made with.
#[derive(Debug)]
pub struct Frame {
    templates: Environment<'static>,
    /// What must be said on every page, if anything must.
    remarks: Option<String>,
}

impl Frame {
    /// The frame with the templates of all pages, and with what must be said on each.
    ///
    /// # Errors
    ///
    /// If one of them is none.
    pub fn new(letters: PieceLetters, remarks: Option<String>) -> Result<Frame, minijinja::Error> {
        Ok(Frame { templates: served_templates(&TEMPLATES, letters)?, remarks })
    }

    /// A page, or a part of one, from a template and what it is to show.
    #[must_use]
    pub fn page(&self, template: &str, content: Value) -> Response {
        let shared = context! { version => env!("CARGO_PKG_VERSION"), remarks => &self.remarks };
        let page = self.templates.get_template(template);
        match page.and_then(|page| page.render(context! { ..content, ..shared })) {
            Ok(page) => Html(page).into_response(),
            Err(error) => self.failed(&format!("this page can't be made: {error:#}")),
        }
    }

    /// A page that tells what went wrong.
    #[must_use]
    pub fn failed(&self, why: &str) -> Response {
        self.told(StatusCode::INTERNAL_SERVER_ERROR, "Something went wrong", why)
    }

    /// A page that tells something in a sentence.
    #[must_use]
    pub fn told(&self, status: StatusCode, title: &str, says: &str) -> Response {
        let content = context! { title, says };
        let page = self.templates.get_template("told.html").and_then(|page| page.render(content));
        (status, Html(page.unwrap_or_else(|_| title.to_owned()))).into_response()
    }
}
