//! Any edits of any plan: the plan read again is the plan that was meant, and the rest of the file is what it was.

use std::path::PathBuf;

use hecatomb::desk::{
    CourseField, Edit, EditFault, ExerciseName, LessonEdit, ListEdit, NewLesson, Noted, Nth,
    SheetGiven, Spot, WordsPlace, edited,
};
use hecatomb::plan::{
    CoursePlan, GameSource, Given, MoveName, Paper, Part, Planned, PlannedExercise, PlannedGame,
    PlannedLesson, PlannedSheet, SheetExercise, SheetLayout, SheetWanted, WordsAtMove,
};
use hecatomb::teaching::{ExerciseKind, Levels, Quota};
use proptest::prelude::*;

use super::plans::{Choices, comments, plan};

fn placed<T>(value: T) -> Planned<T> {
    Planned { value, place: 0..0 }
}

/// A plan without the places of its entries.
pub(super) fn read(text: &str) -> CoursePlan {
    let mut plan =
        CoursePlan::read("course.toml", text).unwrap_or_else(|it| panic!("{it}\n{text}"));
    for lesson in &mut plan.lessons {
        lesson.motif.place = 0..0;
        for game in lesson.games.iter_mut().flatten() {
            game.source.place = 0..0;
            for words in &mut game.at {
                words.name.place = 0..0;
            }
            game.at.sort_by_key(|words| words.name.value.to_string());
        }
        for exercise in lesson.exercises.iter_mut().flatten() {
            if let PlannedExercise::One(_, id) = exercise {
                id.place = 0..0;
            }
        }
    }
    for given in &mut plan.given {
        given.exercises.iter_mut().for_each(|one| one.id.place = 0..0);
        given.positions.iter_mut().for_each(|one| one.place = 0..0);
    }
    for sheet in &mut plan.sheets {
        sheet.name.place = 0..0;
        if let SheetWanted::These(exercises) = &mut sheet.wanted {
            exercises.iter_mut().for_each(|one| one.id.place = 0..0);
        }
    }
    plan
}

fn one_of<T: Clone>(choices: &mut Choices<'_>, all: &[T]) -> Option<T> {
    all.get(choices.below(all.len())).cloned()
}

fn spot<T: Clone>(choices: &mut Choices<'_>, all: &[T]) -> Spot<T> {
    match (choices.below(3), one_of(choices, all)) {
        (0, _) => Spot::First,
        (1, Some(one)) => Spot::After(Nth::first(one)),
        _ => Spot::Last,
    }
}

fn words(choices: &mut Choices<'_>) -> Option<String> {
    let all = ["Plain", "Two\nlines", "A \"quote\" and '''three'''", "# no comment", "\\ \u{1}"];
    if choices.below(4) == 0 { None } else { one_of(choices, &all).map(str::to_owned) }
}

fn list_edit<K: Clone>(
    choices: &mut Choices<'_>,
    names: &[K],
    new: impl Fn(usize) -> K,
) -> Option<ListEdit<K>> {
    let fresh = Noted { name: new(choices.below(250)), says: Some("new\none".to_owned()) };
    Some(match choices.below(4) {
        0 => ListEdit::Add(fresh, spot(choices, names)),
        1 => ListEdit::Drop(Nth::first(one_of(choices, names)?)),
        2 => ListEdit::Replace(Nth::first(one_of(choices, names)?), fresh),
        _ => ListEdit::Move(Nth::first(one_of(choices, names)?), spot(choices, names)),
    })
}

fn hit(number: usize) -> GameSource {
    match number % 5 {
        0 => GameSource::File(PathBuf::from(format!("own/{number}.pgn")), number + 1),
        _ => GameSource::Hit(format!("new-{number}")),
    }
}

fn asked(number: usize) -> ExerciseName {
    match number % 5 {
        0 => ExerciseName::Some(ExerciseKind::Mate, 1 + number % 100, "2-3".parse().unwrap()),
        _ => ExerciseName::One(ExerciseKind::Judge, format!("new-{number}")),
    }
}

fn named(exercise: &PlannedExercise) -> ExerciseName {
    match exercise {
        PlannedExercise::One(kind, id) => ExerciseName::One(*kind, id.value.clone()),
        PlannedExercise::Some(kind, count, levels) => ExerciseName::Some(*kind, *count, *levels),
    }
}

fn sheet(choices: &mut Choices<'_>) -> PlannedSheet {
    let quota = Quota { kind: ExerciseKind::Find, count: 3 };
    PlannedSheet {
        name: placed(format!("new-{}", choices.below(250))),
        title: words(choices).map(|words| words.trim_end().to_owned()),
        audiences: vec![hecatomb::plan::Audience::Pupil, hecatomb::plan::Audience::Teacher],
        is_pdf: choices.toss(),
        is_projected: choices.toss(),
        layout: SheetLayout {
            per_page: "4".parse().ok(),
            is_large: choices.toss(),
            paper: if choices.toss() { Paper::A4 } else { Paper::Letter },
        },
        class: choices.toss().then(|| "Tuesday".to_owned()),
        wanted: SheetWanted::Quotas {
            quotas: vec![quota],
            levels: Levels::ALL,
            motifs: Vec::new(),
            chapters: Vec::new(),
            seed: 1 + choices.below(3) as u64,
        },
    }
}

fn lesson_edit(choices: &mut Choices<'_>, lesson: &PlannedLesson) -> Option<LessonEdit> {
    let games = lesson.games.as_deref().unwrap_or_default();
    let sources: Vec<GameSource> = games.iter().map(|game| game.source.value.clone()).collect();
    let exercises = lesson.exercises.as_deref().unwrap_or_default();
    let asks: Vec<ExerciseName> = exercises.iter().map(named).collect();
    let noted = |name| Noted { name, says: None };
    Some(match choices.below(9) {
        0 => LessonEdit::Heading(words(choices)),
        1 => LessonEdit::Chapter(words(choices)),
        2 => LessonEdit::Words(one_of(choices, &Part::ALL)?.1, words(choices)),
        3 => LessonEdit::LeaveOut(Part::Rules, choices.toss()),
        4 => {
            LessonEdit::SettleGames((0..choices.below(3)).map(|one| noted(hit(one + 1))).collect())
        }
        5 => LessonEdit::Games(list_edit(choices, &sources, hit)?),
        6 => LessonEdit::SettleExercises(
            (1..3).map(|one| Noted { name: asked(one), says: None }).collect(),
        ),
        7 => LessonEdit::Exercises(list_edit(choices, &asks, asked)?),
        _ => {
            let names = ["1.e4", "2...Nc6", "31.Qxh7#"];
            let name = MoveName::read(one_of(choices, &names)?)?;
            let places = [WordsPlace::Before, WordsPlace::At(name), WordsPlace::After];
            let (game, place) = (one_of(choices, &sources)?, one_of(choices, &places)?);
            LessonEdit::GameWords(Nth::first(game), place, words(choices))
        }
    })
}

fn edit(choices: &mut Choices<'_>, plan: &CoursePlan) -> Option<Edit> {
    let motifs: Vec<String> = plan.lessons.iter().map(|one| one.motif.value.clone()).collect();
    let sheets: Vec<String> = plan.sheets.iter().map(|one| one.name.value.clone()).collect();
    Some(match choices.below(17) {
        0 => {
            let fields = [CourseField::Title, CourseField::Audience, CourseField::Words];
            Edit::Course(one_of(choices, &fields)?, words(choices))
        }
        1 => {
            let name = format!("new-{}", choices.below(250));
            let motif = Noted { name, says: Some("so many offers".to_owned()) };
            let new = NewLesson { motif, chapter: Some("Chapter".to_owned()), heading: None };
            Edit::AddLesson(new, spot(choices, &motifs))
        }
        2 => Edit::DropLesson(one_of(choices, &motifs)?),
        3 => Edit::MoveLesson(one_of(choices, &motifs)?, spot(choices, &motifs)),
        4 => Edit::AddSheet(Box::new(sheet(choices))),
        5 => Edit::DropSheet(one_of(choices, &sheets)?),
        6 => Edit::MoveSheet(one_of(choices, &sheets)?, spot(choices, &sheets)),
        7 => Edit::ChangeSheet(one_of(choices, &sheets)?, Box::new(sheet(choices))),
        8 => {
            let one = one_of(choices, &plan.sheets)?;
            let SheetWanted::These(these) = &one.wanted else {
                let one = Noted { name: asked(1), says: None };
                return Some(Edit::SettleSheet(sheets[0].clone(), vec![one]));
            };
            let name = |it: &SheetExercise| ExerciseName::One(it.kind, it.id.value.clone());
            let names: Vec<ExerciseName> = these.iter().map(name).collect();
            let new = |number| asked(number * 5 + 1);
            Edit::SheetExercises(one.name.value, list_edit(choices, &names, new)?)
        }
        9 => Edit::Give(SheetGiven {
            class: "Tuesday".to_owned(),
            sheet: one_of(choices, &sheets)?,
            on: "2031-04-05".to_owned(),
            exercises: vec![(ExerciseKind::Find, format!("{:016x}:1:motif", choices.below(250)))],
            positions: vec!["8/8/8/8/8/8/8/K1k5 w - - 0 1".to_owned()],
        }),
        _ => {
            let lesson = one_of(choices, &plan.lessons)?;
            Edit::Lesson(lesson.motif.value.clone(), lesson_edit(choices, &lesson)?)
        }
    })
}

/// A list as it is after an edit.
fn list_after<T: Clone, K: PartialEq>(
    list: &mut Vec<T>,
    edit: &ListEdit<K>,
    is: impl Fn(&T, &K) -> bool,
    new: impl Fn(&K) -> T,
) {
    let at = |list: &[T], one: &Nth<K>| list.iter().position(|it| is(it, &one.name)).unwrap();
    let index = |list: &[T], spot: &Spot<K>| match spot {
        Spot::First => 0,
        Spot::Last => list.len(),
        Spot::After(one) => at(list, one) + 1,
    };
    match edit {
        ListEdit::Add(one, spot) => list.insert(index(list, spot), new(&one.name)),
        ListEdit::Drop(one) => {
            list.remove(at(list, one));
        }
        ListEdit::Replace(old, one) => {
            let at = at(list, old);
            list[at] = new(&one.name);
        }
        ListEdit::Move(one, spot) => {
            if !matches!(spot, Spot::After(other) if other == one) {
                let moved = list.remove(at(list, one));
                list.insert(index(list, spot), moved);
            }
        }
    }
}

fn new_game(source: &GameSource) -> PlannedGame {
    let source = placed(source.clone());
    PlannedGame { source, opens: None, before: None, after: None, at: Vec::new() }
}

fn new_exercise(name: &ExerciseName) -> PlannedExercise {
    match name {
        ExerciseName::One(kind, id) => PlannedExercise::One(*kind, placed(id.clone())),
        ExerciseName::Some(kind, count, levels) => PlannedExercise::Some(*kind, *count, *levels),
    }
}

fn of_sheet(name: &ExerciseName) -> SheetExercise {
    let ExerciseName::One(kind, id) = name else { panic!("a sheet names each") };
    SheetExercise { kind: *kind, id: placed(id.clone()) }
}

/// A list of a lesson as it is after an edit: where nothing is left, the part is left out.
fn part_after<T>(
    lesson: &mut Option<Vec<T>>,
    without: &mut std::collections::BTreeSet<Part>,
    part: Part,
    list: Vec<T>,
) {
    without.remove(&part);
    if list.is_empty() {
        without.insert(part);
    }
    *lesson = (!list.is_empty()).then_some(list);
}

fn lesson_after(lesson: &mut PlannedLesson, edit: &LessonEdit) {
    let is_open = |list: bool, part| !list && !lesson.without.contains(&part);
    match edit {
        LessonEdit::Heading(words) => lesson.heading.clone_from(words),
        LessonEdit::Chapter(words) => lesson.chapter.clone_from(words),
        LessonEdit::Words(part, words) => {
            match words {
                Some(words) => lesson.words.insert(*part, words.clone()),
                None => lesson.words.remove(part),
            };
        }
        LessonEdit::LeaveOut(part, true) => {
            lesson.without.insert(*part);
        }
        LessonEdit::LeaveOut(part, false) => {
            lesson.without.remove(part);
        }
        LessonEdit::SettleGames(games) => {
            if is_open(lesson.games.is_some(), Part::Games) {
                let games = games.iter().map(|game| new_game(&game.name)).collect();
                part_after(&mut lesson.games, &mut lesson.without, Part::Games, games);
            }
        }
        LessonEdit::SettleExercises(all) => {
            if is_open(lesson.exercises.is_some(), Part::Exercises) {
                let all = all.iter().map(|one| new_exercise(&one.name)).collect();
                part_after(&mut lesson.exercises, &mut lesson.without, Part::Exercises, all);
            }
        }
        LessonEdit::Games(edit) => {
            let mut games = lesson.games.take().unwrap_or_default();
            list_after(&mut games, edit, |game, name| game.source.value == *name, new_game);
            part_after(&mut lesson.games, &mut lesson.without, Part::Games, games);
        }
        LessonEdit::Exercises(edit) => {
            let mut all = lesson.exercises.take().unwrap_or_default();
            list_after(&mut all, edit, |one, name| named(one) == *name, new_exercise);
            part_after(&mut lesson.exercises, &mut lesson.without, Part::Exercises, all);
        }
        LessonEdit::GameWords(source, place, words) => {
            let games = lesson.games.iter_mut().flatten();
            let game = games.into_iter().find(|game| game.source.value == source.name).unwrap();
            match place {
                WordsPlace::Before => game.before.clone_from(words),
                WordsPlace::After => game.after.clone_from(words),
                WordsPlace::At(name) => {
                    game.at.retain(|at| at.name.value != *name);
                    let at = |words: &String| WordsAtMove {
                        name: placed(name.clone()),
                        words: words.clone(),
                    };
                    game.at.extend(words.as_ref().map(at));
                    game.at.sort_by_key(|at| at.name.value.to_string());
                }
            }
        }
    }
}

/// A plan as it is after an edit.
fn after(mut plan: CoursePlan, edit: &Edit) -> CoursePlan {
    match edit {
        Edit::Course(CourseField::Title, words) => plan.title.clone_from(words),
        Edit::Course(CourseField::Audience, words) => plan.audience.clone_from(words),
        Edit::Course(CourseField::Words, words) => plan.words.clone_from(words),
        Edit::Lesson(motif, edit) => {
            let mut lessons = plan.lessons.iter_mut();
            lesson_after(lessons.find(|it| it.motif.value == *motif).unwrap(), edit);
        }
        Edit::AddLesson(..) | Edit::DropLesson(_) | Edit::MoveLesson(..) => {
            let listed = match edit {
                Edit::AddLesson(new, spot) => ListEdit::Add(new.motif.clone(), spot.clone()),
                Edit::MoveLesson(motif, spot) => {
                    ListEdit::Move(Nth::first(motif.clone()), spot.clone())
                }
                Edit::DropLesson(motif) => ListEdit::Drop(Nth::first(motif.clone())),
                _ => unreachable!(),
            };
            let new = |motif: &String| PlannedLesson {
                motif: placed(motif.clone()),
                chapter: Some("Chapter".to_owned()),
                heading: None,
                words: Default::default(),
                without: Default::default(),
                games: None,
                exercises: None,
            };
            list_after(&mut plan.lessons, &listed, |it, motif| it.motif.value == *motif, new);
        }
        Edit::AddSheet(sheet) => plan.sheets.push((**sheet).clone()),
        Edit::DropSheet(name) => plan.sheets.retain(|sheet| sheet.name.value != *name),
        Edit::MoveSheet(name, spot) => {
            let moved = ListEdit::Move(Nth::first(name.clone()), spot.clone());
            let new = |_: &String| unreachable!();
            list_after(&mut plan.sheets, &moved, |it, name| it.name.value == *name, new);
        }
        Edit::ChangeSheet(name, new) => {
            let old = plan.sheets.iter_mut().find(|it| it.name.value == *name).unwrap();
            let wanted = match (&old.wanted, &new.wanted) {
                (SheetWanted::These(_), _) => old.wanted.clone(),
                (_, wanted) => wanted.clone(),
            };
            *old = PlannedSheet { wanted, ..(**new).clone() };
        }
        Edit::SheetExercises(name, edit) => {
            let sheet = plan.sheets.iter_mut().find(|it| it.name.value == *name).unwrap();
            let SheetWanted::These(these) = &mut sheet.wanted else { panic!("it names none") };
            let is = |it: &SheetExercise, name: &ExerciseName| of_sheet(name) == *it;
            list_after(these, edit, is, of_sheet);
        }
        Edit::Give(SheetGiven { class, sheet, on, exercises, positions }) => {
            let exercise = |(kind, id): &(ExerciseKind, String)| SheetExercise {
                kind: *kind,
                id: placed(id.clone()),
            };
            plan.given.push(Given {
                class: class.clone(),
                sheet: sheet.clone(),
                on: on.clone(),
                exercises: exercises.iter().map(exercise).collect(),
                positions: positions.iter().cloned().map(placed).collect(),
            });
        }
        Edit::SettleSheet(name, all) => {
            let sheet = plan.sheets.iter_mut().find(|it| it.name.value == *name).unwrap();
            if matches!(sheet.wanted, SheetWanted::Quotas { .. }) {
                let all = all.iter().map(|one| of_sheet(&one.name)).collect();
                sheet.wanted = SheetWanted::These(all);
            }
        }
    }
    plan
}

/// What an edit takes off the plan, by the owner of its comments; entries were numbered when the plan was written.
fn dropped(edit: &Edit) -> Option<String> {
    let entry = |id: &str, what: &str| {
        let (lesson, entry) = id.split_once('-')?.1.split_once('-')?;
        Some(format!("lesson-{lesson}-{what}-{entry}"))
    };
    match edit {
        Edit::DropLesson(motif) => Some(motif.replace("motif", "lesson")),
        // It may have got another name since it was written.
        Edit::DropSheet(name) if !name.starts_with("sheet") => Some("sheet".to_owned()),
        Edit::DropSheet(name) => Some(name.clone()),
        Edit::Lesson(_, LessonEdit::Games(ListEdit::Drop(one) | ListEdit::Replace(one, _))) => {
            let GameSource::Hit(id) = &one.name else { return None };
            entry(id, "game")
        }
        _ => None,
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn an_edit_does_what_it_says_and_every_comment_stays(
        of_plan in proptest::collection::vec(any::<u8>(), 0..160),
        of_edits in proptest::collection::vec(any::<u8>(), 20..160),
    ) {
        let mut text = plan(&mut Choices::of(&of_plan));
        let mut choices = Choices::of(&of_edits);
        for _ in 0..12 {
            let before = read(&text);
            let Some(edit) = edit(&mut choices, &before) else { continue };
            let made = match edited(&text, std::slice::from_ref(&edit)) {
                Ok(made) => made,
                Err(EditFault::There(_) | EditFault::LeftToProgram { .. } | EditFault::LastOfSheet(_) | EditFault::Given(_)) => continue,
                Err(fault) => panic!("{edit:?}: {fault}\n{text}"),
            };
            let wanted = after(before, &edit);
            prop_assert_eq!(read(&made), wanted, "{:?}\n{}\n---\n{}", edit, text, made);
            let is_exercise = matches!(&edit, Edit::SheetExercises(..) | Edit::Lesson(_, LessonEdit::Exercises(_)));
            let owner = dropped(&edit);
            let goes = |of: &str| match &owner {
                Some(owner) => of == owner || of.starts_with(&format!("{owner}-")),
                None => is_exercise && of.contains("exercise"),
            };
            let (old, new) = (comments(&text), comments(&made));
            let lost: Vec<_> = old.iter().filter(|one| !new.contains(one)).collect();
            prop_assert!(lost.iter().all(|(_, of)| goes(of)), "{lost:?} {edit:?}\n{text}\n---\n{made}");
            prop_assert!(new.iter().all(|one| old.contains(one)), "{:?}", edit);
            if made.replace("\r\n", "").contains('\n') {
                let is_mixed = text.contains("\r\n") && !made.contains("Two\nlines");
                prop_assert!(!is_mixed, "{:?}\n{}", edit, made);
            }
            text = made;
        }
    }
}
