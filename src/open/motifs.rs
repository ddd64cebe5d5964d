//! Own motifs: a query is written in sentences, looked at, tried on the collection, and saved as a file.

use std::collections::BTreeMap;
use std::sync::{Arc, LazyLock};
use std::time::Duration;

use axum::Json;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::http::header::LOCATION;
use axum::response::{IntoResponse, Response};
use minijinja::{Value, context};
use serde_json::json;
use shakmaty::Position;

use super::address::{AddressWords, value};
use super::asking::Asking;
use super::extracted::OwnForm;
use super::motif_form::MotifForm;
use super::motif_told::MotifRead;
use super::motif_trial::{ENOUGH, TrialHit, TrialSoFar, try_out};
use super::opened::Opened;
use crate::board::{Replay, legal_move, line_in_print, read_position};
use crate::collection::known;
use crate::desk::ShelfTrouble;
use crate::drawing::{Diagram, Way};
use crate::pages::{served_diagram, served_symbols};
use crate::query::{Chapter, Library, Pattern};

/// How long a page without script waits for what a trial finds.
const WAIT: Duration = Duration::from_secs(4);
const LOOK: Duration = Duration::from_millis(50);

/// The built-in queries by name.
static BUILT_IN: LazyLock<BTreeMap<String, crate::query::Query>> = LazyLock::new(|| {
    let mut library = Library::new();
    library.add_built_in();
    let queries = library.queries().unwrap_or_default();
    queries.into_iter().map(|query| (query.name.clone(), query)).collect()
});

/// A motif to begin with.
const FIRST: &str = r#"title = "Rook takes on h7"
chapter = "rook"
wings = "both"
offer = "rook takes pawn on h7 giving up 2 or more"
when = ["defender king on g8"]
[follow-ups]
mate = "any man with mate"
[factors]
queen-ready = "attacker queen reaches h5"
"#;

/// The page: begun with a motif of one's own, with another's sentences, or with a first one.
pub(super) async fn motifs(
    State(opened): State<Arc<Opened>>,
    Query(words): Query<AddressWords>,
) -> Response {
    let own = value(&words, "own");
    let form = match (own, value(&words, "from")) {
        (Some(own), _) => {
            let text = opened.shelf.text(own);
            let form = text.as_deref().and_then(|text| MotifForm::of_file(own, text));
            let has_comments = text
                .is_some_and(|text| text.lines().any(|line| line.trim_start().starts_with('#')));
            form.map(|form| (form, has_comments))
        }
        (None, Some(from)) => source_of(&opened, from).and_then(|text| {
            let form = MotifForm::of_file(&format!("my-{from}"), &text)?;
            Some((form.without_examples(), false))
        }),
        (None, None) => MotifForm::of_file("my-motif", FIRST).map(|form| (form, false)),
    };
    let Some((form, has_comments)) = form else {
        let says = "No query is called so, or its file can’t be read.";
        return opened.frame.told(StatusCode::NOT_FOUND, "There is no such motif", says);
    };
    let saved = own.filter(|_| value(&words, "saved").is_some());
    let told = MotifRead::of(form);
    page(
        &opened,
        &told,
        context! { saved => saved.map(|name| how_to_mine(&opened, name)), has_comments },
    )
}

/// The text of a query that is known here.
fn source_of(opened: &Opened, name: &str) -> Option<String> {
    let query = opened.queries.get(name).or_else(|| BUILT_IN.get(name));
    query.map(|query| query.source.clone())
}

/// The titles of the queries that are known here, by name.
fn titles(opened: &Opened) -> BTreeMap<String, String> {
    let known = BUILT_IN.iter().chain(&opened.queries);
    known.map(|(name, query)| (name.clone(), query.title.clone())).collect()
}

fn page(opened: &Opened, told: &MotifRead, more: Value) -> Response {
    let other =
        |(name, title): (&String, &String)| context! { name, title => title.replace('\'', "’") };
    let content = context! {
        title => "Motifs",
        here => "motifs",
        symbols => served_symbols(),
        form => told.form.values(),
        name => &told.form.name,
        chapters => Chapter::ALL.map(Chapter::word),
        own => opened.shelf.names(),
        others => titles(opened).iter().map(other).collect::<Vec<_>>(),
        folder => opened.shelf.folder().display().to_string(),
        enough => ENOUGH,
        ..told.content()
    };
    opened.frame.page("motifs.html", context! { ..more, ..content })
}

/// What a form of the page asks for.
pub(super) async fn act(State(opened): State<Arc<Opened>>, OwnForm(words): OwnForm) -> Response {
    let told = MotifRead::of(MotifForm::of(&words));
    match value(&words, "do") {
        Some("told") => opened.frame.page("motif-told.html", told.content()),
        Some("try") if value(&words, "script").is_some() => match begun(&opened, &told) {
            Some(asking) => Json(json!({ "number": asking.number })).into_response(),
            None => {
                (StatusCode::UNPROCESSABLE_ENTITY, "It is not understood yet.\n").into_response()
            }
        },
        Some("try") => {
            let Some(asking) = begun(&opened, &told) else {
                return page(&opened, &told, context! {});
            };
            let begun = std::time::Instant::now();
            while !asking.is_over() && begun.elapsed() < WAIT {
                tokio::time::sleep(LOOK).await;
            }
            asking.give_up();
            page(&opened, &told, tried(&asking))
        }
        Some("save") => saved(&opened, &told, None),
        Some("replace") => saved(&opened, &told, value(&words, "replaced")),
        _ => page(&opened, &told, context! {}),
    }
}

/// Saves the motif, unless something is wrong with it or another file is in its place.
fn saved(opened: &Opened, told: &MotifRead, replaced: Option<&str>) -> Response {
    let name = &told.form.name;
    let mut page = if told.query.is_err() {
        page(
            opened,
            told,
            context! { unsaved => "It is not saved: something is not understood yet." },
        )
    } else {
        match opened.shelf.save(name, &told.file.text, replaced) {
            Ok(_) => {
                let location = format!("/motifs?own={name}&saved=yes");
                return (StatusCode::SEE_OTHER, [(LOCATION, location)]).into_response();
            }
            Err(ShelfTrouble::There { path, hash }) => {
                let path = path.display().to_string();
                page(opened, told, context! { there => context! { path, hash } })
            }
            Err(trouble) => {
                page(opened, told, context! { unsaved => format!("It is not saved: {trouble}.") })
            }
        }
    };
    *page.status_mut() = StatusCode::UNPROCESSABLE_ENTITY;
    page
}

/// Begins to try the motif out, if it is understood.
fn begun(opened: &Arc<Opened>, told: &MotifRead) -> Option<Arc<Asking<TrialSoFar>>> {
    let pattern = Pattern::new((**told.query.as_ref().ok()?).clone());
    let asking = opened.trial.begin();
    tokio::spawn(asking.clone().watch());
    let (there, opened) = (asking.clone(), opened.clone());
    tokio::task::spawn_blocking(move || try_out(pattern, &opened.runs, opened.threads, &there));
    Some(asking)
}

/// What a trial found so far.
pub(super) async fn hear(
    State(opened): State<Arc<Opened>>,
    Query(words): Query<AddressWords>,
) -> Response {
    let number = value(&words, "number").and_then(|number| number.parse().ok());
    match number.and_then(|number| opened.trial.of(number)) {
        Some(asking) => opened.frame.page("motif-tried.html", tried(&asking)),
        None => (StatusCode::GONE, "Something else was tried since.\n").into_response(),
    }
}

/// Stops the trial.
pub(super) async fn stop(State(opened): State<Arc<Opened>>) -> StatusCode {
    opened.trial.give_up();
    StatusCode::NO_CONTENT
}

fn tried(asking: &Asking<TrialSoFar>) -> Value {
    let (told, is_done) = asking.heard();
    let rows = told
        .hits
        .iter()
        .enumerate()
        .map(|(index, hit)| row(hit, &format!("tried-{}-{index}", asking.number)));
    let end = told.end.or_else(|| asking.is_given_up().then(|| "Stopped.".to_owned()));
    context! {
        tried => context! {
            rows => rows.collect::<Vec<_>>(),
            games => told.games,
            percent => told.percent.filter(|_| !is_done),
            ground => told.ground,
            is_done => is_done || asking.is_given_up(),
            end,
        }
    }
}

fn row(hit: &TrialHit, id: &str) -> Value {
    let pos = read_position(&hit.fen).ok();
    let diagram = pos.as_ref().map(|pos| {
        let way = legal_move(pos, &hit.san).and_then(Way::of);
        let setup = pos.to_setup(shakmaty::EnPassantMode::Legal);
        let diagram = Diagram::of(&setup).seen_by(pos.turn()).line(way);
        served_diagram(&diagram, id)
    });
    let line = pos.as_ref().and_then(|pos| {
        let replay = Replay::read(pos, &hit.line).ok()?;
        Some(line_in_print(pos, &replay.moves[..replay.moves.len().min(7)]))
    });
    context! {
        white => known(&hit.white).unwrap_or("White"),
        black => known(&hit.black).unwrap_or("Black"),
        event => known(&hit.event).unwrap_or(""),
        year => hit.date.get(..4).filter(|year| year.bytes().all(|digit| digit.is_ascii_digit())),
        is_black => hit.is_black,
        move_number => hit.move_number,
        san => &hit.san,
        line,
        diagram,
    }
}

/// How a saved query gets into a run, in the commands that do it.
fn how_to_mine(opened: &Opened, name: &str) -> Value {
    let path = opened.shelf.path(name).map(|path| path.display().to_string()).unwrap_or_default();
    let is_plain = |word: &str| {
        !word.is_empty() && word.chars().all(|c| c.is_alphanumeric() || "/._-".contains(c))
    };
    let sources: Vec<&str> = opened.runs.sources().map(|(_, source)| &*source.name).collect();
    let is_short = (1..=3).contains(&sources.len())
        && sources.iter().all(|name| is_plain(name) && *name != "-");
    let collection = if is_short { sources.join(" ") } else { "COLLECTION".to_owned() };
    let quoted = if is_plain(&path) { path.clone() } else { format!("\"{path}\"") };
    let folders: Vec<String> =
        opened.runs.folders().map(|folder| folder.display().to_string()).collect();
    context! {
        path,
        mine => format!("hecatomb mine {collection} --query {quoted} --out {name}"),
        open => format!("hecatomb open {} {name}", folders.join(" ")),
    }
}
