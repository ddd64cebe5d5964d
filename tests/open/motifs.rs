//! Own motifs on the screen: what is wrong is told under the words, the collection shows what is found, and nothing is
//! written but a query in the folder that was named.

use scraper::{Html, Selector};

use super::{HOSTILE, Server, small_run};
use crate::open::plan::body;
use crate::support::Place;

const OFFER: &str = "bishop takes pawn on h7 with check giving up 2 or more";

/// What a form of the page holds.
fn form<'f>(act: &'f str, name: &'f str, offer: &'f str, more: &[(&'f str, &'f str)]) -> String {
    let words = [
        ("name", name),
        ("title", "Mine"),
        ("chapter", "bishop"),
        ("wings", "both"),
        ("files", "as written"),
        ("offer", offer),
        ("when", "defender king on g8"),
        ("do", act),
    ];
    body(&[&words, more].concat())
}

fn texts(page: &str, selector: &str) -> Vec<String> {
    let page = Html::parse_document(page);
    let selector = Selector::parse(selector).unwrap();
    page.select(&selector).map(|one| one.text().collect()).collect()
}

#[test]
fn what_is_wrong_with_a_motif_is_told_under_its_very_words() {
    let place = small_run();
    let server = Server::of(&place, &[]);
    let page = server.get("/motifs");
    assert!(texts(&page.body, ".fault").is_empty(), "it begins with what is in order");
    let wrong =
        form("look", "mine", "bishop tkaes pawn on h7", &[("factors", "a = attacker king on z9")]);
    let page = server.post("/motifs", &wrong).body;
    assert_eq!(texts(&page, "#fault-offer mark"), ["tkaes"]);
    assert_eq!(texts(&page, "#fault-factors mark"), ["z9"]);
    assert!(texts(&page, "#fault-offer .fault")[0].contains("did you mean “takes”?"), "{page}");
    assert!(texts(&page, "#fault-when .fault").is_empty());
    let told = server.post("/motifs", &wrong.replace("do=look", "do=told")).body;
    assert_eq!(texts(&told, "[data-for=offer] mark"), ["tkaes"]);
    let right = server.post("/motifs", &form("told", "mine", OFFER, &[])).body;
    assert!(right.contains("data-for=\"board\"") && !right.contains("class=\"fault\""), "{right}");
    assert_eq!(texts(&right, ".named li"), ["offer h7", "before g8"]);
}

#[test]
fn a_motif_is_tried_on_the_collection_and_on_the_games_of_the_run_where_that_is_gone() {
    let place = small_run();
    let server = Server::of(&place, &[]);
    let tried = |what: &str| {
        let page = server.post("/motifs", &form("try", "mine", OFFER, &[])).body;
        assert!(!page.contains("<script>"), "names are escaped");
        let told = texts(&page, "#tried p").join(" ");
        assert!(told.contains("All games were looked at.") && told.contains(what), "{told}");
        texts(&page, ".tries li").len()
    };
    let in_collection = tried("The collection is looked at: 1 file.");
    assert!(in_collection > 0);
    place.write("games.pgn", "something else");
    assert_eq!(tried("not at hand any more"), in_collection, "this motif's games are in the run");
    let begun = server.post("/motifs", &form("try", "mine", OFFER, &[("script", "yes")]));
    let number = begun.body.trim_start_matches("{\"number\":").trim_end_matches('}').to_owned();
    assert_eq!(server.post("/motifs/stop", "").status, 204);
    let heard = server.get(&format!("/motifs/tried?number={number}"));
    assert!(heard.body.contains("data-done=\"yes\""), "{}", heard.body);
    assert_eq!(server.get("/motifs/tried?number=99").status, 410);
}

#[test]
fn a_motif_is_saved_as_a_query_that_can_be_mined_and_never_over_another_unasked() {
    let place = small_run();
    let server = Server::of(&place, &["--queries", "own"]);
    assert_eq!(server.post("/motifs", &form("save", "mine", OFFER, &[])).status, 303);
    let saved = place.read("own/mine.toml");
    let page = server.get("/motifs?own=mine&saved=yes").body;
    assert!(
        texts(&page, "pre").iter().any(|text| text.contains("games.pgn --query own/mine.toml"))
    );
    let ran =
        place.run(&["mine", "games.pgn", "--query", "own/mine.toml", "--out", "mine", "--quiet"]);
    assert_eq!(ran.status, 0, "{ran}");
    let other = form("save", "mine", &OFFER.replace("h7", "g7"), &[]);
    let asked = server.post("/motifs", &other);
    assert_eq!((asked.status, place.read("own/mine.toml")), (422, saved.clone()));
    let hash = Html::parse_document(&asked.body);
    let hash = hash.select(&Selector::parse("[name=replaced]").unwrap()).next().unwrap();
    let replaced = format!(
        "{}&replaced={}",
        other.replace("do=save", "do=replace"),
        hash.attr("value").unwrap()
    );
    assert_eq!(server.post("/motifs", &replaced).status, 303);
    assert!(place.read("own/mine.toml").contains("g7"));
}

#[test]
fn a_motif_is_written_nowhere_else() {
    let place = small_run();
    let server = Server::of(&place, &[]);
    let before = all_files(&place);
    for name in ["../mine", "/tmp/mine", "", "a/b", "..", HOSTILE] {
        let refused = server.post("/motifs", &form("save", name, OFFER, &[]));
        assert_eq!(refused.status, 422, "{name}");
        assert!(!refused.body.contains(HOSTILE));
    }
    for unread in ["/motifs?own=../season", "/motifs?from=../season", "/motifs?own=%2Fetc%2Fpasswd"]
    {
        assert_eq!(server.get(unread).status, 404, "{unread}");
    }
    let headers =
        [("Cookie", &*server.cookie), ("Content-Type", "application/x-www-form-urlencoded")];
    let text = form("save", "mine", OFFER, &[]);
    assert_eq!(server.ask("POST", "/motifs", &server.host(), &headers, &text).status, 403);
    assert_eq!(all_files(&place), before);
}

fn all_files(place: &Place) -> Vec<std::path::PathBuf> {
    let entries = std::fs::read_dir(place.path()).unwrap();
    let mut paths: Vec<_> = entries.map(|entry| entry.unwrap().path()).collect();
    paths.sort();
    paths
}
