//! The lesson: one page of HTML that has in it all it needs.
//!
//! Invariant: every text from outside is escaped by the templates, nothing on a page is fetched from
//! elsewhere, and the same lesson gives the same bytes.

mod course;
pub(super) mod game;
mod numbers;
pub(super) mod page;
mod tree;

use minijinja::{Value, context};

use super::choose::Choice;
use super::diagram::{Diagram, symbols};
use super::exercise::{Exercise, shown};
use super::plot::Measured;
use crate::query::Query;
use crate::statistics::{Continuations, FactorEffect, Outcomes, Tally};
use crate::verdict::Sound;

pub use course::{Course, Listed};

/// All that a page shows of one query.
#[derive(Debug)]
pub struct Lesson<'l> {
    /// The motif.
    pub query: &'l Query,
    /// What its hits came to.
    pub tally: &'l Tally,
    /// What the offers were worth and how they went, if they were verified.
    pub worth: Vec<(Sound, Outcomes)>,
    /// How all games of the collection ended for White.
    pub all_games: Outcomes,
    /// The score by rating band, where there are enough games.
    pub bands: Vec<(String, Measured)>,
    /// The hits in 10,000 games by year.
    pub years: Vec<(String, f64)>,
    /// What each factor is worth.
    pub effects: Vec<FactorEffect>,
    /// What was played.
    pub tree: &'l Continuations,
    /// The games it shows.
    pub choice: &'l Choice,
    /// The exercises it ends in.
    pub exercises: &'l [Exercise],
    /// The lessons around it.
    pub place: Place,
}

/// Where a lesson stands in a course: name and title of the lessons before and after it.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Place {
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
        let exercises = self.exercises.iter().zip(1..);
        let exercises = exercises.map(|(one, number)| shown(one, number, &self.query.title));
        page::rendered(
            "lesson.html",
            context! {
                title => curly(&self.query.title),
                chapter => page::chapter_title(self.query.chapter),
                about => paragraphs(&self.query.about),
                offer => &self.query.offer_text,
                conditions => &self.query.when_texts,
                sequels => self.sequels(),
                place => self.place(),
                symbols => Value::from_safe_string(symbols("man", [&full])),
                key => self.key_diagram().map(|diagram| page::drawn(&diagram, "key-diagram")),
                key_is => self.choice.models.first().map(game::reference),
                key_says => self.choice.models.first().map(|key| game::key_caption(key, self.query)),
                numbers => numbers::context(self),
                rules => numbers::rules(self),
                is_judged => self.choice.is_judged,
                tree => tree::context(self.tree),
                turned => numbers::turned(self.query.wings),
                games => self.choice.models.iter().zip(1..).map(game::model).collect::<Vec<_>>(),
                exercises => exercises.collect::<Vec<_>>(),
            },
        )
    }

    /// A real position with the squares that the offer is about ringed.
    #[must_use]
    pub fn key_diagram(&self) -> Option<Diagram> {
        self.choice.models.first().map(|specimen| game::key_diagram(specimen, self.query))
    }

    /// What must follow an offer, in sentences, of each set one.
    fn sequels(&self) -> Vec<Vec<String>> {
        let text = |&index: &usize| self.query.follow_ups[index].text.clone();
        self.query.requires.iter().map(|any_of| any_of.iter().map(text).collect()).collect()
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

/// With the apostrophes of a printed book; queries are written with those of a keyboard.
pub(in crate::teaching) fn curly(text: &str) -> String {
    text.replace('\'', "\u{2019}")
}

/// Prose in paragraphs, which blank lines part.
fn paragraphs(prose: &str) -> Vec<String> {
    let prose = curly(prose);
    let parts =
        prose.split("\n\n").map(|part| part.split_whitespace().collect::<Vec<_>>().join(" "));
    parts.filter(|part| !part.is_empty()).collect()
}
