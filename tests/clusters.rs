//! `hecatomb verify --cluster`: what goes wrong before a cluster is reached, or beside it, is a clear error. With
//! workers it is tested in `.ci/cluster_check.py`.

use std::os::unix::fs::PermissionsExt;
use std::process::Stdio;
use std::time::Duration;

use crate::support::{Place, Ran, game, hecatomb, interrupt};

/// A run, and a program in the place of Python that does this.
fn place_with(python: &str) -> Place {
    let place = Place::new();
    place.write("games.pgn", game("Alder, Tom", "Birch, Ida"));
    assert_eq!(place.run(&["mine", "games.pgn", "--query", "bishop-takes-h7"]).status, 0);
    place.write("python", format!("#!/bin/sh\n{python}\n"));
    let path = place.path().join("python");
    std::fs::set_permissions(path, std::fs::Permissions::from_mode(0o755)).unwrap();
    place
}

const VERIFY: [&str; 5] =
    ["verify", "hecatomb-out", "--nodes=3000", "--cluster=local", "--python=./python"];

/// What comes of it, which is never a table.
fn told(python: &str) -> String {
    let place = place_with(python);
    let ran = place.run(&VERIFY);
    assert_eq!((ran.status, &*ran.out), (1, ""), "{ran}");
    assert!(!place.path().join("hecatomb-out/verdicts/terms.json").exists(), "{ran}");
    // Nothing keeps it from being done here.
    assert_eq!(place.run(&VERIFY[..3]).status, 0);
    ran.err
}

#[test]
fn machine_without_python_or_its_package_is_told_what_to_install() {
    let place = place_with("");
    let ran = place.run(&[&VERIFY[..4], &["--python=./nothing"]].concat());
    assert_eq!((ran.status, &*ran.out), (1, ""), "{ran}");
    assert!(
        ran.err.starts_with("error: can't start `./nothing`, which a cluster needs: "),
        "{ran}"
    );
    assert!(
        ran.err.ends_with("hint: install Python 3, or name it with --python PROGRAM\n"),
        "{ran}"
    );
    assert_eq!(
        told(r#"echo '{"is":"missing","module":"distributed"}'; exit 1"#),
        "error: `./python` has no module `distributed`, which a cluster needs\n\
         hint: ./python -m pip install distributed\n"
    );
}

#[test]
fn python_that_ends_or_talks_nonsense_is_an_error_with_its_last_words() {
    // More than a pipe holds, and a line without an end.
    let floods = "yes many words | head -c 300000 >&2; yes x | tr -d '\\n' | head -c 200000 >&2; \
                  echo >&2; echo 'no room' >&2; exit 3";
    assert_eq!(
        told(floods),
        "error: `./python`, which moves the hits, has ended (exit status: 3): no room\n"
    );
    let err = told("echo hello; sleep 60");
    assert!(err.starts_with("error: `./python` says what nobody understands: "), "{err}");
    assert_eq!(
        told(r#"read first; echo '{"is":"fault","message":"no scheduler","hint":"start one"}'"#),
        "error: no scheduler\nhint: start one\n"
    );
}

#[test]
fn rows_that_can_not_be_are_refused_and_what_was_judged_is_kept() {
    let terms = format!(
        r#"{{"hecatomb":"{}","nodes":3000,"depth":null,"engine":null}}"#,
        env!("CARGO_PKG_VERSION")
    );
    let ready = format!(r#"{{"is":"ready","threads":1,"workers":1,"terms":{terms}}}"#);
    for (answer, told) in [
        (
            r#"{"is":"rows","batch":1,"seconds":0.1,"rows":[]}"#,
            "a worker answered with too few rows",
        ),
        (
            r#"{"is":"rows","batch":7,"seconds":0.1,"rows":[]}"#,
            "rows came for a batch that is not out",
        ),
        (
            r#"{"is":"rows","batch":1,"seconds":0.1,"rows":["{\"fault\":\"why\"}"]}"#,
            "a worker can't judge `{\"fen\":",
        ),
    ] {
        let python = format!("read first; echo '{ready}'; read batch; echo '{answer}'; read more");
        let place = place_with(&python);
        let ran = place.run(&VERIFY);
        assert_eq!((ran.status, &*ran.out), (1, ""), "{ran}");
        assert!(ran.err.contains(&format!("error: {told}")), "{ran}");
        assert!(ran.err.contains("hint: what was judged is kept: continue with --resume"), "{ran}");
        assert_eq!(place.run(&[&VERIFY[..3], &["--resume"]].concat()).status, 0);
    }
    let other = ready.replace("3000", "4000");
    let err = told(&format!("read first; echo '{other}'; read batch"));
    assert_eq!(
        err,
        "1 worker with 1 thread at `local`\nerror: the workers at `local` work under other terms\n"
    );
}

#[test]
fn interrupt_is_heard_while_there_is_no_worker() {
    let place = place_with(r#"echo '{"is":"waiting"}'; touch waits; read first; read more"#);
    let child = hecatomb(place.path(), &VERIFY).stderr(Stdio::piped()).spawn().unwrap();
    place.wait_for("waits");
    std::thread::sleep(Duration::from_millis(300));
    interrupt(&child);
    let ended: Ran = child.wait_with_output().unwrap().into();
    let told = "waiting for a worker at `local`\ninterrupted: nothing was judged\n";
    assert_eq!((ended.status, &*ended.err), (130, told));
}

#[test]
fn options_that_contradict_each_other_are_refused() {
    let place = place_with("");
    for arguments in [
        &["verify", "-", "--cluster=local"][..],
        &["verify", "hecatomb-out", "--worker-program=x"],
        &["verify", "hecatomb-out", "--python=x"],
        &["verify", "hecatomb-out", "--cluster=tcp://10.0.0.1:8786", "--threads=3"],
    ] {
        let ran = place.run(arguments);
        assert_eq!((ran.status, &*ran.out), (2, ""), "{arguments:?}: {ran}");
    }
}
