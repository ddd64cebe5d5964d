//! A course: the list of its lessons.

use minijinja::{Value, context};

use super::lesson::Lesson;
use super::numbers::results;
use super::own_words::marked_up;
use super::template::{chapter_title, curly, drawn, rendered};
use crate::drawing::{Coordinates, Diagram, symbols};
use crate::plan::Plan;

/// A course: its chapters in the order of their first lessons.
#[derive(Debug)]
pub struct Course<'p> {
    plan: Option<&'p Plan>,
    lessons: Vec<Listed>,
}

/// A lesson as a course lists it.
#[derive(Debug)]
pub struct Listed {
    /// The heading under which it stands.
    chapter: String,
    name: String,
    title: String,
    results: Value,
    diagram: Option<Diagram>,
}

/// Another page in the folder of a course.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct OtherPage {
    name: String,
    title: String,
}

impl OtherPage {
    /// What is listed of a page with this file name and text: its title, or its name if it has none.
    #[must_use]
    pub fn new(name: String, page: &str) -> OtherPage {
        let title = page.split_once("<title>").and_then(|(_, rest)| rest.split_once("</title>"));
        let signs =
            [("&lt;", "<"), ("&gt;", ">"), ("&quot;", "\""), ("&#x27;", "'"), ("&#39;", "'")];
        let plain = |text: &str| {
            let text =
                signs.iter().fold(text.to_owned(), |text, (from, to)| text.replace(from, to));
            text.replace("&amp;", "&").trim().to_owned()
        };
        let title = title.map(|(title, _)| plain(title)).filter(|title| !title.is_empty());
        OtherPage { title: title.unwrap_or_else(|| name.clone()), name }
    }
}

impl Listed {
    /// What is listed of a lesson.
    #[must_use]
    pub fn of(lesson: &Lesson<'_>) -> Listed {
        Listed {
            chapter: chapter(lesson),
            name: lesson.query.name.clone(),
            title: lesson.title(),
            results: results(lesson.found.tally.outcomes()),
            diagram: lesson
                .key_diagram()
                .map(|diagram| diagram.wide(34).coordinates(Coordinates::Hidden)),
        }
    }
}

/// The heading of its chapter: the teacher's, or that of the man that is given up.
fn chapter(lesson: &Lesson<'_>) -> String {
    let own = lesson.planned.and_then(|planned| planned.chapter.as_ref());
    own.map_or_else(|| chapter_title(lesson.query.chapter).to_owned(), |own| curly(own))
}

impl<'p> Course<'p> {
    /// A course without lessons, as planned or not.
    #[must_use]
    pub fn new(plan: Option<&'p Plan>) -> Course<'p> {
        Course { plan, lessons: Vec::new() }
    }

    /// Adds the next lesson.
    pub fn add(&mut self, lesson: Listed) {
        self.lessons.push(lesson);
    }

    /// The page that lists the lessons, which are drawn from `games` games, and the other pages of its folder;
    /// `caution` is what must be said of the tables.
    ///
    /// # Errors
    ///
    /// What the template engine says.
    pub fn to_html(
        &self,
        games: u64,
        others: &[OtherPage],
        caution: Option<&str>,
    ) -> Result<String, minijinja::Error> {
        let diagrams = self.lessons.iter().filter_map(|lesson| lesson.diagram.as_ref());
        let mut headings: Vec<&str> = Vec::new();
        for lesson in &self.lessons {
            if !headings.contains(&&*lesson.chapter) {
                headings.push(&lesson.chapter);
            }
        }
        let chapters = headings.iter().zip(1..).map(|(heading, number)| {
            let lessons = self.lessons.iter().filter(|lesson| lesson.chapter == **heading);
            context! {
                title => *heading,
                id => format!("chapter-{number}"),
                lessons => lessons.map(listed).collect::<Vec<_>>(),
            }
        });
        let own =
            |text: fn(&Plan) -> &Option<String>| self.plan.and_then(|plan| text(plan).as_ref());
        rendered(
            "course.html",
            context! {
                title => curly(own(|plan| &plan.title).map_or(Plan::TITLE, |title| title)),
                audience => own(|plan| &plan.audience).map(|audience| curly(audience)),
                words => own(|plan| &plan.words).map(|words| marked_up(words)),
                games,
                caution,
                lessons => self.lessons.len(),
                symbols => Value::from_safe_string(symbols("man", diagrams)),
                chapters => chapters.collect::<Vec<_>>(),
                others => others.iter().map(other).collect::<Vec<_>>(),
            },
        )
    }
}

fn other(page: &OtherPage) -> Value {
    context! { name => &page.name, title => &page.title }
}

fn listed(lesson: &Listed) -> Value {
    context! {
        name => &lesson.name,
        title => &lesson.title,
        results => &lesson.results,
        diagram => lesson.diagram.as_ref().map(|diagram| drawn(diagram, &lesson.name)),
    }
}
