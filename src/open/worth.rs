//! *What is it worth?*: a position of a game is asked about, the answers are told as they come, and it is stopped at a
//! click or when the page is left.

use std::sync::Arc;

use axum::Form;
use axum::Json;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use serde_json::json;

use super::address::{AddressWords, value};
use super::opened::Opened;
use super::weighing::Weighed;
use crate::board::{legal_move, read_position};

/// Begins to find out what a position is worth: `fen`, and `next` if a move was made there.
pub(super) async fn begin(
    State(opened): State<Arc<Opened>>,
    Form(words): Form<AddressWords>,
) -> Response {
    let fen = value(&words, "fen").unwrap_or_default();
    let Ok(pos) = read_position(fen) else {
        return (StatusCode::BAD_REQUEST, "That is not a legal position.\n").into_response();
    };
    let next = value(&words, "next").and_then(|san| legal_move(&pos, san));
    let asking = opened.asking.begin();
    let number = asking.number;
    tokio::spawn(asking.clone().watch());
    tokio::task::spawn_blocking(move || {
        Weighed { pos, next }.weigh(opened.engine.as_ref(), &asking);
    });
    Json(json!({ "number": number })).into_response()
}

/// What was found so far.
pub(super) async fn hear(
    State(opened): State<Arc<Opened>>,
    Query(words): Query<AddressWords>,
) -> Response {
    let number = value(&words, "number").and_then(|number| number.parse().ok());
    let Some(asking) = number.and_then(|number| opened.asking.of(number)) else {
        return (StatusCode::GONE, "Something else was asked since.\n").into_response();
    };
    let (says, is_done) = asking.heard();
    let is_done = is_done || asking.is_given_up();
    Json(json!({ "says": says, "is_done": is_done })).into_response()
}

/// Stops it.
pub(super) async fn stop(State(opened): State<Arc<Opened>>) -> StatusCode {
    opened.asking.give_up();
    StatusCode::NO_CONTENT
}
