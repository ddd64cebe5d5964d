//! What takes long is made in a workshop, a few things at a time: what the program would choose, lessons, sheets.

use std::sync::mpsc::{Receiver, Sender, channel};
use std::sync::{Arc, Mutex, PoisonError, Weak};

use tokio::sync::oneshot;

use super::ticket::{SomebodyWaits, Ticket};
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

impl WorkOrder {
    /// What is to be made, in a word or two, by which whoever waits for it knows it again.
    pub(super) fn what(&self) -> String {
        match self {
            WorkOrder::Proposals { motif } | WorkOrder::Another { motif, .. } => {
                format!("proposals {motif}")
            }
            WorkOrder::Lesson { motif, .. } => format!("lesson {motif}"),
            WorkOrder::Sheet { name, .. } | WorkOrder::OnSheet { name, .. } => {
                format!("sheet {name}")
            }
        }
    }
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
    Content(Vec<u8>),
    /// What the program would choose.
    Proposals(Proposals),
    /// Exercises.
    Exercises(Vec<Noted<ExerciseName>>),
    /// The exercises of a sheet, and their positions as FEN.
    OnSheet(Vec<Noted<ExerciseName>>, Vec<String>),
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

/// An order that somebody waits for.
#[derive(Debug)]
pub struct WorkOrdered {
    /// What is to be made.
    pub order: WorkOrder,
    /// Where to bring it.
    pub bring: oneshot::Sender<Result<Work, String>>,
    /// Who waits for it.
    pub ticket: Arc<Ticket>,
}

/// Where orders go.
#[derive(Debug)]
pub struct Workshop {
    orders: Mutex<Sender<WorkOrdered>>,
    /// What was ordered and may be waited for.
    tickets: Mutex<Vec<Weak<Ticket>>>,
}

impl Workshop {
    /// A workshop, and the orders for whoever works in it.
    #[must_use]
    pub fn new() -> (Workshop, Receiver<WorkOrdered>) {
        let (orders, ordered) = channel();
        (Workshop { orders: Mutex::new(orders), tickets: Mutex::default() }, ordered)
    }

    /// Orders something and waits for it; if whoever waits goes away, it is given up.
    ///
    /// # Errors
    ///
    /// Why it could not be made.
    pub async fn made(&self, order: WorkOrder) -> Result<Work, String> {
        const CLOSED: &str = "the program is about to end";
        let (bring, brought) = oneshot::channel();
        let waits = SomebodyWaits(Ticket::new(order.what()));
        self.tickets().push(Arc::downgrade(&waits.0));
        let ordered = WorkOrdered { order, bring, ticket: waits.0.clone() };
        let sent = self.orders.lock().map(|orders| orders.send(ordered).is_ok());
        if !sent.unwrap_or(false) {
            return Err(CLOSED.to_owned());
        }
        brought.await.unwrap_or_else(|_| Err(CLOSED.to_owned()))
    }

    /// What is waited for of all that is called so.
    pub(super) fn waited_for(&self, what: &str) -> Vec<Arc<Ticket>> {
        let mut tickets = self.tickets().iter().filter_map(Weak::upgrade).collect::<Vec<_>>();
        tickets.retain(|ticket| ticket.what() == what);
        tickets
    }

    /// The tickets that are still held; what is behind the lock is whole at any time.
    fn tickets(&self) -> std::sync::MutexGuard<'_, Vec<Weak<Ticket>>> {
        let mut tickets = self.tickets.lock().unwrap_or_else(PoisonError::into_inner);
        tickets.retain(|ticket| ticket.strong_count() > 0);
        tickets
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
            Work::Exercises(exercises) | Work::OnSheet(exercises, _) => Ok(exercises),
            _ => Err(OTHER.to_owned()),
        }
    }

    /// The exercises that a sheet of a plan has now, and their positions as FEN.
    ///
    /// # Errors
    ///
    /// Why they can't be made.
    pub(super) async fn on_sheet(
        &self,
        name: &str,
        plan: &str,
    ) -> Result<(Vec<Noted<ExerciseName>>, Vec<String>), String> {
        let order = WorkOrder::OnSheet { name: name.to_owned(), plan: plan.to_owned() };
        match self.made(order).await? {
            Work::OnSheet(exercises, positions) => Ok((exercises, positions)),
            _ => Err(OTHER.to_owned()),
        }
    }

    /// The page or file that an order is for.
    ///
    /// # Errors
    ///
    /// Why it can't be made.
    pub(super) async fn content(&self, order: WorkOrder) -> Result<Vec<u8>, String> {
        match self.made(order).await? {
            Work::Content(content) => Ok(content),
            _ => Err(OTHER.to_owned()),
        }
    }
}

const OTHER: &str = "something else was made than what was asked for";
