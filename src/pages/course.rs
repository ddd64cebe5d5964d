//! A course: the list of its lessons.

use minijinja::{Value, context};

use super::lesson::Lesson;
use super::numbers::results;
use super::own_words::marked_up;
use super::template::{chapter_title, curly, drawn, rendered};
use crate::board::PieceLetters;
use crate::drawing::{Coordinates, Diagram, symbols};
use crate::plan::{Audience, CoursePlan, PlannedSheet};
use crate::words::Words;

/// A course: its chapters in the order of their first lessons.
#[derive(Debug)]
pub struct Course<'p> {
    plan: Option<&'p CoursePlan>,
    words: Words,
    sheets: Vec<ListedSheet>,
    lessons: Vec<Listed>,
}

/// A sheet as a course lists it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct ListedSheet {
    title: String,
    class: Option<String>,
    exercises: usize,
    /// Whom its pages are for, as a message, and their files.
    pages: Vec<(&'static str, String)>,
}

impl ListedSheet {
    /// What is listed of a sheet with this many exercises.
    #[must_use]
    pub fn of(sheet: &PlannedSheet, exercises: usize) -> ListedSheet {
        let page = |&audience: &Audience| {
            let whom = match audience {
                Audience::Pupil => "sheet-for-pupils",
                Audience::Teacher => "sheet-for-teachers",
                Audience::Both => "sheet-for-both",
            };
            (whom, sheet.file(audience))
        };
        let projector = sheet.projector_file().map(|file| ("sheet-for-projector", file));
        ListedSheet {
            title: curly(sheet.title.as_ref().unwrap_or(&sheet.name.value)),
            class: sheet.class.clone(),
            exercises,
            pages: sheet.audiences.iter().map(page).chain(projector).collect(),
        }
    }
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
    own.map_or_else(|| chapter_title(lesson.query.chapter, lesson.telling.words), |own| curly(own))
}

impl<'p> Course<'p> {
    /// A course without lessons yet, as planned or not, in these words, and its sheets.
    #[must_use]
    pub fn new(plan: Option<&'p CoursePlan>, words: Words, sheets: Vec<ListedSheet>) -> Course<'p> {
        Course { plan, words, sheets, lessons: Vec::new() }
    }

    /// How many sheets it has.
    #[must_use]
    pub fn sheets(&self) -> usize {
        self.sheets.len()
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
        let own = |text: fn(&CoursePlan) -> &Option<String>| {
            self.plan.and_then(|plan| text(plan).as_ref())
        };
        rendered(
            "course.html",
            (self.words, PieceLetters::English),
            context! {
                title => own(|plan| &plan.title)
                    .map_or_else(|| self.words.say("course-title"), |title| curly(title)),
                audience => own(|plan| &plan.audience).map(|audience| curly(audience)),
                words => own(|plan| &plan.words).map(|words| marked_up(words)),
                games,
                caution,
                sheets => self.sheets.iter().map(listed_sheet).collect::<Vec<_>>(),
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

fn listed_sheet(sheet: &ListedSheet) -> Value {
    let page = |(whom, file): &(&'static str, String)| context! { whom => *whom, file };
    context! {
        title => &sheet.title,
        class => &sheet.class,
        exercises => sheet.exercises,
        pages => sheet.pages.iter().map(page).collect::<Vec<_>>(),
    }
}
