//! What was confirmed is in the file, whoever else writes there and whenever the program dies, and can be undone.

use std::io::{BufRead, BufReader, Write as _};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Duration;

use hecatomb::desk::{
    CourseField, Desk, DeskTrouble, Edit, LessonEdit, NewLesson, Noted, Nth, PlanNow, Spot,
    UNDONE_AT_LEAST, WordsPlace,
};
use hecatomb::plan::{CoursePlan, GameSource, MoveName};

use crate::support::Place;

const PLAN: &str = r#"# Mine.
title = "Tuesdays"

[[lesson]]
motif = "bishop-takes-h7"

[[lesson.game]]
id = "one"

[[lesson.game]]
id = "two" # the best
"#;

fn desk(place: &Place) -> Desk {
    place.write("course.toml", PLAN);
    Desk::open(&place.path().join("course.toml")).unwrap()
}

fn title(words: &str) -> Edit {
    Edit::Course(CourseField::Title, Some(words.to_owned()))
}

fn lesson(name: &str) -> Edit {
    let motif = Noted { name: name.to_owned(), says: None };
    Edit::AddLesson(NewLesson { motif, chapter: None, heading: None }, Spot::Last)
}

fn at_move(words: &str) -> Edit {
    let game = Nth::first(GameSource::Hit("two".to_owned()));
    let place = WordsPlace::At(MoveName::read("16.Bxh7+").unwrap());
    let edit = LessonEdit::GameWords(game, place, Some(words.to_owned()));
    Edit::Lesson("bishop-takes-h7".to_owned(), edit)
}

fn changed(desk: &Desk, now: &PlanNow, edit: Edit) -> PlanNow {
    desk.change(&now.state, &[edit], "an edit").unwrap().now
}

#[test]
fn states_go_back_to_the_first_and_forth_to_the_last_also_for_another_window() {
    let place = Place::new();
    let desk = desk(&place);
    let mut now = desk.look().unwrap();
    assert_eq!((now.undo.len(), now.redo.len()), (0, 0));
    let mut texts = vec![now.text.clone()];
    for number in 1..=7 {
        let what = format!("edit {number}");
        now = desk.change(&now.state, &[title(&what)], &what).unwrap().now;
        assert_eq!((&now.text, &now.undo[0]), (&place.read("course.toml"), &what));
        texts.push(now.text.clone());
    }
    for back in (0..7).rev() {
        // Another window, or the program started again.
        let desk = Desk::open(desk.path()).unwrap();
        now = desk.undo(&now.state).unwrap();
        assert_eq!((&now.text, &place.read("course.toml")), (&texts[back], &texts[back]));
        assert_eq!((now.undo.len(), now.redo.len()), (back, 7 - back));
        assert_eq!(now.redo[0], format!("edit {}", back + 1));
    }
    assert_eq!(now.text, PLAN);
    assert!(matches!(desk.undo(&now.state), Err(DeskTrouble::NoState("undo"))));
    for text in &texts[1..] {
        now = desk.redo(&now.state).unwrap();
        assert_eq!((&now.text, text), (text, &place.read("course.toml")));
    }
    assert!(matches!(desk.redo(&now.state), Err(DeskTrouble::NoState("redo"))));
    now = desk.undo(&now.state).unwrap();
    now = changed(&desk, &now, title("Another way"));
    assert_eq!((now.undo.len(), now.redo.len()), (7, 0));
}

#[test]
fn fifty_changes_can_be_undone_and_the_oldest_go_after_one_more() {
    let place = Place::new();
    let desk = desk(&place);
    let mut now = desk.look().unwrap();
    let most = UNDONE_AT_LEAST + 1;
    for number in 1..=most {
        now = changed(&desk, &now, title(&format!("edit {number}")));
    }
    assert_eq!(now.undo.len(), most);
    now = changed(&desk, &now, title("one more"));
    assert_eq!(now.undo.len(), most);
    for _ in 0..most {
        now = desk.undo(&now.state).unwrap();
    }
    assert_eq!(now.text, PLAN.replace("Tuesdays", "edit 1"));
    assert!(matches!(desk.undo(&now.state), Err(DeskTrouble::NoState(_))));
    let kept = std::fs::read_dir(place.path().join(".course.toml.states")).unwrap().count();
    assert_eq!(kept, most + 1 + 2, "the states, their order and the lock");
}

#[test]
fn what_another_window_changed_is_kept_or_asked_about() {
    let place = Place::new();
    let (mine, theirs) = (desk(&place), Desk::open(&place.path().join("course.toml")).unwrap());
    let seen = mine.look().unwrap();
    changed(&theirs, &theirs.look().unwrap(), at_move("Theirs"));
    let merged = mine.change(&seen.state, &[title("Mine")], "title").unwrap();
    assert!(merged.is_merged);
    let both = PLAN.replace("Tuesdays", "Mine");
    assert_eq!(merged.now.text, format!("{both}\n[lesson.game.at]\n\"16.Bxh7\" = \"Theirs\"\n"));
    let Err(DeskTrouble::Clash(clash)) = mine.change(&seen.state, &[at_move("Mine")], "words")
    else {
        panic!("both wrote at one move");
    };
    let shown = (clash.seen.as_deref(), clash.theirs.as_deref(), clash.yours.as_deref());
    assert_eq!(shown, (None, Some("Theirs"), Some("Mine")));
    assert_eq!(place.read("course.toml"), merged.now.text);
    // Both wrote the same.
    assert!(mine.change(&seen.state, &[at_move("Theirs")], "words").is_ok());
    // An entry with words of somebody else is not dropped unseen.
    let one = Nth::first(GameSource::Hit("two".to_owned()));
    let games = LessonEdit::Games(hecatomb::desk::ListEdit::Drop(one));
    let drop = Edit::Lesson("bishop-takes-h7".to_owned(), games);
    let dropped = mine.change(&seen.state, std::slice::from_ref(&drop), "drop");
    assert!(matches!(dropped, Err(DeskTrouble::Clash(_))), "{dropped:?}");
    let now = changed(&mine, &mine.look().unwrap(), drop);
    assert!(!now.text.contains("two"), "{}", now.text);
    // To undo is to undo what one sees.
    assert!(matches!(theirs.undo(&seen.state), Err(DeskTrouble::Outdated)));
}

#[test]
fn what_an_editor_wrote_is_a_state_that_can_be_undone() {
    let place = Place::new();
    let desk = desk(&place);
    let seen = changed(&desk, &desk.look().unwrap(), title("Mine"));
    let edited = seen.text.replace("# Mine.", "# Theirs.");
    place.write("course.toml", &edited);
    let merged = desk.change(&seen.state, &[at_move("Look")], "words").unwrap();
    assert!(merged.is_merged && merged.now.text.starts_with(&edited), "{}", merged.now.text);
    assert_eq!(merged.now.undo, ["words", "a change made elsewhere", "an edit"]);
    let now = desk.undo(&merged.now.state).unwrap();
    assert_eq!(now.text, edited);
    // An editor that writes back what was there before turns to that state.
    place.write("course.toml", &seen.text);
    assert_eq!(desk.look().unwrap().state, seen.state);
}

#[test]
fn plan_that_an_editor_broke_is_told_and_left_alone() {
    let place = Place::new();
    let desk = desk(&place);
    let seen = desk.look().unwrap();
    place.write("course.toml", "title = \"half");
    let now = desk.look().unwrap();
    assert!(now.plan.is_err());
    for state in [&seen.state, &now.state] {
        let trouble = desk.change(state, &[title("Mine")], "title").unwrap_err();
        assert!(matches!(trouble, DeskTrouble::Edit(_)), "{trouble:?}");
    }
    assert_eq!(place.read("course.toml"), "title = \"half");
    assert_eq!(desk.undo(&now.state).unwrap().text, PLAN);
}

#[test]
fn plan_that_is_written_anew_has_no_states_of_the_one_that_was_there() {
    let place = Place::new();
    let desk = desk(&place);
    let seen = changed(&desk, &desk.look().unwrap(), title("Mine"));
    let path = desk.path();
    // What could not be written leaves the states alone.
    assert!(matches!(Desk::begin(path, "title = \"New\"\n"), Err(DeskTrouble::File { .. })));
    assert_eq!(desk.look().unwrap().undo, ["an edit"]);
    std::fs::remove_file(path).unwrap();
    let desk = Desk::begin(path, "title = \"New\"\n").unwrap();
    let now = desk.look().unwrap();
    assert_eq!((now.undo.len(), now.redo.len()), (0, 0), "{:?}", now.undo);
    assert!(matches!(desk.undo(&now.state), Err(DeskTrouble::NoState("undo"))));
    // Who still sees the old plan changes nothing in the new one.
    let late = desk.change(&seen.state, &[title("Late")], "title");
    assert!(matches!(late, Err(DeskTrouble::Outdated)), "{late:?}");
    let kept = std::fs::read_dir(place.path().join(".course.toml.states")).unwrap().count();
    assert_eq!(kept, 1 + 2, "the state, the order and the lock");
    let now = changed(&desk, &now, title("Newer"));
    assert_eq!(desk.undo(&now.state).unwrap().text, "title = \"New\"\n");
}

#[cfg(unix)]
#[test]
fn links_and_files_that_may_not_be_written_are_told() {
    use std::os::unix::fs::{PermissionsExt, symlink};
    let place = Place::new();
    let path = |name: &str| place.path().join(name);
    place.write("real.toml", PLAN).write("closed.toml", PLAN).write("other.toml", PLAN);
    symlink(path("real.toml"), path("link.toml")).unwrap();
    assert!(matches!(Desk::open(&path("link.toml")), Err(DeskTrouble::Link(_))));
    assert!(matches!(Desk::open(&path("none.toml")), Err(DeskTrouble::Missing(_))));
    assert!(matches!(Desk::open(place.path()), Err(DeskTrouble::NoFile(_))));
    let rights = std::fs::Permissions::from_mode(0o444);
    std::fs::set_permissions(path("closed.toml"), rights).unwrap();
    assert!(matches!(Desk::open(&path("closed.toml")), Err(DeskTrouble::ReadOnly(_))));
    std::fs::create_dir(path("elsewhere")).unwrap();
    symlink(path("elsewhere"), path(".other.toml.states")).unwrap();
    assert!(matches!(Desk::open(&path("other.toml")), Err(DeskTrouble::Link(_))));
    assert_eq!(std::fs::read_dir(path("elsewhere")).unwrap().count(), 0);
    // A link that takes the plan's place later is no way out, either.
    let desk = Desk::open(&path("real.toml")).unwrap();
    let seen = desk.look().unwrap();
    std::fs::rename(path("real.toml"), path("away.toml")).unwrap();
    symlink(path("away.toml"), path("real.toml")).unwrap();
    let trouble = desk.change(&seen.state, &[title("Mine")], "title").unwrap_err();
    assert!(matches!(trouble, DeskTrouble::Link(_)), "{trouble:?}");
    assert_eq!(place.read("away.toml"), PLAN);
    // The rights of a plan stay.
    std::fs::set_permissions(path("other.toml"), std::fs::Permissions::from_mode(0o640)).unwrap();
    std::fs::remove_file(path(".other.toml.states")).unwrap();
    let desk = Desk::open(&path("other.toml")).unwrap();
    changed(&desk, &desk.look().unwrap(), title("Mine"));
    let rights = std::fs::metadata(path("other.toml")).unwrap().permissions().mode();
    assert_eq!(rights & 0o777, 0o640);
}

#[test]
fn two_writers_at_once_lose_nothing() {
    let place = Place::new();
    let path = desk(&place).path().to_owned();
    std::thread::scope(|scope| {
        for writer in ["left", "right"] {
            let path = &path;
            scope.spawn(move || {
                let desk = Desk::open(path).unwrap();
                let first = desk.look().unwrap();
                for number in 0..20 {
                    // As seen long ago.
                    let edit = lesson(&format!("{writer}-{number}"));
                    desk.change(&first.state, &[edit], "a lesson").unwrap();
                }
            });
        }
    });
    let plan = CoursePlan::read("course.toml", &place.read("course.toml")).unwrap();
    assert_eq!(plan.lessons.len(), 41);
}

/// Where the process that is killed writes; without it, there is nothing to do.
const KILLED: &str = "HECATOMB_TEST_KILLED_PLAN";

/// The process that is killed: adds lessons, and says so once each is confirmed.
#[test]
fn adds_lessons_until_it_is_killed() {
    let Some(path) = std::env::var_os(KILLED) else { return };
    let desk = Desk::open(Path::new(&path)).unwrap();
    let mut now = desk.look().unwrap();
    loop {
        let count = now.plan.as_ref().unwrap().lessons.len();
        now =
            desk.change(&now.state, &[lesson(&format!("lesson-{count}"))], "a lesson").unwrap().now;
        writeln!(std::io::stdout(), "confirmed {}", count + 1).unwrap();
    }
}

#[test]
fn killed_at_thirty_moments_no_confirmed_change_is_gone() {
    let place = Place::new();
    let path = desk(&place).path().to_owned();
    let mut confirmed = 1;
    for moment in 0..30 {
        let mut child = Command::new(std::env::current_exe().unwrap())
            .args(["--exact", "desk::keeping::adds_lessons_until_it_is_killed", "--nocapture"])
            .env(KILLED, &path)
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let mut lines = BufReader::new(child.stdout.take().unwrap()).lines().map_while(Result::ok);
        let count = |line: String| line.strip_prefix("confirmed ").and_then(|it| it.parse().ok());
        let first: usize = lines.by_ref().find_map(count).unwrap();
        std::thread::sleep(Duration::from_micros(moment * 1_700 % 20_000));
        child.kill().unwrap();
        child.wait().unwrap();
        confirmed = lines.filter_map(count).last().unwrap_or(first).max(confirmed);
        let text = place.read("course.toml");
        let plan = CoursePlan::read("course.toml", &text).unwrap();
        let added = plan.lessons.len();
        assert!(added == confirmed || added == confirmed + 1, "{added} of {confirmed}");
        let names = plan.lessons.iter().skip(1).map(|lesson| &*lesson.motif.value);
        assert!(names.enumerate().all(|(at, name)| name == format!("lesson-{}", at + 1)));
        // The order of its states knows the plan: nothing looks as if it was made elsewhere.
        let now = Desk::open(&path).unwrap().look().unwrap();
        assert!(now.undo.iter().all(|what| what == "a lesson"), "{:?}", now.undo);
        confirmed = added;
    }
    assert!(confirmed > 30, "{confirmed}");
    let desk = Desk::open(&path).unwrap();
    let mut now = desk.look().unwrap();
    let undone = now.undo.len();
    assert!(undone >= UNDONE_AT_LEAST.min(confirmed - 1), "{undone} of {confirmed}");
    for back in 1..=undone {
        now = desk.undo(&now.state).unwrap();
        assert_eq!(now.plan.unwrap().lessons.len(), confirmed - back);
    }
    assert_eq!(std::fs::read_dir(place.path()).unwrap().count(), 2, "the plan and its states");
}
