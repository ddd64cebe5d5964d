//! A sheet of a plan, and what classes were given.

use std::fmt::Write as _;

use super::audience::Audience;
use super::layout::SheetLayout;
use super::planned::Planned;
use crate::query::Chapter;
use crate::teaching::{ExerciseKind, Levels, Quota};

/// A sheet as a teacher wants it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct PlannedSheet {
    /// What its files are called.
    pub name: Planned<String>,
    /// Its title; one that says what is asked if there is none.
    pub title: Option<String>,
    /// For whom it is written; a page for each.
    pub audiences: Vec<Audience>,
    /// Whether there is a page for a projector, too.
    pub is_projected: bool,
    /// Whether each page is made as PDF, too.
    pub is_pdf: bool,
    /// How it is laid out on paper.
    pub layout: SheetLayout,
    /// The class that is given it.
    pub class: Option<String>,
    /// What stands on it.
    pub wanted: SheetWanted,
}

/// What stands on a sheet.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum SheetWanted {
    /// So many of each kind, that the program chooses.
    Quotas {
        /// How many of which kind.
        quotas: Vec<Quota>,
        /// How hard.
        levels: Levels,
        /// The queries whose offers are used; all if there are none.
        motifs: Vec<Planned<String>>,
        /// The chapters of these queries; all if there are none.
        chapters: Vec<Chapter>,
        /// Which of many sheets.
        seed: u64,
    },
    /// These, in this order.
    These(Vec<SheetExercise>),
}

/// An exercise of a sheet.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct SheetExercise {
    /// What is asked.
    pub kind: ExerciseKind,
    /// The id of its hit.
    pub id: Planned<String>,
}

/// What a class was given.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Given {
    /// The class.
    pub class: String,
    /// The sheet.
    pub sheet: String,
    /// The day, as it was written; empty if none was.
    pub on: String,
    /// Its exercises.
    pub exercises: Vec<SheetExercise>,
    /// The positions, as FEN.
    pub positions: Vec<Planned<String>>,
}

impl PlannedSheet {
    /// The file of its page for somebody.
    #[must_use]
    pub fn file(&self, audience: Audience) -> String {
        self.stem(audience) + ".html"
    }

    /// The file of the same as PDF, if there is one.
    #[must_use]
    pub fn pdf_file(&self, audience: Audience) -> Option<String> {
        self.is_pdf.then(|| self.stem(audience) + ".pdf")
    }

    fn stem(&self, audience: Audience) -> String {
        let name = &self.name.value;
        match audience {
            Audience::Both => name.clone(),
            Audience::Pupil => format!("{name}-pupil"),
            Audience::Teacher => format!("{name}-teacher"),
        }
    }

    /// The file of its page for a projector, if it has one.
    #[must_use]
    pub fn projector_file(&self) -> Option<String> {
        self.is_projected.then(|| format!("{}-projector.html", self.name.value))
    }
}

/// What is added to a plan's file when a class was given a sheet: exercises by kind and id, and their positions as FEN.
#[must_use]
pub fn given_entry(
    class: &str,
    sheet: &str,
    on: &str,
    exercises: &[(ExerciseKind, String)],
    positions: &[String],
) -> String {
    let quoted = |text: &str| toml::Value::String(text.to_owned()).to_string();
    let mut entry = String::from("\n\n[[given]]\n");
    for (key, value) in [("class", class), ("sheet", sheet), ("on", on)] {
        let _ = writeln!(entry, "{key} = {}", quoted(value));
    }
    let exercises = exercises.iter().map(|(kind, id)| format!("{} {id}", kind.word()));
    let exercises: Vec<String> = exercises.collect();
    for (key, values) in [("exercises", &exercises[..]), ("positions", positions)] {
        let _ = writeln!(entry, "{key} = [");
        for value in values {
            let _ = writeln!(entry, "  {},", quoted(value));
        }
        entry.push_str("]\n");
    }
    entry
}
