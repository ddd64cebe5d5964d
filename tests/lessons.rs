//! A lesson is sound HTML that has in it all it needs, shows what the tables say, and is safe whatever
//! the tables say.

use std::collections::{BTreeMap, BTreeSet};

use hecatomb::teaching::{MODEL_GAMES, Steps, StepsError};
use scraper::{ElementRef, Html, Selector};

use crate::support::{Place, Row, game, repeat_offer, rows, season};

/// Enough for an exercise or two, and soon done.
const FEW: &str = "--nodes=4000";

/// A folder with the sample season mined, and the page of a lesson on it.
fn lesson(query: &str) -> (Place, String) {
    let place = mined(&[query]);
    let ran = place.run(&["lesson", "hecatomb-out", "--query", query, "-o", "-", FEW]);
    assert_eq!((ran.status, &*ran.err), (0, ""));
    (place, ran.out)
}

fn mined(queries: &[&str]) -> Place {
    let place = Place::new();
    place.write("season.pgn", season());
    let queries = queries.iter().flat_map(|query| ["--query", query]);
    let ran = place
        .run(&["mine", "season.pgn", "--quiet"].into_iter().chain(queries).collect::<Vec<_>>());
    assert_eq!(ran.status, 0, "{ran}");
    place
}

fn all<'p>(page: &'p Html, selector: &str) -> Vec<ElementRef<'p>> {
    page.select(&Selector::parse(selector).unwrap()).collect()
}

fn text(element: ElementRef<'_>) -> String {
    element.text().collect::<Vec<_>>().join(" ").split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The text of the first such element in another.
fn text_in(element: ElementRef<'_>, selector: &str) -> String {
    element.select(&Selector::parse(selector).unwrap()).next().map(text).unwrap_or_default()
}

#[test]
fn page_is_sound_html() {
    let (_, source) = lesson("bishop-takes-h7");
    let page = Html::parse_document(&source);
    assert_eq!(page.errors, Vec::<&str>::new());
    assert!(!Html::parse_document("<!doctype html><p></b>").errors.is_empty(), "errors are seen");
    assert_eq!(all(&page, "html")[0].attr("lang"), Some("en"));
    assert_eq!(text(all(&page, "title")[0]), "Bishop takes the rook’s pawn");
    assert_eq!(["header", "main", "footer"].map(|name| all(&page, name).len()), [1, 1, 1]);
    let levels: Vec<u32> = all(&page, "h1, h2, h3, h4")
        .iter()
        .map(|heading| heading.value().name()[1..].parse().unwrap())
        .collect();
    assert_eq!(levels[0], 1);
    assert!(levels.windows(2).all(|pair| (2..=pair[0] + 1).contains(&pair[1])), "{levels:?}");
}

#[test]
fn ids_are_unique_and_whatever_is_referred_to_is_there() {
    let (_, source) = lesson("bishop-takes-h7");
    let page = Html::parse_document(&source);
    let mut ids: BTreeMap<&str, usize> = BTreeMap::new();
    for element in all(&page, "[id]") {
        *ids.entry(element.attr("id").unwrap()).or_default() += 1;
    }
    assert!(ids.values().all(|&times| times == 1), "{ids:?}");
    for element in all(&page, "a, use") {
        let target = element.attr("href").unwrap().strip_prefix('#').unwrap();
        assert!(ids.contains_key(target), "{target}");
    }
    for attribute in ["aria-labelledby", "aria-describedby"] {
        for element in all(&page, &format!("[{attribute}]")) {
            assert!(ids.contains_key(element.attr(attribute).unwrap()));
        }
    }
    for drawing in all(&page, "main svg") {
        assert!(!text_in(drawing, "title").is_empty() && !text_in(drawing, "desc").is_empty());
    }
}

#[test]
fn page_fetches_nothing_and_is_small() {
    let (_, source) = lesson("bishop-takes-h7");
    let without_namespaces = source.replace("xmlns=\"http://www.w3.org/2000/svg\"", "");
    for word in ["http:", "https:", "//www", "@import", "url(", "<link", "<img", " src=", "data:"] {
        assert!(!without_namespaces.contains(word), "{word}");
    }
    assert!(source.len() < 2_000_000, "{}", source.len());
    let page = Html::parse_document(&source);
    let script = all(&page, "script:not([type])").pop().unwrap().text().collect::<String>();
    assert!((1000..6144).contains(&script.len()), "{}", script.len());
}

#[test]
fn names_from_games_do_no_harm() {
    const EVIL: &str = "</script><script>alert('x')</script>\"'&amp;<img src=x onerror=alert(1)>";
    let place = Place::new();
    let name = EVIL.replace('"', "\\\"");
    place.write("games.pgn", game(&name, "Birch, Ida").replace("Harbour League", &name));
    let ran = place.run(&["mine", "games.pgn", "--query", "knight-follow-up", "--quiet"]);
    assert_eq!(ran.status, 0, "{ran}");
    let ran = place.run(&["lesson", "hecatomb-out", "--query", "knight-follow-up", "-o", "-", FEW]);
    assert_eq!(ran.status, 0, "{ran}");
    let page = Html::parse_document(&ran.out);
    assert_eq!(all(&page, "script:not([type])").len(), 1);
    assert_eq!(all(&page, "img").len(), 0);
    let heading = text(all(&page, "#game-1 h3")[0]);
    assert!(heading.contains(EVIL), "{heading}");
}

#[test]
fn model_games_are_of_both_colours_results_and_of_several_answers() {
    let (_, source) = lesson("bishop-takes-h7");
    let page = Html::parse_document(&source);
    let games = all(&page, ".game");
    let (least, most) = MODEL_GAMES;
    assert!((least..=most).contains(&games.len()), "{}", games.len());
    let mut seen = BTreeSet::new();
    let mut answers = BTreeSet::new();
    let mut headings = BTreeSet::new();
    for game in &games {
        let is_black = text_in(*game, ".offered").contains('…');
        let heading = text_in(*game, "h3");
        let has_won = heading.ends_with(if is_black { "0–1" } else { "1–0" });
        seen.insert((is_black, has_won));
        let plies = Selector::parse("[data-line=\"0\"]").unwrap();
        let from_offer =
            |ply: &ElementRef<'_>| !ply.value().classes().any(|name| name == "offered");
        let reply = game.select(&plies).skip_while(from_offer).nth(1).map(text);
        answers.insert(
            reply.map(|reply| {
                reply.trim_start_matches(|sign: char| !sign.is_alphabetic()).to_owned()
            }),
        );
        headings.insert(heading);
    }
    assert!(seen.contains(&(false, true)) && seen.contains(&(true, true)), "both won: {seen:?}");
    assert!(seen.iter().any(|&(_, has_won)| !has_won), "one failed: {seen:?}");
    assert!(answers.len() >= 3, "{answers:?}");
    assert_eq!(headings.len(), games.len());
}

/// The exercises of a page: what is asked, and the text of the solution.
fn exercises(page: &Html) -> Vec<(String, String)> {
    let shown = all(page, ".exercises > li").into_iter();
    shown.map(|one| (text_in(one, "figcaption"), text_in(one, ".solution"))).collect()
}

/// Where a solution says that its game is to be found: `game 12 of season.pgn`.
fn place_of(solution: &str) -> &str {
    &solution[solution.rfind("game ").unwrap()..]
}

/// A lesson on the season and the cup, whose games hold more that can be proved with few nodes.
fn lesson_on_both(place: &Place, query: &str) -> Html {
    let arguments = ["lesson", "hecatomb-out", "--query", query, "-o", "-", "--nodes=10000"];
    let ran = place.run(&arguments);
    assert_eq!((ran.status, &*ran.err), (0, ""));
    Html::parse_document(&ran.out)
}

fn mined_both(place: Place, query: &str) -> Place {
    place.write("season.pgn", season());
    place.write("cup.pgn.zst", include_bytes!("../sample-data/cup.pgn.zst"));
    let ran = place.run(&["mine", "season.pgn", "cup.pgn.zst", "--quiet", "--query", query]);
    assert_eq!(ran.status, 0, "{ran}");
    place
}

#[test]
fn exercises_of_tables_without_verdicts_are_proved_too_and_are_of_games_that_were_won() {
    let place = Place::new();
    let query = "title = \"Rook given with check\"\nchapter = \"rook\"\n\
                 offer = \"rook to any square with check giving up 3 or more\"\n";
    place.write("rook-given-with-check.toml", query);
    let place = mined_both(place, "rook-given-with-check");
    let page = lesson_on_both(&place, "rook-given-with-check");
    let exercises = exercises(&page);
    assert!((3..=7).contains(&exercises.len()), "{exercises:?}");
    let won: BTreeSet<String> = place
        .rows("hits/rook-given-with-check.csv")
        .iter()
        .filter(|row| &row["score"] == "1")
        .map(|row| format!("game {} of {}", &row["game"], &row["source"]))
        .collect();
    for (asked, solution) in exercises {
        let is_right = ["mates", "comes out"].iter().any(|word| solution.contains(word));
        assert!(asked.ends_with("to move") && is_right, "{asked}: {solution}");
        assert!(won.contains(place_of(&solution)), "{solution}");
    }
    assert!(text(all(&page, "#exercises")[0]).contains("Mates are proved against every defence"));
    assert_eq!(all(&page, ".exercises details[open], .exercises circle").len(), 0);
}

/// The offers of the tables that gave something up, each with its verdict.
fn judged(place: &Place, query: &str) -> Vec<(Row, Row)> {
    let hits = place.rows(&format!("hits/{query}.csv"));
    let verdicts = place.rows(&format!("verdicts/{query}.csv"));
    assert_eq!(hits.len(), verdicts.len());
    hits.into_iter().zip(verdicts).filter(|(hit, _)| &hit["cost"] != "0").collect()
}

#[test]
fn verified_tables_give_exercises_of_both_kinds_and_say_what_model_games_are_worth() {
    let place = mined_both(Place::new(), "rook-decoy-corner");
    let ran = place.run(&["verify", "hecatomb-out", "--quiet", "--nodes", "10000"]);
    assert_eq!(ran.status, 0, "{ran}");
    let page = lesson_on_both(&place, "rook-decoy-corner");
    assert_eq!(page.errors, Vec::<&str>::new());

    let judged = judged(&place, "rook-decoy-corner");
    let count = |sound: &str| judged.iter().filter(|(_, row)| &row["sound"] == sound).count();
    let told = text(all(&page, "#numbers .prose")[0]);
    let sentence = format!("Of these offers {} are sound", count("yes"));
    assert!(told.contains(&sentence), "{sentence}\n{told}");
    assert!(told.contains(&format!("and {} are open", count("open"))), "{told}");
    let rests_on = |word: &str| judged.iter().filter(|(_, row)| &row["evidence"] == word).count();
    let sentence = format!("Of these verdicts {} are proved", rests_on("proved"));
    assert!(told.contains(&sentence), "{sentence}\n{told}");
    assert!(told.contains(&format!("{} are counted in material.", rests_on("counted"))), "{told}");

    let exercises = exercises(&page);
    assert!((2..=9).contains(&exercises.len()), "{exercises:?}");
    let models: Vec<String> = all(&page, ".game .source").into_iter().map(text).collect();
    let mut places = BTreeSet::new();
    for (asked, solution) in &exercises {
        let place = place_of(solution);
        assert!(places.insert(place.to_owned()), "twice: {place}");
        let is_model = |source: &String| source.to_lowercase().contains(&format!("{place}."));
        assert!(!models.iter().any(is_model), "a model game, too: {place}");
        let (judged, fails) = (asked.contains("work?"), solution.contains("It does not work."));
        assert!(judged || asked.ends_with("to move"), "{asked}");
        assert!(judged || !fails, "{asked}: {solution}");
    }
    let judged = exercises.iter().filter(|(asked, _)| asked.contains("work?"));
    let is_answered = |(_, solution): &(String, String)| {
        solution.contains(" It works. ") || solution.contains(" It does not work. ")
    };
    let answered: Vec<bool> = judged.map(is_answered).collect();
    assert!(!answered.is_empty() && answered.iter().all(|is_so| *is_so), "{exercises:?}");
    let page_text = text(all(&page, "main")[0]);
    assert!(!page_text.contains(" 1 times") && !page_text.contains(" 0 are"), "{page_text}");

    let stories: Vec<String> = all(&page, ".game .story").into_iter().map(text).collect();
    let proofs = stories.iter().filter(|story| story.starts_with("With best play the offer"));
    assert!(proofs.count() >= 2, "{stories:?}");
}

#[test]
fn same_tables_give_the_same_page_whatever_their_format() {
    let (place, source) = lesson("knight-follow-up");
    for format in ["jsonl", "parquet"] {
        let mine =
            ["mine", "season.pgn", "--query", "knight-follow-up", "--quiet", "--out", format];
        let ran = place.run(&[&mine[..], &["--table", format]].concat());
        assert_eq!(ran.status, 0, "{ran}");
        let ran = place.run(&["lesson", format, "--query", "knight-follow-up", "-o", "-", FEW]);
        assert!(ran.out == source, "{format}");
    }
}

#[test]
fn numbers_are_those_of_the_tables() {
    // The built-in query finds only what gives something up.
    let place = Place::new();
    let query = "title = \"Bishop takes on h7\"\nchapter = \"bishop\"\nwings = \"both\"\n\
                 offer = \"bishop takes pawn on h7 with check\"\n\
                 [factors]\npawn-on-e5 = \"attacker pawn on e5\"\n";
    place.write("rook-pawn.toml", query).write("season.pgn", season());
    let ran = place.run(&["mine", "season.pgn", "--quiet", "--query", "rook-pawn"]);
    assert_eq!(ran.status, 0, "{ran}");
    let ran = place.run(&["lesson", "hecatomb-out", "--query", "rook-pawn", "-o", "-", FEW]);
    assert_eq!(ran.status, 0, "{ran}");
    let page = Html::parse_document(&ran.out);
    let hits = place.rows("hits/rook-pawn.csv");
    let real: Vec<_> = hits.iter().filter(|row| &row["cost"] != "0").collect();
    assert!(real.len() < hits.len());
    let count = |score: &str| real.iter().filter(|row| &row["score"] == score).count();
    let told = text(all(&page, "#numbers .prose")[0]);
    for sentence in [
        format!("In 640 games the move was made {} times", hits.len()),
        format!("{} of these gave something up", real.len()),
        format!("won {}, drew {} and lost {}", count("1"), count("0.5"), count("0")),
    ] {
        assert!(told.contains(&sentence), "{sentence}\n{told}");
    }
    let with = real.iter().filter(|row| &row["x_pawn-on-e5"] == "true").count();
    let rule = all(&page, ".rules tbody tr").into_iter().map(text);
    let rule = rule.into_iter().find(|rule| rule.starts_with("Attacker pawn on e5")).unwrap();
    assert!(rule.contains(&format!("{with} games")), "{rule}");
}

#[test]
fn too_few_games_are_called_so() {
    let place = Place::new();
    place.write("games.pgn", game("Alder, Tom", "Birch, Ida"));
    place.run(&["mine", "games.pgn", "--query", "knight-follow-up", "--quiet"]);
    let ran = place.run(&["lesson", "hecatomb-out", "--query", "knight-follow-up", "-o", "-", FEW]);
    let page = Html::parse_document(&ran.out);
    assert_eq!(all(&page, ".game").len(), 1);
    for (section, sentence) in [
        ("#numbers", "Fewer than 10 results say nothing about how well it scores."),
        ("#rules", "There are too few games to measure these"),
        ("#exercises", "No offer in these tables makes an exercise"),
    ] {
        assert!(text(all(&page, section)[0]).contains(sentence), "{section}");
    }
    assert_eq!(all(&page, ".plot, .rules svg").len(), 0);
}

#[test]
fn course_has_a_lesson_for_each_motif_with_given_up() {
    let place =
        mined(&["knight-follow-up", "rook-takes-h7", "knight-to-g6", "queen-deflection-back-rank"]);
    let ran = place.run(&["course", "hecatomb-out", "-o", "course", FEW]);
    assert_eq!((ran.status, &*ran.out), (0, ""), "{ran}");
    let index = place.read("course/index.html");
    let page = Html::parse_document(&index);
    assert_eq!(page.errors, Vec::<&str>::new());
    let listed: BTreeSet<String> =
        all(&page, ".lessons a").iter().map(|link| link.attr("href").unwrap().to_owned()).collect();
    let mut real = BTreeSet::new();
    for entry in std::fs::read_dir(place.path().join("hecatomb-out/hits")).unwrap() {
        let path = entry.unwrap().path();
        if rows(&path).iter().any(|row| &row["cost"] != "0") {
            real.insert(format!("{}.html", path.file_stem().unwrap().to_str().unwrap()));
        }
    }
    assert!((2..4).contains(&real.len()), "some have offers, some have none: {real:?}");
    assert_eq!(listed, real);
    for file in listed {
        let source = place.read(&format!("course/{file}"));
        let lesson = Html::parse_document(&source);
        assert_eq!(lesson.errors, Vec::<&str>::new(), "{file}");
        for link in all(&lesson, ".way a") {
            place.read(&format!("course/{}", link.attr("href").unwrap()));
        }
    }
    let one = ["course", "hecatomb-out", "--query", "knight-follow-up", "-o", "course"];
    let one = [&one[..], &[FEW]].concat();
    let ran = place.run(&one);
    assert_eq!(ran.status, 1);
    let left = format!("{} other page", real.len() - 1);
    assert!(ran.err.contains(&left) && ran.err.contains("--replace"), "{ran}");
    assert_eq!(place.read("course/index.html"), index);
    let ran = place.run(&[&one[..], &["--replace"]].concat());
    assert!(ran.err.starts_with("1 lesson in course\n") && ran.err.contains(&left), "{ran}");
    let page = Html::parse_document(&place.read("course/index.html"));
    let links: BTreeSet<String> = all(&page, "main a")
        .iter()
        .map(|link| link.attr("href").unwrap().trim_start_matches("./").to_owned())
        .collect();
    assert_eq!(links, real, "the index lists what the folder holds");
}

/// A rule with a p-value of 0.03 is hardly chance in a lesson, but may be in a course in which a rule of
/// another lesson was tested, too.
#[test]
fn rules_of_a_course_are_corrected_for_those_of_all_its_lessons() {
    let place = Place::new();
    place.write("games.pgn", game("Alder, Tom", "Birch, Ida"));
    let queries = ["--query", "knight-follow-up", "--query", "bishop-takes-h7"];
    place.run(&[&["mine", "games.pgn", "--quiet"], &queries[..]].concat());
    let cells = |result, rule| [("result", result), ("x_pawn-on-e5", rule)];
    for (query, [with, without]) in [("knight-follow-up", [36, 24]), ("bishop-takes-h7", [30; 2])] {
        let offers = [
            (with, cells("1-0", "true")),
            (60 - with, cells("0-1", "true")),
            (without, cells("1-0", "false")),
            (60 - without, cells("0-1", "false")),
        ];
        repeat_offer(&place, query, &offers.each_ref().map(|(times, cells)| (*times, &cells[..])));
    }
    let said = |options: &[&str], page: &str| {
        let query = ["hecatomb-out", "--edited", "--query", "knight-follow-up", FEW];
        let ran = place.run(&[&options[..1], &query, &options[1..]].concat());
        assert_eq!(ran.status, 0, "{ran}");
        text(all(&Html::parse_document(&place.read(page)), "#rules")[0])
    };
    // Without the note that explains these words.
    let before_note = |said: &str| said.split("The plots run").next().unwrap().to_owned();
    let alone = said(&["lesson", "-o", "alone.html"], "alone.html");
    assert!(before_note(&alone).contains("hardly chance"), "{alone}");
    assert!(alone.contains("the number of these rules taken into account"), "{alone}");
    assert!(alone.contains("always true here") && alone.contains("never true here"), "{alone}");
    let course = said(&["course", "--query", "bishop-takes-h7"], "course/knight-follow-up.html");
    let rules = before_note(&course);
    assert!(rules.contains("may be chance") && !rules.contains("hardly chance"), "{course}");
    assert!(course.contains("the number of rules of all lessons of this course taken"), "{course}");
}

#[test]
fn page_that_somebody_edited_is_not_written_over() {
    let place = mined(&["knight-follow-up"]);
    let lesson = ["lesson", "hecatomb-out", "--query", "knight-follow-up", "-o", "page.html", FEW];
    assert_eq!(place.run(&lesson).status, 0);
    let page = place.read("page.html");
    // One that nobody touched is written again.
    assert_eq!(place.run(&lesson).status, 0);
    let edited = page.replacen("<h1>", "<h1>For Tuesday: ", 1);
    assert_ne!(edited, page);
    place.write("page.html", &edited);
    let ran = place.run(&lesson);
    assert_eq!(ran.status, 1);
    assert!(ran.err.contains("`page.html` was edited"), "{ran}");
    assert_eq!(place.read("page.html"), edited);
    assert_eq!(place.run(&[&lesson[..], &["--replace"]].concat()).status, 0);
    assert_eq!(place.read("page.html"), page);
}

#[test]
fn what_can_not_be_taught_is_told() {
    let place = Place::new();
    place.write("games.pgn", game("Alder, Tom", "Birch, Ida"));
    place.run(&[
        "mine",
        "games.pgn",
        "--query",
        "knight-follow-up",
        "--query",
        "bishop-takes-h7-rook-lift",
        "--quiet",
    ]);
    for (query, message) in [
        (
            "bishop-takes-h7-rook-lift",
            "no offer of `bishop-takes-h7-rook-lift` in these tables gives anything up",
        ),
        ("queen-lift", "there are no hits of a query `queen-lift`"),
        ("rook-lft", "no query is called `rook-lft`"),
    ] {
        let ran = place.run(&["lesson", "hecatomb-out", "--query", query, FEW]);
        assert_eq!(ran.status, 1, "{ran}");
        assert!(ran.err.contains(message), "{ran}");
    }
    let two =
        ["lesson", "hecatomb-out", "--query", "bishop-takes-h7-rook-lift", "--query", "queen-lift"];
    assert_eq!(place.run(&two).status, 2);
    assert_eq!(place.run(&["lesson", "hecatomb-out"]).status, 2);
}

#[test]
fn query_whose_text_the_run_does_not_keep_is_asked_for_by_its_file() {
    const QUERY: &str =
        "title = \"A bishop\"\nchapter = \"bishop\"\noffer = \"bishop takes pawn on h7\"\n";
    let place = Place::new();
    place.write("games.pgn", game("Alder, Tom", "Birch, Ida")).write("mine/a-bishop.toml", QUERY);
    place.run(&["mine", "games.pgn", "--query", "mine/a-bishop.toml", "--quiet"]);
    // As runs were written before they kept it.
    let mut run: serde_json::Value =
        serde_json::from_str(&place.read("hecatomb-out/run.json")).unwrap();
    assert!(run["queries"][0].as_object_mut().unwrap().remove("text").is_some());
    place.write("hecatomb-out/run.json", run.to_string());
    let ran = place.run(&["lesson", "hecatomb-out", "--query", "a-bishop"]);
    assert_eq!(ran.status, 1, "{ran}");
    assert!(ran.err.contains("hint: name its file, such as --query a-bishop.toml"), "{ran}");
    let ran = place.run(&["lesson", "hecatomb-out", "--query", "mine/a-bishop.toml"]);
    assert_eq!((ran.status, &*ran.err), (0, ""), "{ran}");
    assert!(place.read("a-bishop.html").contains("<h1>A bishop</h1>"));
    place.write("mine/a-bishop.toml", QUERY.replace("h7", "g7"));
    let ran = place.run(&["lesson", "hecatomb-out", "--query", "mine/a-bishop.toml"]);
    assert!(ran.err.contains("`a-bishop` has changed since it was mined"), "{ran}");
}

#[test]
fn table_with_a_line_that_can_not_be_played_is_told_with_its_place() {
    let place = Place::new();
    place.write("games.pgn", game("Alder, Tom", "Birch, Ida"));
    place.run(&["mine", "games.pgn", "--query", "knight-follow-up", "--quiet"]);
    let table = "hecatomb-out/hits/knight-follow-up.csv";
    place.write(table, place.read(table).replace("Kxh7 Ng5+", "Kxh7 Ng6+"));
    let ran = place.run(&["lesson", "hecatomb-out", "--query", "knight-follow-up"]);
    assert_eq!(ran.status, 1, "{ran}");
    assert!(ran.err.contains("line 2, column `line`: `Ng6+` can't be played there"), "{ran}");
}

/// The moves of every hit, played out by cozy-chess, another move generator.
#[test]
fn boards_to_step_through_are_those_of_another_move_generator() {
    let place = mined(&["bishop-takes-h7", "knight-takes-f7"]);
    let mut plies = 0;
    let tables = ["bishop-takes-h7", "knight-takes-f7"];
    for row in tables.iter().flat_map(|query| place.rows(&format!("hits/{query}.csv"))) {
        let mut board: cozy_chess::Board = row["fen"].parse().unwrap();
        for step in Steps::of(&row["fen"], &row["line"]).unwrap().moves {
            let promoted = step.san.split_once('=').map(|(_, role)| role[..1].to_lowercase());
            let way = format!("{}{}{}", step.way.from, step.way.to, promoted.unwrap_or_default());
            board.play(cozy_chess::util::parse_uci_move(&board, &way).unwrap());
            assert_eq!(board.to_string().split(' ').next(), Some(&*step.placement), "{way}");
            plies += 1;
        }
    }
    assert!(plies > 1000, "{plies}");
}

#[test]
fn line_that_can_not_be_played_is_told() {
    const START: &str = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1";
    assert_eq!(Steps::of(START, "e4 e5 Ke3"), Err(StepsError::Move("Ke3".to_owned())));
    assert!(matches!(Steps::of("8/8 w", "e4"), Err(StepsError::Position(_))));
    assert_eq!(Steps::of(START, " "), Err(StepsError::Nothing));
}

/// Web Content Accessibility Guidelines 2.1, success criterion 1.4.3: at least 4.5 to 1 for text.
#[test]
fn colours_of_text_stand_out_by_day_and_by_night() {
    let (_, source) = lesson("knight-follow-up");
    let (_, style) = source.split_once(":root {").unwrap();
    let (light, dark) = style.split_once("prefers-color-scheme: dark").unwrap();
    for style in [light, dark] {
        for ground in ["--page", "--wash"] {
            for ink in ["--text", "--quiet", "--red"] {
                let ratio =
                    contrast(luminance(colour(style, ink)), luminance(colour(style, ground)));
                assert!(ratio >= 4.5, "{ink} on {ground}: {ratio}");
            }
        }
    }
    assert!((contrast(luminance([255; 3]), luminance([0; 3])) - 21.0).abs() < 1e-9);
}

fn colour(style: &str, name: &str) -> [u8; 3] {
    let (_, value) = style.split_once(&format!("{name}: #")).unwrap();
    [0, 2, 4].map(|at| u8::from_str_radix(&value[at..at + 2], 16).unwrap())
}

/// Relative luminance as WCAG 2.1 defines it.
fn luminance(colour: [u8; 3]) -> f64 {
    let [red, green, blue] = colour.map(|part| {
        let part = f64::from(part) / 255.0;
        if part <= 0.03928 { part / 12.92 } else { ((part + 0.055) / 1.055).powf(2.4) }
    });
    0.2126 * red + 0.7152 * green + 0.0722 * blue
}

fn contrast(one: f64, other: f64) -> f64 {
    (one.max(other) + 0.05) / (one.min(other) + 0.05)
}

#[test]
fn plots_of_a_tally_are_sound_and_say_their_numbers() {
    let place = mined(&["bishop-takes-h7"]);
    let ran =
        place.run(&["tally", "hecatomb-out", "--query", "bishop-takes-h7", "--plot", "p.svg"]);
    assert_eq!(ran.status, 0, "{ran}");
    let source = place.read("p.svg");
    let picture = roxmltree::Document::parse(&source).unwrap();
    let plots: Vec<_> =
        picture.root_element().children().filter(|node| node.tag_name().name() == "svg").collect();
    assert_eq!(plots.len(), 3);
    // Every group that is told in words has its dot.
    for plot in &plots[..2] {
        let words = plot.children().find(|node| node.tag_name().name() == "desc").unwrap();
        let dots = plot.children().filter(|node| node.tag_name().name() == "circle").count();
        assert_eq!(words.text().unwrap().split(';').count(), dots);
    }
}

/// A query of one's own, and a special form of it.
const OWN: &str = "title = \"A bishop of my own\"\nchapter = \"bishop\"\n\
                   offer = \"bishop takes pawn on h7 with check giving up 1 or more\"\n";
const OWN_FORM: &str = "title = \"My bishop and a knight\"\nchapter = \"bishop\"\nform-of = \"own\"\n\
                        offer = \"bishop takes pawn on h7 with check giving up 1 or more\"\n\
                        requires = [\"jump\"]\n[follow-ups]\njump = \"knight to g5 within 3 moves\"\n";

/// A run with these queries and a built-in one, whose files are gone.
fn mined_with_own_queries() -> Place {
    let place = Place::new();
    place.write("season.pgn", season()).write("own.toml", OWN).write("own-form.toml", OWN_FORM);
    let queries = ["own.toml", "own-form.toml", "knight-follow-up"];
    let queries = queries.iter().flat_map(|query| ["--query", query]);
    let mine = ["mine", "season.pgn", "--quiet"].into_iter().chain(queries).collect::<Vec<_>>();
    assert_eq!(place.run(&mine).status, 0);
    for file in ["own.toml", "own-form.toml"] {
        std::fs::remove_file(place.path().join(file)).unwrap();
    }
    place
}

#[test]
fn own_queries_of_a_run_are_taught_like_built_in_ones() {
    let place = mined_with_own_queries();
    let course = ["course", "hecatomb-out", "--replace", FEW];
    let ran = place.run(&course);
    assert_eq!((ran.status, &*ran.err), (0, "3 lessons in course\n"), "{ran}");
    let titles = |place: &Place| {
        let page = Html::parse_document(&place.read("course/index.html"));
        all(&page, ".lessons a").into_iter().map(text).collect::<Vec<_>>().join(" | ")
    };
    let listed = titles(&place);
    assert!(listed.contains("A bishop of my own") && listed.contains("My bishop"), "{listed}");
    let own = ["lesson", "hecatomb-out", "--query", "own-form", "-o", "-", FEW];
    let ran = place.run(&own);
    assert!(ran.status == 0 && ran.out.contains("My bishop and a knight"), "{}", ran.err);
    // Exercises bear its title, and know its chapter.
    assert_eq!(place.run(&["verify", "hecatomb-out", "--nodes=3000", "--quiet"]).status, 0);
    let sheet = ["exercises", "hecatomb-out", "--kind", "continue", "--count", "2"];
    let of_own = ["--query", "own", "--chapter", "bishop", "--nodes=20000"];
    let ran = place.run(&[&sheet[..], &of_own].concat());
    assert!(ran.status == 0 && ran.out.contains("A bishop of my own"), "{}", ran.err);
    // A file in the folder comes before what the run keeps.
    place.write("own.toml", OWN.replace("A bishop of my own", "A bishop for my class"));
    let ran = place.run(&course);
    assert!(ran.err.contains("`own` has changed since it was mined"), "{ran}");
    assert!(titles(&place).contains("A bishop for my class"), "{}", titles(&place));
}

#[test]
fn text_of_an_own_query_that_was_changed_in_the_run_is_not_used() {
    let place = mined_with_own_queries();
    let manifest = place.read("hecatomb-out/run.json");
    assert!(manifest.contains("A bishop of my own"), "the run keeps its text");
    assert!(!manifest.contains("knight-to-g5"), "and no text of a built-in one");
    place.write("hecatomb-out/run.json", manifest.replace("A bishop of my own", "Another"));
    let ran = place.run(&["course", "hecatomb-out", FEW]);
    assert!(ran.err.contains("left out: there is no query `own` here\n"), "{ran}");
    assert!(ran.err.contains("2 lessons in course"), "{ran}");
    let ran = place.run(&["lesson", "hecatomb-out", "--query", "own", "-o", "-", FEW]);
    assert!(ran.status == 1 && ran.err.contains("was mined, but there is no such query here"));
}

#[test]
fn page_tells_how_many_offers_were_of_each_kind_and_how_they_scored() {
    let place = mined(&["bishop-takes-h7"]);
    let told = |options: &[&str]| {
        let lesson = ["lesson", "hecatomb-out", "--query", "bishop-takes-h7", "-o", "-", FEW];
        let ran = place.run(&[&lesson[..], options].concat());
        text(all(&Html::parse_document(&ran.out), "#numbers")[0])
    };
    let page = told(&[]);
    let rows = place.rows("hits/bishop-takes-h7.csv");
    for (kind, words) in
        [("sham", "sham sacrifice"), ("real", "real sacrifice"), ("declined", "declined")]
    {
        let of_kind: Vec<_> = rows.iter().filter(|row| &row["kind"] == kind).collect();
        assert!(of_kind.len() > 1, "{kind}");
        let number = of_kind.len();
        let sentence = page.split("; ").find(|part| part.contains(words)).unwrap();
        assert!(sentence.contains(&number.to_string()), "{number} {kind}: {page}");
        let scores: Vec<f64> = of_kind.iter().filter_map(|row| row["score"].parse().ok()).collect();
        let score = 100.0 * scores.iter().sum::<f64>() / scores.len() as f64;
        let says_score = sentence.contains(&format!("scored {score:.0}\u{a0}%"))
            || sentence.contains(&format!("scored {score:.0} %"));
        assert_eq!(says_score, scores.len() >= 10, "{score} {kind}: {page}");
    }
    let only_sham = told(&["--sacrifice", "sham"]);
    assert!(
        only_sham.contains("As the games went, every offer was a sham sacrifice"),
        "{only_sham}"
    );
}
