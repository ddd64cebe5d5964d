//! What the pages begin with: the hits, once they are read, the plan as it is, and what a form asks for; or an answer that
//! says why they are not there.

use std::sync::Arc;

use axum::extract::{Form, FromRequest, FromRequestParts, Request};
use axum::http::StatusCode;
use axum::http::header::{HeaderName, HeaderValue};
use axum::http::request::Parts;
use axum::response::{IntoResponse, Response};
use minijinja::context;

use super::address::AddressWords;
use super::guard::refused_form;
use super::opened::Opened;
use crate::desk::{Desk, DeskTrouble, PlanNow};
use crate::finding::FoundHits;

/// All that pages work on, with all hits read.
pub(super) struct HitsRead {
    opened: Arc<Opened>,
}

impl HitsRead {
    /// What pages work on, and the hits.
    pub(super) fn parts(&self) -> (&Opened, &FoundHits) {
        let hits = self.opened.hits.get().and_then(|read| read.as_ref().ok());
        (&self.opened, hits.expect("they were read when this was made"))
    }
}

impl FromRequestParts<Arc<Opened>> for HitsRead {
    type Rejection = Response;

    async fn from_request_parts(_: &mut Parts, opened: &Arc<Opened>) -> Result<Self, Response> {
        match opened.hits.get() {
            None => Err(still_reading(opened)),
            Some(Err(why)) => Err(opened.frame.failed(why)),
            Some(Ok(_)) => Ok(HitsRead { opened: opened.clone() }),
        }
    }
}

/// What is shown while the hits are still being read: it comes again by itself.
fn still_reading(opened: &Opened) -> Response {
    let percent = opened.reading.percent();
    let mut page = opened.frame.page("reading.html", context! { title => "Reading", percent });
    page.headers_mut().insert(HeaderName::from_static("refresh"), HeaderValue::from_static("1"));
    page
}

/// The plan as it is.
pub(super) struct PlanSeen(pub(super) PlanNow);

impl FromRequestParts<Arc<Opened>> for PlanSeen {
    type Rejection = Response;

    async fn from_request_parts(_: &mut Parts, opened: &Arc<Opened>) -> Result<Self, Response> {
        let Some(path) = &opened.plan else {
            let says = "Start the program with --plan FILE to choose, write and hand out.";
            return Err(opened.frame.told(StatusCode::NOT_FOUND, "There is no plan", says));
        };
        let now =
            Desk::open(path).and_then(|desk| desk.look()).map_err(|trouble| match trouble {
                DeskTrouble::Missing(_) => {
                    let path = path.display().to_string();
                    let content = context! { title => "Plan", here => "plan", path };
                    opened.frame.page("no-plan.html", content)
                }
                trouble => {
                    let says = trouble.to_string();
                    opened.frame.told(StatusCode::CONFLICT, "The plan can't be edited", &says)
                }
            })?;
        Ok(PlanSeen(now))
    }
}

/// What a form of a page of ours asks for. A form that changes something is taken from nowhere else.
pub(super) struct OwnForm(pub(super) AddressWords);

impl FromRequest<Arc<Opened>> for OwnForm {
    type Rejection = Response;

    async fn from_request(request: Request, opened: &Arc<Opened>) -> Result<Self, Response> {
        if let Some(refused) = refused_form(request.headers()) {
            return Err(refused);
        }
        let words = Form::from_request(request, opened).await;
        words.map(|Form(words)| OwnForm(words)).map_err(IntoResponse::into_response)
    }
}
