//! What somebody waits for: how long already, and an end to it at a click.

use std::sync::Arc;

use axum::Json;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::http::header::LOCATION;
use axum::response::{IntoResponse, Response};
use serde_json::json;

use super::address::{AddressWords, value};
use super::extracted::OwnForm;
use super::opened::Opened;
use super::plan_page::is_own;

/// Whether something is waited for, whether it was begun, and how many seconds it has been waited for.
pub(super) async fn hear(
    State(opened): State<Arc<Opened>>,
    Query(words): Query<AddressWords>,
) -> Response {
    let what = value(&words, "what").unwrap_or_default();
    let waited_for = opened.workshop.waited_for(what);
    let longest = waited_for.iter().max_by_key(|ticket| ticket.waited());
    Json(match longest {
        Some(ticket) => json!({
            "is_waited_for": true,
            "is_begun": ticket.is_begun(),
            "seconds": ticket.waited().as_secs(),
        }),
        None => json!({ "is_waited_for": false }),
    })
    .into_response()
}

/// Ends it, and goes back.
pub(super) async fn stop(State(opened): State<Arc<Opened>>, OwnForm(words): OwnForm) -> Response {
    let what = value(&words, "what").unwrap_or_default();
    opened.workshop.waited_for(what).iter().for_each(|ticket| ticket.give_up());
    let back = value(&words, "back").filter(|page| is_own(page)).unwrap_or("/plan").to_owned();
    (StatusCode::SEE_OTHER, [(LOCATION, back)]).into_response()
}
