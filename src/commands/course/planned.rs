//! A plan beside the runs: what it names is looked up, and what is not there is told at its place.

use std::path::{Path, PathBuf};

use shakmaty::Position;

use super::LessonWanted;
use crate::commands::lesson::queries_of;
use crate::commands::runs::Mined;
use crate::commands::show_problems;
use crate::plan::{
    CoursePlan, GameSource, Planned, PlannedExercise, PlannedGame, PlannedLesson, PlannedSheet,
    SheetWanted,
};
use crate::teaching::{
    ExerciseWish, Findings, GameShown, LessonGame, LessonWishes, OwnGame, Picked, WholeGame,
    is_called, read_game, shown,
};
use crate::terminal::Terminal;
use crate::toml_files::{FileProblems, Problem, read_text};

/// A plan and the file it is from.
pub(in crate::commands) struct PlanFile {
    pub(super) path: PathBuf,
    pub(super) text: String,
    pub(in crate::commands) plan: CoursePlan,
}

/// What a lesson's games are looked up in.
struct LookedUp<'k> {
    /// The games out of the tables.
    mined: &'k [LessonGame],
    problems: Vec<Problem>,
    /// The places of the entries whose hit is gone, with its id.
    gone: Vec<Planned<String>>,
}

impl PlanFile {
    /// Reads a plan; the inner error is what is wrong in it.
    pub(in crate::commands) fn read(path: &Path) -> anyhow::Result<Result<PlanFile, FileProblems>> {
        let name = path.display().to_string();
        let text = match read_text(&name, "no plan") {
            Ok(text) => text,
            Err(problem) => return Ok(Err(FileProblems::new("", "", vec![problem]))),
        };
        let plan = CoursePlan::read(&name, &text);
        Ok(plan.map(|plan| PlanFile { path: path.to_owned(), text, plan }))
    }

    /// A plan's text that was read from this file.
    pub(in crate::commands) fn of(path: &Path, text: String) -> Result<PlanFile, FileProblems> {
        let plan = CoursePlan::read(&path.display().to_string(), &text)?;
        Ok(PlanFile { path: path.to_owned(), text, plan })
    }

    /// A plan that is not written yet.
    pub(in crate::commands) fn empty(path: &Path) -> PlanFile {
        PlanFile { path: path.to_owned(), text: String::new(), plan: CoursePlan::default() }
    }

    /// The lessons of the plan, if all that it names is as it should be; else its problems are shown.
    pub(super) fn wanted<'p>(
        &self,
        plan: &'p CoursePlan,
        mined: &Mined,
        terminal: Terminal,
    ) -> anyhow::Result<Option<Vec<LessonWanted<'p>>>> {
        let mut problems = Vec::new();
        let mut wanted: Vec<LessonWanted<'p>> = Vec::new();
        for planned in &plan.lessons {
            let (name, known) = (&planned.motif.value, mined.runs.queries());
            if !known.contains(&&**name) {
                problems.push(no_hits(&planned.motif, &known));
                continue;
            }
            let Some(queries) = queries_of(std::slice::from_ref(name), mined, terminal)? else {
                return Ok(None);
            };
            let of_query = |query| LessonWanted { query, planned: Some(planned) };
            wanted.extend(queries.into_iter().map(of_query));
        }
        let lessons: Vec<&PlannedLesson> =
            wanted.iter().filter_map(|wanted| wanted.planned).collect();
        problems.extend(self.check(&lessons, mined)?);
        problems.extend(unknown_motifs(plan, mined));
        if problems.is_empty() {
            return Ok(Some(wanted));
        }
        let path = self.path.display().to_string();
        show_problems(terminal, &[FileProblems::new(&path, &self.text, problems)]);
        Ok(None)
    }

    /// What is wrong with the games of lessons, before anything is proved; their games are read in one pass.
    fn check(&self, lessons: &[&PlannedLesson], mined: &Mined) -> anyhow::Result<Vec<Problem>> {
        let mut specimens = Vec::new();
        let mut counts = Vec::new();
        for planned in lessons {
            let mut picked = Picked::new(wishes(planned).games.into_iter().flatten());
            mined.runs.pass(&planned.motif.value, &mut [&mut picked])?;
            let found = picked.into_found();
            counts.push(found.len());
            specimens.extend(found);
        }
        let mut games = WholeGame::all(specimens, &mined.runs)?.into_iter().map(shown);
        let mut problems = Vec::new();
        for (planned, count) in lessons.iter().zip(counts) {
            let games: Vec<LessonGame> = games.by_ref().take(count).collect();
            let mut known = LookedUp { mined: &games, problems: Vec::new(), gone: Vec::new() };
            self.games(planned, &mut known);
            problems.extend(known.problems);
        }
        Ok(problems)
    }

    /// Puts a lesson's games in the order of the plan, with its words, and tells what is gone.
    pub(super) fn dress(
        &self,
        planned: &PlannedLesson,
        found: &mut Findings,
        terminal: Terminal,
    ) -> anyhow::Result<()> {
        if planned.games.is_some() {
            let mut known =
                LookedUp { mined: &found.models, problems: Vec::new(), gone: Vec::new() };
            let games = self.games(planned, &mut known);
            for gone in &known.gone {
                self.tell(gone, "these runs hold no such offer; it is left out", terminal);
            }
            found.models = games;
        }
        for &index in &found.unmet {
            match planned.exercises.as_ref().and_then(|all| all.get(index)) {
                Some(PlannedExercise::One(_, id)) => {
                    self.tell(id, "no such exercise can be made of it now", terminal);
                }
                Some(PlannedExercise::Some(kind, count, _)) => {
                    let (motif, kind) = (&planned.motif, kind.word());
                    let message =
                        format!("there are fewer than {count} exercises of kind `{kind}`");
                    self.tell(motif, &message, terminal);
                }
                None => {}
            }
        }
        Ok(())
    }

    /// Says what is wrong with an entry, and where.
    pub(super) fn tell(&self, entry: &Planned<String>, message: &str, terminal: Terminal) {
        let before = self.text.get(..entry.place.start).unwrap_or_default();
        let line = 1 + before.bytes().filter(|&byte| byte == b'\n').count();
        let (path, name) = (self.path.display(), &entry.value);
        terminal.note(format!("{path}:{line}: `{name}`: {message}"));
    }

    /// The games of a lesson in the order of the plan, with its words.
    fn games(&self, planned: &PlannedLesson, known: &mut LookedUp<'_>) -> Vec<LessonGame> {
        let mut games = Vec::new();
        for entry in planned.games.iter().flatten() {
            let place = &entry.source.place;
            let game = match &entry.source.value {
                GameSource::Hit(id) => {
                    let is_it = |model: &&LessonGame| {
                        model.as_mined().is_some_and(|game| is_called(&game.specimen.hit, id))
                    };
                    let found = known.mined.iter().find(is_it).cloned();
                    if found.is_none() {
                        known.gone.push(Planned { value: id.clone(), place: place.clone() });
                    }
                    found
                }
                GameSource::File(path, number) => match self.own(path, *number) {
                    Ok(game) => Some(game),
                    Err(message) => {
                        known.problems.push(Problem::new(place.clone(), message));
                        None
                    }
                },
            };
            if let Some(game) = game {
                games.push(with_words(game, entry, &mut known.problems));
            }
        }
        games
    }

    /// A game of the teacher's, whose file is found from the plan's folder on.
    fn own(&self, path: &Path, number: usize) -> Result<LessonGame, String> {
        let folder = self.path.parent().unwrap_or(Path::new(""));
        let place = folder.join(path);
        let text = std::fs::read(&place)
            .map_err(|error| format!("can't read `{}`: {error}", place.display()))?;
        let game = read_game(&text, number).map_err(|error| format!("{error:#}"))?;
        let game = GameShown::Own(Box::new(game));
        Ok(LessonGame { game, before: None, after: None })
    }
}

/// The motifs of sheets of which these runs know nothing.
fn unknown_motifs(plan: &CoursePlan, mined: &Mined) -> Vec<Problem> {
    let known = mined.runs.queries();
    let of_sheet = |sheet: &PlannedSheet| match &sheet.wanted {
        SheetWanted::Quotas { motifs, .. } => motifs.clone(),
        SheetWanted::These(_) => Vec::new(),
    };
    let motifs = plan.sheets.iter().flat_map(of_sheet);
    motifs
        .filter(|motif| !known.contains(&&*motif.value))
        .map(|motif| no_hits(&motif, &known))
        .collect()
}

/// A motif of which these runs know nothing.
fn no_hits(motif: &Planned<String>, known: &[&str]) -> Problem {
    let name = &motif.value;
    let message = format!("there are no hits of a query `{name}` in these runs");
    let hint = crate::query::meant(name, known.iter().copied());
    Problem { hint, ..Problem::new(motif.place.clone(), message) }
}

/// What a lesson is to show.
pub(super) fn wishes(planned: &PlannedLesson) -> LessonWishes {
    let id = |game: &PlannedGame| match &game.source.value {
        GameSource::Hit(id) => Some(id.clone()),
        GameSource::File(..) => None,
    };
    let wish = |exercise: &PlannedExercise| match exercise {
        PlannedExercise::One(kind, id) => ExerciseWish::One(*kind, id.value.clone()),
        PlannedExercise::Some(kind, count, levels) => ExerciseWish::Some(*kind, *count, *levels),
    };
    LessonWishes {
        games: planned.games.as_ref().map(|games| games.iter().filter_map(id).collect()),
        exercises: planned.exercises.as_ref().map(|all| all.iter().map(wish).collect()),
    }
}

/// A game with what the plan says of it.
fn with_words(
    mut game: LessonGame,
    entry: &PlannedGame,
    problems: &mut Vec<Problem>,
) -> LessonGame {
    game.before.clone_from(&entry.before);
    game.after.clone_from(&entry.after);
    for words in &entry.at {
        match words.name.value.index_in(&game.tree().replay) {
            Ok(index) => {
                let said = words.words.clone();
                game.tree_mut().notes.entry(index).or_default().own = Some(said);
            }
            Err(error) => {
                let place = words.name.place.clone();
                let message = format!("`{}`: {error}", words.name.value);
                problems.push(Problem::new(place, message));
            }
        }
    }
    if let Some(opens) = &entry.opens {
        match (opens.value.index_in(&game.tree().replay), &mut game.game) {
            (Ok(index), GameShown::Own(own)) => opened(own, index),
            (Ok(_), GameShown::Mined(_)) => {
                let message = "a game out of the tables opens with its offer";
                problems.push(Problem::new(opens.place.clone(), message));
            }
            (Err(error), _) => {
                let message = format!("`{}`: {error}", opens.value);
                problems.push(Problem::new(opens.place.clone(), message));
            }
        }
    }
    game
}

/// Opens a teacher's game before a move, seen by the side that makes it.
fn opened(own: &mut OwnGame, index: usize) {
    own.opened_at = index;
    own.bottom = own.tree.replay.positions[index].turn();
}
