//! What is read as a plan is read so again, what a class was given can be added to any plan and changes nothing else in it,
//! problems are told at places of the file, and a teacher's game can be played, with all that branches off it.

#![no_main]

use hecatomb::desk::{CourseField, Edit, edited};
use hecatomb::plan::{CoursePlan, MoveName, given_entry};
use hecatomb::teaching::{ExerciseKind, GameTree, read_game};
use libfuzzer_sys::fuzz_target;
use shakmaty::Position;

fn check_plan(source: &str) {
    match CoursePlan::read("course.toml", source) {
        Ok(plan) => {
            let class = source.chars().take(20).collect::<String>();
            let exercises = [(ExerciseKind::Find, "0123456789abc:31:bishop-takes-h7".to_owned())];
            let entry = given_entry(&class, "week-1", "2031-03-04", &exercises, &[class.clone()]);
            let more = CoursePlan::read("course.toml", &format!("{source}{entry}"));
            // A list in one line can't be added to, and is told.
            let Ok(mut more) = more else { return assert!(source.contains("given")) };
            let given = more.given.pop().expect("it is the last");
            assert_eq!((&*given.class, given.exercises.len()), (&*class, 1));
            assert_eq!(more, plan);
            check_edit(source, plan);
        }
        Err(problems) => {
            assert!(!problems.problems.is_empty());
            for problem in &problems.problems {
                assert!(source.get(problem.span.clone()).is_some(), "{problem:?}");
            }
            let _ = problems.render(false);
        }
    }
}

/// A title can be given to any plan, and nothing else in it changes but places.
fn check_edit(source: &str, plan: CoursePlan) {
    let edit = Edit::Course(CourseField::Title, Some("Tuesdays".to_owned()));
    let named = edited(source, &[edit]).expect("any plan can have a title");
    let Ok(mut named) = CoursePlan::read("course.toml", &named) else { panic!("{named}") };
    assert_eq!(named.title.take().as_deref(), Some("Tuesdays"));
    assert_eq!((named.audience, named.words), (plan.audience, plan.words));
    assert_eq!(named.lessons.len(), plan.lessons.len());
    assert_eq!(named.sheets.len(), plan.sheets.len());
}

fn check_tree(tree: &GameTree) {
    let replay = &tree.replay;
    for (pos, m) in replay.positions.iter().zip(&replay.moves) {
        assert!(pos.is_legal(*m));
    }
    assert!(tree.notes.keys().all(|index| *index < replay.moves.len()));
    for branch in &tree.branches {
        assert_eq!(branch.tree.replay.positions[0], replay.positions[branch.at]);
        check_tree(&branch.tree);
    }
}

fuzz_target!(|source: &str| {
    check_plan(source);
    if let Some(name) = MoveName::read(source) {
        assert_eq!(MoveName::read(&name.to_string()), Some(name));
    }
    if let Ok(game) = read_game(source.as_bytes(), 1) {
        check_tree(&game.tree);
    }
});
