//! The lesson: one page of HTML that has in it all it needs.
//!
//! Invariant: every text from outside is escaped by the templates, nothing on a page is fetched from
//! elsewhere, and the same lesson gives the same bytes.

use std::collections::BTreeMap;

use minijinja::{Value, context};

use super::exercise::shown;
use super::own_words::marked_up;
use super::solution::Asks;
use super::telling::Telling;
use super::template::{curly, drawn, motif_title, rendered};
use super::{game, numbers, tree};
use crate::drawing::{Diagram, symbols};
use crate::plan::{Part, PlannedLesson};
use crate::query::{Query, Requirement};
use crate::statistics::Outcomes;
use crate::teaching::{Findings, Specimen};

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
    /// How it is told.
    pub telling: &'l Telling,
    /// What its teacher wants of it, if it is planned.
    pub planned: Option<&'l PlannedLesson>,
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
        let Telling { words, letters, rests_on, caution } = self.telling;
        let (words, letters) = (*words, *letters);
        let games = self
            .found
            .models
            .iter()
            .zip(1..)
            .map(|game| game::model(game, self.query, (words, letters)));
        let exercises = self.found.exercises.iter().zip(1..);
        let motif = motif_title(&self.query.name, &self.query.title, words);
        let exercises =
            exercises.map(|(one, number)| shown(one, number, &motif, Asks::OneThing, words));
        rendered(
            "lesson.html",
            (words, letters),
            context! {
                title => self.title(),
                own => self.own_words(),
                has => self.parts(),
                about => paragraphs(&self.query.about),
                offer => &self.query.offer_text,
                conditions => &self.query.when_texts,
                conditions_after => &self.query.after_texts,
                sequels => self.sequels(),
                place => self.place(),
                rests_on,
                caution,
                symbols => Value::from_safe_string(symbols("man", [&full])),
                key => self.key_diagram().map(|diagram| drawn(&diagram, "key-diagram")),
                key_is => self.key().map(|key| game::reference(&key.hit.game, &key.hit.source)),
                key_says => self.key().map(|key| game::key_caption(key, self.query, words)),
                numbers => numbers::context(self),
                rules => numbers::rules(self),
                is_judged => self.found.is_judged,
                tree => tree::context(&self.found.tree),
                turned => numbers::turned(self.query),
                games => games.collect::<Vec<_>>(),
                exercises => exercises.collect::<Vec<_>>(),
            },
        )
    }

    /// Its heading: the teacher's, or the motif's title.
    pub(super) fn title(&self) -> String {
        let own = self.planned.and_then(|planned| planned.heading.as_ref());
        let title = motif_title(&self.query.name, &self.query.title, self.telling.words);
        curly(own.unwrap_or(&title))
    }

    /// A teacher's words before its parts, by the part.
    fn own_words(&self) -> BTreeMap<&'static str, Value> {
        let words = self.planned.into_iter().flat_map(|planned| &planned.words);
        words.map(|(part, words)| (part.word(), marked_up(words))).collect()
    }

    /// The parts that it has.
    fn parts(&self) -> BTreeMap<&'static str, bool> {
        let is_left_out =
            |part: &Part| self.planned.is_some_and(|planned| planned.without.contains(part));
        let parts = Part::ALL.into_iter();
        parts.map(|(word, part)| (word, !is_left_out(&part))).collect()
    }

    /// A real position with the squares that the offer is about ringed.
    #[must_use]
    pub fn key_diagram(&self) -> Option<Diagram> {
        self.key().map(|specimen| game::key_diagram(specimen, self.query, self.telling.words))
    }

    /// The offer on whose board the motif is explained.
    fn key(&self) -> Option<&Specimen> {
        self.found.models.iter().find_map(|model| Some(&model.as_mined()?.specimen))
    }

    /// What must come of the follow-ups, in sentences, of each set one.
    fn sequels(&self) -> Vec<String> {
        let words = self.telling.words;
        let [or, and_later] = ["query-or", "query-and-later"].map(|name| words.say(name));
        let text = |&index: &usize| self.query.follow_ups[index].text.clone();
        let row = |row: &Vec<usize>| row.iter().map(text).collect::<Vec<_>>().join(&and_later);
        let requires = self.query.requires.iter();
        let sentences = requires.map(|(_, requirement)| match requirement {
            Requirement::Comes(rows) => rows.iter().map(row).collect::<Vec<_>>().join(&or),
            Requirement::StaysAway(index) => {
                words.tell("query-never", [("sequel", text(index).into())])
            }
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
