//! What can be changed in a plan, as values.
//!
//! Invariant: an edit names what it is about by what that is, never by its place, so that it means the same in a plan that
//! was changed elsewhere.

use crate::plan::{GameSource, MoveName, Part, PlannedSheet};
use crate::teaching::{ExerciseKind, Levels};

/// One change of a plan.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Edit {
    /// Says something of the course, or nothing.
    Course(CourseField, Option<String>),
    /// Adds a lesson, whose games and exercises are left to the program.
    AddLesson(NewLesson, Spot<String>),
    /// Drops the lesson on a motif.
    DropLesson(String),
    /// Moves the lesson on a motif.
    MoveLesson(String, Spot<String>),
    /// Changes the lesson on a motif.
    Lesson(String, LessonEdit),
    /// Adds a sheet after all others.
    AddSheet(Box<PlannedSheet>),
    /// Drops the sheet of this name.
    DropSheet(String),
    /// Moves the sheet of this name.
    MoveSheet(String, Spot<String>),
    /// Changes what is said of the sheet of this name, and how many exercises it has; those that it names stay.
    ChangeSheet(String, Box<PlannedSheet>),
    /// Changes the list of exercises that the sheet of this name names.
    SheetExercises(String, ListEdit<ExerciseName>),
    /// Writes down the exercises of a sheet that so far said only how many; nothing happens if it names some.
    SettleSheet(String, Vec<Noted<ExerciseName>>),
    /// Notes that a class was given a sheet.
    Give(SheetGiven),
}

/// That a class was given a sheet.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct SheetGiven {
    /// The class.
    pub class: String,
    /// The sheet.
    pub sheet: String,
    /// The day, as `2031-04-05`.
    pub on: String,
    /// Its exercises: what each asks, and the id of its hit.
    pub exercises: Vec<(ExerciseKind, String)>,
    /// Their positions, as FEN.
    pub positions: Vec<String>,
}

/// What is said of a course.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum CourseField {
    /// Its title.
    Title,
    /// Whom it is for.
    Audience,
    /// Words before the list of lessons.
    Words,
}

/// One change of a lesson.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum LessonEdit {
    /// The heading under which the course lists it.
    Chapter(Option<String>),
    /// Its heading.
    Heading(Option<String>),
    /// Words before a part.
    Words(Part, Option<String>),
    /// Whether a part is left out.
    LeaveOut(Part, bool),
    /// Writes down the games that the program would choose; nothing happens if the lesson names some.
    SettleGames(Vec<Noted<GameSource>>),
    /// Changes the list of its games.
    Games(ListEdit<GameSource>),
    /// Words in a game.
    GameWords(Nth<GameSource>, WordsPlace, Option<String>),
    /// Writes down the exercises that the program would choose; nothing happens if the lesson names some.
    SettleExercises(Vec<Noted<ExerciseName>>),
    /// Changes the list of its exercises.
    Exercises(ListEdit<ExerciseName>),
}

/// Where words stand in a game.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum WordsPlace {
    /// Before it.
    Before,
    /// At a move.
    At(MoveName),
    /// After it.
    After,
}

/// One change of a list of games or exercises.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum ListEdit<K> {
    /// Adds an entry.
    Add(Noted<K>, Spot<K>),
    /// Drops one.
    Drop(Nth<K>),
    /// Puts another in the place of one.
    Replace(Nth<K>, Noted<K>),
    /// Moves one.
    Move(Nth<K>, Spot<K>),
}

/// An entry by what it names; a file may hold the same twice.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Nth<K> {
    /// What it names.
    pub name: K,
    /// How many entries before it name the same.
    pub nth: usize,
}

impl<K> Nth<K> {
    /// The first entry that names this.
    pub const fn first(name: K) -> Nth<K> {
        Nth { name, nth: 0 }
    }
}

/// A place in a list.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Spot<K> {
    /// Before all.
    First,
    /// After an entry.
    After(Nth<K>),
    /// After all.
    Last,
}

/// An entry to be written, with a line that says what it is.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Noted<K> {
    /// What it names.
    pub name: K,
    /// What it is, for a comment.
    pub says: Option<String>,
}

/// A lesson to be written.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct NewLesson {
    /// The query that finds its motif, with what is known of it.
    pub motif: Noted<String>,
    /// The heading of its chapter.
    pub chapter: Option<String>,
    /// Its heading.
    pub heading: Option<String>,
}

/// Exercises of a plan by what they ask for.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum ExerciseName {
    /// This one: what is asked, and the id of its hit.
    One(ExerciseKind, String),
    /// So many that the program chooses.
    Some(ExerciseKind, usize, Levels),
}
