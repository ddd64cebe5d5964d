//! Forms of the plan's page: what somebody wants to be done, as edits.

use clap::ValueEnum as _;

use super::address::{AddressWords, value};
use super::entry_names::{FormName, nth_read, spot_read};
use super::opened::Opened;
use super::workshop::WorkOrder;
use crate::desk::{
    CourseField, Edit, ExerciseName, LessonEdit, ListEdit, NewLesson, Noted, Nth, PlanNow, Spot,
    WordsPlace,
};
use crate::hits::query_in;
use crate::plan::{CoursePlan, GameSource, MoveName, Part, PlannedExercise, PlannedLesson};
use crate::teaching::{ExerciseKind, Levels};

/// What is to be done: the edits, and what they are called where they can be undone.
#[derive(Debug)]
pub(super) struct Wish {
    pub(super) edits: Vec<Edit>,
    pub(super) what: String,
}

/// A form that was sent.
pub(super) struct PlanForm<'f> {
    pub(super) words: &'f AddressWords,
    pub(super) opened: &'f Opened,
    pub(super) now: &'f PlanNow,
}

pub(super) type Wished = Result<Wish, String>;

pub(super) fn wish(edits: Vec<Edit>, what: impl Into<String>) -> Wished {
    Ok(Wish { edits, what: what.into() })
}

impl<'f> PlanForm<'f> {
    pub(super) fn of(
        words: &'f AddressWords,
        opened: &'f Opened,
        now: &'f PlanNow,
    ) -> PlanForm<'f> {
        PlanForm { words, opened, now }
    }

    /// What was pressed: the last of its words, since a button's own comes last.
    pub(super) fn act(words: &AddressWords) -> &str {
        let acts = words.iter().rev().find(|(word, _)| word == "do");
        acts.map_or("", |(_, act)| act)
    }

    fn get(&self, word: &str) -> Result<&'f str, String> {
        value(self.words, word).ok_or_else(|| format!("the form lacks `{word}`"))
    }

    fn text(&self) -> Result<Option<String>, String> {
        let text = self.get("text")?;
        Ok((!text.trim().is_empty()).then(|| text.to_owned()))
    }

    pub(super) fn entry<K: FormName>(&self) -> Result<Nth<K>, String> {
        nth_read(self.get("entry")?).ok_or_else(|| "the form names no entry".to_owned())
    }

    pub(super) fn spot<K: FormName>(&self) -> Result<Spot<K>, String> {
        spot_read(self.get("to")?).ok_or_else(|| "the form names no place".to_owned())
    }

    fn kind(&self) -> Result<ExerciseKind, String> {
        ExerciseKind::from_str(self.get("kind")?, false)
    }

    pub(super) fn plan(&self) -> Result<&'f CoursePlan, String> {
        self.now.plan.as_ref().map_err(|problems| problems.render(false))
    }

    fn lesson(&self, motif: &str) -> Result<Option<&'f PlannedLesson>, String> {
        Ok(self.plan()?.lesson_on(motif))
    }

    /// What a lesson is called where a change is told.
    fn title(&self, motif: &str) -> String {
        match &self.now.plan {
            Ok(plan) => self.opened.lesson_title(plan, motif),
            Err(_) => self.opened.title(motif).to_owned(),
        }
    }

    /// What the form asks for.
    pub(super) async fn wish(&self) -> Wished {
        let act = PlanForm::act(self.words);
        let motif = value(self.words, "motif").unwrap_or_default().to_owned();
        let of_lesson = |edit| Edit::Lesson(motif.clone(), edit);
        match act {
            "title" => wish(vec![Edit::Course(CourseField::Title, self.text()?)], "the title"),
            "audience" => wish(
                vec![Edit::Course(CourseField::Audience, self.text()?)],
                "whom the course is for",
            ),
            "words" => {
                wish(vec![Edit::Course(CourseField::Words, self.text()?)], "words of the course")
            }
            "add-lesson" => self.add_lesson(&motif).await,
            "drop-lesson" => wish(
                vec![Edit::DropLesson(motif.clone())],
                format!("lesson dropped: {}", self.title(&motif)),
            ),
            "move-lesson" => {
                let moved = Edit::MoveLesson(motif.clone(), self.spot()?);
                wish(vec![moved], format!("lesson moved: {}", self.title(&motif)))
            }
            "chapter" => wish(
                vec![of_lesson(LessonEdit::Chapter(self.text()?))],
                format!("chapter of {}", self.title(&motif)),
            ),
            "heading" => wish(
                vec![of_lesson(LessonEdit::Heading(self.text()?))],
                format!("heading of {}", self.title(&motif)),
            ),
            "part-words" => {
                let edit = LessonEdit::Words(self.part()?, self.text()?);
                wish(vec![of_lesson(edit)], format!("words in {}", self.title(&motif)))
            }
            "leave-out" | "show" => {
                let (part, is_left_out) = (self.part()?, act == "leave-out");
                let edit = LessonEdit::LeaveOut(part, is_left_out);
                let how = if is_left_out { "left out" } else { "shown again" };
                wish(
                    vec![of_lesson(edit)],
                    format!("{} {how} in {}", part.word(), self.title(&motif)),
                )
            }
            "keep-game" | "drop-game" | "move-game" | "settle-games" | "game-words" => {
                self.games(act, &motif).await
            }
            "drop-exercise" | "move-exercise" | "settle-exercises" | "another-exercise"
            | "add-exercise" => self.exercises(act, &motif).await,
            _ => self.sheets(act).await,
        }
    }

    fn part(&self) -> Result<Part, String> {
        let word = self.get("part")?;
        let found = Part::ALL.into_iter().find(|(known, _)| *known == word);
        found.map(|(_, part)| part).ok_or_else(|| format!("a lesson has no part `{word}`"))
    }

    async fn add_lesson(&self, motif: &str) -> Wished {
        let found = self.opened.workshop.proposals(motif).await?;
        let motif_told = Noted { name: motif.to_owned(), says: Some(found.says) };
        let (chapter, heading) = (Some(found.chapter), Some(found.heading));
        let new = NewLesson { motif: motif_told, chapter, heading };
        let edits = vec![
            Edit::AddLesson(new, Spot::Last),
            Edit::Lesson(motif.to_owned(), LessonEdit::SettleGames(found.games)),
            Edit::Lesson(motif.to_owned(), LessonEdit::SettleExercises(found.exercises)),
        ];
        wish(edits, format!("lesson added: {}", self.title(motif)))
    }

    /// Writes down what the program would choose for a lesson that names no games, or no exercises.
    async fn settled(&self, motif: &str, part: Part) -> Result<Option<Edit>, String> {
        let Some(lesson) = self.lesson(motif)? else { return Ok(None) };
        let is_named = match part {
            Part::Games => lesson.games.is_some(),
            _ => lesson.exercises.is_some(),
        };
        if is_named || lesson.without.contains(&part) {
            return Ok(None);
        }
        let found = self.opened.workshop.proposals(motif).await?;
        let edit = match part {
            Part::Games => LessonEdit::SettleGames(found.games),
            _ => LessonEdit::SettleExercises(found.exercises),
        };
        Ok(Some(Edit::Lesson(motif.to_owned(), edit)))
    }

    async fn games(&self, act: &str, motif: &str) -> Wished {
        let title = self.title(motif);
        let of_lesson = |edit| Edit::Lesson(motif.to_owned(), edit);
        if act == "keep-game" {
            return self.keep_game(motif).await;
        }
        let settled = self.settled(motif, Part::Games).await?;
        let (edit, what) = match act {
            "settle-games" => (None, format!("games written down in {title}")),
            "drop-game" => {
                let game = self.entry::<GameSource>()?;
                let what =
                    format!("game dropped from {title}: {}", self.opened.told_game(&game.name));
                (Some(LessonEdit::Games(ListEdit::Drop(game))), what)
            }
            "move-game" => {
                let game = self.entry::<GameSource>()?;
                let what = format!("game moved in {title}: {}", self.opened.told_game(&game.name));
                (Some(LessonEdit::Games(ListEdit::Move(game, self.spot()?))), what)
            }
            _ => {
                let game = self.entry::<GameSource>()?;
                let what = format!("words in {}", self.opened.told_game(&game.name));
                let place = match self.get("place")? {
                    "before" => WordsPlace::Before,
                    "after" => WordsPlace::After,
                    name => {
                        let name = MoveName::read(name).ok_or("this names no move")?;
                        WordsPlace::At(name)
                    }
                };
                (Some(LessonEdit::GameWords(game, place, self.text()?)), what)
            }
        };
        wish(settled.into_iter().chain(edit.map(of_lesson)).collect(), what)
    }

    /// Keeps a game for the lesson on the motif of its offer; if there is none, a lesson begins with it.
    async fn keep_game(&self, motif: &str) -> Wished {
        let game = self.entry::<GameSource>()?.name;
        // A file is named by who edits the plan itself; nothing of a request is to lead to one.
        if !matches!(&game, GameSource::Hit(id) if query_in(id) == Some(motif)) {
            return Err("only an offer of the motif can be kept".to_owned());
        }
        let told = self.opened.told_game(&game);
        let noted = Noted { name: game, says: Some(told.clone()) };
        let of_lesson = |edit| Edit::Lesson(motif.to_owned(), edit);
        let what = format!("game kept: {told}");
        if self.lesson(motif)?.is_none() {
            if !self.opened.queries.contains_key(motif) {
                return Err(format!("there is no motif `{motif}` here"));
            }
            let name = Noted { name: motif.to_owned(), says: None };
            let new = NewLesson { motif: name, chapter: None, heading: None };
            let add = Edit::AddLesson(new, Spot::Last);
            return wish(vec![add, of_lesson(LessonEdit::SettleGames(vec![noted]))], what);
        }
        let settled = self.settled(motif, Part::Games).await?;
        let add = of_lesson(LessonEdit::Games(ListEdit::Add(noted, Spot::Last)));
        wish(settled.into_iter().chain([add]).collect(), what)
    }

    async fn exercises(&self, act: &str, motif: &str) -> Wished {
        let title = self.title(motif);
        let of_lesson = |edit| Edit::Lesson(motif.to_owned(), LessonEdit::Exercises(edit));
        let settled = self.settled(motif, Part::Exercises).await?;
        let (edit, what) = match act {
            "settle-exercises" => (None, format!("exercises written down in {title}")),
            "drop-exercise" => {
                (Some(ListEdit::Drop(self.entry()?)), format!("exercise dropped from {title}"))
            }
            "move-exercise" => {
                let moved = ListEdit::Move(self.entry()?, self.spot()?);
                (Some(moved), format!("exercise moved in {title}"))
            }
            "another-exercise" => {
                let old: Nth<ExerciseName> = self.entry()?;
                let ExerciseName::One(kind, _) = &old.name else {
                    return Err("the program chooses these already".to_owned());
                };
                let new = self.another(motif, *kind, Some(&old.name)).await?;
                (Some(ListEdit::Replace(old, new)), format!("another exercise in {title}"))
            }
            _ => {
                let new = self.another(motif, self.kind()?, None).await?;
                (Some(ListEdit::Add(new, Spot::Last)), format!("exercise added to {title}"))
            }
        };
        wish(settled.into_iter().chain(edit.map(of_lesson)).collect(), what)
    }

    /// An exercise of a kind that the lesson does not have, and that was not dropped for another.
    async fn another(
        &self,
        motif: &str,
        kind: ExerciseKind,
        dropped: Option<&ExerciseName>,
    ) -> Result<Noted<ExerciseName>, String> {
        let lesson = self.lesson(motif)?;
        let of_lesson = lesson.and_then(|lesson| lesson.exercises.as_deref()).unwrap_or_default();
        let one = |exercise: &PlannedExercise| match exercise {
            PlannedExercise::One(kind, id) => Some((*kind, id.value.clone())),
            PlannedExercise::Some(..) => None,
        };
        if let Some(ExerciseName::One(kind, id)) = dropped {
            self.opened.turn_down(*kind, id);
        }
        let known = of_lesson.iter().filter_map(one).collect();
        let found = self.none_of(motif, kind, known).await?;
        found.ok_or_else(|| no_other(kind))
    }

    /// An exercise on a motif that is none of these, and that was not dropped for another; if there is one.
    pub(super) async fn none_of(
        &self,
        motif: &str,
        kind: ExerciseKind,
        mut known: Vec<(ExerciseKind, String)>,
    ) -> Result<Option<Noted<ExerciseName>>, String> {
        known.extend(self.opened.turned_down());
        known.dedup();
        let (motif, levels) = (motif.to_owned(), Levels::ALL);
        let order = WorkOrder::Another { motif, kind, levels, known };
        Ok(self.opened.workshop.exercises(order).await?.into_iter().next())
    }
}

/// Why there is none.
pub(super) fn no_other(kind: ExerciseKind) -> String {
    format!("no other exercise of the kind `{}` can be made", kind.word())
}
