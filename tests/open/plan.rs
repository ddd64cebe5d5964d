//! The plan on the screen: its forms do what they say, from our own pages alone, and ask where two windows disagree.

use scraper::{Html, Selector};

use super::{Answer, HOSTILE, Server, small_run};
use crate::support::{Place, hecatomb};

const MOTIF: &str = "knight-follow-up";

/// A form's body.
pub(super) fn body(words: &[(&str, &str)]) -> String {
    let encoded = |text: &str| {
        let byte = |byte: u8| match byte {
            b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'-' => char::from(byte).to_string(),
            byte => format!("%{byte:02X}"),
        };
        text.bytes().map(byte).collect::<String>()
    };
    let word = |(word, value): &(&str, &str)| format!("{}={}", encoded(word), encoded(value));
    words.iter().map(word).collect::<Vec<_>>().join("&")
}

/// The values of the hidden fields of a page, by name.
fn fields(answer: &Answer, name: &str) -> Vec<String> {
    let page = Html::parse_document(&answer.body);
    let selector = Selector::parse(&format!("input[type=hidden][name={name}]")).unwrap();
    page.select(&selector).map(|field| field.attr("value").unwrap().to_owned()).collect()
}

/// A server of a small run with a plan that was begun on its page.
fn begun() -> (Place, Server) {
    let place = small_run();
    let server = Server::of(&place, &[]);
    assert!(server.get("/plan").body.contains("Begin one"));
    assert!(server.get("/").body.contains("Begin a plan"), "it is said where games are found");
    assert!(!place.path().join("course.toml").exists(), "nothing is written unasked");
    assert_eq!(server.post("/plan", &body(&[("do", "begin")])).status, 303);
    assert!(place.path().join("course.toml").exists());
    (place, server)
}

/// Does what a form of the plan's page would, made from its present state.
fn done(server: &Server, words: &[(&str, &str)]) -> Answer {
    let state = fields(&server.get("/plan"), "state").swap_remove(0);
    server.post("/plan", &body(&[&[("state", &*state)], words].concat()))
}

/// Keeps the first hit of the list.
fn kept(server: &Server) -> String {
    let list = server.get("/");
    let (entry, motif) =
        (fields(&list, "entry").swap_remove(0), fields(&list, "motif").swap_remove(0));
    let answer = done(server, &[("do", "keep-game"), ("motif", &motif), ("entry", &entry)]);
    assert_eq!(answer.status, 303, "{}", answer.body);
    entry
}

#[test]
fn a_hit_is_kept_written_about_and_undone_by_plain_forms() {
    let (place, server) = begun();
    let entry = kept(&server);
    let id = entry.strip_prefix("0:hit:").unwrap();
    let plan = place.read("course.toml");
    assert!(
        plan.contains(&format!("motif = \"{MOTIF}\"")) && plan.contains(&format!("id = \"{id}\""))
    );
    assert!(server.get("/").body.contains("In the plan."));
    let game = format!("/plan/game?motif={MOTIF}&entry={}", entry.replace(':', "%3A"));
    let page = server.get(&game);
    assert_eq!(page.status, 200, "{}", page.body);
    let places = fields(&page, "place");
    assert_eq!(places, ["before", "after"]);
    let words =
        [("motif", MOTIF), ("entry", &*entry), ("place", "before"), ("text", "Look *here*.")];
    let answer = done(&server, &[&words[..], &[("do", "game-words"), ("back", &game)]].concat());
    assert_eq!((answer.status, answer.header("location")), (303, Some(&*game)));
    assert!(place.read("course.toml").contains("before = \"Look *here*.\""));
    assert_eq!(done(&server, &[("do", "undo")]).status, 303);
    assert_eq!(place.read("course.toml"), plan);
    let shown = server.get("/plan").body;
    assert!(shown.contains("game kept: ") && shown.contains("words in "), "{shown}");
}

#[test]
fn a_plan_that_a_command_writes_over_is_not_brought_back_by_undo() {
    let (place, server) = begun();
    kept(&server);
    let old = fields(&server.get("/plan"), "state").swap_remove(0);
    let command = ["plan", "hecatomb-out", "-o", "course.toml", "--replace", "--quiet"];
    assert!(hecatomb(place.path(), &command).status().unwrap().success());
    let plan = place.read("course.toml");
    let shown = server.get("/plan").body;
    assert!(shown.contains("nothing to undo") && !shown.contains("game kept: "), "{shown}");
    assert_eq!(done(&server, &[("do", "undo")]).status, 422);
    let late = server.post("/plan", &body(&[("do", "title"), ("text", "Old"), ("state", &old)]));
    assert_eq!(late.status, 409);
    assert_eq!(place.read("course.toml"), plan);
}

#[test]
fn forms_from_elsewhere_or_nowhere_change_nothing() {
    let (place, server) = begun();
    let plan = place.read("course.toml");
    let state = fields(&server.get("/plan"), "state").swap_remove(0);
    let form = body(&[("do", "title"), ("text", "Taken"), ("state", &state)]);
    let own = format!("http://{}", server.host());
    let kind = ("Content-Type", "application/x-www-form-urlencoded");
    for headers in [
        vec![kind, ("Cookie", &*server.cookie)],
        vec![kind, ("Cookie", &*server.cookie), ("Origin", "https://elsewhere.example")],
        vec![kind, ("Cookie", &*server.cookie), ("Origin", "null")],
        vec![kind, ("Origin", &*own)],
    ] {
        let answer = server.ask("POST", "/plan", &server.host(), &headers, &form);
        assert_eq!(answer.status, 403, "{headers:?}");
    }
    // What comes by a link is no form.
    assert_eq!(server.get(&format!("/plan?{form}")).status, 200);
    assert_eq!(place.read("course.toml"), plan);
    assert_eq!(server.post("/plan", &form).status, 303);
    assert!(place.read("course.toml").contains("title = \"Taken\""));
}

#[test]
fn two_windows_that_change_the_same_are_asked_and_others_are_merged() {
    let (place, server) = begun();
    let state = fields(&server.get("/plan"), "state").swap_remove(0);
    let send = |what: &str, text: &str| {
        server.post("/plan", &body(&[("state", &state), ("do", what), ("text", text)]))
    };
    assert_eq!(send("title", "Mine").status, 303);
    let merged = send("audience", "Tuesday");
    assert_eq!(merged.header("location"), Some("/plan?merged=yes"));
    let clash = send("title", "Theirs & <b>more</b>");
    assert_eq!(clash.status, 409);
    assert!(clash.body.contains("Mine") && clash.body.contains("&lt;b&gt;more"), "{}", clash.body);
    assert!(place.read("course.toml").contains("title = \"Mine\""));
    // The page's own form does it all the same.
    let state = fields(&clash, "state").pop().unwrap();
    let text = fields(&clash, "text").swap_remove(0);
    let again = body(&[("do", "title"), ("text", &text), ("state", &state)]);
    assert_eq!(server.post("/plan", &again).status, 303);
    assert!(place.read("course.toml").contains("title = \"Theirs & <b>more</b>\""));
    let old = server.post("/plan", &body(&[("do", "undo"), ("state", &state)]));
    assert_eq!(old.status, 409);
}

#[test]
fn no_form_leads_to_another_file_or_another_page() {
    let (place, server) = begun();
    let plan = place.read("course.toml");
    for entry in ["0:file:1:/etc/passwd", "0:hit:0123456789abc:1:other-motif", "nonsense"] {
        let answer = done(&server, &[("do", "keep-game"), ("motif", MOTIF), ("entry", entry)]);
        assert_eq!(answer.status, 422, "{entry}");
    }
    for (act, motif) in [("keep-game", "../x"), ("nonsense", MOTIF), ("drop-lesson", MOTIF)] {
        assert_eq!(done(&server, &[("do", act), ("motif", motif)]).status, 422, "{act}");
    }
    assert_eq!(place.read("course.toml"), plan);
    for back in ["//elsewhere.example", "https://elsewhere.example", "/\\elsewhere"] {
        let answer = done(&server, &[("do", "title"), ("text", back), ("back", back)]);
        assert_eq!(answer.header("location"), Some("/plan"), "{back}");
    }
}

#[test]
fn what_is_seen_is_in_a_frame_without_rights_and_can_be_saved() {
    let (place, server) = begun();
    let entry = kept(&server);
    let see = format!("/see?lesson={MOTIF}");
    let around = server.get(&see);
    assert!(around.header("content-security-policy").unwrap().contains("frame-src 'self'"));
    assert!(around.body.contains("sandbox=\"allow-scripts"));
    let shown = server.get(&format!("/see/shown?lesson={MOTIF}&as=lesson"));
    assert_eq!(shown.status, 200);
    let policy = shown.header("content-security-policy").unwrap();
    assert!(policy.starts_with("sandbox allow-scripts;") && policy.contains("default-src 'none'"));
    assert_eq!(shown.header("x-frame-options"), Some("SAMEORIGIN"));
    assert!(!shown.body.contains(HOSTILE), "names are escaped");
    let file = server.get(&format!("/see/file?lesson={MOTIF}&as=pgn"));
    let name = format!("attachment; filename=\"{MOTIF}.pgn\"");
    assert_eq!(file.header("content-disposition"), Some(&*name));
    assert!(file.body.contains("[Event "), "{}", file.body);
    // It is the page that `course` writes, but for the lessons around it.
    let ran = place.run(&["course", "hecatomb-out", "--plan", "course.toml", "-o", "out"]);
    assert_eq!(ran.status, 0, "{ran}");
    let (written, saved) = (
        Html::parse_document(&place.read(&format!("out/{MOTIF}.html"))),
        Html::parse_document(&server.get(&format!("/see/file?lesson={MOTIF}&as=lesson")).body),
    );
    let main = Selector::parse("main").unwrap();
    let [written, saved] = [&written, &saved].map(|page| page.select(&main).next().unwrap().html());
    assert_eq!(written, saved);
    assert_eq!(server.get("/see?lesson=../course").status, 404);
    assert_eq!(server.get(&format!("/see/file?lesson={MOTIF}&as=nonsense")).status, 404);
    assert!(entry.contains(MOTIF));
}

#[test]
fn no_page_of_the_plan_has_script_or_style_between_its_lines() {
    let (_place, server) = begun();
    let entry = kept(&server).replace(':', "%3A");
    let game = format!("/plan/game?motif={MOTIF}&entry={entry}");
    for path in ["/plan", &game, "/see?lesson=knight-follow-up"] {
        let page = server.get(path).body;
        assert!(!page.contains(" style=") && !page.contains(" onclick="), "{path}");
        let page = Html::parse_document(&page);
        let scripts = page.select(&Selector::parse("script:not([src])").unwrap()).count();
        let data =
            page.select(&Selector::parse("script[type='application/json']").unwrap()).count();
        assert_eq!(scripts, data, "{path}");
    }
}

#[cfg(unix)]
#[test]
fn plan_that_is_a_link_is_told_on_its_page() {
    let place = small_run();
    place.write("real.toml", "title = \"Real\"\n");
    std::os::unix::fs::symlink(place.path().join("real.toml"), place.path().join("course.toml"))
        .unwrap();
    let server = Server::of(&place, &[]);
    let page = server.get("/plan");
    assert_eq!(page.status, 409);
    assert!(page.body.contains("is a link"), "{}", page.body);
    assert_eq!(server.post("/plan", &body(&[("do", "begin")])).status, 422);
    assert_eq!(place.read("real.toml"), "title = \"Real\"\n");
}

/// A run of the sample cup, of three motifs that mate, with a plan of one sheet.
fn cup_with_sheet(more: &str, options: &[&str]) -> (Place, Server) {
    let place = Place::new();
    place.write("cup.pgn.zst", include_bytes!("../../sample-data/cup.pgn.zst"));
    let motifs = ["smothered-mate", "queen-takes-g8", "rook-decoy-corner"];
    let motifs = motifs.iter().flat_map(|motif| ["--query", motif]);
    let mine: Vec<&str> = ["mine", "cup.pgn.zst", "--quiet"].into_iter().chain(motifs).collect();
    assert_eq!(place.run(&mine).status, 0);
    assert_eq!(place.run(&["verify", "hecatomb-out", "--nodes", "1000", "--quiet"]).status, 0);
    place.write(
        "course.toml",
        format!("title = \"A course\"\n\n[[sheet]]\nname = \"home\"\n{more}"),
    );
    let server = Server::of(&place, options);
    (place, server)
}

#[test]
fn a_class_is_given_a_sheet_at_a_click_and_that_can_be_undone() {
    let of = "class = \"Tuesday\"\nof = [\"continue:2\"]\n";
    let (place, server) = cup_with_sheet(of, &["--nodes", "20000"]);
    let page = server.get("/see?sheet=home");
    assert!(page.body.contains("Given to Tuesday today"), "{}", page.body);
    let give = [("do", "give-sheet"), ("sheet", "home"), ("back", "/see?sheet=home")];
    let before = place.read("course.toml");
    let answer = done(&server, &give);
    assert_eq!(answer.status, 303, "{}", answer.body);
    let given = place.read("course.toml");
    assert!(
        given.starts_with(&before) && given.contains("[[given]]\nclass = \"Tuesday\""),
        "{given}"
    );
    assert_eq!(given.matches("\n  \"continue ").count(), 2, "{given}");
    let page = server.get("/see?sheet=home").body;
    assert!(page.contains("Tuesday had this sheet on ") && !page.contains("give-sheet"), "{page}");
    assert_eq!(done(&server, &give).status, 422, "it had it already");
    assert_eq!(done(&server, &[("do", "undo")]).status, 303);
    assert_eq!(place.read("course.toml"), before);
}

#[test]
fn an_exercise_of_a_sheet_is_exchanged_for_another() {
    let (place, server) = cup_with_sheet("of = [\"continue:2\"]\n", &["--nodes", "50000"]);
    let sheet = [("sheet", "home"), ("do", "settle-sheet")];
    assert_eq!(done(&server, &sheet).status, 303);
    let ids = || {
        let text = place.read("course.toml");
        let ids = text.lines().filter_map(|line| line.strip_prefix("id = "));
        ids.map(str::to_owned).collect::<Vec<_>>()
    };
    let before = ids();
    let entry = format!("0:one:continue:{}", before[0].trim_matches('"'));
    let another = [("sheet", "home"), ("do", "another-sheet-exercise"), ("entry", &*entry)];
    assert_eq!(done(&server, &another).status, 303);
    let after = ids();
    assert_eq!((before.len(), after.len(), &after[1]), (2, 2, &before[1]));
    assert!(!before.contains(&after[0]), "{before:?} {after:?}");
    let page = server.get("/plan").body;
    assert!(page.contains("another-sheet-exercise"), "it can be asked for on the page");
}

#[test]
fn long_work_tells_how_long_already_and_is_stopped_by_a_click_and_by_leaving() {
    let all = "of = [\"find:30\", \"continue:30\", \"defend:30\"]\n";
    let (_place, server) = cup_with_sheet(all, &["--nodes", "5000000", "--threads", "1"]);
    let waiting = || -> serde_json::Value {
        serde_json::from_str(&server.get("/waiting?what=sheet%20home").body).unwrap()
    };
    let until = |is_so: &dyn Fn(&serde_json::Value) -> bool| {
        let begun = std::time::Instant::now();
        while !is_so(&waiting()) {
            assert!(begun.elapsed().as_secs() < 60, "{}", waiting());
            std::thread::sleep(std::time::Duration::from_millis(50));
        }
    };
    let is_begun = |told: &serde_json::Value| told["is_begun"] == true;
    let is_over = |told: &serde_json::Value| told["is_waited_for"] == false;
    std::thread::scope(|scope| {
        let shown = scope.spawn(|| server.get("/see/shown?sheet=home&as=pupil"));
        until(&is_begun);
        assert_eq!(server.get("/plan").status, 200, "other pages answer meanwhile");
        let stop = body(&[("what", "sheet home"), ("back", "/plan")]);
        assert_eq!(server.post("/waiting/stop", &stop).status, 303);
        let shown = shown.join().unwrap().body;
        assert!(shown.contains("it was stopped"), "{shown}");
    });
    until(&is_over);
    // A browser that leaves the page closes the connection.
    let mut left = std::net::TcpStream::connect(("127.0.0.1", server.port)).unwrap();
    let (host, cookie) = (server.host(), &server.cookie);
    let request = format!(
        "GET /see/shown?sheet=home&as=key HTTP/1.1\r\nHost: {host}\r\nCookie: {cookie}\r\n\r\n"
    );
    std::io::Write::write_all(&mut left, request.as_bytes()).unwrap();
    until(&is_begun);
    drop(left);
    until(&is_over);
}

#[test]
fn a_command_that_notes_what_a_class_had_waits_for_who_edits_the_plan_and_can_be_undone() {
    let of = "class = \"Tuesday\"\nof = [\"continue:1\"]\n";
    let (place, server) = cup_with_sheet(of, &["--nodes", "20000"]);
    let before = place.read("course.toml");
    let _ = server.get("/plan");
    let lock = std::fs::File::create(place.path().join(".course.toml.states/lock")).unwrap();
    lock.lock().unwrap();
    let plan = ["course", "hecatomb-out", "--plan", "course.toml", "-o", "course"];
    let command = [&plan[..], &["--nodes", "20000", "--quiet"]].concat();
    let mut course = hecatomb(place.path(), &command);
    let mut course = course.stdout(std::process::Stdio::null()).spawn().unwrap();
    place.wait_for("course/home.html");
    std::thread::sleep(std::time::Duration::from_millis(300));
    assert!(course.try_wait().unwrap().is_none(), "it waits");
    assert_eq!(place.read("course.toml"), before);
    drop(lock);
    assert!(course.wait().unwrap().success());
    assert!(place.read("course.toml").contains("[[given]]"));
    assert_eq!(done(&server, &[("do", "undo")]).status, 303);
    assert_eq!(place.read("course.toml"), before);
}

#[test]
fn a_sheet_that_lacks_verdicts_says_what_makes_them() {
    let place = small_run();
    place.write("course.toml", "title = \"A\"\n\n[[sheet]]\nname = \"home\"\nof = [\"find:1\"]\n");
    let server = Server::of(&place, &[]);
    let shown = server.get("/see/shown?sheet=home&as=pupil").body;
    let shown: String = Html::parse_document(&shown).root_element().text().collect();
    assert!(shown.contains("run `hecatomb verify hecatomb-out` first"), "{shown}");
}
