//! A course: the list of its lessons.

use minijinja::{Value, context};

use super::lesson::Lesson;
use super::numbers::results;
use super::template::{chapter_title, curly, drawn, rendered};
use crate::drawing::{Coordinates, Diagram, symbols};
use crate::query::Chapter;

/// A course, its lessons in the order of their chapters.
#[derive(Debug, Default)]
pub struct Course {
    lessons: Vec<Listed>,
}

/// A lesson as a course lists it.
#[derive(Debug)]
pub struct Listed {
    chapter: Chapter,
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
            chapter: lesson.query.chapter,
            name: lesson.query.name.clone(),
            title: curly(&lesson.query.title),
            results: results(lesson.found.tally.outcomes()),
            diagram: lesson
                .key_diagram()
                .map(|diagram| diagram.wide(34).coordinates(Coordinates::Hidden)),
        }
    }
}

impl Course {
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
        let chapters = Chapter::ALL.into_iter().map(|chapter| {
            let lessons = self.lessons.iter().filter(|lesson| lesson.chapter == chapter);
            context! {
                title => chapter_title(chapter),
                id => chapter.word(),
                lessons => lessons.map(listed).collect::<Vec<_>>(),
            }
        });
        rendered(
            "course.html",
            context! {
                title => "Sacrifices: a course",
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
