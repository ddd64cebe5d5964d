//! What the plan's page shows.

use std::collections::BTreeSet;

use clap::ValueEnum as _;
use minijinja::{Value, context};

use super::entry_names::{FormName, nth_told, numbered};
use super::opened::Opened;
use crate::desk::{
    ExerciseName, Nth, PlanNotes, PlanNow, exercise_names, game_names, lesson_names,
    sheet_exercise_names, sheet_names,
};
use crate::pages::{served_kind, served_usual_title};
use crate::plan::{
    CoursePlan, GameSource, Given, Part, PerPage, PlannedExercise, PlannedGame, PlannedLesson,
    PlannedSheet, SheetWanted,
};
use crate::teaching::{ExerciseKind, Levels};

/// What every page of the plan shows: the state it is made from, and what can be undone.
pub(super) fn state(now: &PlanNow) -> Value {
    context! {
        state => now.state.to_string(),
        undo => now.undo.first(),
        redo => now.redo.first(),
        undone => &now.undo,
    }
}

/// A plan that is shown.
pub(super) struct PlanShown<'p> {
    pub(super) opened: &'p Opened,
    pub(super) plan: &'p CoursePlan,
    pub(super) notes: PlanNotes<'p>,
}

impl PlanShown<'_> {
    /// The plan.
    pub(super) fn content(&self) -> Value {
        let plan = self.plan;
        let lessons: Vec<Value> = (0..plan.lessons.len()).map(|at| self.lesson(at)).collect();
        let sheets: Vec<Value> = (0..plan.sheets.len()).map(|at| self.sheet(at)).collect();
        let others = self.opened.runs.queries().into_iter();
        let others = others.filter(|name| plan.lesson_on(name).is_none());
        let motif = |name: &str| context! { name, title => self.opened.title(name) };
        context! {
            plan_title => &plan.title,
            usual_title => served_usual_title(),
            audience => &plan.audience,
            words => &plan.words,
            lessons,
            sheets,
            others => others.map(motif).collect::<Vec<_>>(),
            motifs => self.opened.runs.queries().into_iter().map(motif).collect::<Vec<_>>(),
            kinds => kinds(),
            classes => self.classes(),
        }
    }

    fn lesson(&self, at: usize) -> Value {
        let lesson = &self.plan.lessons[at];
        let motif = &lesson.motif.value;
        let parts = Part::ALL.into_iter().map(|(word, part)| {
            let is_optional = !matches!(part, Part::Start | Part::End);
            let is_named = part == Part::Games && lesson.games.is_some()
                || part == Part::Exercises && lesson.exercises.is_some();
            context! {
                word,
                title => part_title(part),
                text => lesson.words.get(&part),
                is_left_out => lesson.without.contains(&part),
                can_be_left_out => is_optional && !is_named,
            }
        });
        let names = lesson_names(self.plan);
        context! {
            motif,
            anchor => format!("lesson-{motif}"),
            title => lesson.heading.as_deref().unwrap_or(self.opened.title(motif)),
            usual_title => self.opened.title(motif),
            heading => &lesson.heading,
            chapter => &lesson.chapter,
            parts => parts.collect::<Vec<_>>(),
            games => lesson.games.as_ref().map(|games| self.games(at, games)),
            no_games => lesson.without.contains(&Part::Games),
            exercises => lesson.exercises.as_ref().map(|all| self.exercises(at, all)),
            no_exercises => lesson.without.contains(&Part::Exercises),
            is_known => self.opened.runs.queries().contains(&&**motif),
            ..moves(&numbered(&names), at)
        }
    }

    fn games(&self, lesson: usize, games: &[PlannedGame]) -> Vec<Value> {
        let numbered = numbered(&game_names(games));
        let shown = |(index, game): (usize, &PlannedGame)| {
            let noted = self.notes.first(&[("lesson", lesson), ("game", index)]);
            let id = match &game.source.value {
                GameSource::Hit(id) => Some(id),
                GameSource::File(..) => None,
            };
            let told = id.and_then(|id| self.opened.told_hit(id));
            let is_told = told.is_some();
            let said = game.before.iter().chain(&game.after).count() + game.at.len();
            context! {
                title => told.or_else(|| noted.clone()).unwrap_or_else(|| self.opened.told_game(&game.source.value)),
                noted => noted.filter(|_| is_told),
                words => said,
                had => id.map(|id| self.had(id)),
                ..moves(&numbered, index)
            }
        };
        games.iter().enumerate().map(shown).collect()
    }

    fn exercises(&self, lesson: usize, exercises: &[PlannedExercise]) -> Vec<Value> {
        self.listed(&exercise_names(exercises), ("lesson", lesson))
    }

    /// Exercises of a lesson or a sheet.
    fn listed(&self, names: &[ExerciseName], parent: (&str, usize)) -> Vec<Value> {
        let numbered = numbered(names);
        let shown = |(index, name): (usize, &ExerciseName)| {
            let noted = self.notes.first(&[parent, ("exercise", index)]);
            let (kind, title, had) = match name {
                ExerciseName::One(kind, id) => {
                    let told = noted.or_else(|| self.opened.told_hit(id));
                    (*kind, told.unwrap_or_else(|| id.clone()), self.had(id))
                }
                ExerciseName::Some(kind, count, levels) => {
                    let of = if *levels == Levels::ALL {
                        "any level".to_owned()
                    } else {
                        format!("level {} to {}", levels.least.0, levels.most.0)
                    };
                    let title = format!("{count} that the program chooses, {of}");
                    (*kind, title, Vec::new())
                }
            };
            let is_one = matches!(name, ExerciseName::One(..));
            context! { kind => served_kind(kind), title, had, is_one, ..moves(&numbered, index) }
        };
        names.iter().enumerate().map(shown).collect()
    }

    /// The classes that had a hit as an exercise, with the sheet it was on.
    fn had(&self, id: &str) -> Vec<String> {
        let has = |given: &&Given| given.exercises.iter().any(|one| one.id.value == id);
        let told = |given: &Given| match &*given.sheet {
            "" => given.class.clone(),
            sheet => format!("{} ({sheet})", given.class),
        };
        self.plan.given.iter().filter(has).map(told).collect()
    }

    fn classes(&self) -> Vec<String> {
        let given = self.plan.given.iter().map(|given| &*given.class);
        let wanted = self.plan.sheets.iter().filter_map(|sheet| sheet.class.as_deref());
        let all: BTreeSet<&str> = given.chain(wanted).collect();
        all.into_iter().map(str::to_owned).collect()
    }

    fn sheet(&self, at: usize) -> Value {
        let sheet: &PlannedSheet = &self.plan.sheets[at];
        let name = &sheet.name.value;
        let class = sheet.class.as_deref();
        let given = class.and_then(|class| self.plan.given_to(class, name));
        let names = sheet_names(self.plan);
        let (of, level, motifs, chapters, seed, exercises) = match &sheet.wanted {
            SheetWanted::Quotas { quotas, levels, motifs, chapters, seed } => {
                let of = quotas.iter().map(|one| format!("{}:{}", one.kind.word(), one.count));
                let level = (*levels != Levels::ALL)
                    .then(|| format!("{}-{}", levels.least.0, levels.most.0));
                let motifs: Vec<String> = motifs.iter().map(|motif| motif.value.clone()).collect();
                let chapters: Vec<&str> = chapters.iter().map(|chapter| chapter.word()).collect();
                (of.collect::<Vec<_>>().join(" "), level, motifs, chapters, Some(*seed), None)
            }
            SheetWanted::These(all) => {
                let listed = self.listed(&sheet_exercise_names(all), ("sheet", at));
                (String::new(), None, Vec::new(), Vec::new(), None, Some(listed))
            }
        };
        context! {
            name,
            anchor => format!("sheet-{name}"),
            title => &sheet.title,
            of, level, chosen_motifs => motifs, chosen_chapters => chapters, seed, exercises,
            audiences => sheet.audiences.iter().map(|audience| audience.word()).collect::<Vec<_>>(),
            class,
            is_projected => sheet.is_projected,
            is_large => sheet.layout.is_large,
            is_pdf => sheet.is_pdf,
            paper => sheet.layout.paper.word(),
            per_page => sheet.layout.per_page.map(PerPage::count),
            is_given => given.is_some(),
            ..moves(&numbered(&names), at)
        }
    }
}

/// How a form names an entry of a list, and the places above and below it.
fn moves<K: FormName + Clone + PartialEq>(names: &[Nth<K>], at: usize) -> Value {
    let up = match at {
        0 => None,
        1 => Some("first".to_owned()),
        _ => Some(nth_told(&names[at - 2])),
    };
    let down = names.get(at + 1).map(nth_told);
    context! { entry => nth_told(&names[at]), up, down, number => at + 1 }
}

/// What a part of a lesson is called.
fn part_title(part: Part) -> &'static str {
    match part {
        Part::Start => "At the start",
        Part::Numbers => "How often, and how well",
        Part::Rules => "Rules of thumb",
        Part::Tree => "What was played",
        Part::Games => "Model games",
        Part::Exercises => "Exercises",
        Part::End => "At the end",
    }
}

/// What can be asked.
fn kinds() -> Vec<Value> {
    let kind = |kind: &ExerciseKind| context! { word => kind.word(), title => served_kind(*kind) };
    ExerciseKind::value_variants().iter().map(kind).collect()
}

/// The lesson of a plan that has a game.
pub(super) fn game_of<'p>(
    plan: &'p CoursePlan,
    motif: &str,
    game: &Nth<GameSource>,
) -> Option<(&'p PlannedLesson, &'p PlannedGame)> {
    let lesson = plan.lesson_on(motif)?;
    let mut same = lesson.games.iter().flatten().filter(|one| one.source.value == game.name);
    Some((lesson, same.nth(game.nth)?))
}
