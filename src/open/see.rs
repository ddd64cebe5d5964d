//! Lessons and sheets as they will be, made by whoever makes a course: to look at, and to save.
//!
//! Invariant: what is shown here is in a frame without rights: its scripts reach nothing of the pages around it, and
//! nothing is fetched.

use std::sync::Arc;

use axum::extract::{Query, State};
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::http::{HeaderName, HeaderValue, StatusCode};
use axum::response::{Html, IntoResponse, Response};
use minijinja::{Value, context};

use super::address::{AddressWords, value};
use super::extracted::PlanSeen;
use super::opened::Opened;
use super::plan_shown::state;
use super::seen_way::{SeenOrder, SeenWay};
use super::workshop::WorkOrder;
use crate::desk::PlanNow;
use crate::plan::CoursePlan;

/// What a page within another may do: run its own scripts, and nothing else.
const FRAMED: &str = "sandbox allow-scripts; default-src 'none'; script-src 'unsafe-inline'; \
                      style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'; frame-ancestors 'self'";
/// What a page that shows another within may do.
const FRAMING: &str = "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; \
                       form-action 'self'; base-uri 'none'; frame-src 'self'; frame-ancestors 'none'";

/// The page on which lessons and sheets are seen.
pub(super) async fn see(
    State(opened): State<Arc<Opened>>,
    PlanSeen(now): PlanSeen,
    Query(words): Query<AddressWords>,
) -> Response {
    let Ok(plan) = &now.plan else { return none(&opened) };
    let Some(subject) = SeenThing::of(&words, plan) else { return none(&opened) };
    let ways = subject.ways();
    let word = value(&words, "as").unwrap_or_default();
    let chosen = ways.iter().find(|way| way.word == word).unwrap_or(&ways[0]);
    let link = |page: &str, way: &SeenWay| format!("{page}?{}&as={}", subject.words(), way.word);
    let shown = |way: &&SeenWay| way.is_page();
    let tab = |way: &SeenWay| {
        context! { title => way.title, link => link("/see", way), is_chosen => way.word == chosen.word }
    };
    let saved = |way: &SeenWay| context! { title => way.saved, link => link("/see/file", way) };
    let content = context! {
        title => subject.title(&opened, plan),
        here => "plan",
        what => subject.what(),
        back => format!("/see?{}&as={}", subject.words(), chosen.word),
        tabs => ways.iter().filter(shown).map(tab).collect::<Vec<_>>(),
        saved => ways.iter().map(saved).collect::<Vec<_>>(),
        // The state is in the address, so that a change is seen.
        shown => format!("{}&state={}", link("/see/shown", chosen), now.state),
        shown_title => chosen.title,
    };
    let mut page =
        opened.frame.page("see.html", context! { ..content, ..subject.given(plan), ..state(&now) });
    set(&mut page, "content-security-policy", FRAMING);
    page
}

/// The lesson or sheet itself.
pub(super) async fn shown(
    State(opened): State<Arc<Opened>>,
    PlanSeen(now): PlanSeen,
    Query(words): Query<AddressWords>,
) -> Response {
    let mut page = match made(&opened, &now, &words).await {
        Ok(made) => Html(made.content).into_response(),
        Err(Unmade::Told(response)) => *response,
        // A page in a frame has no use for the way to other pages.
        Err(Unmade::Why(why)) => opened.frame.page("unmade.html", context! { why }),
    };
    set(&mut page, "content-security-policy", FRAMED);
    set(&mut page, "x-frame-options", "SAMEORIGIN");
    page
}

/// The same as a file to save.
pub(super) async fn file(
    State(opened): State<Arc<Opened>>,
    PlanSeen(now): PlanSeen,
    Query(words): Query<AddressWords>,
) -> Response {
    match made(&opened, &now, &words).await {
        Ok(MadeThing { kind, name, content }) => {
            let mut file = (StatusCode::OK, content).into_response();
            let name = format!("attachment; filename=\"{name}\"");
            set(&mut file, CONTENT_TYPE.as_str(), kind);
            set(&mut file, CONTENT_DISPOSITION.as_str(), &name);
            file
        }
        Err(Unmade::Told(response)) => *response,
        Err(Unmade::Why(why)) => opened.frame.failed(&why),
    }
}

/// Why there is nothing to see.
enum Unmade {
    /// A page tells.
    Told(Box<Response>),
    /// It could not be made.
    Why(String),
}

/// What was made.
struct MadeThing {
    kind: &'static str,
    name: String,
    content: Vec<u8>,
}

async fn made(opened: &Opened, now: &PlanNow, words: &AddressWords) -> Result<MadeThing, Unmade> {
    let none = || Unmade::Told(Box::new(none(opened)));
    let plan = now.plan.as_ref().map_err(|_| none())?;
    let subject = SeenThing::of(words, plan).ok_or_else(none)?;
    let word = value(words, "as").unwrap_or_default();
    let way = subject.ways().into_iter().find(|way| way.word == word).ok_or_else(none)?;
    let order = subject.order(way.order, now.text.clone());
    let content = opened.workshop.content(order).await.map_err(Unmade::Why)?;
    Ok(MadeThing { kind: way.kind(), name: way.file(subject.name()), content })
}

fn none(opened: &Opened) -> Response {
    let says = "The plan has no such lesson or sheet, or can't be read.";
    opened.frame.told(StatusCode::NOT_FOUND, "There is nothing to see", says)
}

fn set(page: &mut Response, name: &str, value: &str) {
    let name = HeaderName::from_bytes(name.as_bytes());
    if let (Ok(name), Ok(value)) = (name, HeaderValue::from_str(value)) {
        page.headers_mut().insert(name, value);
    }
}

/// What is seen.
enum SeenThing<'w> {
    Lesson(&'w str),
    Sheet(&'w str),
}

impl<'w> SeenThing<'w> {
    /// What the words of an address name, if the plan has it.
    fn of(words: &'w AddressWords, plan: &CoursePlan) -> Option<SeenThing<'w>> {
        if let Some(motif) = value(words, "lesson") {
            return plan.lesson_on(motif).map(|_| SeenThing::Lesson(motif));
        }
        let name = value(words, "sheet")?;
        plan.sheet(name).map(|_| SeenThing::Sheet(name))
    }

    /// The words that name it; names of motifs and sheets are plain.
    fn words(&self) -> String {
        match self {
            SeenThing::Lesson(motif) => format!("lesson={motif}"),
            SeenThing::Sheet(name) => format!("sheet={name}"),
        }
    }

    fn title(&self, opened: &Opened, plan: &CoursePlan) -> String {
        match self {
            SeenThing::Lesson(motif) => opened.lesson_title(plan, motif),
            SeenThing::Sheet(name) => {
                let title = plan.sheet(name).and_then(|sheet| sheet.title.clone());
                title.unwrap_or_else(|| (*name).to_owned())
            }
        }
    }

    fn order(&self, way: SeenOrder, plan: String) -> WorkOrder {
        match (self, way) {
            (SeenThing::Lesson(motif), SeenOrder::Lesson(format)) => {
                WorkOrder::Lesson { motif: (*motif).to_owned(), plan, format }
            }
            (
                SeenThing::Lesson(name) | SeenThing::Sheet(name),
                SeenOrder::Sheet(audience, format),
            ) => WorkOrder::Sheet { name: (*name).to_owned(), plan, audience, format },
            (SeenThing::Sheet(name), SeenOrder::Lesson(_)) => {
                WorkOrder::OnSheet { name: (*name).to_owned(), plan }
            }
        }
    }

    /// What is waited for while it is made.
    fn what(&self) -> String {
        self.order(self.ways()[0].order, String::new()).what()
    }

    /// The class that a sheet is for, and when it had it.
    fn given(&self, plan: &CoursePlan) -> Value {
        let SeenThing::Sheet(name) = self else { return context! {} };
        let Some(class) = plan.sheet(name).and_then(|sheet| sheet.class.as_deref()) else {
            return context! {};
        };
        let given = plan.given_to(class, name);
        context! { sheet => *name, class, given_on => given.map(|given| &given.on) }
    }

    fn name(&self) -> &'w str {
        match self {
            SeenThing::Lesson(name) | SeenThing::Sheet(name) => name,
        }
    }

    fn ways(&self) -> Vec<SeenWay> {
        match self {
            SeenThing::Lesson(_) => SeenWay::of_lessons(),
            SeenThing::Sheet(_) => SeenWay::of_sheets(),
        }
    }
}
