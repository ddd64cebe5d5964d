//! The guard at the door: each request is let in or refused, and each answer says what a browser may do with it.

use std::sync::Arc;

use axum::extract::{Query, Request, State};
use axum::http::header::{CONTENT_LENGTH, LOCATION, ORIGIN, SET_COOKIE};
use axum::http::{HeaderMap, HeaderName, HeaderValue, Method, StatusCode};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};

use super::door::ENTRANCE;
use super::opened::Opened;

/// The most bytes of a request's body.
pub(super) const LONGEST_BODY: usize = 256 << 10;
/// What is said to those who do not know the secret.
const NO_SECRET: &str = "open the address that the program shows in its terminal";

/// Lets a request in or refuses it; every answer says that it is for this page alone.
pub(super) async fn guarded(
    State(opened): State<Arc<Opened>>,
    request: Request,
    next: Next,
) -> Response {
    let door = &opened.door;
    let is_entrance = request.uri().path() == ENTRANCE && request.method() == Method::GET;
    let mut response = match door.foreign(request.headers()) {
        Some(why) => refused(why),
        None if is_too_long(request.headers()) => {
            (StatusCode::PAYLOAD_TOO_LARGE, "Refused: this is too long.\n").into_response()
        }
        None if is_entrance || door.is_known(request.headers()) => next.run(request).await,
        None => refused(NO_SECRET),
    };
    restrict(response.headers_mut());
    response
}

/// Whether a body is announced that nobody here would read to its end. One that is not announced is limited where it is
/// read.
fn is_too_long(headers: &HeaderMap) -> bool {
    let length = headers.get(CONTENT_LENGTH).and_then(|length| length.to_str().ok()?.parse().ok());
    length.is_some_and(|length: usize| length > LONGEST_BODY)
}

fn refused(why: &'static str) -> Response {
    (StatusCode::FORBIDDEN, format!("Refused: {why}.\n")).into_response()
}

/// What the browser may do with any answer. Drawings have no style of their own, scripts and styles are files.
const RESTRICTIONS: [(&str, &str); 7] = [
    (
        "content-security-policy",
        "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; form-action 'self'; \
         base-uri 'none'; frame-ancestors 'none'",
    ),
    ("x-content-type-options", "nosniff"),
    ("x-frame-options", "DENY"),
    // Not `no-referrer`, under which a browser hides the origin of a form's own page, too (Fetch, "append a request
    // `Origin` header"). Other sites learn nothing by this either.
    ("referrer-policy", "same-origin"),
    ("cache-control", "no-store"),
    ("cross-origin-opener-policy", "same-origin"),
    ("cross-origin-resource-policy", "same-origin"),
];

fn restrict(headers: &mut HeaderMap) {
    for (name, value) in RESTRICTIONS {
        let name = HeaderName::from_static(name);
        // A page that is shown within another may be restricted otherwise.
        headers.entry(name).or_insert(HeaderValue::from_static(value));
    }
}

/// The refusal of a form that does not say where it is from. Browsers say so of every form that changes something, and the door
/// has checked what is said.
pub(super) fn refused_form(headers: &HeaderMap) -> Option<Response> {
    (!headers.contains_key(ORIGIN)).then(|| refused("the form does not say where it is from"))
}

/// Exchanges the secret of the first address for a cookie.
pub(super) async fn enter(
    State(opened): State<Arc<Opened>>,
    Query(words): Query<Vec<(String, String)>>,
) -> Response {
    let door = &opened.door;
    let key = words.iter().find(|(word, _)| word == "key").map_or("", |(_, key)| key);
    if !door.opens_with(key) {
        return refused(NO_SECRET);
    }
    let headers = [(SET_COOKIE, door.cookie()), (LOCATION, "/".to_owned())];
    (StatusCode::SEE_OTHER, headers).into_response()
}
