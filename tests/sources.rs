//! Every source is found once, named so that no other is called the same, told for what it is, and read if it
//! can be.

use std::io::Write;
use std::process::Stdio;

use crate::support::{Place, Ran, game, hecatomb};

const QUERY: [&str; 2] = ["--query", "knight-follow-up"];

fn mine(place: &Place, sources: &[&str]) -> Ran {
    place.run(&[&["mine"][..], sources, &QUERY, &["--replace"]].concat())
}

/// The names of the sources of the last run.
fn names(place: &Place) -> Vec<String> {
    let run: serde_json::Value =
        serde_json::from_str(&place.read("hecatomb-out/run.json")).unwrap();
    let sources = run["sources"].as_array().unwrap();
    sources.iter().map(|source| source["name"].as_str().unwrap().to_owned()).collect()
}

fn hits(place: &Place) -> usize {
    place.rows("hits/knight-follow-up.csv").len()
}

fn some_game() -> String {
    game("Alder, Tom", "Birch, Ida")
}

// Once.

#[test]
fn file_is_read_once_by_whatever_paths_it_is_named() {
    let place = Place::new();
    place.write("f/x.pgn", some_game()).write("f/y.pgn", game("Cedar, Ann", "Birch, Ida"));
    let whole = place.path().join("f/x.pgn").display().to_string();
    for (sources, named, note) in [
        (
            &["f/x.pgn", "./f/x.pgn"][..],
            &["f/x.pgn"][..],
            "`./f/x.pgn` is the same file as `f/x.pgn`",
        ),
        (&["f/x.pgn", &whole], &["f/x.pgn"], "is the same file as `f/x.pgn`"),
        (&["f", "f/x.pgn"], &["f/x.pgn", "f/y.pgn"], "`f/x.pgn` is named twice"),
        (&["f/y.pgn", "f"], &["f/y.pgn", "f/x.pgn"], "`f/y.pgn` is named twice"),
        (&["f", "f/../f"], &["f/x.pgn", "f/y.pgn"], "2 paths to files that are read already"),
    ] {
        let ran = mine(&place, sources);
        assert_eq!(ran.status, 0, "{ran}");
        assert!(ran.err.contains(note), "{sources:?} {ran}");
        assert_eq!(names(&place), named);
        // What is counted twice would make every interval too narrow.
        let rows = place.rows("collection.csv");
        let games = rows.iter().map(|row| row["games"].parse::<u64>());
        assert_eq!(games.sum::<Result<u64, _>>(), Ok(named.len() as u64));
    }
}

#[cfg(unix)]
#[test]
fn link_to_a_file_that_is_read_is_no_other_file() {
    let place = Place::new();
    place.write("f/x.pgn", some_game());
    std::os::unix::fs::symlink("x.pgn", place.path().join("f/y.pgn")).unwrap();
    std::os::unix::fs::symlink("f", place.path().join("g")).unwrap();
    let ran = mine(&place, &["f", "g"]);
    assert_eq!(ran.status, 0, "{ran}");
    assert_eq!(names(&place), ["f/x.pgn"]);
    assert!(ran.err.contains("3 paths to files that are read already"), "{ran}");
}

// What is in the way.

#[cfg(unix)]
#[test]
fn link_that_leads_nowhere_or_back_costs_only_itself() {
    use std::os::unix::fs::symlink;

    let place = Place::new();
    place.write("f/a/x.pgn", some_game()).write("f/z.pgn", game("Cedar, Ann", "Birch, Ida"));
    symlink("nowhere", place.path().join("f/a/dangling.pgn")).unwrap();
    symlink("..", place.path().join("f/a/loop")).unwrap();
    symlink("itself.pgn", place.path().join("f/itself.pgn")).unwrap();
    let ran = mine(&place, &["f"]);
    assert_eq!(ran.status, 1, "{ran}");
    assert_eq!(names(&place), ["f/a/x.pgn", "f/z.pgn"]);
    for said in [
        "can't read `f/a/dangling.pgn`",
        "can't read `f/a/loop`: it is a link that leads back to `f`",
        "can't read `f/itself.pgn`",
    ] {
        assert!(ran.err.contains(said), "{said}: {ran}");
    }
    assert_eq!(ran.err.lines().count(), 3, "{ran}");
    // Nothing keeps such a run from being resumed.
    let ran = place.run(&["mine", "f", QUERY[0], QUERY[1], "--resume"]);
    assert!(ran.err.contains("already holds the whole run"), "{ran}");
}

#[cfg(unix)]
#[test]
fn subfolder_that_cant_be_read_costs_only_itself() {
    use std::os::unix::fs::PermissionsExt;

    let place = Place::new();
    place.write("f/closed/x.pgn", some_game()).write("f/y.pgn", some_game());
    let closed = place.path().join("f/closed");
    let allow = |mode| std::fs::set_permissions(&closed, std::fs::Permissions::from_mode(mode));
    allow(0).unwrap();
    // Some users may read everything.
    if std::fs::read_dir(&closed).is_err() {
        let ran = mine(&place, &["f"]);
        assert_eq!(ran.status, 1, "{ran}");
        assert!(ran.err.contains("can't read `f/closed`"), "{ran}");
        assert_eq!(names(&place), ["f/y.pgn"]);
    }
    allow(0o755).unwrap();
}

// Names.

#[cfg(target_os = "linux")]
#[test]
fn files_whose_names_are_no_text_are_told_apart() {
    use std::ffi::{OsStr, OsString};
    use std::os::unix::ffi::OsStrExt;

    let place = Place::new();
    let file = |name: &[u8], white: &str| {
        let path = place.path().join(OsStr::from_bytes(name));
        std::fs::write(path, game(white, "Birch, Ida")).unwrap();
        OsStr::from_bytes(name).to_owned()
    };
    let names_of_files: Vec<OsString> = vec![
        file(b"caf\xE9.pgn", "One"),
        file(b"caf\xE8.pgn", "Two"),
        file(b"caf\\xE9.pgn", "Three"),
        file("café.pgn".as_bytes(), "Four"),
    ];
    let expected = ["caf\\xE9.pgn", "caf\\xE8.pgn", "caf\\x5CxE9.pgn", "café.pgn"];
    let mut arguments: Vec<OsString> = ["mine", QUERY[0], QUERY[1]].map(OsString::from).into();
    arguments.extend(names_of_files);
    let ran = place.run(&arguments);
    assert_eq!(ran.status, 0, "{ran}");
    assert_eq!(names(&place), expected);
    let rows = place.rows("hits/knight-follow-up.csv");
    assert!(rows.iter().map(|row| &row["source"]).eq(expected));
    let ids: std::collections::BTreeSet<&str> = rows.iter().map(|row| &row["id"]).collect();
    assert_eq!(ids.len(), 4);
    // From a folder they are the same.
    let ran = mine(&place, &["."]);
    assert_eq!(ran.status, 0, "{ran}");
    assert_eq!(hits(&place), 4);
}

// What a source is.

/// The first bytes of archives by kind, as long as the signatures in their descriptions (from memory).
const ARCHIVES: [(&str, &[u8]); 6] = [
    ("a zip archive", b"PK\x03\x04\x14\0\0\0"),
    ("a zip archive", b"PK\x05\x06\0\0\0\0"),
    ("a 7z archive", b"7z\xBC\xAF\x27\x1C\0\x04"),
    ("a rar archive", b"Rar!\x1A\x07\x01\0"),
    ("a rar archive", b"Rar!\x1A\x07\0"),
    ("packed with xz", b"\xFD7zXZ\0\0\x04"),
];

#[test]
fn archive_that_is_not_read_is_named_for_what_it_is() {
    for (kind, magic) in ARCHIVES {
        let place = Place::new();
        place.write("a.pgn", [magic, &[7; 500]].concat()).write("b.pgn", some_game());
        for threads in ["1", "3"] {
            let ran = mine(&place, &["a.pgn", "b.pgn", "--threads", threads]);
            assert_eq!(ran.status, 1, "{ran}");
            let expected =
                format!("error: can't read `a.pgn`: it is {kind}\nhint: unpack it first\n");
            assert_eq!(ran.err, expected);
            assert_eq!(hits(&place), 1);
            assert!(place.rows("rejects.csv").is_empty());
        }
        let mut child = hecatomb(place.path(), &["mine", "-", "--replace"])
            .stdin(Stdio::piped())
            .stdout(Stdio::null())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let _ = child.stdin.take().unwrap().write_all(magic);
        let ran = Ran::from(child.wait_with_output().unwrap());
        assert_eq!(ran.status, 1, "{ran}");
        assert!(ran.err.contains(&format!("can't read `-`: it is {kind}")), "{ran}");
    }
}

#[test]
fn file_that_is_cut_short_after_its_first_bytes_confuses_nobody() {
    let others: [&[u8]; 6] = [
        b"\x28\xB5\x2F\xFD",
        b"\x50\x2A\x4D\x18",
        b"\x1F\x8B\x08",
        b"BZh9",
        b"\xFF\xFE",
        b"\xFE\xFF[",
    ];
    for magic in ARCHIVES.iter().map(|(_, magic)| *magic).chain(others) {
        // A bare move number is a game in which no move was made.
        let lengths = (0..=magic.len().min(6)).filter(|&length| magic[..length] != *b"7");
        for length in lengths {
            let place = Place::new();
            place.write("a.pgn", &magic[..length]).write("b.pgn", some_game());
            let ran = mine(&place, &["a.pgn", "b.pgn"]);
            assert_eq!(ran.status, 1, "{magic:?} {length} {ran}");
            let said: Vec<&str> =
                ran.err.lines().filter(|line| line.starts_with("error: ")).collect();
            assert!(said.len() == 1 && said[0].contains("`a.pgn`"), "{magic:?} {length} {ran}");
            assert!(!ran.err.contains("panicked"), "{ran}");
            assert_eq!(hits(&place), 1);
        }
    }
}

/// A text in UTF-16 with a byte order mark (RFC 2781).
fn utf16(text: &str, bytes: fn(u16) -> [u8; 2]) -> Vec<u8> {
    std::iter::once(0xFEFF).chain(text.encode_utf16()).flat_map(bytes).collect()
}

#[test]
fn text_in_utf_16_with_a_mark_is_read_like_any_other() {
    let text = (0..300)
        .map(|number| game(&format!("Ågren{number}, 桜"), "Birch, Ida \u{1F0A1}"))
        .collect::<String>();
    let read = |content: &[u8], options: &[&str]| {
        let place = Place::new();
        place.write("games.pgn", content);
        let ran = mine(&place, &[&["games.pgn", "--block-size", "1"], options].concat());
        assert_eq!((ran.status, &*ran.err), (0, ""), "{ran}");
        let tables = ["hits/knight-follow-up.csv", "collection.csv", "games.csv", "rejects.csv"];
        tables.map(|table| place.read(&format!("hecatomb-out/{table}")))
    };
    let expected = read(text.as_bytes(), &[]);
    assert!(expected[0].contains("Ågren299, 桜"));
    let little = utf16(&text, u16::to_le_bytes);
    let mut gzip = flate2::write::GzEncoder::new(Vec::new(), flate2::Compression::fast());
    gzip.write_all(&little).unwrap();
    let packed = [gzip.finish().unwrap(), zstd::encode_all(&little[..], 3).unwrap()];
    for threads in ["1", "3"] {
        let threads = ["--threads", threads];
        // Offsets are those of the UTF-8 text.
        assert!(read(&little, &threads) == expected);
        assert!(read(&utf16(&text, u16::to_be_bytes), &threads) == expected);
        assert!(packed.iter().all(|packed| read(packed, &threads) == expected));
    }
}

#[test]
fn text_in_utf_16_in_several_frames_is_told_and_not_misread() {
    let place = Place::new();
    let frames: Vec<u8> = (0..3)
        .flat_map(|_| {
            // Too much to be taken together with the next one.
            let text = format!("{{{}}}\n", "x".repeat(6 << 20));
            zstd::encode_all(&utf16(&text, u16::to_le_bytes)[..], 1).unwrap()
        })
        .collect();
    place.write("games.pgn", frames);
    let ran = mine(&place, &["games.pgn"]);
    assert_eq!(ran.status, 1, "{ran}");
    assert!(ran.err.contains("it is UTF-16 text in several zstd frames"), "{ran}");
    assert!(place.rows("rejects.csv").is_empty());
}

#[test]
fn source_without_a_game_is_told_of_with_status_1() {
    for (content, reason) in [
        (&b""[..], "it is empty"),
        (b" \r\n\n", "it is empty"),
        (b"Shopping: two pounds of flour.\n", "no move can be read in it"),
        (b"\x7FELF\x02\x01\x01\0\0\0\0", "no move can be read in it"),
        (b"{ never closed", "no move can be read in it"),
    ] {
        let place = Place::new();
        place.write("a.pgn", content).write("b.pgn", some_game());
        let ran = mine(&place, &["a.pgn", "b.pgn"]);
        assert_eq!(ran.status, 1, "{ran}");
        assert_eq!(ran.err, format!("error: no games in `a.pgn`: {reason}\n"));
        assert_eq!(hits(&place), 1);
        // A run that ends before it looks there can't know.
        let ran = mine(&place, &["b.pgn", "a.pgn", "--limit", "1"]);
        assert_eq!((ran.status, &*ran.err), (0, ""), "{ran}");
    }
    // A game that is rejected for what is wrong with it is a game, and so is one that is left out.
    let place = Place::new();
    place.write("a.pgn", "[Event \"x\"]\n\n1. e4 e5 2. Ke3 *\n").write("b.pgn", some_game());
    assert_eq!(mine(&place, &["a.pgn", "--audit"]).status, 0);
    assert_eq!(place.rows("rejects.csv").len(), 1);
    assert_eq!(mine(&place, &["b.pgn", "--min-rating", "2900"]).status, 0);
}

#[test]
fn archives_that_are_passed_over_in_a_folder_are_mentioned() {
    let place = Place::new();
    place.write("f/games.pgn", some_game()).write("f/notes.txt", "");
    for name in ["a.zip", "b.7z", "C.RAR", "d.xz", "e.zst", "f.gz", "g.pgn.xz"] {
        place.write(&format!("f/old/{name}"), "x");
    }
    let ran = mine(&place, &["f"]);
    assert_eq!(ran.status, 0, "{ran}");
    assert!(
        ran.err.contains("passed over in folders: 7 archives; the first is `f/old/C.RAR`"),
        "{ran}"
    );
    assert!(ran.err.contains("hint: unpack them"), "{ran}");
    let ran = mine(&place, &["f", "--quiet"]);
    assert_eq!((ran.status, &*ran.err), (0, ""), "{ran}");
}

// Many of them.

#[test]
fn time_to_find_sources_grows_no_faster_than_their_number() {
    let place = Place::new();
    let folder = place.path().join("f");
    std::fs::create_dir(&folder).unwrap();
    let find = |count: usize| {
        (0..count).for_each(|number| {
            std::fs::write(folder.join(format!("{number:05}.pgn")), "").unwrap();
        });
        let begin = std::time::Instant::now();
        let found = hecatomb::collection::find_sources(std::slice::from_ref(&folder));
        assert_eq!(found.sources.len(), count);
        begin.elapsed()
    };
    let (few, many) = (find(1000), find(16_000));
    // Sixteen times as long if it is linear, and 256 times if it is quadratic.
    assert!(many < 80 * few, "{few:?} {many:?}");
}
