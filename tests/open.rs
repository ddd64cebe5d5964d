//! A run on the screen: nobody but its owner gets in, nothing of a request or a game does anything, and what is chosen is
//! what the tables hold.

// The plan on the screen.
mod plan;
// Own motifs on the screen.
mod motifs;

use std::collections::BTreeMap;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::process::{Child, Stdio};
use std::time::{Duration, Instant};

use hecatomb::finding::{FoundHits, Gathering, MotifTold, Sought};
use hecatomb::hits::{Reading, Runs};
use scraper::{Html, Selector};

use crate::support::{Place, game, hecatomb, season};

/// A server that was started, its port and the secret of its first address.
struct Server {
    child: Child,
    port: u16,
    key: String,
    cookie: String,
}

/// What a request was answered.
struct Answer {
    status: u16,
    headers: Vec<(String, String)>,
    body: String,
}

impl Answer {
    fn header(&self, name: &str) -> Option<&str> {
        self.headers.iter().find(|(known, _)| known == name).map(|(_, value)| &**value)
    }
}

impl Server {
    /// Opens the run of a place and waits until all its hits are read.
    fn of(place: &Place, options: &[&str]) -> Server {
        let arguments = [&["open", "hecatomb-out", "--no-browser", "--quiet"], options].concat();
        let mut child = hecatomb(place.path(), &arguments)
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let mut address = String::new();
        BufReader::new(child.stdout.as_mut().unwrap()).read_line(&mut address).unwrap();
        let rest = address.trim().strip_prefix("http://127.0.0.1:").unwrap();
        let (port, key) = rest.split_once("/enter?key=").unwrap();
        let (port, key) = (port.parse().unwrap(), key.to_owned());
        let mut server = Server { child, port, key, cookie: String::new() };
        let entrance = format!("/enter?key={}", server.key);
        let answer = server.ask("GET", &entrance, &server.host(), &[], "");
        let cookie = answer.header("set-cookie").unwrap();
        server.cookie = cookie.split(';').next().unwrap().to_owned();
        let begun = Instant::now();
        while server.get("/").header("refresh").is_some() {
            assert!(begun.elapsed() < Duration::from_secs(60), "the hits are not read");
            std::thread::sleep(Duration::from_millis(20));
        }
        server
    }

    fn host(&self) -> String {
        format!("127.0.0.1:{}", self.port)
    }

    /// A request, letter for letter.
    fn ask(
        &self,
        method: &str,
        path: &str,
        host: &str,
        more: &[(&str, &str)],
        body: &str,
    ) -> Answer {
        let mut stream = TcpStream::connect(("127.0.0.1", self.port)).unwrap();
        stream.set_read_timeout(Some(Duration::from_secs(60))).unwrap();
        let mut text = format!("{method} {path} HTTP/1.1\r\nConnection: close\r\n");
        if !host.is_empty() {
            text += &format!("Host: {host}\r\n");
        }
        for (name, value) in more {
            text += &format!("{name}: {value}\r\n");
        }
        if method == "POST" && !more.iter().any(|(name, _)| *name == "Content-Length") {
            text += &format!("Content-Length: {}\r\n", body.len());
        }
        stream.write_all(format!("{text}\r\n{body}").as_bytes()).unwrap();
        let mut answer = Vec::new();
        stream.read_to_end(&mut answer).unwrap();
        let answer = String::from_utf8(answer).unwrap();
        let (head, body) = answer.split_once("\r\n\r\n").unwrap();
        let mut lines = head.lines();
        let status = lines.next().unwrap().split(' ').nth(1).unwrap().parse().unwrap();
        let headers = lines.map(|line| line.split_once(": ").unwrap());
        let headers =
            headers.map(|(name, value)| (name.to_lowercase(), value.to_owned())).collect();
        Answer { status, headers, body: body.to_owned() }
    }

    /// A page, as the browser of whoever started the program asks for it.
    fn get(&self, path: &str) -> Answer {
        self.ask("GET", path, &self.host(), &[("Cookie", &self.cookie)], "")
    }

    fn post(&self, path: &str, body: &str) -> Answer {
        let origin = format!("http://{}", self.host());
        let headers = [
            ("Cookie", &*self.cookie),
            ("Origin", &origin),
            ("Content-Type", "application/x-www-form-urlencoded"),
        ];
        self.ask("POST", path, &self.host(), &headers, body)
    }

    /// Waits until the program has ended.
    fn ended(&mut self) -> i32 {
        let begun = Instant::now();
        loop {
            if let Some(status) = self.child.try_wait().unwrap() {
                return status.code().unwrap();
            }
            assert!(begun.elapsed() < Duration::from_secs(20), "the program goes on");
            std::thread::sleep(Duration::from_millis(20));
        }
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// A name that would be a script.
const HOSTILE: &str = "<script>alert(1)</script>";

/// A run of a few games, one of them by a hostile name.
fn small_run() -> Place {
    let place = Place::new();
    let hostile =
        game(HOSTILE, "'><img src=x onerror=alert(2)>").replace("2031.03.04", "2031.03.05");
    place.write("games.pgn", game("Alder, Tom", "Birch, Ida") + &hostile);
    let ran = place.run(&["mine", "games.pgn", "--query", "knight-follow-up", "--quiet"]);
    assert_eq!(ran.status, 0, "{ran}");
    place
}

/// A run of the sample season, verified.
fn season_run() -> Place {
    let place = Place::new();
    place.write("season.pgn", season());
    for command in [
        &["mine", "season.pgn", "--quiet"][..],
        &["verify", "hecatomb-out", "--nodes", "1000", "--quiet"],
    ] {
        let ran = place.run(command);
        assert_eq!(ran.status, 0, "{ran}");
    }
    place
}

/// Addresses of pages of every sort.
fn pages(server: &Server) -> Vec<String> {
    let list = server.get("/").body;
    let list = Html::parse_document(&list);
    let hit = Selector::parse(".hits a.hit").unwrap();
    let hit = list.select(&hit).next().unwrap().attr("href").unwrap().to_owned();
    vec!["/".to_owned(), "/?part=list".to_owned(), hit, "/numbers".to_owned()]
}

#[test]
#[cfg(target_os = "linux")]
fn server_listens_on_the_loopback_address_alone() {
    let place = small_run();
    let server = Server::of(&place, &[]);
    let port = format!(":{:04X}", server.port);
    let sockets = ["/proc/net/tcp", "/proc/net/tcp6"].map(std::fs::read_to_string);
    let sockets = sockets.into_iter().flatten().collect::<String>();
    // Local address and state; 0A is listening (proc_net_tcp.txt of the Linux documentation).
    let fields = sockets.lines().map(|line| line.split_whitespace().collect::<Vec<_>>());
    let listening = fields.filter(|fields| fields[1].ends_with(&port) && fields[3] == "0A");
    let addresses: Vec<String> = listening.map(|fields| fields[1].to_owned()).collect();
    assert_eq!(addresses, [format!("0100007F{port}")]);
}

#[test]
fn secret_of_the_first_address_is_exchanged_for_a_cookie_and_stays_nowhere() {
    let place = small_run();
    let server = Server::of(&place, &[]);
    let enter =
        |key: &str| server.ask("GET", &format!("/enter?key={key}"), &server.host(), &[], "");
    let answer = enter(&server.key);
    assert_eq!((answer.status, answer.header("location")), (303, Some("/")));
    let cookie = answer.header("set-cookie").unwrap();
    assert!(cookie.ends_with("; Path=/; HttpOnly; SameSite=Strict"), "{cookie}");
    assert!(!cookie.contains(&server.key));
    assert!(pages(&server).iter().all(|page| !server.get(page).body.contains(&server.key)));
    for wrong in ["", "0", &server.key[1..], &format!("{}0", server.key), &"0".repeat(64)] {
        let answer = enter(wrong);
        assert_eq!((answer.status, answer.header("set-cookie")), (403, None), "{wrong}");
    }
    let other = Server::of(&place, &[]);
    assert_ne!(other.key, server.key);
    assert_eq!(other.ask("GET", "/", &other.host(), &[("Cookie", &server.cookie)], "").status, 403);
}

#[test]
fn who_has_no_cookie_or_comes_from_elsewhere_is_refused() {
    let place = small_run();
    let server = Server::of(&place, &[]);
    let (host, cookie) = (server.host(), ("Cookie", &*server.cookie));
    let own = format!("http://{host}");
    let localhost = format!("localhost:{}", server.port);
    let elsewhere = format!("127.0.0.1:{}", server.port.wrapping_add(1));
    let elsewhere_page = format!("http://{elsewhere}");
    let secure = format!("https://{host}");
    let wrong = format!("{}0", server.cookie);
    let key = format!("/enter?key={}", server.key);
    let mut paths: Vec<String> = pages(&server);
    paths.extend(["/files/style.css".to_owned(), "/nothing".to_owned(), key]);
    for path in &paths {
        let status = |host: &str, more: &[_]| server.ask("GET", path, host, more, "").status;
        let is_open = path.starts_with("/enter");
        let without = [vec![], vec![("Cookie", "")], vec![("Cookie", &*wrong)]];
        assert!(is_open || without.iter().all(|headers| status(&host, headers) == 403), "{path}");
        for foreign in ["league.example", "127.0.0.1", &localhost, &elsewhere, "127.0.0.1:80@x", ""]
        {
            assert!([400, 403].contains(&status(foreign, &[cookie])), "{path} {foreign}");
        }
        for foreign in ["http://league.example", "null", &elsewhere_page, &secure, ""] {
            assert_eq!(status(&host, &[cookie, ("Origin", foreign)]), 403, "{path} {foreign}");
        }
        for foreign in ["cross-site", "same-site", "anything"] {
            assert_eq!(
                status(&host, &[cookie, ("Sec-Fetch-Site", foreign)]),
                403,
                "{path} {foreign}"
            );
        }
        let good = [cookie, ("Origin", &*own), ("Sec-Fetch-Site", "same-origin")];
        assert_ne!(status(&host, &good), 403, "{path}");
        assert_ne!(status(&host, &[cookie, ("Sec-Fetch-Site", "none")]), 403, "{path}");
    }
    let end = |more: &[_]| server.ask("POST", "/end", &host, more, "").status;
    assert_eq!(end(&[]), 403);
    assert_eq!(end(&[cookie, ("Origin", "http://league.example")]), 403);
    assert_eq!(end(&[cookie, ("Origin", "null")]), 403);
    assert_eq!(server.get("/").status, 200);
}

#[test]
fn every_answer_forbids_what_a_page_does_not_need() {
    let place = small_run();
    let server = Server::of(&place, &[]);
    let mut paths = pages(&server);
    paths.extend(["/files/style.css", "/files/board.js", "/nothing"].map(str::to_owned));
    let refused = server.ask("GET", "/", "league.example", &[], "");
    let entered = server.ask("GET", &format!("/enter?key={}", server.key), &server.host(), &[], "");
    let answers = paths.iter().map(|path| server.get(path)).chain([refused, entered]);
    for answer in answers {
        let policy = answer.header("content-security-policy").unwrap();
        assert!(policy.starts_with("default-src 'none';"), "{policy}");
        assert!(policy.contains("frame-ancestors 'none'") && policy.contains("base-uri 'none'"));
        assert!(!policy.contains("unsafe") && !policy.contains('*') && !policy.contains("http"));
        assert_eq!(answer.header("x-content-type-options"), Some("nosniff"));
        assert_eq!(answer.header("referrer-policy"), Some("same-origin"));
        assert_eq!(answer.header("cache-control"), Some("no-store"));
    }
}

#[test]
fn no_page_has_script_or_style_between_its_lines() {
    let place = small_run();
    let server = Server::of(&place, &[]);
    let is_data = |kind: Option<&str>| kind == Some("application/json");
    for path in pages(&server) {
        let page = Html::parse_document(&server.get(&path).body);
        for element in page.select(&Selector::parse("*").unwrap()) {
            let value = element.value();
            let is_script = value.name() == "script" && !is_data(value.attr("type"));
            assert!(!is_script || value.attr("src").is_some_and(|src| src.starts_with("/files/")));
            assert!(value.name() != "style", "{path}");
            for (name, value) in value.attrs() {
                assert!(name != "style" && !name.starts_with("on"), "{path}: {name}={value}");
                let is_link = ["href", "src", "action"].contains(&name);
                assert!(!is_link || value.starts_with(['/', '#']), "{path}: {name}={value}");
            }
        }
    }
}

#[test]
fn a_name_that_would_be_a_script_is_shown_as_it_is_written() {
    let place = small_run();
    let server = Server::of(&place, &[]);
    let list = server.get("/?player=%3Cscript%3E").body;
    assert!(list.contains("&lt;script&gt;alert(1)") && !list.contains("<script>alert"), "{list}");
    let hit = Selector::parse(".hits a.hit").unwrap();
    let document = Html::parse_document(&list);
    let links: Vec<&str> = document.select(&hit).map(|link| link.attr("href").unwrap()).collect();
    assert_eq!(links.len(), 1);
    let page = server.get(links[0]).body;
    assert!(page.contains("&lt;script&gt;alert(1)"), "{page}");
    assert!(!page.contains("<script>alert") && !page.contains("<img"), "{page}");
    let said = "/?kind=%3Cscript%3Ealert(3)%3C/script%3E&text=%22%3E%3Cimg%20src=x%3E";
    let page = server.get(said).body;
    assert!(!page.contains("<script>alert") && !page.contains("<img"), "{page}");
}

#[test]
fn no_path_of_a_request_reaches_a_file() {
    let place = small_run();
    place.write("secret.txt", "a secret of the disk");
    let server = Server::of(&place, &[]);
    for path in [
        "/files/../secret.txt",
        "/files/..%2Fsecret.txt",
        "/files/%2e%2e/secret.txt",
        "/files/secret.txt",
        "/secret.txt",
        "/../secret.txt",
        "//secret.txt",
        "/hit?id=../secret.txt",
        "/hit?id=secret.txt",
        "/?part=../secret.txt",
        "/files/style.css%00",
        "/files//etc/passwd",
    ] {
        let answer = server.get(path);
        let is_found = answer.status == 200 && !path.starts_with("/?");
        assert!(!is_found && !answer.body.contains("a secret of the disk"), "{path}");
    }
}

#[test]
fn a_long_body_is_refused_and_what_is_no_request_ends_nothing() {
    let place = small_run();
    let server = Server::of(&place, &[]);
    let cookie = ("Cookie", &*server.cookie);
    let length = ("Content-Length", "1000000000");
    assert_eq!(server.ask("POST", "/end", &server.host(), &[cookie, length], "").status, 413);
    for nonsense in ["\r\n\r\n", "GET\r\n\r\n", "GET / HTTP/9\r\n\r\n", "\u{0}\u{1}\r\n\r\n"] {
        let mut stream = TcpStream::connect(("127.0.0.1", server.port)).unwrap();
        stream.write_all(nonsense.as_bytes()).unwrap();
        stream.shutdown(std::net::Shutdown::Write).unwrap();
        let mut answer = Vec::new();
        let _ = stream.read_to_end(&mut answer);
        assert!(!String::from_utf8_lossy(&answer).contains(" 200 "), "{nonsense}");
    }
    assert_eq!(server.ask("PUT", "/", &server.host(), &[cookie], "").status, 405);
    assert_eq!(server.get("/").status, 200);
}

#[test]
fn program_ends_when_asked_on_a_page() {
    let place = small_run();
    let mut server = Server::of(&place, &[]);
    let answer = server.post("/end", "");
    assert!(answer.status == 200 && answer.body.contains("has ended"), "{}", answer.body);
    assert_eq!(server.ended(), 0);
}

#[test]
#[cfg(unix)]
fn program_ends_at_an_interrupt() {
    let place = small_run();
    let mut server = Server::of(&place, &[]);
    crate::support::interrupt(&server.child);
    assert_eq!(server.ended(), 130);
}

#[test]
fn a_port_that_is_taken_is_told() {
    let place = small_run();
    let server = Server::of(&place, &[]);
    let port = server.port.to_string();
    let ran = place.run(&["open", "hecatomb-out", "--no-browser", "--port", &port]);
    assert_eq!((ran.status, &*ran.out), (1, ""), "{ran}");
    assert!(ran.err.contains(&format!("can't listen on port {port}")), "{ran}");
    assert!(ran.err.contains("hint: without --port"), "{ran}");
}

#[test]
fn tables_that_are_read_as_they_are_are_named_so_on_every_page() {
    let place = small_run();
    let (as_written, as_they_are) = (Server::of(&place, &[]), Server::of(&place, &["--edited"]));
    for page in pages(&as_written) {
        let says = |server: &Server| server.get(&page).body.contains("(--edited)");
        assert!(!says(&as_written) && (says(&as_they_are) || page.contains("part=")), "{page}");
    }
}

/// The numbers beside what can be chosen of a facet, by title.
fn counts(page: &str, facet: &str) -> BTreeMap<String, usize> {
    let page = Html::parse_document(page);
    let links = Selector::parse(".choices a").unwrap();
    let spans = Selector::parse("span").unwrap();
    let of_facet = page.select(&links).filter(|link| {
        link.attr("data-key").is_some_and(|key| key.split_once('-').unwrap().0 == facet)
    });
    let told = of_facet.map(|link| {
        let mut spans = link.select(&spans).map(|span| span.text().collect::<String>());
        let title = spans.next().unwrap();
        (title, spans.next().unwrap().replace(',', "").parse().unwrap())
    });
    told.collect()
}

/// How many hits are left.
fn left(page: &str) -> usize {
    let page = Html::parse_document(page);
    let title = page.select(&Selector::parse("#list-title").unwrap()).next().unwrap();
    let title: String = title.text().collect();
    title.split(' ').next().unwrap().replace(',', "").parse().unwrap()
}

/// All rows of the tables of hits of a place, with the cells of their verdicts.
fn all_rows(place: &Place) -> Vec<BTreeMap<String, String>> {
    let mut all = Vec::new();
    for entry in std::fs::read_dir(place.path().join("hecatomb-out/hits")).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap().to_str().unwrap().to_owned();
        let verdicts = place.path().join("hecatomb-out/verdicts").join(&name);
        let mut hits = csv::Reader::from_path(&path).unwrap();
        let mut verdicts = csv::Reader::from_path(verdicts).unwrap();
        let columns = hits.headers().unwrap().iter().map(str::to_owned).collect::<Vec<_>>();
        let more = verdicts.headers().unwrap().iter().map(str::to_owned).collect::<Vec<_>>();
        for (hit, verdict) in hits.records().zip(verdicts.records()) {
            let (hit, verdict) = (hit.unwrap(), verdict.unwrap());
            let cells = columns.iter().zip(&hit).chain(more.iter().zip(&verdict));
            let mut row: BTreeMap<String, String> =
                cells.map(|(name, cell)| (name.clone(), cell.to_owned())).collect();
            row.insert("motif".to_owned(), name.trim_end_matches(".csv").to_owned());
            all.push(row);
        }
    }
    all
}

#[test]
fn numbers_beside_every_choice_are_those_of_the_tables() {
    let place = season_run();
    let server = Server::of(&place, &[]);
    let rows = all_rows(&place);
    assert!(rows.len() > 100, "{}", rows.len());
    assert_eq!(left(&server.get("/").body), rows.len());
    let count = |fits: &dyn Fn(&BTreeMap<String, String>) -> bool| {
        rows.iter().filter(|&row| fits(row)).count()
    };
    // A choice of two kinds and a side; its own choice is not applied to the numbers of a facet.
    let page = server.get("/?kind=sham&kind=real&side=white").body;
    let is_kind = |row: &BTreeMap<String, String>| ["sham", "real"].contains(&&*row["kind"]);
    let is_white = |row: &BTreeMap<String, String>| row["side"] == "white";
    assert_eq!(left(&page), count(&|row| is_kind(row) && is_white(row)));
    let kinds = counts(&page, "kind");
    for kind in ["free", "sham", "real", "declined"] {
        let expected = count(&|row| row["kind"] == kind && is_white(row));
        assert_eq!(kinds.get(kind).copied().unwrap_or(0), expected, "{kind}");
    }
    let sides = counts(&page, "side");
    assert_eq!(sides["White"], count(&|row| is_kind(row) && is_white(row)));
    assert_eq!(sides["Black"], count(&|row| is_kind(row) && row["side"] == "black"));
    let verdicts = counts(&page, "verdict");
    for (title, word) in
        [("sound", "yes"), ("not sound", "no"), ("holds", "holds"), ("open", "open")]
    {
        let expected = count(&|row| is_kind(row) && is_white(row) && row["sound"] == word);
        assert_eq!(verdicts.get(title).copied().unwrap_or(0), expected, "{title}");
    }
    let name = rows.iter().map(|row| &row["white"]).find(|name| name.len() > 4).unwrap();
    let part = name.to_lowercase().split([' ', ',']).next().unwrap().to_owned();
    let is_player = |row: &BTreeMap<String, String>| {
        ["white", "black"].iter().any(|side| row[*side].to_lowercase().contains(&part))
    };
    assert_eq!(left(&server.get(&format!("/?player={part}")).body), count(&is_player));
}

#[test]
fn every_page_of_the_list_together_shows_each_hit_once_and_in_order() {
    let place = season_run();
    let server = Server::of(&place, &[]);
    let links = Selector::parse(".hits a.hit").unwrap();
    let rows = all_rows(&place);
    let sham: Vec<_> = rows.iter().filter(|row| row["kind"] == "sham").collect();
    let moves_left = |row: &BTreeMap<String, String>| {
        (row["plies"].parse::<u64>().unwrap() + 2 - row["ply"].parse::<u64>().unwrap()) / 2
    };
    let by_id: BTreeMap<&str, u64> =
        sham.iter().map(|row| (&*row["id"], moves_left(row))).collect();
    let mut shown = Vec::new();
    for page in 1.. {
        let body = server.get(&format!("/?kind=sham&order=shortest&page={page}")).body;
        let document = Html::parse_document(&body);
        for link in document.select(&links) {
            let address = link.attr("href").unwrap();
            let id = address.split(['?', '&']).find_map(|word| word.strip_prefix("id=")).unwrap();
            shown.push(id.replace("%3A", ":").replace("%2B", "+").replace("%3D", "="));
        }
        if document.select(&Selector::parse("[rel=next]").unwrap()).next().is_none() {
            break;
        }
    }
    // An offer that several queries found has a link of its own, and one for each of them.
    shown.dedup();
    assert_eq!(shown.len(), sham.len());
    let lengths: Vec<u64> = shown.iter().map(|id| by_id[&**id]).collect();
    assert!(lengths.is_sorted(), "{lengths:?}");
    shown.sort_unstable();
    shown.dedup();
    assert_eq!(shown.len(), sham.len());
}

#[test]
fn a_hit_opens_at_its_offer_and_leads_to_those_beside_it() {
    let place = season_run();
    let server = Server::of(&place, &[]);
    let rows = all_rows(&place);
    let links = Selector::parse(".hits a.hit").unwrap();
    let list = Html::parse_document(&server.get("/?kind=sham&order=shortest").body);
    let mut link = list.select(&links).next().unwrap().attr("href").unwrap().to_owned();
    let mut seen = Vec::new();
    for number in 1..=3 {
        let page = server.get(&link);
        assert_eq!(page.status, 200, "{link}");
        let page = Html::parse_document(&page.body);
        let one = |selector: &str| {
            let selector = Selector::parse(selector).unwrap();
            let element = page.select(&selector).next();
            element.unwrap_or_else(|| panic!("{link} has no {selector:?}"))
        };
        let steps: serde_json::Value =
            serde_json::from_str(&one(".game script").text().collect::<String>()).unwrap();
        let id = link.split(['?', '&']).find_map(|word| word.strip_prefix("id=")).unwrap();
        let id = id.replace("%3A", ":");
        let row = rows.iter().find(|row| row["id"] == id).unwrap();
        let ply: u64 = row["ply"].parse().unwrap();
        assert_eq!(steps["opened"], ply - 1, "{id}");
        let moves = steps["lines"][0]["moves"].as_array().unwrap();
        assert_eq!(moves.len().to_string(), row["plies"], "{id}");
        let placement = if ply == 1 { &steps["start"] } else { &moves[ply as usize - 2][1] };
        assert_eq!(placement.as_str(), row["fen"].split(' ').next(), "{id}");
        // What is asked about is the very position, with its side to move.
        let positions: serde_json::Value =
            serde_json::from_str(&one("#positions").text().collect::<String>()).unwrap();
        let main = &positions["lines"][0];
        assert_eq!(main["moves"][ply as usize - 1].as_str(), Some(&*row["offer"]), "{id}");
        if ply > 1 {
            let fen = main["fens"][ply as usize - 2].as_str().unwrap();
            assert!(fen.split(' ').take(2).eq(row["fen"].split(' ').take(2)), "{id}");
        }
        let text: String = one(".around span").text().collect();
        assert!(text.starts_with(&format!("{number} of ")), "{text}");
        seen.push(id);
        link = one(".around [rel=next]").attr("href").unwrap().to_owned();
    }
    seen.dedup();
    assert_eq!(seen.len(), 3);
    assert_eq!(server.get("/hit?id=0000000000000:1:knight-follow-up").status, 404);
}

#[test]
fn what_a_position_is_worth_is_told_as_it_goes_and_stopped_when_asked() {
    let place = small_run();
    let server = Server::of(&place, &[]);
    let begin = |fen: &str| {
        let answer = server.post("/worth", &format!("fen={}&next=Ra8%23", fen.replace(' ', "+")));
        assert_eq!(answer.status, 200, "{}", answer.body);
        let answer: serde_json::Value = serde_json::from_str(&answer.body).unwrap();
        format!("/worth?number={}", answer["number"])
    };
    // A rook mates on the back rank.
    let told = begin("6k1/5ppp/8/8/8/8/5PPP/R5K1 w - - 0 1");
    let begun = Instant::now();
    loop {
        let answer: serde_json::Value = serde_json::from_str(&server.get(&told).body).unwrap();
        if answer["is_done"] == true {
            let says = answer["says"].as_array().unwrap();
            assert!(says[0].as_str().unwrap().contains("White to move mates in 1"), "{says:?}");
            assert!(says[1].as_str().unwrap().contains("Ra8#, mates in 1"), "{says:?}");
            break;
        }
        assert!(begun.elapsed() < Duration::from_secs(60), "{answer}");
        std::thread::sleep(Duration::from_millis(20));
    }
    // Another question takes the place of one that goes on; a click stops it.
    let start = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1";
    let (first, second) = (begin(start), begin(start));
    assert_eq!((server.get(&first).status, server.get(&second).status), (410, 200));
    assert_eq!(server.post("/worth/stop", "").status, 204);
    let stopped: serde_json::Value = serde_json::from_str(&server.get(&second).body).unwrap();
    assert_eq!(stopped["is_done"], true, "it answers with what was found");
    for nonsense in ["", "fen=", "fen=8/8/8/8/8/8/8/8+w+-+-+0+1", "fen=%FF", "next=e4"] {
        assert!([400, 415, 422].contains(&server.post("/worth", nonsense).status), "{nonsense}");
    }
}

#[test]
fn figures_are_those_of_the_tables_and_lead_to_the_games_behind_them() {
    let place = season_run();
    let server = Server::of(&place, &[]);
    let rows = all_rows(&place);
    let page = Html::parse_document(&server.get("/numbers?side=white").body);
    let table = Selector::parse("section").unwrap();
    let by_kind =
        page.select(&table).find(|section| section.attr("aria-labelledby") == Some("by-kind"));
    let lines = Selector::parse("tbody tr").unwrap();
    let mut met = 0;
    for line in by_kind.unwrap().select(&lines) {
        let title: String =
            line.select(&Selector::parse("th").unwrap()).flat_map(|it| it.text()).collect();
        let cells: Vec<String> = line
            .select(&Selector::parse("td").unwrap())
            .map(|cell| cell.text().collect::<String>().replace(',', ""))
            .collect();
        let of_kind = || rows.iter().filter(|row| row["side"] == "white" && row["kind"] == title);
        let counted = || of_kind().filter(|row| row["played"] == "true" && row["cost"] != "0");
        let ended =
            |result: &str| counted().filter(|row| row["result"] == result).count().to_string();
        let expected = [
            of_kind().count().to_string(),
            counted().count().to_string(),
            ended("1-0"),
            ended("1/2-1/2"),
            ended("0-1"),
        ];
        assert_eq!([0, 1, 4, 5, 6].map(|cell| cells[cell].clone()), expected, "{title}");
        let link = line.select(&Selector::parse("a").unwrap()).next().unwrap();
        assert_eq!(left(&server.get(link.attr("href").unwrap()).body).to_string(), expected[0]);
        met += 1;
    }
    assert!(met >= 3, "{met}");
}

#[test]
fn every_hit_and_its_game_is_read_from_its_place_unless_the_table_was_written_since() {
    let place = Place::new();
    place.write("season.pgn", season());
    place.write("cup.pgn.zst", include_bytes!("../sample-data/cup.pgn.zst"));
    let motifs = ["in-between-check", "smothered-mate"];
    // The second run holds what the first does, too.
    for (out, sources) in [("one", &["season.pgn"][..]), ("two", &["season.pgn", "cup.pgn.zst"])] {
        let motifs = motifs.iter().flat_map(|motif| ["--query", motif]);
        let mine = ["mine", "--quiet", "--out", out].into_iter().chain(motifs);
        assert_eq!(place.run(&mine.chain(sources.iter().copied()).collect::<Vec<_>>()).status, 0);
    }
    assert_eq!(place.run(&["verify", "one", "--nodes", "1000", "--quiet"]).status, 0);
    let since = std::time::SystemTime::now();
    let folders = ["one", "two"].map(|folder| place.path().join(folder));
    let runs = Runs::open(&folders, Reading::AsWritten).unwrap();
    let mut all = Gathering::default();
    for motif in motifs {
        let told = MotifTold { name: motif.to_owned(), chapter: None };
        let mut part = Gathering::of(told);
        runs.pass(motif, &mut [&mut part]).unwrap();
        all.join(part);
    }
    let (found, games) = (all.ended(), runs.game_places().unwrap().unwrap());
    assert!(found.len() > 3 * FoundHits::MARK_EVERY, "{}", found.len());
    let from_place = |at: usize, since| {
        let hit = found.get(at);
        let near = found.near(at).unwrap();
        // Those of the second run that the first holds stand between.
        let read = runs.hit_from((hit.query, &hit.id), near, 500, since).unwrap()?;
        let text = runs.game_from(read.game.id, games.of(read.game.id).unwrap(), since).unwrap()?;
        Some((read, text))
    };
    for at in (0..found.len()).step_by(5) {
        let (read, text) = from_place(at, since).unwrap();
        let mut sought = Sought::of(&found.get(at).id);
        runs.pass(found.get(at).query, &mut [&mut sought]).unwrap();
        assert_eq!(Some(&read), sought.found().as_ref());
        assert_eq!(runs.games(&[read.game.id].into()).unwrap()[&read.game.id], text);
        assert!(
            from_place(at, std::time::SystemTime::UNIX_EPOCH).is_none(),
            "it was written since"
        );
    }
}
