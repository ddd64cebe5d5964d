//! A sheet of exercises as text: to print, and for programs.
//!
//! Invariant: the same exercises give the same bytes, and whatever is from a game is made safe for its
//! format.

mod csv;
mod epd;
mod html;
mod pdf;
mod pgn;
mod projector;

use std::collections::{BTreeMap, BTreeSet};

use crate::pages::solution::{Asks, of_kind};
use crate::pages::telling::Telling;
use crate::pages::template::motif_title;
use crate::pages::{PageFault, press};
use crate::plan::{Audience, SheetLayout};
use crate::teaching::{Exercise, ExerciseKind};

/// A format in which exercises are written.
#[derive(Clone, Copy, PartialEq, Eq, Debug, clap::ValueEnum)]
pub enum ExerciseFormat {
    /// A page to print, solutions at its end.
    Html,
    /// A page for a projector: one exercise at a time, large, the answer behind a key.
    Projector,
    /// A file to print: what the page holds.
    Pdf,
    /// A game for each exercise, with the solution as its moves.
    Pgn,
    /// A line for each exercise.
    Epd,
    /// A row for each exercise, with a question and an answer, for flash cards.
    Csv,
}

impl ExerciseFormat {
    /// Whether this program was built with it.
    #[must_use]
    pub const fn is_built(self) -> bool {
        !matches!(self, ExerciseFormat::Pdf) || press::IS_BUILT
    }
}

/// A sheet of exercises to be written.
#[derive(Clone, Copy, Debug)]
pub struct SheetOfExercises<'e> {
    /// The title; nothing for one that says what is asked.
    pub title: Option<&'e str>,
    /// The exercises, in order.
    pub exercises: &'e [Exercise],
    /// The title of each query, and how its hits scored, in a sentence.
    pub motifs: &'e BTreeMap<String, Motif>,
    /// How it is told.
    pub telling: &'e Telling,
    /// Whom it is for.
    pub audience: Audience,
    /// How its page is laid out.
    pub layout: SheetLayout,
}

/// What is said about a query.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Motif {
    /// Its title.
    pub title: String,
    /// How its hits scored.
    pub statistics: String,
}

impl SheetOfExercises<'_> {
    /// The sheet in a format.
    ///
    /// # Errors
    ///
    /// Why it can't be written.
    pub fn written(&self, format: ExerciseFormat) -> Result<Vec<u8>, PageFault> {
        Ok(match format {
            ExerciseFormat::Html => html::written(self)?.into_bytes(),
            ExerciseFormat::Projector => projector::written(self)?.into_bytes(),
            ExerciseFormat::Pdf => pdf::written(self)?,
            ExerciseFormat::Pgn => pgn::written(self).into_bytes(),
            ExerciseFormat::Epd => epd::written(self).into_bytes(),
            ExerciseFormat::Csv => csv::written(self).into_bytes(),
        })
    }

    /// What all exercises count together.
    fn points(&self) -> u64 {
        self.exercises.iter().map(|exercise| exercise.level.points()).sum()
    }

    /// What is asked, each kind once.
    fn kinds(&self) -> Vec<ExerciseKind> {
        let kinds: BTreeSet<_> = self.exercises.iter().map(|exercise| exercise.kind).collect();
        kinds.into_iter().collect()
    }

    /// How much a question must say.
    fn asks(&self) -> Asks {
        if self.kinds().len() > 1 { Asks::AmongOthers } else { Asks::OneThing }
    }

    fn title(&self) -> String {
        let by_kind = || match self.kinds()[..] {
            [kind] => self.telling.words.say(&of_kind(kind)),
            _ => self.telling.words.say("exercises-mixed"),
        };
        self.title.map_or_else(by_kind, str::to_owned)
    }

    /// What the solutions rest on.
    fn rests_on(&self) -> String {
        let (kinds, words) = (self.kinds(), self.telling.words);
        let short = kinds.iter().filter(|kind| kind.is_short());
        let short: Vec<String> = short.map(|&kind| words.say(&of_kind(kind))).collect();
        if short.is_empty() {
            self.telling.rests_on.clone()
        } else if short.len() == kinds.len() {
            words.say("rests-on-rules")
        } else {
            let kinds = ("kinds", short.join(&words.say("semicolon")).into());
            words
                .tell("rests-on-both", [("rests_on", self.telling.rests_on.as_str().into()), kinds])
        }
    }

    fn motif_title(&self, exercise: &Exercise) -> String {
        let query = &*exercise.hit.query;
        let title = self.motifs.get(query).map_or(query, |motif| &motif.title);
        motif_title(query, title, self.telling.words)
    }

    fn statistics(&self, exercise: &Exercise) -> &str {
        self.motifs.get(&*exercise.hit.query).map_or("", |motif| &motif.statistics)
    }
}
