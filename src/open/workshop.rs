//! What takes long is made in a workshop, one thing after the other: what the program would choose, lessons, sheets.

use std::sync::Mutex;
use std::sync::mpsc::{Receiver, Sender, channel};

use tokio::sync::oneshot;

use crate::desk::{ExerciseName, Noted};
use crate::pages::ExerciseFormat;
use crate::plan::{Audience, GameSource};
use crate::teaching::{ExerciseKind, Levels};

/// What is to be made.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum WorkOrder {
    /// The games and exercises that the program would choose for the lesson on a motif.
    Proposals {
        /// The motif.
        motif: String,
    },
    /// An exercise on a motif that is none of these.
    Another {
        /// The motif.
        motif: String,
        /// What it asks.
        kind: ExerciseKind,
        /// How hard it is.
        levels: Levels,
        /// Those that are there, or were dropped.
        known: Vec<(ExerciseKind, String)>,
    },
    /// The page of the lesson on a motif, as a plan's text has it.
    Lesson {
        /// The motif.
        motif: String,
        /// The plan.
        plan: String,
        /// In which format.
        format: LessonFormat,
    },
    /// A sheet, as a plan's text has it.
    Sheet {
        /// Its name.
        name: String,
        /// The plan.
        plan: String,
        /// For whom.
        audience: Audience,
        /// In which format.
        format: ExerciseFormat,
    },
    /// The exercises that a sheet of a plan has now.
    OnSheet {
        /// Its name.
        name: String,
        /// The plan.
        plan: String,
    },
}

/// How a lesson is written.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum LessonFormat {
    /// Its page.
    Html,
    /// Its games.
    Pgn,
}

/// What was made.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Work {
    /// A page or a file.
    Text(String),
    /// What the program would choose.
    Proposals(Proposals),
    /// Exercises.
    Exercises(Vec<Noted<ExerciseName>>),
}

/// What the program would choose for a lesson.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Proposals {
    /// What is known of the motif, in a line.
    pub says: String,
    /// The heading of its chapter.
    pub chapter: String,
    /// Its heading.
    pub heading: String,
    /// Its games.
    pub games: Vec<Noted<GameSource>>,
    /// Its exercises.
    pub exercises: Vec<Noted<ExerciseName>>,
}

/// An order, and where to bring what is made.
pub type WorkOrdered = (WorkOrder, oneshot::Sender<Result<Work, String>>);

/// Where orders go.
#[derive(Debug)]
pub struct Workshop {
    orders: Mutex<Sender<WorkOrdered>>,
}

impl Workshop {
    /// A workshop, and the orders for whoever works in it.
    #[must_use]
    pub fn new() -> (Workshop, Receiver<WorkOrdered>) {
        let (orders, ordered) = channel();
        (Workshop { orders: Mutex::new(orders) }, ordered)
    }

    /// Orders something and waits for it.
    ///
    /// # Errors
    ///
    /// Why it could not be made.
    pub async fn made(&self, order: WorkOrder) -> Result<Work, String> {
        const CLOSED: &str = "the program is about to end";
        let (bring, brought) = oneshot::channel();
        let sent = self.orders.lock().map(|orders| orders.send((order, bring)).is_ok());
        if !sent.unwrap_or(false) {
            return Err(CLOSED.to_owned());
        }
        brought.await.unwrap_or_else(|_| Err(CLOSED.to_owned()))
    }

    /// What the program would choose for the lesson on a motif.
    ///
    /// # Errors
    ///
    /// Why it can't be said.
    pub(super) async fn proposals(&self, motif: &str) -> Result<Proposals, String> {
        match self.made(WorkOrder::Proposals { motif: motif.to_owned() }).await? {
            Work::Proposals(proposals) => Ok(proposals),
            _ => Err(OTHER.to_owned()),
        }
    }

    /// The exercises that an order is for.
    ///
    /// # Errors
    ///
    /// Why they can't be made.
    pub(super) async fn exercises(
        &self,
        order: WorkOrder,
    ) -> Result<Vec<Noted<ExerciseName>>, String> {
        match self.made(order).await? {
            Work::Exercises(exercises) => Ok(exercises),
            _ => Err(OTHER.to_owned()),
        }
    }

    /// The text that an order is for.
    ///
    /// # Errors
    ///
    /// Why it can't be made.
    pub(super) async fn text(&self, order: WorkOrder) -> Result<String, String> {
        match self.made(order).await? {
            Work::Text(text) => Ok(text),
            _ => Err(OTHER.to_owned()),
        }
    }
}

const OTHER: &str = "something else was made than what was asked for";
