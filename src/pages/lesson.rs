//! The lesson: one page of HTML that has in it all it needs.
//!
//! Invariant: every text from outside is escaped by the templates, nothing on a page is fetched from
//! elsewhere, and the same lesson gives the same bytes.

use minijinja::{Value, context};

use super::exercise::shown;
use super::solution::Asks;
use super::template::{curly, drawn, rendered};
use super::{game, numbers, tree};
use crate::drawing::{Diagram, symbols};
use crate::query::{Query, Requirement};
use crate::statistics::Outcomes;
use crate::teaching::Findings;

/// All that a page shows of one query.
#[derive(Debug)]
pub struct Lesson<'l> {
    /// The motif.
    pub query: &'l Query,
    /// What the runs say about it.
    pub found: &'l Findings,
    /// How all games of the collection ended for White.
    pub all_games: Outcomes,
    /// The lessons around it.
    pub place: PlaceInCourse,
    /// What the solutions of the exercises rest on, in a sentence.
    pub rests_on: &'l str,
    /// What must be said of the tables, if anything.
    pub caution: Option<&'l str>,
}

/// Where a lesson stands in a course: name and title of the lessons before and after it.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct PlaceInCourse {
    /// Whether it stands in one.
    pub is_in_course: bool,
    /// The lesson before it.
    pub before: Option<(String, String)>,
    /// The lesson after it.
    pub after: Option<(String, String)>,
}

impl Lesson<'_> {
    /// The page.
    ///
    /// # Errors
    ///
    /// What the template engine says; a lesson that renders once renders always.
    pub fn to_html(&self) -> Result<String, minijinja::Error> {
        // A full board, so that no man is missing.
        let full = Diagram::of(&shakmaty::Setup::initial());
        let exercises = self.found.exercises.iter().zip(1..);
        let exercises =
            exercises.map(|(one, number)| shown(one, number, &self.query.title, Asks::OneThing));
        rendered(
            "lesson.html",
            context! {
                title => curly(&self.query.title),
                about => paragraphs(&self.query.about),
                offer => &self.query.offer_text,
                conditions => &self.query.when_texts,
                conditions_after => &self.query.after_texts,
                sequels => self.sequels(),
                place => self.place(),
                rests_on => self.rests_on,
                caution => self.caution,
                symbols => Value::from_safe_string(symbols("man", [&full])),
                key => self.key_diagram().map(|diagram| drawn(&diagram, "key-diagram")),
                key_is => self.found.choice.models.first().map(game::reference),
                key_says => self.found.choice.models.first().map(|key| game::key_caption(key, self.query)),
                numbers => numbers::context(self),
                rules => numbers::rules(self),
                is_judged => self.found.choice.is_judged,
                tree => tree::context(&self.found.tree),
                turned => numbers::turned(self.query),
                games => self.found.choice.models.iter().zip(1..).map(game::model).collect::<Vec<_>>(),
                exercises => exercises.collect::<Vec<_>>(),
            },
        )
    }

    /// A real position with the squares that the offer is about ringed.
    #[must_use]
    pub fn key_diagram(&self) -> Option<Diagram> {
        self.found.choice.models.first().map(|specimen| game::key_diagram(specimen, self.query))
    }

    /// What must come of the follow-ups, in sentences, of each set one.
    fn sequels(&self) -> Vec<Vec<String>> {
        let text = |&index: &usize| self.query.follow_ups[index].text.clone();
        let row = |row: &Vec<usize>| row.iter().map(text).collect::<Vec<_>>().join(", and later ");
        let requires = self.query.requires.iter();
        let sentences = requires.map(|(_, requirement)| match requirement {
            Requirement::Comes(rows) => rows.iter().map(row).collect(),
            Requirement::StaysAway(index) => vec![format!("never {}", text(index))],
        });
        sentences.collect()
    }

    fn place(&self) -> Value {
        let link = |lesson: &Option<(String, String)>| {
            lesson.as_ref().map(|(name, title)| context! { name, title => curly(title) })
        };
        context! {
            is_in_course => self.place.is_in_course,
            before => link(&self.place.before),
            after => link(&self.place.after),
        }
    }
}

/// Prose in paragraphs, which blank lines part.
fn paragraphs(prose: &str) -> Vec<String> {
    let prose = curly(prose);
    let parts =
        prose.split("\n\n").map(|part| part.split_whitespace().collect::<Vec<_>>().join(" "));
    parts.filter(|part| !part.is_empty()).collect()
}
