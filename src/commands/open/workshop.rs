//! The workshop behind the pages: what takes long is made here, by the very functions of the commands.

use std::collections::VecDeque;
use std::path::PathBuf;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, RecvTimeoutError};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

use crate::advice::hint_of;
use crate::board::PieceLetters;
use crate::commands::course::{PlanFile, exercises_of, lesson_alone, position_given, sheet_text};
use crate::commands::examiners::Examiners;
use crate::commands::lesson::{findings, query_of_motif};
use crate::commands::runs::Mined;
use crate::desk::{ExerciseName, Noted};
use crate::engine::Program;
use crate::hits::query_in;
use crate::open::{LessonFormat, Proposals, Work, WorkOrder, WorkOrdered};
use crate::pages::{
    ExerciseFormat, GamesFormat, Lesson, PlaceInCourse, WholeGames, about_exercise, in_plan,
};
use crate::plan::{Audience, GameSource, PlannedSheet};
use crate::statistics::Outcomes;
use crate::teaching::{
    Exercise, ExerciseKind, ExerciseWish, LessonGame, LessonWishes, Levels, WholeGame,
};
use crate::terminal::{Bar, Terminal};
use crate::verdict::Effort;
use crate::words::Words;

/// How often the worker looks whether the program is about to end.
const LOOK: Duration = Duration::from_millis(100);
/// How long the end waits for what is being made.
const TO_FINISH: Duration = Duration::from_secs(2);
/// How many texts are kept that may be asked for again.
const KEPT: usize = 24;
/// What is said of what was stopped.
const STOPPED: &str = "it was stopped";

/// What the worker works with.
pub(super) struct Worker {
    pub(super) mined: Mined,
    pub(super) program: Option<Program>,
    pub(super) threads: usize,
    pub(super) effort: Effort,
    pub(super) letters: PieceLetters,
    pub(super) plan: PathBuf,
    /// What was made lately, by any worker.
    pub(super) shelf: Arc<MadeLately>,
    /// Tells this one to stop what it does.
    pub(super) stop: Arc<AtomicBool>,
}

/// What was made lately, and may be asked for again.
#[derive(Debug, Default)]
pub(super) struct MadeLately(Mutex<VecDeque<(WorkOrder, Work)>>);

impl MadeLately {
    fn find(&self, order: &WorkOrder) -> Option<Work> {
        let made = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        made.iter().find(|(known, _)| known == order).map(|(_, work)| work.clone())
    }

    fn keep(&self, order: WorkOrder, work: Work) {
        let mut made = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        made.push_front((order, work));
        made.truncate(KEPT);
    }
}

/// Does what is ordered until the program ends.
pub(super) fn work(
    worker: Worker,
    orders: &Mutex<Receiver<WorkOrdered>>,
    terminal: Terminal,
    is_over: impl Fn() -> bool,
) {
    let bench = WorkBench { worker: &worker, terminal };
    let mut examiners: Option<Examiners<'_>> = None;
    while !is_over() {
        let ordered = orders.lock().unwrap_or_else(PoisonError::into_inner).recv_timeout(LOOK);
        let WorkOrdered { order, bring, ticket } = match ordered {
            Ok(ordered) => ordered,
            Err(RecvTimeoutError::Timeout) => continue,
            Err(RecvTimeoutError::Disconnected) => break,
        };
        let made = match ticket.begin(&worker.stop) {
            true => bench.made(order, &mut examiners),
            false => Err(anyhow::anyhow!(STOPPED)),
        };
        ticket.end();
        // Whoever ordered it may have gone.
        let _ = bring.send(made.map_err(|error| told(&error)));
    }
    if let Some(Err(error)) = examiners.map(|examiners| examiners.end(terminal)) {
        terminal.failure(&error);
    }
}

/// An error with what to do about it, in a line.
fn told(error: &anyhow::Error) -> String {
    let hint = hint_of(error).map(|hint| format!(" ({hint})")).unwrap_or_default();
    format!("{error:#}{hint}")
}

/// Waits a little for the worker to end, so that an engine ends with the program.
pub(super) fn wait_for(working: &[JoinHandle<()>]) {
    let until = Instant::now() + TO_FINISH;
    while working.iter().any(|one| !one.is_finished()) && Instant::now() < until {
        std::thread::sleep(LOOK / 4);
    }
}

/// Where the worker makes things.
struct WorkBench<'w> {
    worker: &'w Worker,
    terminal: Terminal,
}

impl<'w> WorkBench<'w> {
    fn made(
        &self,
        order: WorkOrder,
        examiners: &mut Option<Examiners<'w>>,
    ) -> anyhow::Result<Work> {
        let Worker { threads, effort, program, shelf, stop, .. } = self.worker;
        if let Some(work) = shelf.find(&order) {
            return Ok(work);
        }
        if examiners.is_none() {
            let new = Examiners::new(*threads, *effort, program.as_ref())?;
            *examiners = Some(new.until(stop.clone()));
        }
        let Some(examiners) = examiners else { anyhow::bail!("nobody can prove anything") };
        let work = self.make(&order, examiners);
        // What was stopped may seem to be made, with less in it.
        anyhow::ensure!(!stop.load(Ordering::Relaxed), STOPPED);
        let work = work?;
        shelf.keep(order, work.clone());
        Ok(work)
    }

    fn make(&self, order: &WorkOrder, examiners: &mut Examiners<'w>) -> anyhow::Result<Work> {
        match order {
            WorkOrder::Proposals { motif } => self.proposals(motif, examiners).map(Work::Proposals),
            WorkOrder::Another { motif, kind, levels, known } => {
                let another = self.another(motif, (*kind, *levels), known, examiners)?;
                Ok(Work::Exercises(another.into_iter().collect()))
            }
            WorkOrder::Lesson { motif, plan, format } => {
                self.lesson(motif, plan, *format, examiners).map(Work::Content)
            }
            WorkOrder::Sheet { name, plan, audience, format } => {
                self.sheet(name, plan, (*audience, *format), examiners).map(Work::Content)
            }
            WorkOrder::OnSheet { name, plan } => {
                let (_, exercises) = self.on_sheet(name, plan, examiners)?;
                let positions = exercises.iter().map(position_given).collect();
                Ok(Work::OnSheet(named(&exercises), positions))
            }
        }
    }

    /// What a first plan would say of a motif.
    fn proposals(&self, motif: &str, examiners: &mut Examiners<'w>) -> anyhow::Result<Proposals> {
        let mined = &self.worker.mined;
        let query = query_of_motif(motif, mined, self.terminal)?;
        let wishes = LessonWishes::default();
        let found = findings(&query, &wishes, mined, examiners, &Bar::hidden())?;
        let lesson = in_plan(&query, &found, Outcomes::games(&mined.base.all()), Words::ENGLISH);
        let game = |game: crate::plan::WrittenGame| Noted {
            name: GameSource::Hit(game.id),
            says: Some(game.says),
        };
        Ok(Proposals {
            says: lesson.says,
            chapter: lesson.chapter,
            heading: lesson.heading,
            games: lesson.games.into_iter().map(game).collect(),
            exercises: named(&found.exercises),
        })
    }

    /// An exercise that is none of those known: they are made first, so that it is not like them, either.
    fn another(
        &self,
        motif: &str,
        (kind, levels): (ExerciseKind, Levels),
        known: &[(ExerciseKind, String)],
        examiners: &mut Examiners<'w>,
    ) -> anyhow::Result<Option<Noted<ExerciseName>>> {
        let mined = &self.worker.mined;
        let query = query_of_motif(motif, mined, self.terminal)?;
        let known = known.iter().filter(|(_, id)| query_in(id) == Some(motif));
        let known: Vec<_> = known.map(|(kind, id)| ExerciseWish::One(*kind, id.clone())).collect();
        let wanted = ExerciseWish::Some(kind, 1, levels);
        let exercises = known.iter().cloned().chain([wanted]).collect();
        let wishes = LessonWishes { games: Some(Vec::new()), exercises: Some(exercises) };
        let found = findings(&query, &wishes, mined, examiners, &Bar::hidden())?;
        let is_known = |one: &Exercise| {
            known.iter().any(|wish| *wish == ExerciseWish::One(one.kind, one.hit.id.clone()))
        };
        let mut new = found.exercises.into_iter().filter(|one| one.kind == kind && !is_known(one));
        Ok(new.next().and_then(|one| named(&[one]).pop()))
    }

    fn file(&self, plan: &str) -> anyhow::Result<PlanFile> {
        let read = PlanFile::of(&self.worker.plan, plan.to_owned());
        read.map_err(|problems| anyhow::anyhow!("{}", problems.render(false)))
    }

    fn lesson(
        &self,
        motif: &str,
        plan: &str,
        format: LessonFormat,
        examiners: &mut Examiners<'w>,
    ) -> anyhow::Result<Vec<u8>> {
        let (file, mined) = (self.file(plan)?, &self.worker.mined);
        let (query, found) = lesson_alone(&file, motif, mined, examiners, self.terminal)?;
        let letters = file.plan.pieces.unwrap_or(self.worker.letters);
        let planned = file.plan.lesson_on(motif);
        let words = Words::of(file.plan.language.unwrap_or_default());
        let telling = examiners.telling(words, letters, mined);
        match format {
            LessonFormat::Html => {
                let (all_games, place) = (mined.base.all(), PlaceInCourse::default());
                let (query, found, telling) = (&query, &found, &telling);
                let lesson = Lesson { query, found, all_games, place, telling, planned };
                Ok(lesson.to_html()?.into_bytes())
            }
            LessonFormat::Pgn => {
                let games = found.models.iter().filter_map(LessonGame::as_mined);
                let games: Vec<WholeGame> = games.cloned().collect();
                let caution = telling.caution.as_deref();
                let games = WholeGames { query: &query, games: &games, letters, caution };
                Ok(games.written(GamesFormat::Pgn).into_bytes())
            }
        }
    }

    fn sheet(
        &self,
        name: &str,
        plan: &str,
        way: (Audience, ExerciseFormat),
        examiners: &mut Examiners<'w>,
    ) -> anyhow::Result<Vec<u8>> {
        let plan_now = self.file(plan)?.plan;
        let words = Words::of(plan_now.language.unwrap_or_default());
        let letters = plan_now.pieces.unwrap_or(self.worker.letters);
        let (sheet, exercises) = self.on_sheet(name, plan, examiners)?;
        anyhow::ensure!(
            !exercises.is_empty(),
            "none of its exercises can be made of these runs; the terminal says why"
        );
        let mined = &self.worker.mined;
        sheet_text(&sheet, &exercises, &examiners.telling(words, letters, mined), mined, way)
    }

    fn on_sheet(
        &self,
        name: &str,
        plan: &str,
        examiners: &mut Examiners<'w>,
    ) -> anyhow::Result<(PlannedSheet, Vec<Exercise>)> {
        let file = self.file(plan)?;
        let sheet = file.plan.sheet(name).cloned();
        let sheet = sheet.ok_or_else(|| anyhow::anyhow!("the plan has no sheet `{name}`"))?;
        let mined = &self.worker.mined;
        let exercises = exercises_of(&file, &sheet, mined, examiners, self.terminal)?;
        Ok((sheet, exercises))
    }
}

/// Exercises as a plan names them; one hit can make several of a kind, which it names once.
fn named(exercises: &[Exercise]) -> Vec<Noted<ExerciseName>> {
    let named = |one: &Exercise| Noted {
        name: ExerciseName::One(one.kind, one.hit.id.clone()),
        says: Some(about_exercise(one, Words::ENGLISH)),
    };
    let mut all: Vec<Noted<ExerciseName>> = exercises.iter().map(named).collect();
    all.dedup_by(|one, other| one.name == other.name);
    all
}
