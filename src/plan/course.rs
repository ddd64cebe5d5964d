//! What a plan holds, each entry with its place in the file.

use std::collections::{BTreeMap, BTreeSet};
use std::path::PathBuf;

use super::move_name::MoveName;
use super::planned::Planned;
use super::sheet::{Given, PlannedSheet};
use crate::board::PieceLetters;
use crate::teaching::{ExerciseKind, Levels};
use crate::words::Language;

/// A course as a teacher wants it.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct CoursePlan {
    /// The title of the course.
    pub title: Option<String>,
    /// Whom it is for.
    pub audience: Option<String>,
    /// Words before the list of lessons, marked up.
    pub words: Option<String>,
    /// The language of its fixed words.
    pub language: Option<Language>,
    /// The letters of its moves; those of the language if none are named.
    pub pieces: Option<PieceLetters>,
    /// The lessons, in order.
    pub lessons: Vec<PlannedLesson>,
    /// The sheets, in order.
    pub sheets: Vec<PlannedSheet>,
    /// What classes were given.
    pub given: Vec<Given>,
}

impl CoursePlan {
    /// The lesson on a motif.
    #[must_use]
    pub fn lesson_on(&self, motif: &str) -> Option<&PlannedLesson> {
        self.lessons.iter().find(|lesson| lesson.motif.value == motif)
    }

    /// The sheet of this name.
    #[must_use]
    pub fn sheet(&self, name: &str) -> Option<&PlannedSheet> {
        self.sheets.iter().find(|sheet| sheet.name.value == name)
    }

    /// What a class was given as the sheet of this name.
    #[must_use]
    pub fn given_to(&self, class: &str, sheet: &str) -> Option<&Given> {
        self.given.iter().find(|given| given.class == class && given.sheet == sheet)
    }

    /// The files of its sheets.
    pub fn sheet_files(&self) -> impl Iterator<Item = String> {
        let files = |sheet: &PlannedSheet| {
            let files = sheet
                .audiences
                .iter()
                .flat_map(|&audience| [Some(sheet.file(audience)), sheet.pdf_file(audience)]);
            files.flatten().chain(sheet.projector_file()).collect::<Vec<_>>()
        };
        self.sheets.iter().flat_map(files)
    }
}

/// A lesson as a teacher wants it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct PlannedLesson {
    /// The query that finds its motif.
    pub motif: Planned<String>,
    /// The heading under which the course lists it; that of the motif's chapter if there is none.
    pub chapter: Option<String>,
    /// Its heading; the motif's title if there is none.
    pub heading: Option<String>,
    /// Words before its parts, marked up.
    pub words: BTreeMap<Part, String>,
    /// The parts that it does without.
    pub without: BTreeSet<Part>,
    /// Its games; those that the program chooses if none are named.
    pub games: Option<Vec<PlannedGame>>,
    /// Its exercises; those that the program chooses if none are named.
    pub exercises: Option<Vec<PlannedExercise>>,
}

/// A part of a lesson, before which a teacher may say something.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Part {
    /// The lesson itself.
    Start,
    /// How often, and how well.
    Numbers,
    /// Rules of thumb.
    Rules,
    /// What was played.
    Tree,
    /// Model games.
    Games,
    /// Exercises.
    Exercises,
    /// What comes after all.
    End,
}

impl Part {
    /// All parts in their order, with their words in a plan.
    pub const ALL: [(&'static str, Part); 7] = [
        ("start", Part::Start),
        ("numbers", Part::Numbers),
        ("rules", Part::Rules),
        ("tree", Part::Tree),
        ("games", Part::Games),
        ("exercises", Part::Exercises),
        ("end", Part::End),
    ];

    /// Its word in a plan.
    #[must_use]
    pub fn word(self) -> &'static str {
        Part::ALL.iter().find(|(_, part)| *part == self).map_or("", |(word, _)| word)
    }
}

/// A game of a lesson.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct PlannedGame {
    /// Where it is from.
    pub source: Planned<GameSource>,
    /// The move before which it opens, if not that of its offer or its first.
    pub opens: Option<Planned<MoveName>>,
    /// Words before it, marked up.
    pub before: Option<String>,
    /// Words after it, marked up.
    pub after: Option<String>,
    /// Words at its moves.
    pub at: Vec<WordsAtMove>,
}

/// Where a game of a lesson is from.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum GameSource {
    /// The runs: the id of a hit, or of a game.
    Hit(String),
    /// A file of the teacher's: its path from the plan's folder on, and which of its games, from 1.
    File(PathBuf, usize),
}

/// Words at a move of a game.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct WordsAtMove {
    /// The move.
    pub name: Planned<MoveName>,
    /// The words, marked up.
    pub words: String,
}

/// Exercises of a lesson.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum PlannedExercise {
    /// This one: what is asked, and the id of its hit.
    One(ExerciseKind, Planned<String>),
    /// So many that the program chooses: what is asked, how many, and of which levels.
    Some(ExerciseKind, usize, Levels),
}
