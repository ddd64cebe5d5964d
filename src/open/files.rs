//! Style and scripts, which are in the program: a path of a request is looked up among their names, and nowhere else.

use axum::extract::Path;
use axum::http::StatusCode;
use axum::http::header::CONTENT_TYPE;
use axum::response::{IntoResponse, Response};

use crate::pages::{served_board_script, served_style};

const CSS: &str = "text/css; charset=utf-8";
const SCRIPT: &str = "text/javascript; charset=utf-8";

/// A file by its name.
pub(super) async fn file(Path(name): Path<String>) -> Response {
    let (kind, text) = match &*name {
        "style.css" => (CSS, served_style() + include_str!("templates/open.css")),
        "board.js" => (SCRIPT, served_board_script().to_owned()),
        "desk.css" => (CSS, include_str!("templates/desk.css").to_owned()),
        "desk.js" => (SCRIPT, include_str!("templates/desk.js").to_owned()),
        "motifs.css" => (CSS, include_str!("templates/motifs.css").to_owned()),
        "motifs.js" => (SCRIPT, include_str!("templates/motifs.js").to_owned()),
        "see.js" => (SCRIPT, include_str!("templates/see.js").to_owned()),
        "find.js" => (SCRIPT, include_str!("templates/find.js").to_owned()),
        "look.js" => (SCRIPT, include_str!("templates/look.js").to_owned()),
        _ => return (StatusCode::NOT_FOUND, "There is no such file.\n").into_response(),
    };
    ([(CONTENT_TYPE, kind)], text).into_response()
}
