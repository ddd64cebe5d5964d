//! The plan's page, and what is done on it.

use std::path::Path;
use std::sync::Arc;

use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::http::header::LOCATION;
use axum::response::{IntoResponse, Response};
use minijinja::context;

use super::address::{AddressWords, value};
use super::extracted::{OwnForm, PlanSeen};
use super::opened::Opened;
use super::plan_form::PlanForm;
use super::plan_shown::{PlanShown, state};
use crate::desk::{Clash, Desk, DeskTrouble, PlanNotes, StateName};
use crate::pages::served_usual_title;
use crate::plan::written;
use crate::words::Language;

/// The plan.
pub(super) async fn plan(
    State(opened): State<Arc<Opened>>,
    PlanSeen(now): PlanSeen,
    Query(words): Query<AddressWords>,
) -> Response {
    let is_merged = value(&words, "merged").is_some();
    let path = opened.plan.as_deref().map(|path| path.display().to_string());
    let shared = context! { title => "Plan", here => "plan", back => "/plan", path, is_merged };
    let content = match &now.plan {
        Ok(plan) => {
            let notes = PlanNotes::of(&now.text);
            PlanShown { opened: &opened, plan, notes }.content()
        }
        Err(problems) => context! { problems => problems.render(false) },
    };
    opened.frame.page("plan.html", context! { ..shared, ..state(&now), ..content })
}

/// Does what a form asks for, and goes back to the page it was on.
pub(super) async fn change(State(opened): State<Arc<Opened>>, OwnForm(words): OwnForm) -> Response {
    let Some(path) = &opened.plan else { return refused(&opened, "there is no plan") };
    let act = PlanForm::act(&words);
    if act == "begin" {
        return begun(&opened, path, &words);
    }
    let name = value(&words, "state").and_then(|name| name.parse::<StateName>().ok());
    let Some(name) = name else { return refused(&opened, "the form names no state of the plan") };
    let desk = match Desk::open(path) {
        Ok(desk) => desk,
        Err(trouble) => return refused(&opened, &trouble.to_string()),
    };
    let done = match act {
        "undo" => desk.undo(&name).map(|_| false),
        "redo" => desk.redo(&name).map(|_| false),
        _ => {
            let now = match desk.look() {
                Ok(now) => now,
                Err(trouble) => return refused(&opened, &trouble.to_string()),
            };
            let wish = match PlanForm::of(&words, &opened, &now).wish().await {
                Ok(wish) => wish,
                Err(why) => return refused(&opened, &why),
            };
            desk.change(&name, &wish.edits, &wish.what).map(|changed| changed.is_merged)
        }
    };
    match done {
        Ok(is_merged) => back(&words, is_merged),
        Err(DeskTrouble::Clash(clash)) => clashed(&opened, &desk, &clash, &words),
        Err(DeskTrouble::Outdated) => outdated(&opened),
        Err(trouble) => refused(&opened, &trouble.to_string()),
    }
}

/// Begins a plan in a file that is not there yet.
fn begun(opened: &Opened, path: &Path, words: &AddressWords) -> Response {
    match Desk::begin(path, &written(&served_usual_title(), Language::English, &[])) {
        Ok(_) => back(words, false),
        Err(trouble) => refused(opened, &trouble.to_string()),
    }
}

/// Back to the page that a form was on.
fn back(words: &AddressWords, is_merged: bool) -> Response {
    let page = value(words, "back").filter(|page| is_own(page)).unwrap_or("/plan");
    let (page, anchor) = page.split_once('#').unwrap_or((page, ""));
    let anchor = value(words, "anchor").unwrap_or(anchor);
    let is_word = |letter: char| letter.is_ascii_alphanumeric() || letter == '-';
    let anchor: String = anchor.chars().filter(|&letter| is_word(letter)).collect();
    let merged = match (is_merged, page.contains('?')) {
        (false, _) => "",
        (true, true) => "&merged=yes",
        (true, false) => "?merged=yes",
    };
    let anchor = if anchor.is_empty() { anchor } else { format!("#{anchor}") };
    let location = format!("{page}{merged}{anchor}");
    (StatusCode::SEE_OTHER, [(LOCATION, location)]).into_response()
}

/// Whether an address is one of our pages: no other host, and nothing that a header can't hold.
pub(super) fn is_own(page: &str) -> bool {
    let is_plain = |byte: u8| byte.is_ascii_graphic() && byte != b'\\';
    page.starts_with('/') && !page.starts_with("//") && page.bytes().all(is_plain)
}

fn refused(opened: &Opened, why: &str) -> Response {
    let says = format!("Nothing was changed: {why}.");
    opened.frame.told(StatusCode::UNPROCESSABLE_ENTITY, "This can't be done", &says)
}

fn outdated(opened: &Opened) -> Response {
    let says = "Nothing was changed: the plan was changed elsewhere since this page was made. Look at it again.";
    opened.frame.told(StatusCode::CONFLICT, "The plan was changed", says)
}

/// A page that shows what two people wrote, with the same form once more.
fn clashed(opened: &Opened, desk: &Desk, clash: &Clash, words: &AddressWords) -> Response {
    let Ok(now) = desk.look() else { return outdated(opened) };
    let again: AddressWords = words.iter().filter(|(word, _)| word != "state").cloned().collect();
    let content = context! {
        title => "Changed in two places",
        here => "plan",
        state => now.state.to_string(),
        seen => &clash.seen,
        theirs => &clash.theirs,
        yours => &clash.yours,
        is_dropped => clash.yours.is_none(),
        again,
        back => value(words, "back").filter(|page| is_own(page)).unwrap_or("/plan"),
    };
    let mut page = opened.frame.page("clash.html", content);
    *page.status_mut() = StatusCode::CONFLICT;
    page
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn forms_lead_back_to_own_pages_only() {
        for page in ["/plan", "/hit?id=a%3A1"] {
            assert!(is_own(page), "{page}");
        }
        for page in ["", "//elsewhere", "https://elsewhere", "/\\elsewhere", "/a\r\nb", "/ü"] {
            assert!(!is_own(page), "{page}");
        }
    }
}
