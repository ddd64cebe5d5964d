//! A plan makes the course a teacher's own: what it names is shown, in its order, with its words; what it gets wrong is
//! told at its place; and it is all that need be kept.

use std::fmt::Write as _;

use hecatomb::plan::CoursePlan;
use scraper::{ElementRef, Html, Selector};

use crate::support::{Place, game, season};

/// Enough for an exercise or two, and soon done.
const FEW: &str = "--nodes=4000";
const QUERY: &str = "bishop-takes-h7";

fn mined() -> Place {
    let place = Place::new();
    place.write("season.pgn", season());
    let mine = ["mine", "season.pgn", "--quiet", "--query", QUERY, "--query", "rook-takes-h7"];
    assert_eq!(place.run(&mine).status, 0);
    place
}

fn first_plan(place: &Place) -> String {
    let ran = place.run(&["plan", "hecatomb-out", "-o", "course.toml", FEW]);
    assert_eq!((ran.status, &*ran.err), (0, "a plan of 2 lessons in course.toml\n"));
    place.read("course.toml")
}

fn course(place: &Place) -> crate::support::Ran {
    place.run(&["course", "hecatomb-out", "--plan", "course.toml", "-o", "out", FEW])
}

fn page(place: &Place, name: &str) -> Html {
    Html::parse_document(&place.read(&format!("out/{name}.html")))
}

fn all<'p>(page: &'p Html, selector: &str) -> Vec<ElementRef<'p>> {
    page.select(&Selector::parse(selector).unwrap()).collect()
}

fn text(element: ElementRef<'_>) -> String {
    element.text().collect::<String>().split_whitespace().collect::<Vec<_>>().join(" ")
}

fn texts(page: &Html, selector: &str) -> Vec<String> {
    all(page, selector).into_iter().map(text).collect()
}

/// The ids of the games that a plan names for its first lesson.
fn games_of_first(plan: &str) -> Vec<String> {
    let first = plan.split("[[lesson]]").nth(1).unwrap();
    let games = first.split("[[lesson.game]]").skip(1);
    let id = |game: &str| {
        let line = game.lines().find(|line| line.starts_with("id = ")).unwrap();
        line["id = ".len()..].trim_matches('"').to_owned()
    };
    games.map(id).collect()
}

#[test]
fn first_plan_makes_the_course_that_the_program_would_make() {
    let place = mined();
    let plan = first_plan(&place);
    assert!(CoursePlan::read("course.toml", &plan).is_ok(), "{plan}");
    assert_eq!(course(&place).status, 0);
    let unplanned = place.run(&["course", "hecatomb-out", "-o", "unplanned", FEW]);
    assert_eq!(unplanned.status, 0, "{unplanned}");
    for name in [QUERY, "rook-takes-h7", "index"] {
        let other = Html::parse_document(&place.read(&format!("unplanned/{name}.html")));
        for selector in ["h1", ".game h3", ".game .moves", ".exercises figcaption", ".lessons a"] {
            let mut of_plan = texts(&page(&place, name), selector);
            let mut of_program = texts(&other, selector);
            if selector.starts_with(".exercises") {
                // Numbers differ where exercises of one offer stand together.
                of_plan.sort();
                of_program.sort();
            }
            assert_eq!(of_plan, of_program, "{selector} of {name}");
        }
    }
    // Each entry says what it is.
    for part in plan.split("\n[[lesson").skip(1) {
        let comment = part.lines().nth(1).unwrap();
        assert!(comment.starts_with("# ") && comment.len() > 20, "{part}");
    }
}

#[test]
fn games_stand_as_they_are_planned_with_the_teachers_words() {
    let place = mined();
    let games = games_of_first(&first_plan(&place));
    place.write(
        "own.pgn",
        "[White \"Alder, Tom\"]\n[Black \"Birch, Ida\"]\n[Result \"*\"]\n\n{Watch the bishop.} 1. e4 e5 $1 \
         {[%clk 0:01:00] the old reply} 2. Bc4 (2. Nf3 Nc6 (2... d6 {solid}) 3. Bb5) 2... Nc6 *\n",
    );
    let plan = format!(
        "title = \"Tuesday\"\naudience = \"1200 to 1500\"\nwords = \"Bring a *board*.\"\n\n[[lesson]]\nmotif = \"{QUERY}\"\n\
         chapter = \"First\"\nheading = \"The walk\"\nwithout = [\"rules\", \"tree\", \"exercises\"]\n\n\
         [lesson.words]\nstart = \"Today **we** begin.\"\ngames = \"Look.\"\nend = \"Done.\"\n\n\
         [[lesson.game]]\nid = \"{}\"\nafter = \"What else?\"\n\n\
         [[lesson.game]]\nfile = \"own.pgn\"\nopens = \"2.Bc4\"\nbefore = \"Mine.\"\n[lesson.game.at]\n\
         \"1...e5\" = \"A _classic_ <script>alert(1)</script>.\"\n\n\
         [[lesson.game]]\nid = \"{}\"\n",
        games[2], games[0]
    );
    place.write("course.toml", plan);
    let ran = course(&place);
    assert_eq!((ran.status, &*ran.err), (0, "1 lesson in out\n"), "{ran}");
    let index = page(&place, "index");
    assert_eq!(texts(&index, "h1"), ["Tuesday"]);
    assert_eq!(texts(&index, "main h2"), ["First"]);
    assert_eq!(texts(&index, ".lessons a"), ["The walk"]);
    assert!(text(all(&index, "header")[0]).contains("1200 to 1500"));
    assert_eq!(texts(&index, ".said em"), ["board"]);
    let lesson = page(&place, QUERY);
    assert_eq!(lesson.errors, Vec::<&str>::new());
    assert_eq!(texts(&lesson, "h1"), ["The walk"]);
    assert_eq!(texts(&lesson, "h2"), ["The motif", "How often, and how well", "Model games"]);
    let said = texts(&lesson, ".said");
    let classic = "A classic <script>alert(1)</script>.";
    assert_eq!(said, ["Today we begin.", "Look.", "What else?", "Mine.", classic, "Done."]);
    assert_eq!(all(&lesson, "script:not([type])").len(), 1);
    assert_eq!(all(&lesson, ".game").len(), 3);
    let own = &texts(&lesson, "#game-2")[0];
    for words in ["Watch the bishop.", "the old reply", "1.e4 e5!", "2.Nf3 Nc6", "2…d6", "solid"]
    {
        assert!(own.contains(words), "{words}: {own}");
    }
    assert!(!own.contains("clk"), "{own}");
    // The board of the own game opens before the move that was named.
    let data: Vec<String> = texts(&lesson, "#game-2 script");
    assert!(data[0].contains("\"opened\":2"), "{}", data[0]);
}

#[test]
fn what_was_chosen_stays_when_games_are_added_and_what_is_gone_is_named() {
    let place = mined();
    let plan = first_plan(&place);
    assert_eq!(course(&place).status, 0);
    let before = texts(&page(&place, QUERY), ".game h3");
    // Other games come first now, and the file has another name.
    place.write("later.pgn", [game("Alder, Tom", "Birch, Ida").into_bytes(), season()].concat());
    let mine = |file: &str| {
        let mine =
            ["mine", file, "--quiet", "--replace", "--query", QUERY, "--query", "rook-takes-h7"];
        assert_eq!(place.run(&mine).status, 0);
    };
    mine("later.pgn");
    let ran = course(&place);
    assert_eq!(ran.status, 0, "{ran}");
    assert_eq!(texts(&page(&place, QUERY), ".game h3"), before);
    // Without any of them, each is named with its line.
    let ids = games_of_first(&plan);
    place.write("course.toml", plan.replace(&ids[0], "0000000000000:9:bishop-takes-h7"));
    let ran = course(&place);
    assert_eq!(ran.status, 0, "{ran}");
    let line = 1 + plan.lines().position(|line| line.contains(&ids[0])).unwrap();
    let gone = format!("course.toml:{line}: `0000000000000:9:bishop-takes-h7`");
    assert!(ran.err.contains(&gone), "{gone}: {ran}");
    assert_eq!(texts(&page(&place, QUERY), ".game h3").len(), before.len() - 1);
}

#[test]
fn what_is_wrong_in_a_plan_is_told_at_its_place() {
    let place = mined();
    let games = games_of_first(&first_plan(&place));
    place.write("own.pgn", "1. e4 e5 2. Ke3 *\n");
    let lesson = format!("[[lesson]]\nmotif = \"{QUERY}\"\n");
    let game = format!("{lesson}[[lesson.game]]\nid = \"{}\"\n", games[0]);
    let plans = [
        "title = 3\n".to_owned(),
        "titel = \"a\"\n".to_owned(),
        "title = \"a\n".to_owned(),
        "[lesson]\nmotif = \"a\"\n".to_owned(),
        "[[lesson]]\nchapter = \"a\"\n".to_owned(),
        "[[lesson]]\nmotif = \"bishop-takes-h8\"\n".to_owned(),
        format!("{lesson}\n{lesson}"),
        format!("{lesson}without = [\"board\"]\n"),
        format!("{game}number = 0\n"),
        format!("{game}file = \"own.pgn\"\n"),
        format!("{lesson}[[lesson.game]]\nbefore = \"a\"\n"),
        format!("{lesson}[[lesson.game]]\nfile = \"other.pgn\"\n"),
        format!("{lesson}[[lesson.game]]\nfile = \"own.pgn\"\n"),
        format!("{lesson}[[lesson.game]]\nfile = \"own.pgn\"\nnumber = 2\n"),
        format!("{game}opens = \"1.e4\"\n"),
        format!("{game}[lesson.game.at]\ne4 = \"a\"\n"),
        format!("{game}[lesson.game.at]\n\"1.a4\" = \"a\"\n"),
        format!("{game}[lesson.game.at]\n\"99.a4\" = \"a\"\n"),
        format!("{lesson}[[lesson.exercise]]\nkind = \"fnd\"\ncount = 2\n"),
        format!("{lesson}[[lesson.exercise]]\nkind = \"find\"\n"),
        format!("{lesson}[[lesson.exercise]]\nkind = \"find\"\ncount = 2\nlevel = 7\n"),
        format!(
            "{lesson}without = [\"exercises\"]\n[[lesson.exercise]]\nkind = \"find\"\ncount = 2\n"
        ),
    ];
    let sheets = [
        "of = \"find:2\"",
        "name = \"A b\"\nof = \"find:2\"",
        "name = \"a\"\nof = \"find\"",
        "name = \"a\"\nof = [\"find:2\", \"guess:1\"]",
        "name = \"a\"",
        "name = \"a\"\nof = \"find:1\"\nfor = \"parents\"\nper-page = 5\nlarge = 1",
        "name = \"a\"\nof = \"find:1\"\nmotif = \"rook-takes-h8\"",
    ];
    let sheets = sheets.iter().map(|keys| format!("[[sheet]]\n{keys}\n"));
    let given = "[[given]]\nclass = \"a\"\nexercises = [\"find\"]\n".to_owned();
    let plans = plans.into_iter().chain(sheets).chain([given]);
    let mut told = String::new();
    for plan in plans {
        place.write("course.toml", plan);
        let ran = course(&place);
        assert_eq!((ran.status, &*ran.out), (1, ""), "{ran}");
        assert!(!place.path().join("out").exists(), "nothing was written");
        let _ = writeln!(told, "{}\n", ran.err.trim_end());
    }
    let told = told.replace(&games[0], "ID");
    insta::assert_snapshot!(told);
}

/// The positions of the exercises on a page, as its boards have them.
fn boards(page: &Html) -> Vec<String> {
    let drawing = |board: ElementRef<'_>| board.inner_html();
    all(page, ".tasks .men").into_iter().map(drawing).collect()
}

#[test]
fn sheets_of_a_class_are_noted_stay_and_are_not_given_again() {
    let place = mined();
    assert_eq!(place.run(&["verify", "hecatomb-out", FEW]).status, 0);
    let sheet = |name: &str| {
        format!(
            "[[sheet]]\nname = \"{name}\"\nclass = \"Tuesday\"\nof = \"count:2\"\nfor = [\"pupil\", \"teacher\"]\n"
        )
    };
    let lesson = format!("# mine\n[[lesson]]\nmotif = \"{QUERY}\"\nwithout = [\"exercises\"]\n");
    place.write("course.toml", format!("{lesson}{}", sheet("first")));
    let ran = course(&place);
    assert_eq!((ran.status, &*ran.err), (0, "1 lesson and 1 sheet in out\n"), "{ran}");
    let noted = place.read("course.toml");
    assert!(noted.starts_with(&lesson) && noted.contains("class = \"Tuesday\"\nsheet = \"first\""));
    let first = boards(&page(&place, "first-pupil"));
    assert_eq!(first.len(), 2);
    assert_eq!(all(&page(&place, "index"), "a[href^=first]").len(), 2);
    // The same sheet again, whatever else is mined or wanted of it; and another one that has nothing of it.
    place.write("course.toml", noted.replace("count:2", "count:1") + &sheet("second"));
    let ran = course(&place);
    assert_eq!(ran.status, 0, "{ran}");
    assert_eq!(boards(&page(&place, "first-pupil")), first);
    let second = boards(&page(&place, "second-pupil"));
    assert!(!second.is_empty() && second.iter().all(|board| !first.contains(board)), "{second:?}");
    // So does the command for one sheet.
    let more = ["exercises", "hecatomb-out", "--kind=count", "--count=2", FEW, "--class=Tuesday"];
    let more = [&more[..], &["--plan", "course.toml", "-o", "third.html"]].concat();
    let ran = place.run(&more);
    assert_eq!(ran.status, 0, "{ran}");
    let third = boards(&Html::parse_document(&place.read("third.html")));
    assert!(third.iter().all(|board| !first.contains(board) && !second.contains(board)));
    assert!(place.read("course.toml").contains("sheet = \"third\""));
    let other = more.iter().map(|&it| if it == "--class=Tuesday" { "--class=Friday" } else { it });
    assert_eq!(place.run(&other.collect::<Vec<_>>()).status, 0);
    let friday = boards(&Html::parse_document(&place.read("third.html")));
    assert_eq!(friday, first, "another class has had nothing");
}

#[test]
fn plan_is_never_written_over_unasked() {
    let place = mined();
    place.write("course.toml", "title = \"Mine\"\n");
    let plan = ["plan", "hecatomb-out", "-o", "course.toml", FEW];
    let ran = place.run(&plan);
    assert_eq!(ran.status, 1);
    assert!(ran.err.contains("`course.toml` is there already"), "{ran}");
    assert_eq!(place.read("course.toml"), "title = \"Mine\"\n");
    assert_eq!(place.run(&[&plan[..], &["--replace"]].concat()).status, 0);
    assert!(place.read("course.toml").contains("[[lesson]]"));
}

#[test]
fn plan_of_the_help_is_a_plan() {
    let help = Place::new().run(&["help", "plans"]).out;
    let lines = help.lines().skip_while(|line| !line.contains("title = "));
    let example = lines.take_while(|line| line.is_empty() || line.starts_with("  "));
    let example: String = example.map(|line| format!("{}\n", line.trim())).collect();
    let plan = CoursePlan::read("course.toml", &example);
    let plan = plan.map_err(|problems| problems.render(false)).unwrap();
    assert_eq!(plan.lessons.len(), 1, "{example}");
    assert_eq!(plan.lessons[0].games.as_ref().map(Vec::len), Some(1));
}

#[test]
fn moves_have_the_letters_of_the_class_where_people_read_them() {
    let place = mined();
    let lesson = |options: &[&str]| {
        let lesson = ["lesson", "hecatomb-out", "--query", QUERY, "-o", "-", FEW];
        let ran = place.run(&[&lesson[..], options].concat());
        assert_eq!(ran.status, 0, "{ran}");
        Html::parse_document(&ran.out)
    };
    let (english, german) = (lesson(&[]), lesson(&["--pieces", "german"]));
    let is_of = |page: &Html, letters: &str, selector: &str| {
        let text = texts(page, selector).join(" ");
        letters.chars().any(|letter| text.contains(&format!("{letter}xh7")))
    };
    for selector in [".ply", ".tree", ".game script"] {
        assert!(is_of(&english, "BK", selector), "{selector}");
        assert!(!is_of(&german, "BQRN", selector), "{selector}");
        assert!(is_of(&german, "LK", selector), "{selector}");
    }
    let games = |options: &[&str]| {
        place.run(&[&["games", "hecatomb-out", "--query", QUERY, FEW][..], options].concat()).out
    };
    let pgn = games(&["--pieces", "figurines"]);
    assert!(pgn.contains("Bxh7+") && !pgn.contains('♗'), "{pgn}");
    let text = games(&["--pieces", "figurines", "--format", "text"]);
    assert!(text.contains("♗xh7+") && !text.contains("Bxh7+"), "{text}");
    place.write("course.toml", format!("pieces = \"spanish\"\n[[lesson]]\nmotif = \"{QUERY}\"\n"));
    assert_eq!(course(&place).status, 0);
    assert!(is_of(&page(&place, QUERY), "A", ".ply"));
    let wrong = place.run(&["lesson", "hecatomb-out", "--query", QUERY, "--pieces", "latin"]);
    assert_eq!(wrong.status, 2, "{wrong}");
}
