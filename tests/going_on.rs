//! A run that is cut short and resumed ends as if nothing had happened.
//!
//! The program is killed at random moments of its work, on a text that is long enough for it to be at
//! work for a while. `HECATOMB_SLOW_TESTS` in the environment makes the kills many.

use std::fs;
use std::io::Write;
use std::process::{Command, Stdio};
use std::time::Duration;

use crate::support::{Place, files, game, hecatomb, interrupt, season};

/// What all runs here are asked.
const MINE: [&str; 6] = ["mine", "games", "--chapter", "bishop", "--block-size", "16"];

/// Games in every way in which they may be packed: plain, in one frame, in many, and with a broken one.
fn collection(place: &Place) {
    let season = season();
    let twice = [&season[..], &season[..]].concat();
    let frames: Vec<u8> =
        twice.chunks(100_000).flat_map(|part| zstd::encode_all(part, 1).unwrap()).collect();
    let broken = game("Alder, Tom", "Birch, Ida").replace("8. Bxh7+", "8. Bxh9+");
    let mut gzip = flate2::write::GzEncoder::new(Vec::new(), flate2::Compression::fast());
    gzip.write_all(&season).unwrap();
    place
        .write("games/a.pgn", [broken.as_bytes(), &season[..]].concat())
        .write("games/b.pgn.zst", frames)
        .write("games/c.pgn.gz", gzip.finish().unwrap())
        .write("games/d.pgn.zst", zstd::encode_all(&season[..], 1).unwrap());
}

fn with<'a>(more: &[&'a str]) -> Vec<&'a str> {
    [&MINE[..], more].concat()
}

/// Numbers that look random, from a seed.
struct Chance(u64);

impl Chance {
    fn below(&mut self, end: u64) -> u64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
        (self.0 >> 33) % end
    }
}

/// Runs the program and kills it after a while; whether it came to its end before.
fn run_and_kill(place: &Place, arguments: &[&str], after: Duration) -> bool {
    let mut child = hecatomb(place.path(), arguments)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    std::thread::sleep(after);
    // On Unix this is SIGKILL, which the program can't catch.
    let _ = child.kill();
    child.wait().unwrap().success()
}

#[test]
fn killed_at_any_moment_it_ends_in_the_same_bytes() {
    let is_slow_wanted = std::env::var_os("HECATOMB_SLOW_TESTS").is_some();
    let place = Place::new();
    collection(&place);
    for (table, kills) in [("csv", 6), ("jsonl", 4)] {
        let most_kills = if is_slow_wanted { 50 } else { kills };
        let terms = with(&["--table", table, "--overlooked"]);
        let undisturbed = place.run(&[&terms[..], &["--out", "whole", "--replace"]].concat());
        assert_eq!(undisturbed.status, 0, "{undisturbed}");
        let expected = files(&place.path().join("whole"));
        let mut chance = Chance(7);
        let mut kills = 0;
        while kills < most_kills {
            let begin = [&terms[..], &["--out", table, "--replace", "--checkpoint-every", "0"]];
            let go_on = [&terms[..], &["--out", table, "--resume", "--checkpoint-every", "0"]];
            let mut arguments = begin.concat();
            while !run_and_kill(&place, &arguments, Duration::from_millis(10 + chance.below(250))) {
                kills += 1;
                arguments = go_on.concat();
                if kills >= most_kills {
                    break;
                }
            }
            let ran = place.run(&go_on.concat());
            assert_eq!(ran.status, 0, "{ran}");
            let written = files(&place.path().join(table));
            assert!(written.keys().eq(expected.keys()), "{:?}", written.keys());
            for (name, bytes) in &expected {
                assert!(written[name] == *bytes, "{name} differs after {kills} kills");
            }
        }
    }
}

/// A run that was killed after its first checkpoint.
fn killed(more: &[&str]) -> Place {
    let place = Place::new();
    collection(&place);
    let arguments = with(&[&["--checkpoint-every", "0"][..], more].concat());
    let mut child = hecatomb(place.path(), &arguments)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let checkpoint = place.path().join("hecatomb-out/.unfinished/checkpoint.json");
    while !checkpoint.exists() && child.try_wait().unwrap().is_none() {
        std::thread::sleep(Duration::from_millis(1));
    }
    child.kill().unwrap();
    child.wait().unwrap();
    assert!(checkpoint.exists(), "it was over before it could be killed");
    place
}

#[test]
fn what_was_broken_off_is_neither_overwritten_nor_mixed_unasked() {
    let place = killed(&[]);
    assert!(!place.path().join("hecatomb-out/run.json").exists());
    let ran = place.run(&with(&[]));
    assert_eq!(ran.status, 1, "{ran}");
    assert!(
        ran.err.contains("holds a run that was cut short after")
            && ran.err.contains("--resume")
            && ran.err.contains("--replace"),
        "{ran}"
    );
    for (other, reason) in [
        (&["--query", "rook-takes-h7"][..], "other queries"),
        (&["--min-rating", "1500"], "another --min-rating"),
        (&["--table", "jsonl"], "another --table"),
        (&["missing.pgn"], "other sources"),
    ] {
        let ran = place.run(&with(&[&["--resume"], other].concat()));
        assert_eq!(ran.status, 1, "{other:?} {ran}");
        assert!(ran.err.contains("can't be resumed") && ran.err.contains(reason), "{ran}");
    }
    assert_eq!(place.run(&with(&["--resume", "--threads", "3"])).status, 0);
    let ran = place.run(&with(&["--resume"]));
    assert_eq!((ran.status, ran.err.contains("already holds the whole run")), (0, true), "{ran}");
}

#[test]
fn run_that_was_broken_off_before_its_first_checkpoint_begins_anew() {
    let place = Place::new();
    collection(&place);
    assert_eq!(place.run(&with(&[])).status, 0);
    let whole = files(&place.path().join("hecatomb-out"));
    place
        .write("hecatomb-out/.unfinished/lock", "")
        .write("hecatomb-out/.unfinished/hits/x.csv", "id");
    let ran = place.run(&with(&["--resume"]));
    assert_eq!(ran.status, 0, "{ran}");
    assert!(!ran.err.contains("already holds the whole run"), "{ran}");
    assert!(files(&place.path().join("hecatomb-out")) == whole);
}

#[test]
fn changed_source_can_not_be_gone_on_with() {
    let place = killed(&[]);
    let path = place.path().join("games/d.pgn.zst");
    let bytes = fs::read(&path).unwrap();
    fs::write(&path, bytes).unwrap();
    let ran = place.run(&with(&["--resume"]));
    assert_eq!(ran.status, 1, "{ran}");
    assert!(ran.err.contains("d.pgn.zst` has changed since"), "{ran}");
    assert_eq!(place.run(&with(&["--replace"])).status, 0);
}

#[test]
fn what_can_not_be_read_or_cut_again_can_not_be_gone_on_with() {
    let place = Place::new();
    place.write("games.pgn", game("Alder, Tom", "Birch, Ida"));
    let stdin = place.run(&["mine", "-", "--resume"]);
    assert!(stdin.err.contains("standard input can't"), "{stdin}");
    let parquet = place.run(&["mine", "games.pgn", "--table", "parquet", "--resume"]);
    assert!(parquet.err.contains("Parquet"), "{parquet}");
    assert_eq!((stdin.status, parquet.status), (2, 2));
    let nothing = place.run(&["mine", "games.pgn", "--resume"]);
    assert_eq!(nothing.status, 0, "a run that never began is started: {nothing}");
}

#[test]
fn one_run_at_a_time_writes_to_a_folder() {
    let place = Place::new();
    place.write("games.pgn", game("Alder, Tom", "Birch, Ida"));
    let mut waiting = hecatomb(place.path(), &["mine", "-"])
        .stdin(Stdio::piped())
        .stdout(Stdio::null())
        .spawn()
        .unwrap();
    place.wait_for("hecatomb-out/.unfinished/rejects.csv");
    let ran = place.run(&["mine", "games.pgn", "--replace"]);
    assert_eq!(ran.status, 1, "{ran}");
    assert!(ran.err.contains("another `mine` or `verify` is writing to `hecatomb-out`"), "{ran}");
    let game = game("Cedar, Ann", "Birch, Ida");
    waiting.stdin.take().unwrap().write_all(game.as_bytes()).unwrap();
    assert!(waiting.wait().unwrap().success());
    assert!(!place.path().join("hecatomb-out/.unfinished").exists());
}

#[cfg(unix)]
#[test]
fn interrupted_run_has_whole_tables_and_can_be_gone_on_with() {
    let place = Place::new();
    collection(&place);
    assert_eq!(place.run(&with(&["--out", "whole"])).status, 0);
    let child = hecatomb(place.path(), &with(&["--checkpoint-every", "0"]))
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let checkpoint = place.path().join("hecatomb-out/.unfinished/checkpoint.json");
    while !checkpoint.exists() {
        std::thread::sleep(Duration::from_millis(1));
    }
    interrupt(&child);
    let ran: crate::support::Ran = child.wait_with_output().unwrap().into();
    assert_eq!(ran.status, 130, "{ran}");
    assert!(ran.err.contains("continue with --resume"), "{ran}");
    let manifest: serde_json::Value =
        serde_json::from_str(&place.read("hecatomb-out/run.json")).unwrap();
    assert_eq!(manifest["ended"], "interrupted");
    let ran = place.run(&with(&["--resume"]));
    assert_eq!(ran.status, 0, "{ran}");
    let [gone_on, whole] = ["hecatomb-out", "whole"].map(|name| files(&place.path().join(name)));
    assert!(gone_on == whole, "{:?} {:?}", gone_on.keys(), whole.keys());
}

/// Whoever waits for bytes, or reads a game without end, hears an interrupt all the same.
#[cfg(unix)]
#[test]
fn interrupt_is_heard_while_nothing_comes_and_within_a_game_without_end() {
    let endless = |mut pipe: std::process::ChildStdin| {
        let _ = pipe.write_all(b"[Event \"x\"]\n\n1. e4 {");
        // It ends when nobody reads any more.
        while pipe.write_all(&[b'x'; 1 << 16]).is_ok() {}
    };
    let silent = |_pipe: std::process::ChildStdin| std::thread::sleep(Duration::from_secs(5));
    let silent_after_a_game = |mut pipe: std::process::ChildStdin| {
        let _ = pipe.write_all(game("Alder, Tom", "Birch, Ida").as_bytes());
        std::thread::sleep(Duration::from_secs(5));
    };
    let senders: [fn(std::process::ChildStdin); 3] = [endless, silent, silent_after_a_game];
    let cases = senders.into_iter().flat_map(|sender| [(sender, "1"), (sender, "2")]);
    // Two workers may wait for the same buffers, though seldom.
    let again = std::iter::repeat_n((senders[0], "2"), 6);
    for (sender, threads) in cases.chain(again) {
        let place = Place::new();
        let mut child = hecatomb(place.path(), &["mine", "-", "--threads", threads])
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let pipe = child.stdin.take().unwrap();
        std::thread::spawn(move || sender(pipe));
        place.wait_for("hecatomb-out/.unfinished/rejects.csv");
        std::thread::sleep(Duration::from_millis(100));
        let asked = std::time::Instant::now();
        interrupt(&child);
        let ran: crate::support::Ran = child.wait_with_output().unwrap().into();
        // A second, and more for a machine that has other things to do.
        assert!(asked.elapsed() < Duration::from_secs(4), "{:?}", asked.elapsed());
        assert_eq!(ran.status, 130, "{ran}");
        assert!(ran.out.contains("read, then interrupted, "), "{ran}");
    }
}

#[cfg(unix)]
#[test]
fn tables_that_were_changed_since_an_interrupt_are_not_gone_on_with() {
    let place = Place::new();
    collection(&place);
    let mut child = hecatomb(place.path(), &with(&["--checkpoint-every", "0"]))
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    place.wait_for("hecatomb-out/.unfinished/checkpoint.json");
    interrupt(&child);
    assert_eq!(child.wait().unwrap().code(), Some(130));
    let table = "hecatomb-out/collection.csv";
    let changed = place.read(table).replacen("games", "gamez", 1);
    place.write(table, changed);
    let ran = place.run(&with(&["--resume"]));
    assert_eq!(ran.status, 1, "{ran}");
    assert!(ran.err.contains("was changed since the run was cut short"), "{ran}");
    assert!(ran.err.contains("hint: start again with --replace"), "{ran}");
}

/// A drive is lost while its games are read, and comes back.
#[test]
fn source_that_went_away_is_gone_on_with_when_it_is_back() {
    let place = Place::new();
    collection(&place);
    assert_eq!(place.run(&with(&["--out", "whole"])).status, 0);
    let mut child = hecatomb(place.path(), &with(&["--threads", "1", "--checkpoint-every", "0"]))
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    place.wait_for("hecatomb-out/.unfinished/checkpoint.json");
    let source = |name: &str| place.path().join(name);
    fs::rename(source("games/d.pgn.zst"), source("d.pgn.zst")).unwrap();
    assert_eq!(child.wait().unwrap().code(), Some(1));
    fs::rename(source("d.pgn.zst"), source("games/d.pgn.zst")).unwrap();
    let ran = place.run(&with(&["--resume"]));
    assert_eq!(ran.status, 0, "{ran}");
    let [gone_on, whole] = ["hecatomb-out", "whole"].map(|name| files(&place.path().join(name)));
    assert!(gone_on == whole, "{:?} {:?}", gone_on.keys(), whole.keys());
}

/// A disk of our own that is soon full: needs the right to mount one.
#[cfg(target_os = "linux")]
struct SmallDisk(std::path::PathBuf);

#[cfg(target_os = "linux")]
impl SmallDisk {
    fn mount(place: &Place, size: &str) -> Option<SmallDisk> {
        let path = place.path().join("disk");
        fs::create_dir(&path).unwrap();
        let options = format!("size={size}");
        let mounted = Command::new("mount")
            .args(["-t", "tmpfs", "-o", &options, "tmpfs"])
            .arg(&path)
            .stderr(Stdio::null())
            .status();
        mounted.is_ok_and(|status| status.success()).then_some(SmallDisk(path))
    }

    fn enlarge(&self, size: &str) {
        let options = format!("remount,size={size}");
        let enlarged = Command::new("mount").args(["-o", &options]).arg(&self.0).status().unwrap();
        assert!(enlarged.success());
    }
}

#[cfg(target_os = "linux")]
impl Drop for SmallDisk {
    fn drop(&mut self) {
        let _ = Command::new("umount").arg(&self.0).status();
    }
}

#[cfg(target_os = "linux")]
#[test]
fn full_disk_costs_nothing_once_there_is_room() {
    let place = Place::new();
    collection(&place);
    let terms = with(&["--overlooked"]);
    assert_eq!(place.run(&[&terms[..], &["--out", "whole"]].concat()).status, 0);
    let expected = files(&place.path().join("whole"));
    let Some(disk) = SmallDisk::mount(&place, "700k") else {
        #[expect(clippy::print_stderr, reason = "a test that is passed over must say so")]
        {
            eprintln!("skipped: no right to mount a small disk");
        }
        return;
    };
    let on_disk = ["--out", "disk/out", "--checkpoint-every", "0"];
    let ran = place.run(&[&terms[..], &on_disk].concat());
    assert_eq!(ran.status, 1, "{ran}");
    assert!(ran.err.contains("can't write `disk/out`: No space left"), "{ran}");
    assert!(ran.err.contains("continue with --resume"), "{ran}");
    assert!(!place.path().join("disk/out/run.json").exists());
    let ran = place.run(&[&terms[..], &on_disk, &["--resume"]].concat());
    assert_eq!(ran.status, 1, "the disk is as full as before: {ran}");
    disk.enlarge("64m");
    let ran = place.run(&[&terms[..], &on_disk, &["--resume"]].concat());
    assert_eq!(ran.status, 0, "{ran}");
    let written = files(&place.path().join("disk/out"));
    assert!(written == expected, "{:?} {:?}", written.keys(), expected.keys());
}
