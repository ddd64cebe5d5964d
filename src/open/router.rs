//! Which page is where.

use std::sync::Arc;
use std::time::Duration;

use axum::Router;
use axum::extract::{DefaultBodyLimit, State};
use axum::http::StatusCode;
use axum::middleware::from_fn_with_state;
use axum::response::Response;
use axum::routing::{get, post};

use super::door::ENTRANCE;
use super::guard::{LONGEST_BODY, enter, guarded};
use super::opened::Opened;
use super::{files, find, game_words, look, motifs, numbers, plan_page, see, waiting, worth};

/// All pages, behind the door.
pub fn router(opened: Arc<Opened>) -> Router {
    let pages = Router::new()
        .route("/", get(find::find))
        .route("/plan", get(plan_page::plan).post(plan_page::change))
        .route("/plan/game", get(game_words::game))
        .route("/see", get(see::see))
        .route("/see/shown", get(see::shown))
        .route("/see/file", get(see::file))
        .route("/hit", get(look::look))
        .route("/numbers", get(numbers::numbers))
        .route("/motifs", get(motifs::motifs).post(motifs::act))
        .route("/motifs/tried", get(motifs::hear))
        .route("/motifs/stop", post(motifs::stop))
        .route("/worth", get(worth::hear).post(worth::begin))
        .route("/worth/stop", post(worth::stop))
        .route("/waiting", get(waiting::hear))
        .route("/waiting/stop", post(waiting::stop))
        .route("/end", post(end))
        .route("/files/{name}", get(files::file))
        .route(ENTRANCE, get(enter))
        .fallback(nothing);
    pages
        .layer(DefaultBodyLimit::max(LONGEST_BODY))
        .layer(from_fn_with_state(opened.clone(), guarded))
        .with_state(opened)
}

async fn nothing(State(opened): State<Arc<Opened>>) -> Response {
    opened.frame.told(StatusCode::NOT_FOUND, "There is no such page", "Nothing is at this address.")
}

/// How long the last page has to get its look.
const FAREWELL: Duration = Duration::from_millis(700);

/// Ends the program.
async fn end(State(opened): State<Arc<Opened>>) -> Response {
    let ending = opened.clone();
    tokio::spawn(async move {
        tokio::time::sleep(FAREWELL).await;
        ending.end.send_replace(true);
    });
    let says = "The program has ended. This window can be closed.";
    opened.frame.told(StatusCode::OK, "Ended", says)
}
