//! What pages say stands in catalogues, all of it, in every language; numbers and plurals are the language's own.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::OnceLock;

use fluent_syntax::ast::{Entry, Expression, InlineExpression, Pattern, PatternElement};
use hecatomb::hits::{Collector, PassTrouble, Reading, Runs};
use hecatomb::pages::{
    Course, ExerciseFormat, Lesson, Listed, Motif, OtherPage, PlaceInCourse, SheetOfExercises,
    Telling,
};
use hecatomb::plan::{Audience, SheetLayout};
use hecatomb::query::{Library, Query};
use hecatomb::statistics::{Base, Outcomes};
use hecatomb::teaching::{
    Candidates, Examiner, Exercise, ExerciseKind, ExercisePool, Findings, LessonWishes, Levels,
    SheetChoice, Sides, Unjudged,
};
use hecatomb::verdict::Effort;
use hecatomb::words::{Language, Words};
use scraper::{Html, Node};

use crate::support::{Place, season};

const CATALOGUES: [(Language, &str); 4] = [
    (Language::English, include_str!("../src/words/catalogues/en.ftl")),
    (Language::German, include_str!("../src/words/catalogues/de.ftl")),
    (Language::Spanish, include_str!("../src/words/catalogues/es.ftl")),
    (Language::French, include_str!("../src/words/catalogues/fr.ftl")),
];
/// Words that messages ask for by `FORM`; which forms they have is for their language to say.
const FORMS: [&str; 8] = ["white", "black", "king", "queen", "rook", "bishop", "knight", "pawn"];

/// What a message asks for: values, and forms of words.
#[derive(Default)]
struct Asked {
    values: BTreeSet<String>,
    forms: BTreeSet<(String, String)>,
}

impl Asked {
    fn of(pattern: &Pattern<&str>) -> Asked {
        let mut asked = Asked::default();
        asked.read(pattern);
        asked
    }

    fn read(&mut self, pattern: &Pattern<&str>) {
        for element in &pattern.elements {
            let PatternElement::Placeable { expression } = element else { continue };
            match expression {
                Expression::Inline(inline) => self.read_inline(inline),
                Expression::Select { selector, variants } => {
                    self.read_inline(selector);
                    variants.iter().for_each(|variant| self.read(&variant.value));
                }
            }
        }
    }

    fn read_inline(&mut self, inline: &InlineExpression<&str>) {
        match inline {
            InlineExpression::VariableReference { id } => {
                self.values.insert(id.name.to_owned());
            }
            InlineExpression::FunctionReference { arguments, .. } => {
                let mut of = String::new();
                for one in &arguments.positional {
                    self.read_inline(one);
                    if let InlineExpression::VariableReference { id } = one {
                        of = id.name.to_owned();
                    }
                }
                for named in &arguments.named {
                    if let InlineExpression::StringLiteral { value } = &named.value {
                        self.forms.insert((of.clone(), (*value).to_owned()));
                    }
                }
            }
            _ => {}
        }
    }
}

/// The messages of a catalogue and their attributes, `exercise-find.asks`, with what they ask for.
fn messages(text: &str) -> BTreeMap<String, Asked> {
    let resource = fluent_syntax::parser::parse(text).unwrap_or_else(|(_, faults)| {
        panic!("{faults:?}");
    });
    let mut all = BTreeMap::new();
    for entry in &resource.body {
        let Entry::Message(message) = entry else { continue };
        let name = message.id.name;
        let value = message.value.as_ref().expect("a message has a value");
        let attributes = message.attributes.iter();
        let attributes = attributes.map(|one| (format!("{name}.{}", one.id.name), &one.value));
        for (name, pattern) in attributes.chain([(name.to_owned(), value)]) {
            assert!(all.insert(name.clone(), Asked::of(pattern)).is_none(), "{name} stands twice");
        }
    }
    all
}

fn is_form(name: &str) -> bool {
    FORMS.iter().any(|form| name.split('.').next() == Some(form))
}

#[test]
fn every_language_has_every_message_with_the_same_values() {
    let english = messages(CATALOGUES[0].1);
    assert!(english.len() > 400);
    for (language, text) in CATALOGUES {
        let own = messages(text);
        let names = |all: &BTreeMap<String, Asked>| {
            all.keys().filter(|name| !is_form(name)).cloned().collect::<BTreeSet<String>>()
        };
        assert_eq!(names(&own), names(&english), "{language:?}");
        for (name, asked) in english.iter().filter(|(name, _)| !is_form(name)) {
            assert_eq!(own[name].values, asked.values, "{name} in {language:?}");
        }
    }
}

#[test]
fn forms_that_are_asked_for_are_there() {
    for (language, text) in CATALOGUES {
        let own = messages(text);
        for (name, asked) in &own {
            for (value, form) in &asked.forms {
                let words: &[&str] = match &**value {
                    "side" | "attacker" | "defender" => &["white", "black"],
                    "taken" => &["queen", "rook", "bishop", "knight", "pawn"],
                    // The king is named on diagrams and never offered.
                    "man" if form == "given" => &["queen", "rook", "bishop", "knight", "pawn"],
                    "man" => &["king", "queen", "rook", "bishop", "knight", "pawn"],
                    other => panic!("{name}: {other} is no word with forms"),
                };
                for word in words {
                    let form = format!("{word}.{form}");
                    assert!(own.contains_key(&form), "{name} in {language:?}: no {form}");
                }
            }
        }
    }
}

/// The sources of the program and its templates.
fn sources(folder: &std::path::Path, all: &mut String) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            sources(&path, all);
        } else if path
            .extension()
            .is_some_and(|ending| ["rs", "html"].contains(&&*ending.to_string_lossy()))
        {
            *all += &std::fs::read_to_string(path).unwrap();
        }
    }
}

#[test]
fn every_message_is_used_and_whatever_is_asked_for_is_there() {
    // Their names are put together where they are used.
    const MADE_UP: [&str; 5] = ["motif-", "number-", "glyph-", "kind-", "exercise-"];
    let mut all = String::new();
    sources(&std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("src"), &mut all);
    let english = messages(CATALOGUES[0].1);
    for name in english.keys().filter(|name| !name.contains('.') && !is_form(name)) {
        let is_made_up = MADE_UP.iter().any(|start| name.starts_with(start))
            || name.ends_with("-points")
            || name.ends_with("-points-best");
        let is_used =
            [format!("\"{name}\""), format!("\"{name}{{")].iter().any(|it| all.contains(it));
        assert!(is_used || is_made_up, "{name} is used nowhere");
    }
    let asked =
        ["say(\"", "tell(\"", "tell_all(\""].into_iter().flat_map(|call| all.split(call).skip(1));
    for rest in asked {
        let name = rest.split('"').next().unwrap();
        // The second choice of a template's `if` is covered by the test above.
        assert!(english.contains_key(name), "there is no message {name}");
    }
}

/// CLDR's rules for whole numbers (from memory): one is 1 in English, German and Spanish, and 0 or 1 in French.
#[test]
fn plurals_are_those_of_the_language() {
    let games = |language, number: u64| {
        Words::of(language).tell("games-counted", [("number", number.into())])
    };
    let of = |language| [0, 1, 2, 5, 21].map(|number| games(language, number));
    assert_eq!(of(Language::English), ["0 games", "1 game", "2 games", "5 games", "21 games"]);
    assert_eq!(
        of(Language::German),
        ["0 Partien", "1 Partie", "2 Partien", "5 Partien", "21 Partien"]
    );
    assert_eq!(
        of(Language::Spanish),
        ["0 partidas", "1 partida", "2 partidas", "5 partidas", "21 partidas"]
    );
    assert_eq!(
        of(Language::French),
        ["0 partie", "1 partie", "2 parties", "5 parties", "21 parties"]
    );
    assert_eq!(
        Language::ALL.map(|language| games(language, 10_365)),
        ["10,365 games", "10.365 Partien", "10.365 partidas", "10\u{202f}365 parties"]
    );
}

#[test]
fn titles_in_english_are_those_of_the_queries() {
    for query in built_in() {
        let title = Words::ENGLISH.say(&format!("motif-{}", query.name));
        assert_eq!(title, query.title);
    }
    // A query of one's own keeps its title, also under the name of a built-in one.
    let german = Words::of(Language::German);
    let title = |name: &str, title: &str| hecatomb::pages::motif_title(name, title, german);
    assert_eq!(title("windmill", "Windmill"), "Zwickmühle");
    assert_eq!(title("windmill", "Our mill"), "Our mill");
    assert_eq!(title("our-mill", "Our mill"), "Our mill");
}

fn built_in() -> Vec<Query> {
    let mut library = Library::new();
    library.add_built_in();
    library.queries().unwrap()
}

/// A run of the sample data, and what pages show of it.
struct Shown {
    query: Query,
    found: Findings,
    exercises: Vec<Exercise>,
    all_games: Outcomes,
}

const QUERY: &str = "bishop-takes-h7";
/// Motifs of the sample data that make exercises of most kinds.
const QUERIES: [&str; 5] =
    [QUERY, "queen-takes-h7", "queen-to-corner", "rook-takes-g7", "smothered-mate"];

/// A folder with the sample data mined and verified, without an engine.
fn verified() -> &'static Place {
    static PLACE: OnceLock<Place> = OnceLock::new();
    PLACE.get_or_init(|| {
        let place = Place::new();
        place.write("season.pgn", season());
        place.write("cup.pgn.zst", include_bytes!("../sample-data/cup.pgn.zst"));
        let named = QUERIES.iter().flat_map(|query| ["--query", query]);
        let mine = ["mine", "season.pgn", "cup.pgn.zst", "--quiet"].into_iter().chain(named);
        assert_eq!(place.run(&mine.collect::<Vec<_>>()).status, 0);
        let ran = place.run(&["verify", "hecatomb-out", "--nodes=20000", "--quiet"]);
        assert_eq!(ran.status, 0, "{ran}");
        place
    })
}

fn chosen(mut pool: ExercisePool) -> SheetChoice {
    let mut examiner = Examiner::new(Effort::of(20_000));
    loop {
        let (kind, batch) = (pool.kind(), pool.next_batch());
        if batch.is_empty() {
            return pool.choose();
        }
        for candidate in batch {
            let examined = examiner.examine(&candidate, kind);
            pool.add(&candidate, examined);
        }
    }
}

fn telling(words: Words) -> Telling {
    let (letters, rests_on) = (words.language().letters(), "⟦...⟧".to_owned());
    Telling { words, letters, rests_on, caution: None }
}

impl Shown {
    fn new() -> Shown {
        let folder = verified().path().join("hecatomb-out");
        let runs = Runs::open(&[folder], Reading::AsWritten).unwrap();
        let base = Base::of(&runs).unwrap();
        let query = built_in().into_iter().find(|query| query.name == QUERY).unwrap();
        let choose = |pool| Ok::<_, PassTrouble>(chosen(pool));
        let found = Findings::read(QUERY, &runs, &base, &LessonWishes::default(), choose);
        let mut found = found.unwrap();
        Findings::bring_games(&mut [&mut found], &runs).unwrap();
        let exercises = KINDS.into_iter().flat_map(|kind| {
            let mut candidates = Candidates::new(kind, Sides::Both, Unjudged::LeftOut, 1, 200);
            for query in runs.queries() {
                runs.pass(query, &mut [&mut candidates as &mut dyn Collector]).unwrap();
            }
            let made = chosen(ExercisePool::new(kind, 2, Levels::ALL, candidates)).exercises;
            assert!(!made.is_empty(), "{kind:?}");
            made
        });
        Shown { exercises: exercises.collect(), query, all_games: base.all(), found }
    }

    fn lesson<'l>(&'l self, telling: &'l Telling) -> Lesson<'l> {
        Lesson {
            query: &self.query,
            found: &self.found,
            all_games: self.all_games,
            place: PlaceInCourse { is_in_course: true, before: None, after: None },
            telling,
            planned: None,
        }
    }

    fn sheet(&self, words: Words, audience: Audience, format: ExerciseFormat) -> String {
        let motif =
            |query: &Query| Motif { title: query.title.clone(), statistics: "⟦...⟧".into() };
        let motifs = built_in().iter().map(|one| (one.name.clone(), motif(one))).collect();
        let sheet = SheetOfExercises {
            title: None,
            exercises: &self.exercises,
            motifs: &motifs,
            telling: &telling(words),
            audience,
            layout: SheetLayout::default(),
        };
        String::from_utf8(sheet.written(format).unwrap()).unwrap()
    }

    fn course(&self, words: Words) -> String {
        let mut course = Course::new(None, words, Vec::new());
        course.add(Listed::of(&self.lesson(&telling(words))));
        let other = OtherPage::new("notes.html".into(), "<title>Notes</title>");
        course.to_html(self.all_games.games(), &[other], None).unwrap()
    }

    /// What may stand on a page outside the catalogues: names, and the query's own texts.
    fn data(&self) -> Vec<String> {
        let hits = self.exercises.iter().chain(&self.found.exercises).map(|one| &*one.hit);
        let models = self.found.models.iter().filter_map(|model| model.as_mined());
        let hits = hits.chain(models.map(|game| &game.specimen.hit));
        let names = hits.flat_map(|hit| {
            let game = &hit.game;
            [&game.white, &game.black, &game.event, &hit.source].map(|text| text.to_string())
        });
        let factors = self.query.factors.iter().map(|factor| factor.text.clone());
        let about =
            self.query.about.split("\n\n").map(|part| {
                part.replace('\'', "’").split_whitespace().collect::<Vec<_>>().join(" ")
            });
        let mut data: Vec<String> =
            names.chain(factors).chain(about).chain(["Notes".to_owned()]).collect();
        // A name that holds another goes first.
        data.sort_by_key(|text| std::cmp::Reverse(text.len()));
        data.retain(|text| !text.is_empty());
        data.dedup();
        data
    }
}

/// All that can be made of these without an engine; the best defence and the one reply ask in words of the same sort.
const KINDS: [ExerciseKind; 7] = [
    ExerciseKind::Find,
    ExerciseKind::Judge,
    ExerciseKind::Continue,
    ExerciseKind::Mate,
    ExerciseKind::King,
    ExerciseKind::Check,
    ExerciseKind::Count,
];

/// The attributes that people read or hear.
const READ: [&str; 5] = ["title", "aria-label", "alt", "data-start", "data-board"];

/// What a page says outside the marks of messages. Marks may open in one element and close in another.
fn outside_marks(page: &str) -> Vec<String> {
    fn outside(text: &str, depth: &mut i32) -> String {
        let mut outside = String::new();
        for letter in text.chars() {
            match letter {
                '⟦' => *depth += 1,
                '⟧' => *depth -= 1,
                letter if *depth == 0 => outside.push(letter),
                _ => {}
            }
        }
        outside
    }
    let (page, mut depth, mut all) = (Html::parse_document(page), 0, Vec::new());
    for node in page.root_element().descendants() {
        match node.value() {
            Node::Text(text) => {
                let parent = node.parent().and_then(|parent| parent.value().as_element());
                if !parent.is_some_and(|it| ["style", "script"].contains(&it.name())) {
                    all.push(outside(text, &mut depth));
                }
            }
            Node::Element(element) => {
                let said = element.attrs().filter(|(name, _)| READ.contains(name));
                all.extend(said.map(|(_, text)| outside(text, &mut 0)));
            }
            _ => {}
        }
    }
    assert_eq!(depth, 0, "every mark is closed");
    all.retain(|text| !text.trim().is_empty());
    all
}

/// The words of a text that are neither data nor moves, numbers and squares.
fn words_left(text: &str, data: &[String]) -> Vec<String> {
    let mut text = text.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
    for known in data {
        text = text.replace(&known.to_lowercase(), " ");
    }
    let is_of_word = |letter: char| letter.is_alphanumeric() || "=+#-–½".contains(letter);
    let is_word = |word: &&str| {
        let bare = word.trim_start_matches(|it: char| it.is_ascii_digit());
        // Moves in lower case, in any letters of men; castling; the names of files.
        let is_move = bare.chars().all(|it| it.is_ascii_digit() || "abcdefghx=+#-".contains(it))
            || bare.chars().skip(1).all(|it| it.is_ascii_digit() || "abcdefghx+#".contains(it))
            || ["o-o", "o-o-o", "o-o+"].contains(&bare);
        !is_move && bare.chars().any(char::is_alphabetic)
    };
    text.split(|letter| !is_of_word(letter)).filter(is_word).map(str::to_owned).collect()
}

#[test]
fn no_word_on_a_page_is_outside_the_catalogues() {
    let shown = Shown::new();
    let (words, data) = (Words::marked(Language::German), shown.data());
    let (html, projector) = (ExerciseFormat::Html, ExerciseFormat::Projector);
    let pages = [
        ("lesson", shown.lesson(&telling(words)).to_html().unwrap()),
        ("course", shown.course(words)),
        ("pupils", shown.sheet(words, Audience::Pupil, html)),
        ("teachers", shown.sheet(words, Audience::Teacher, html)),
        ("both", shown.sheet(words, Audience::Both, html)),
        ("projector", shown.sheet(words, Audience::Both, projector)),
        ("projector for pupils", shown.sheet(words, Audience::Pupil, projector)),
    ];
    for (name, page) in pages {
        assert!(page.contains('⟦'), "{name}");
        for text in outside_marks(&page) {
            assert_eq!(words_left(&text, &data), Vec::<String>::new(), "{name}: {text}");
        }
    }
}

#[test]
fn words_outside_marks_are_noticed() {
    let page =
        "<!doctype html><title>⟦Title⟧</title><p title=\"Left\">⟦a <b>bold⟧</b> word: 12.Lxh7+ Kh8";
    let outside = outside_marks(page);
    let left: Vec<String> = outside.iter().flat_map(|text| words_left(text, &[])).collect();
    assert_eq!(left, ["left", "word"]);
}

/// The text of the elements of a page that match, a line each.
fn lines(page: &str, selector: &str, most: usize) -> String {
    let page = Html::parse_document(page);
    let selector = scraper::Selector::parse(selector).unwrap();
    let texts = page.select(&selector).map(|element| {
        let text: String = element.text().collect();
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    });
    texts.take(most).map(|text| text + "\n").collect()
}

#[test]
fn sheets_and_lessons_are_in_each_language() {
    let shown = Shown::new();
    for language in Language::ALL {
        let words = Words::of(language);
        let sheet = shown.sheet(words, Audience::Teacher, ExerciseFormat::Html);
        let sheet = lines(&sheet, "h1, h2, .answers p, footer p", 60);
        insta::assert_snapshot!(format!("sheet {}", language.code()), sheet);
        let lesson = shown.lesson(&telling(words)).to_html().unwrap();
        let lesson = lines(&lesson, "h1, h2, #numbers .prose p, .story, figcaption, footer p", 40);
        insta::assert_snapshot!(format!("lesson {}", language.code()), lesson);
    }
}

#[test]
fn files_for_other_programs_keep_what_their_standards_want_in_english() {
    let shown = Shown::new();
    let sheet = |format| shown.sheet(Words::of(Language::German), Audience::Both, format);
    let pgn = sheet(ExerciseFormat::Pgn);
    assert!(pgn.contains("[Kind \"find\"]") && pgn.contains("{Aufgabe 1, Opfer finden:"), "{pgn}");
    assert!(pgn.contains("Qg8+ $1") && !pgn.contains("Dg8+ $1"), "{pgn}");
    let epd = sheet(ExerciseFormat::Epd);
    assert!(epd.contains(" bm Nf7+ Qg8+;") && epd.contains(" c0 \"Opfer finden: "), "{epd}");
    let csv = sheet(ExerciseFormat::Csv);
    assert!(csv.starts_with("number,kind,level,points,fen,question,answer,line,"), "{csv}");
    // People read questions and answers; the line is for programs.
    assert!(
        csv.contains(",find,") && csv.contains("1.Dg8+ Txg8") && csv.contains(",Qg8+ Rxg8"),
        "{csv}"
    );
}

fn lang(page: &str) -> String {
    let page = Html::parse_document(page);
    page.root_element().value().attr("lang").unwrap().to_owned()
}

#[test]
fn the_option_names_the_language_or_else_the_plan_does() {
    let place = Place::new();
    place.write("season.pgn", season());
    assert_eq!(place.run(&["mine", "season.pgn", "--query", QUERY, "--quiet"]).status, 0);
    let few = "--nodes=1000";
    let lesson = |more: &[&str]| {
        let all = ["lesson", "hecatomb-out", "--query", QUERY, "-o", "-", few];
        place.run(&all.into_iter().chain(more.iter().copied()).collect::<Vec<_>>())
    };
    let french = lesson(&["--language", "fr"]).out;
    assert_eq!(lang(&french), "fr");
    assert!(french.contains("Fxh7+</span>") && french.contains("Le fou prend le pion de la tour"));
    // Letters of one's own choice go before those of the language.
    assert!(lesson(&["--language", "fr", "--pieces", "german"]).out.contains("Lxh7+</span>"));
    let unknown = lesson(&["--language", "xx"]);
    assert_eq!(unknown.status, 2);
    assert!(unknown.err.contains("[possible values: en, de, es, fr]"), "{unknown}");

    let first = ["plan", "hecatomb-out", few, "--language", "es", "-o", "curso.toml"];
    assert_eq!(place.run(&first).status, 0);
    let plan = place.read("curso.toml");
    assert!(
        plan.contains("language = \"es\"\n") && plan.contains("# El alfil toma el peón de torre:"),
        "{plan}"
    );
    let course = |out: &str, more: &[&str]| {
        let all = ["course", "hecatomb-out", "--plan", "curso.toml", few, "--quiet", "-o", out];
        let ran = place.run(&all.into_iter().chain(more.iter().copied()).collect::<Vec<_>>());
        assert_eq!(ran.status, 0, "{ran}");
        [format!("{out}/index.html"), format!("{out}/{QUERY}.html")]
            .map(|page| lang(&place.read(&page)))
    };
    assert_eq!(course("one", &[]), ["es", "es"]);
    assert_eq!(course("two", &["--language", "de"]), ["de", "de"]);
    place.write("bad.toml", "language = \"dee\"\n");
    let bad = place.run(&["course", "hecatomb-out", "--plan", "bad.toml", few]);
    assert!(bad.status == 1 && bad.err.contains("one of en, de, es, fr"), "{bad}");
}
