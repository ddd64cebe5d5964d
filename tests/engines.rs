//! Whatever a program that speaks UCI does costs only the positions it was asked about: they are marked
//! with the reason, the rest is evaluated, nothing waits forever, and no process is left.

use std::collections::BTreeSet;
use std::ops::ControlFlow;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::OnceLock;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::time::{Duration, Instant};

use hecatomb::engine::{
    Bound, Engine, EngineEvaluation, EngineFault, Evaluated, LONGEST_LINE, MOST_OUTPUT, OfferMade,
    Patience, Points, Program, Question, Score, Team,
};
use hecatomb::work::WorkEnd;
use shakmaty::fen::Fen;
use shakmaty::san::SanPlus;
use shakmaty::{CastlingMode, Chess, EnPassantMode, Move, Position};
use tempfile::TempDir;

/// The program of the tests' own, `tests/peer/main.rs`. It is built here, since `cargo test` builds it
/// only if it is not told which test to run.
pub(crate) fn peer() -> &'static Path {
    static PEER: OnceLock<PathBuf> = OnceLock::new();
    PEER.get_or_init(|| {
        let me = std::env::current_exe().unwrap();
        let profile = me.parent().unwrap().parent().unwrap();
        let mut cargo = Command::new(env!("CARGO"));
        cargo.args(["build", "--quiet", "--offline", "--example", "uci-peer", "--target-dir"]);
        cargo.arg(profile.parent().unwrap()).current_dir(env!("CARGO_MANIFEST_DIR"));
        cargo.args(if cfg!(debug_assertions) { None } else { Some("--release") });
        assert!(cargo.status().unwrap().success());
        profile.join("examples").join("uci-peer")
    })
}

/// Puts the peer into a folder, to misbehave like this; the path by which it is started there.
pub(crate) fn peer_in(place: &crate::support::Place, fault: &str) -> String {
    let name = format!("peer.{fault}");
    std::os::unix::fs::symlink(peer(), place.path().join(&name)).unwrap();
    format!("./{name}")
}

/// The peer under a name of its own in a folder of its own.
pub(crate) struct Staged {
    folder: TempDir,
    name: String,
    pub(crate) program: Program,
}

/// Time enough on a busy machine, and little enough for a test that waits for its end.
const PATIENT: Patience = Patience {
    ready: Duration::from_secs(30),
    search: Duration::from_secs(30),
    end: Duration::from_secs(5),
};

const SHORT: Duration = Duration::from_millis(700);

impl Staged {
    pub(crate) fn new(fault: &str) -> Staged {
        static COUNT: AtomicUsize = AtomicUsize::new(0);
        let folder = TempDir::new().unwrap();
        let name = format!("{}.{fault}", COUNT.fetch_add(1, Ordering::Relaxed));
        let path = folder.path().join(&name);
        std::os::unix::fs::symlink(peer(), &path).unwrap();
        let program = Program { path, options: Vec::new(), nodes: 4321, patience: PATIENT };
        Staged { folder, name, program }
    }

    fn with_options(mut self, options: &[&str]) -> Staged {
        self.program.options = options.iter().map(|option| option.parse().unwrap()).collect();
        self
    }

    fn with_patience(mut self, patience: Patience) -> Staged {
        self.program.patience = patience;
        self
    }

    fn starts(&self) -> u64 {
        let path = self.folder.path().join(format!("{}.starts", self.name));
        std::fs::metadata(path).map_or(0, |file| file.len())
    }

    /// What is left of it: its processes, dead ones that nobody asked about, and this program's threads
    /// that bear its name.
    fn left(&self) -> Vec<String> {
        let mut left = Vec::new();
        // A system without this folder has nothing to show.
        for process in std::fs::read_dir("/proc").into_iter().flatten() {
            let process = process.unwrap().path();
            // It may be gone by now.
            let read = |file: &str| std::fs::read_to_string(process.join(file)).unwrap_or_default();
            let is_it = read("cmdline").starts_with(&*self.program.path.to_string_lossy());
            let status = read("status");
            let is_dead_child = status.contains(&format!("\nPPid:\t{}\n", std::process::id()))
                && status.starts_with(&format!("Name:\t{}", self.short_name()));
            if is_it || is_dead_child {
                left.push(status);
            }
        }
        for thread in std::fs::read_dir("/proc/self/task").into_iter().flatten() {
            let name = thread.unwrap().path().join("comm");
            let name = std::fs::read_to_string(name).unwrap_or_default();
            if name.trim_end() == self.short_name() {
                left.push(format!("thread {name}"));
            }
        }
        left
    }

    /// As much of its name as the system shows.
    fn short_name(&self) -> &str {
        &self.name[..self.name.len().min(15)]
    }

    fn assert_nothing_is_left(&self) {
        // What was killed by our side is gone at once; what it had started is reaped by the system.
        let deadline = Instant::now() + Duration::from_secs(2);
        while !self.left().is_empty() && Instant::now() < deadline {
            std::thread::sleep(Duration::from_millis(5));
        }
        assert_eq!(self.left(), [""; 0], "{}", self.name);
    }

    /// Evaluates positions with this many processes, and checks that nothing is left.
    fn evaluate(
        &self,
        engines: usize,
        questions: &[Question],
    ) -> Vec<Result<EngineEvaluation, EngineFault>> {
        let mut answers = Vec::new();
        let stop = AtomicBool::new(false);
        let numbers = 0..questions.len();
        let ask = |engine: &mut Engine<'_>, &number: &usize| engine.evaluate(&questions[number]);
        let end = run(&self.program, engines, numbers, ask, &stop, |number, answer| {
            assert_eq!(number, answers.len(), "the answers are in order");
            answers.push(answer);
            ControlFlow::Continue(())
        });
        assert_eq!(end, WorkEnd::AllDone);
        assert_eq!(answers.len(), questions.len());
        self.assert_nothing_is_left();
        answers
    }
}

fn read(fen: &str, mode: CastlingMode) -> Chess {
    fen.parse::<Fen>().unwrap().into_position(mode).unwrap()
}

fn position(fen: &str) -> Chess {
    read(fen, CastlingMode::Standard)
}

fn san(pos: &Chess, text: &str) -> Move {
    text.parse::<SanPlus>().unwrap().san.to_move(pos).unwrap()
}

/// Asks about items with a team that is there for them alone.
fn run<Q: Send, A: Send>(
    program: &Program,
    engines: usize,
    items: impl Iterator<Item = Q> + Send,
    ask: impl Fn(&mut Engine<'_>, &Q) -> Result<A, EngineFault> + Sync,
    stop: &AtomicBool,
    take: impl FnMut(Q, Result<A, EngineFault>) -> ControlFlow<()>,
) -> WorkEnd {
    let mut team = Team::new(program, engines, stop);
    let end = team.ask(items, ask, take).unwrap();
    team.end();
    end
}

/// Positions of a game of the tests' own, numbered from 1 as moves; the 13th is unlucky.
fn questions(count: usize) -> Vec<Question> {
    let boards = [
        "r1bq1rk1/pppn1ppp/4pn2/3p4/1bPP4/2NBPN2/PP3PPP/R1BQ1RK1 w - -",
        "4k3/8/8/8/8/8/4P3/4K3 w - -",
        "4k3/8/8/8/8/8/4P3/4K3 b - -",
        "r3k2r/8/8/8/8/8/6Q1/R3K2R b KQkq -",
    ];
    let fen = |number: usize| format!("{} 0 {}", boards[number % boards.len()], number + 1);
    (0..count).map(|number| Question::new(position(&fen(number)))).collect()
}

/// How many positions are asked about, and the index of the one in which faults come.
const COUNT: usize = 16;
const UNLUCKY: usize = 12;

fn assert_sound(
    staged: &Staged,
    question: &Question,
    answer: &Result<EngineEvaluation, EngineFault>,
) {
    let found = answer.as_ref().unwrap_or_else(|fault| panic!("{}: {fault}", staged.name));
    let pos = question.now();
    let board = Fen::from_position(pos, EnPassantMode::Legal).to_string();
    // What the boards above are worth for the side to move, counted by hand.
    let expected = match board.split(' ').next().unwrap() {
        "4k3/8/8/8/8/8/4P3/4K3" if pos.turn().is_white() => 100,
        "4k3/8/8/8/8/8/4P3/4K3" => -100,
        "r3k2r/8/8/8/8/8/6Q1/R3K2R" => -900,
        _ => 0,
    };
    assert_eq!((found.score, found.bound), (Score::Centipawns(expected), Bound::Exact), "{board}");
    assert_eq!((found.depth, found.nodes), (Some(1), Some(4321)));
    assert_eq!(found.best, pos.legal_moves().first().copied());
    assert_eq!(found.line.first().copied(), found.best);
    let mut after = pos.clone();
    for &m in &found.line {
        after = after.play(m).unwrap();
    }
    assert_eq!(found.line.len(), 3);
}

#[test]
fn sound_program_evaluates_all_positions_in_order_whatever_the_number_of_processes() {
    // The pace makes later answers come before earlier ones.
    let questions = questions(60);
    let mut before = None;
    for engines in [1, 2, 5] {
        let staged = Staged::new("none").with_options(&["Pace=3", "style=Very Wild"]);
        let answers = staged.evaluate(engines, &questions);
        for (question, answer) in questions.iter().zip(&answers) {
            assert_sound(&staged, question, answer);
        }
        assert!(staged.starts() <= engines as u64);
        assert_eq!(before.get_or_insert_with(|| answers.clone()), &answers);
    }
}

#[test]
fn oddities_that_the_standard_allows_cost_nothing() {
    for oddity in [
        "carriage-returns",
        "noise",
        "two-answers",
        "illegal-line",
        "slow-start",
        "ignores-quit",
        "has-child",
    ] {
        let end = Duration::from_millis(200);
        let staged = Staged::new(oddity).with_patience(Patience { end, ..PATIENT });
        let questions = questions(COUNT);
        let answers = staged.evaluate(2, &questions);
        for (question, answer) in questions.iter().zip(&answers) {
            assert_sound(&staged, question, answer);
        }
        assert!(staged.starts() <= 2, "{oddity}");
    }
}

/// Faults of a search, and what they are marked with.
fn faults() -> [(&'static str, EngineFault); 10] {
    [
        ("crash-in-search", EngineFault::Ended("exit status: 3".to_owned())),
        ("abort-in-search", EngineFault::Ended("signal: 6 (SIGABRT)".to_owned())),
        ("hang-in-search", EngineFault::NoMoveInTime(SHORT)),
        ("flood-of-lines", EngineFault::TooMuchOutput(MOST_OUTPUT)),
        ("endless-line", EngineFault::LineTooLong(LONGEST_LINE)),
        ("closed-output", EngineFault::ClosedOutput),
        ("nonsense", EngineFault::Unreadable("castles".to_owned())),
        ("illegal-move", EngineFault::Illegal("a1a1".to_owned())),
        ("no-move", EngineFault::NoMove),
        ("no-score", EngineFault::NoScore),
    ]
}

/// The patience with a fault: short only where it must run out.
fn patience(fault: &str) -> Patience {
    let search = if fault.starts_with("hang") { SHORT } else { PATIENT.search };
    Patience { search, ..PATIENT }
}

#[test]
fn every_fault_is_marked_with_its_reason_and_the_rest_is_evaluated() {
    for (fault, expected) in faults() {
        let staged = Staged::new(fault).with_patience(patience(fault));
        let questions = questions(COUNT);
        let begin = Instant::now();
        let answers = staged.evaluate(1, &questions);
        assert!(begin.elapsed() < Duration::from_secs(20), "{fault}: {:?}", begin.elapsed());
        for (number, (question, answer)) in questions.iter().zip(&answers).enumerate() {
            if number == UNLUCKY {
                assert_eq!(answer, &Err(expected.clone()), "{fault}");
            } else {
                assert_sound(&staged, question, answer);
            }
        }
        // The first one, one for the second try, and one for the rest.
        assert_eq!(staged.starts(), 3, "{fault}");
    }
}

#[test]
fn fault_that_does_not_come_again_costs_nothing() {
    for (fault, _) in faults() {
        let staged = Staged::new(&format!("{fault}-once")).with_patience(patience(fault));
        let questions = questions(COUNT);
        for (question, answer) in questions.iter().zip(&staged.evaluate(1, &questions)) {
            assert_sound(&staged, question, answer);
        }
        assert_eq!(staged.starts(), 2, "{fault}");
    }
}

#[test]
fn several_processes_share_the_work_of_one_that_fails() {
    let staged = Staged::new("crash-in-search");
    let questions = questions(40);
    let answers = staged.evaluate(4, &questions);
    let marked: Vec<usize> = (0..40).filter(|&number| answers[number].is_err()).collect();
    assert_eq!(marked, [UNLUCKY]);
}

#[test]
fn program_that_never_starts_is_given_up() {
    let crashed = EngineFault::Ended("exit status: 3".to_owned());
    for (fault, expected) in [
        ("crash-at-start", crashed),
        ("hang-in-handshake", EngineFault::NoHandshake(SHORT)),
        ("flood-in-handshake", EngineFault::TooMuchOutput(MOST_OUTPUT)),
    ] {
        let ready = if fault.starts_with("hang") { SHORT } else { PATIENT.ready };
        for engines in [1, 3] {
            let staged = Staged::new(fault).with_patience(Patience { ready, ..PATIENT });
            let begin = Instant::now();
            let answers = staged.evaluate(engines, &questions(200));
            assert!(begin.elapsed() < Duration::from_secs(30), "{fault}: {:?}", begin.elapsed());
            let given_up = EngineFault::GivenUp(Box::new(expected.clone()));
            assert!(answers.iter().all(|answer| {
                let fault = answer.as_ref().unwrap_err();
                *fault == expected || *fault == given_up
            }));
            assert_eq!(answers.last(), Some(&Err(given_up)));
            assert_eq!(staged.starts(), 3 * engines as u64, "{fault}");
        }
    }
}

/// Or else a run over a thousand positions would wait for it a thousand times.
#[test]
fn program_that_hangs_at_one_position_after_the_other_is_given_up() {
    let staged = Staged::new("hang-in-search").with_patience(patience("hang-in-search"));
    let unlucky = || questions(UNLUCKY + 1).pop().unwrap();
    let hung = EngineFault::NoMoveInTime(SHORT);
    // Two in a row are no reason, and what is answered between starts the count again.
    let mixed = [unlucky(), unlucky(), questions(1).remove(0), unlucky(), unlucky()];
    let answers = staged.evaluate(1, &mixed);
    let marked = answers.iter().map(|answer| answer.as_ref().err());
    assert!(marked.eq([Some(&hung), Some(&hung), None, Some(&hung), Some(&hung)]));
    let many: Vec<Question> = (0..20).map(|_| unlucky()).collect();
    let answers = staged.evaluate(1, &many);
    let given_up = EngineFault::GivenUp(Box::new(hung.clone()));
    for (index, answer) in answers.iter().enumerate() {
        assert_eq!(answer.as_ref().err(), Some(if index < 3 { &hung } else { &given_up }));
    }
}

#[test]
fn threads_give_up_together_what_keeps_them_all_waiting() {
    for engines in [1, 4] {
        let staged = Staged::new("hang-in-search-always").with_patience(patience("hang-in-search"));
        let stop = AtomicBool::new(false);
        let mut team = Team::new(&staged.program, engines, &stop);
        let begin = Instant::now();
        let all = answers(&mut team, &questions(40));
        // Two tries for whoever asks first, and one for those who ask after that.
        assert!(begin.elapsed() < 8 * SHORT, "{:?}", begin.elapsed());
        assert!(staged.starts() <= 2 * engines as u64 + 2, "{}", staged.starts());
        let hung = EngineFault::NoMoveInTime(SHORT);
        assert_eq!(team.given_up(), Some(&hung));
        let given_up = EngineFault::GivenUp(Box::new(hung.clone()));
        let waited = all.iter().filter(|answer| answer.as_ref().err() == Some(&hung)).count();
        assert!((3..=2 + engines).contains(&waited), "{waited}");
        let marked = all.iter().filter(|answer| answer.as_ref().err() == Some(&given_up)).count();
        assert_eq!(waited + marked, 40);
        // It stays so for the whole run.
        let starts = staged.starts();
        assert!(answers(&mut team, &questions(5)).iter().all(Result::is_err));
        assert_eq!(staged.starts(), starts);
        team.end();
        staged.assert_nothing_is_left();
    }
}

#[test]
fn patience_follows_from_the_positions_asked_for() {
    let seconds = |nodes| Patience::of(nodes).search.as_secs();
    assert_eq!([seconds(1), seconds(100_000), seconds(10_000_000)], [30, 80, 5030]);
}

/// The sample league's games mined for a query, and verified with the peer that has this fault.
fn verified(fault: &str, options: &[&str]) -> (crate::support::Place, crate::support::Ran) {
    let (place, staged) = (mined(), Staged::new(fault));
    let ran = verify(&place, &staged, options);
    (place, ran)
}

/// A folder with a run of twelve hits, in positions that differ in their move numbers.
fn mined() -> crate::support::Place {
    let place = crate::support::Place::new();
    let games: String = (0..12)
        .map(|number| {
            let white = format!("Alder{number}, Tom");
            crate::support::game_from_move(21 + number, &white, "Birch, Ida")
        })
        .collect();
    place.write("games.pgn", games);
    let ran = place.run(&["mine", "games.pgn", "--query", "knight-follow-up"]);
    assert_eq!(ran.status, 0, "{ran}");
    place
}

fn verify(place: &crate::support::Place, staged: &Staged, options: &[&str]) -> crate::support::Ran {
    let engine = staged.program.path.to_str().unwrap();
    let verify = ["verify", "hecatomb-out", "--nodes", "1000", "--engine", engine];
    place.run(&[&verify[..], options].concat())
}

#[test]
fn hits_without_an_answer_are_told_of_again_when_verifying_is_resumed() {
    let (place, staged) = (mined(), Staged::new("no-score-always"));
    assert_eq!(verify(&place, &staged, &[]).status, 1);
    let ran = verify(&place, &staged, &["--resume"]);
    assert_eq!(ran.status, 1, "{ran}");
    assert!(ran.err.contains("on 12 offers the engine had no answer before"), "{ran}");
    assert!(ran.err.contains("hint: ask it again with --replace"), "{ran}");
}

/// How many hits have the engine's score, and how many the fault it is marked with.
fn marked(place: &crate::support::Place) -> (usize, usize) {
    let rows = place.rows("verdicts/knight-follow-up.csv");
    assert_eq!(rows.len(), 12);
    let count = |column: &str| rows.iter().filter(|row| !row[column].is_empty()).count();
    (count("engine_after"), count("engine_fault"))
}

#[test]
fn program_that_fails_at_every_hit_is_told_of_with_status_1() {
    for (fault, kind, reason) in [
        ("no-score-always", "no score", "it gave no score"),
        ("illegal-move-always", "no legal move named", "it named `a1a1`, which is not legal"),
        ("crash-in-search-always", "ended", "it ended with exit status: 3"),
        ("deaf-to-searchmoves", "excluded move named", "which it was told to leave out"),
    ] {
        let (place, ran) = verified(fault, &["--threads", "1"]);
        assert_eq!(ran.status, 1, "{ran}");
        assert!(ran.err.contains("answered none of 12 offers ("), "{ran}");
        assert!(ran.err.contains(kind) && ran.err.contains(reason), "{ran}");
        assert!(ran.err.contains("hint: once it answers, ask it again with --replace"), "{ran}");
        assert_eq!(marked(&place), (0, 12));
    }
}

#[test]
fn program_that_fails_at_some_hits_is_told_of_with_status_0() {
    let (place, ran) = verified("none", &["--threads", "1"]);
    assert_eq!((ran.status, &*ran.err), (0, ""), "{ran}");
    assert_eq!(marked(&place), (12, 0));
    let (place, ran) = verified("weary", &["--threads", "1"]);
    assert_eq!(ran.status, 0, "{ran}");
    let (answered, failed) = marked(&place);
    assert!(answered > 0 && failed > 0 && answered + failed == 12, "{answered} {failed}");
    let expected = format!("gave no answer on {failed} of 12 offers ({failed} no score)");
    assert!(ran.err.contains(&expected), "{ran}");
    assert!(ran.err.contains("the first time, it gave no score"), "{ran}");
    assert!(!ran.err.contains("error:"), "{ran}");
}

#[test]
fn program_that_never_answers_costs_little_and_ends_with_status_1() {
    let begin = Instant::now();
    let (place, ran) = verified("hang-in-search-always", &["--engine-patience", "1"]);
    assert_eq!(ran.status, 1, "{ran}");
    assert!(begin.elapsed() < Duration::from_secs(30), "{:?}", begin.elapsed());
    assert!(ran.err.contains("was given up, since it did not name a move within 1 s"), "{ran}");
    assert!(ran.err.contains("12 of 12 offers have no answer"), "{ran}");
    assert!(ran.err.contains("not asked any more") && ran.err.contains("hint: "), "{ran}");
    assert_eq!(marked(&place), (0, 12));
}

#[test]
fn failed_start_that_does_not_come_again_costs_nothing() {
    for fault in ["crash-at-start-once", "hang-in-handshake-once"] {
        let ready = if fault.starts_with("hang") { SHORT } else { PATIENT.ready };
        let staged = Staged::new(fault).with_patience(Patience { ready, ..PATIENT });
        assert!(staged.evaluate(1, &questions(COUNT)).iter().all(Result::is_ok), "{fault}");
        assert_eq!(staged.starts(), 2, "{fault}");
    }
}

#[test]
fn those_that_start_do_the_work_of_those_that_do_not() {
    let staged = Staged::new("only-one").with_options(&["Pace=10"]);
    let questions = questions(60);
    let answers = staged.evaluate(3, &questions);
    // Two threads give up at their second position each.
    assert_eq!(answers.iter().filter(|answer| answer.is_err()).count(), 4);
    assert_eq!(staged.starts(), 1 + 2 * 3);
}

/// The answers of a team to some questions.
fn answers(
    team: &mut Team<'_>,
    questions: &[Question],
) -> Vec<Result<EngineEvaluation, EngineFault>> {
    let mut answers = Vec::new();
    let ask = |engine: &mut Engine<'_>, question: &&Question| engine.evaluate(question);
    let take = |_: &Question, answer| {
        answers.push(answer);
        ControlFlow::Continue(())
    };
    assert_eq!(team.ask(questions.iter(), ask, take).unwrap(), WorkEnd::AllDone);
    answers
}

#[test]
fn one_team_serves_a_whole_run() {
    let staged = Staged::new("none");
    let stop = AtomicBool::new(false);
    let mut team = Team::new(&staged.program, 2, &stop);
    assert_eq!(team.name().as_deref(), Ok("Quarry 1.2"));
    let questions = questions(COUNT);
    for _ in 0..5 {
        for (question, answer) in questions.iter().zip(&answers(&mut team, &questions)) {
            assert_sound(&staged, question, answer);
        }
    }
    assert!(staged.starts() <= 2);
    team.end();
    staged.assert_nothing_is_left();
}

#[test]
fn what_was_given_up_stays_so_for_the_whole_run() {
    for (fault, engines, starts) in [
        ("crash-at-start", 2, 2 * 3),
        ("only-one", 3, 1 + 2 * 3),
        // Two for each item, until they outnumber the answers by more than ten.
        ("crash-in-search-always", 1, 12),
        ("no-score-always", 1, 12),
    ] {
        let staged = Staged::new(fault).with_options(&["Pace=1"]);
        let stop = AtomicBool::new(false);
        let mut team = Team::new(&staged.program, engines, &stop);
        for batch in 0..6 {
            let answers = answers(&mut team, &questions(40));
            assert!(staged.starts() <= starts, "{fault}");
            if fault != "only-one" {
                assert!(answers.iter().all(Result::is_err), "{fault}");
            } else if batch > 1 {
                assert!(answers.iter().all(Result::is_ok), "{answers:?}");
            }
        }
        assert_eq!(staged.starts(), starts, "{fault}");
        team.end();
        staged.assert_nothing_is_left();
    }
}

#[test]
fn what_is_no_program_is_marked_with_what_the_system_says() {
    let mut staged = Staged::new("none");
    let text = staged.folder.path().join("a-text");
    std::fs::write(&text, "no program").unwrap();
    for path in [text, staged.folder.path().to_owned(), staged.folder.path().join("nothing")] {
        staged.program.path = path;
        let first = &staged.evaluate(1, &questions(4))[0];
        assert!(matches!(first, Err(EngineFault::NotStarted(_))), "{first:?}");
    }
}

#[test]
fn options_are_checked_against_what_is_offered() {
    let wrong = |name: &str, value: &str| {
        Some(EngineFault::BadValue { name: name.to_owned(), value: value.to_owned() })
    };
    for (option, expected) in [
        ("Pace=5", None),
        ("pace=0", None),
        ("Pase=5", Some(EngineFault::NoSuchOption("Pase".to_owned()))),
        ("Pace=1001", wrong("Pace", "1001")),
        ("Pace", wrong("Pace", "")),
        ("Style=Wild", wrong("Style", "Wild")),
        ("UCI_Chess960=yes", wrong("UCI_Chess960", "yes")),
    ] {
        let staged = Staged::new("none").with_options(&[option]);
        let interrupt = AtomicBool::new(false);
        let started = Engine::start(&staged.program, &interrupt);
        match started {
            Ok(engine) => {
                assert_eq!(engine.name(), "Quarry 1.2");
                engine.end();
                assert_eq!(expected, None, "{option}");
            }
            Err(fault) => assert_eq!(Some(fault), expected, "{option}"),
        }
        staged.assert_nothing_is_left();
    }
    // No start will do better.
    let staged = Staged::new("none").with_options(&["Pase=5"]);
    assert!(staged.evaluate(1, &questions(COUNT)).iter().all(Result::is_err));
    assert_eq!(staged.starts(), 1);
}

#[test]
fn interrupt_ends_a_run_that_hangs() {
    let staged = Staged::new("hang-in-search");
    let stop = AtomicBool::new(false);
    let questions = questions(COUNT);
    let begin = Instant::now();
    let ask = |engine: &mut Engine<'_>, question: &Question| engine.evaluate(question);
    let mut taken = 0;
    let end = std::thread::scope(|scope| {
        scope.spawn(|| {
            std::thread::sleep(SHORT);
            stop.store(true, Ordering::Relaxed);
        });
        run(&staged.program, 2, questions.into_iter(), ask, &stop, |_, answer| {
            assert!(answer.is_ok());
            taken += 1;
            ControlFlow::Continue(())
        })
    });
    assert_eq!(end, WorkEnd::Interrupted);
    assert!(taken <= UNLUCKY);
    assert!(begin.elapsed() < Duration::from_secs(10), "{:?}", begin.elapsed());
    staged.assert_nothing_is_left();
}

#[test]
fn run_ends_when_nobody_wants_more_of_it() {
    let staged = Staged::new("none").with_options(&["Pace=20"]);
    let stop = AtomicBool::new(false);
    // There is no end of positions.
    let question = || Some(questions(1).remove(0));
    let ask = |engine: &mut Engine<'_>, question: &Question| engine.evaluate(question);
    let mut taken = 0;
    let end = run(&staged.program, 3, std::iter::from_fn(question), ask, &stop, |_, _| {
        taken += 1;
        if taken == 5 { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
    });
    assert_eq!((end, taken), (WorkEnd::Declined, 5));
    staged.assert_nothing_is_left();
}

#[test]
fn panic_of_the_asker_ends_the_run() {
    let staged = Staged::new("none");
    let stop = AtomicBool::new(false);
    let ask = |_: &mut Engine<'_>, &number: &u32| {
        assert!(number != 3, "on purpose");
        Ok(())
    };
    let take = |_, _| ControlFlow::Continue(());
    let ended = std::panic::catch_unwind(|| run(&staged.program, 2, 0_u32.., ask, &stop, take));
    assert!(ended.is_err());
    staged.assert_nothing_is_left();
}

#[test]
fn program_that_is_dropped_is_gone() {
    for fault in ["none", "ignores-quit", "has-child"] {
        let staged = Staged::new(fault);
        let interrupt = AtomicBool::new(false);
        let engine = Engine::start(&staged.program, &interrupt).unwrap();
        assert!(!staged.left().is_empty() || !Path::new("/proc").exists());
        drop(engine);
        staged.assert_nothing_is_left();
    }
}

#[test]
fn moves_since_the_start_are_told() {
    let staged = Staged::new("none");
    let interrupt = AtomicBool::new(false);
    let mut engine = Engine::start(&staged.program, &interrupt).unwrap();
    let mut question = Question::new(position("r3k2r/8/8/8/8/8/P7/R3K2R w KQkq - 0 1"));
    for (depth, text) in [(1, "O-O"), (2, "O-O-O"), (3, "a4"), (4, "Kb7")] {
        let found = engine.evaluate(&question).unwrap();
        assert_eq!(found.depth, Some(depth));
        let m = san(question.now(), text);
        question = question.then(m).unwrap();
    }
    assert!(
        question
            .then(Move::Castle { king: shakmaty::Square::E1, rook: shakmaty::Square::H1 })
            .is_none()
    );
    engine.end();
    staged.assert_nothing_is_left();
}

#[test]
fn shuffled_positions_need_a_program_that_plays_them() {
    let shuffled = "1r2k1r1/8/8/8/8/8/8/1R2K1R1 w BGbg - 0 1";
    let shuffled = Question::new(read(shuffled, CastlingMode::Chess960));
    let castles = san(shuffled.now(), "O-O-O");
    let mut questions = questions(COUNT);
    questions[3] = shuffled.clone().then(castles).unwrap();
    questions[8] = shuffled;
    let staged = Staged::new("none");
    assert!(staged.evaluate(1, &questions).iter().all(Result::is_ok));
    let staged = Staged::new("no-shuffled-chess");
    let answers = staged.evaluate(1, &questions);
    for (number, answer) in answers.iter().enumerate() {
        let is_shuffled = number == 3 || number == 8;
        assert_eq!(answer.as_ref().err(), is_shuffled.then_some(&EngineFault::NoShuffledChess));
    }
    // It is asked about the others without a new start.
    assert_eq!(staged.starts(), 1);
}

#[test]
fn ended_games_are_not_asked_about() {
    // The peer would complain of such a question.
    let staged = Staged::new("none");
    let interrupt = AtomicBool::new(false);
    let mut engine = Engine::start(&staged.program, &interrupt).unwrap();
    for (fen, score) in [
        ("7k/6Q1/6K1/8/8/8/8/8 b - - 0 1", Score::Mated(0)),
        ("7k/5Q2/6K1/8/8/8/8/8 b - - 0 1", Score::Centipawns(0)),
        ("7k/8/5QK1/8/8/8/8/8 b - - 0 1", Score::Centipawns(-900)),
    ] {
        let found = engine.evaluate(&Question::new(position(fen))).unwrap();
        assert_eq!(found.score, score, "{fen}");
        assert_eq!(found.best.is_none(), found.nodes.is_none(), "{fen}");
    }
}

fn evaluated(program: &Program, fen: &str, offer: &str) -> Evaluated {
    let before = position(fen);
    let offer = san(&before, offer);
    let interrupt = AtomicBool::new(false);
    let mut engine = Engine::start(program, &interrupt).unwrap();
    let found = OfferMade::new(before, offer).unwrap().evaluate(&mut engine).unwrap();
    engine.end();
    found
}

#[test]
fn offers_are_evaluated_from_the_attackers_side() {
    let staged = Staged::new("none");
    // White is a queen to a pawn up; taking the pawn makes it a whole queen.
    let fen = "4k3/7p/8/8/8/8/8/K6Q w - - 0 1";
    let pos = position(fen);
    let found = evaluated(&staged.program, fen, "Qxh7");
    assert_eq!(found.before(), Score::Centipawns(900));
    assert_eq!(found.after.score, Score::Centipawns(900));
    // By the published curve, nine pawns; the peer has no chances of its own.
    assert_eq!(found.after.points.to_string(), "99.4");
    assert_eq!(found.points_before(), found.after.points);
    assert_eq!(found.after.depth, Some(2));
    let after = pos.clone().play(san(&pos, "Qxh7")).unwrap();
    assert_eq!(found.after.best, after.legal_moves().first().copied());
    // Of the other moves the peer makes the first.
    let other = found.other.unwrap();
    assert_eq!(other.best, pos.legal_moves().first().copied());
    assert_eq!(other.score, Score::Centipawns(800));
    // If it would have made just this move, it makes the second.
    let [first, second] = pos.legal_moves()[..2] else { panic!("a queen has moves") };
    let interrupt = AtomicBool::new(false);
    let mut engine = Engine::start(&staged.program, &interrupt).unwrap();
    let found = OfferMade::new(pos, first).unwrap().evaluate(&mut engine).unwrap();
    assert_eq!(found.other.unwrap().best, Some(second));
    // There may be no other move.
    let found = evaluated(&staged.program, "k7/1Q6/8/8/8/8/8/7K b - - 0 1", "Kxb7");
    assert_eq!((found.other.as_ref(), found.before()), (None, Score::Centipawns(0)));
}

#[test]
fn chances_of_an_engine_are_asked_for_and_believed_only_if_they_add_up() {
    let fen = "4k3/7p/8/8/8/8/8/K6Q w - - 0 1";
    let points = |fault: &str, options: &[&str]| {
        let staged = Staged::new(fault).with_options(options);
        let found = evaluated(&staged.program, fen, "Qxh7");
        (found.after.points.to_string(), found.other.unwrap().points.to_string())
    };
    let both = |points: (String, String)| [points.0, points.1];
    assert_eq!(both(points("chances", &[])), ["80.0", "80.0"]);
    // By the published curve: it offers none, offers nonsense, or the user turns it off.
    for (fault, options) in
        [("none", &[][..]), ("nonsense-chances", &[]), ("chances", &["UCI_ShowWDL=false"])]
    {
        assert_eq!(both(points(fault, options)), ["99.4", "99.0"], "{fault}");
    }
}

#[test]
fn engine_that_names_the_excluded_move_is_at_fault() {
    let staged = Staged::new("deaf-to-searchmoves");
    let pos = position("4k3/7p/8/8/8/8/8/K6Q w - - 0 1");
    let interrupt = AtomicBool::new(false);
    let mut engine = Engine::start(&staged.program, &interrupt).unwrap();
    let offer = OfferMade::new(pos.clone(), san(&pos, "Qxh7")).unwrap();
    let fault = offer.evaluate(&mut engine).unwrap_err();
    assert_eq!(fault, EngineFault::Excluded("h1h7".to_owned()));
    assert!(fault.may_pass());
}

/// A program for the tests below, which are passed without one.
fn real_program() -> Option<Program> {
    let path = std::env::var_os("HECATOMB_TEST_ENGINE")?.into();
    Some(Program { path, options: Vec::new(), nodes: 200_000, patience: Patience::of(200_000) })
}

/// Mates with their distances and the only moves that keep them: a solver over all moves has proved
/// them. From `verdicts/data/mates.txt`, which names the sources. They are of a kind that programs find at
/// once; some with quiet moves they do not.
const MATES: [(&str, u32, &str); 10] = [
    ("5K2/8/2qk4/2nPp3/3r4/6B1/B7/3R4 w - e6 0 1", 1, "dxe6"),
    ("8/2N3p1/5b2/k1B2P2/pP4R1/8/K1nn4/8 b - b3 0 1", 1, "axb3"),
    ("8/7B/2R5/4Nr1p/4kb1Q/8/1B6/4K2R w K - 0 1", 2, "O-O"),
    ("2N2B2/2N1r3/8/3nQ2R/1k6/8/2B5/R3K3 w Q - 0 1", 2, "O-O-O"),
    ("8/7k/4b1p1/4q3/6PP/6QK/6B1/6b1 b - - 0 1", 2, "Bxg4"),
    ("3r1rk1/pp1q1p1n/2p4R/5N2/8/1P3P2/PBPP4/2K5 w - - 0 1", 2, "Rg6"),
    ("2rr3k/pp3pp1/1nnqbN1p/3pN3/2pP4/2P3Q1/PPB4P/R4RK1 w - - 0 1", 2, "Qg6"),
    ("2K4N/3PP1k1/5N2/6n1/8/8/8/8 w - - 0 1", 3, "e8=N"),
    ("r6k/pppnNr1p/5p1Q/2q2N2/2n2P2/4R3/PPP3PP/6K1 w - - 0 1", 3, "Ng6"),
    ("r4rk1/q4pp1/p3p2R/1b1nP3/n7/1N1B2Q1/1PP3PP/2KR4 w - - 0 1", 3, "Rh8"),
];

#[test]
fn real_program_finds_mates_that_are_known() {
    let Some(program) = real_program() else { return };
    let interrupt = AtomicBool::new(false);
    let mut engine = Engine::start(&program, &interrupt).unwrap();
    assert_ne!(engine.name(), "");
    for (fen, moves, key) in MATES {
        let pos = position(fen);
        let found = engine.evaluate(&Question::new(pos.clone())).unwrap();
        assert_eq!((found.score, found.bound), (Score::Mates(moves), Bound::Exact), "{fen}");
        assert_eq!(found.best, Some(san(&pos, key)), "{fen}");
        let mut end = pos;
        for &m in &found.line {
            end = end.play(m).unwrap();
        }
        assert!(end.is_checkmate(), "{fen}");
        assert_eq!(found.line.len() as u32, 2 * moves - 1, "{fen}");
        assert!(found.depth.is_some() && found.nodes.is_some(), "{fen}");
    }
    engine.end();
}

#[test]
fn real_program_judges_offers() {
    let Some(program) = real_program() else { return };
    // A rook offer that mates in two, and a move after which there is no mate in one.
    let (fen, _, key) = MATES[5];
    let found = evaluated(&program, fen, key);
    assert_eq!((found.before(), found.after.score), (Score::Mates(2), Score::Mates(1)));
    assert_eq!(found.after.points, Points::ALL);
    let found = evaluated(&program, fen, "Rxh7");
    assert!(!matches!(found.after.score, Score::Mates(0 | 1)), "{:?}", found.after.score);
    let other = found.other.unwrap();
    assert_eq!(other.best, Some(san(&position(fen), key)));
    assert_eq!(other.score, Score::Mates(2));
    // A mate, and a queen given away for nothing.
    let found = evaluated(&program, "6k1/5ppp/8/8/8/8/5PPP/3Q2K1 w - - 0 1", "Qd8#");
    assert_eq!((found.before(), found.after.score), (Score::Mates(1), Score::Mates(0)));
    let found = evaluated(&program, "4k3/5ppp/8/8/8/8/5PPP/3QK3 w - - 0 1", "Qd7+");
    assert!(found.before().worth() > 500, "{found:?}");
    assert!(found.after.score.worth().abs() < 300, "{found:?}");
    assert!(found.other.unwrap().score.worth() > 500);
}

#[test]
fn real_program_gives_the_same_whatever_the_number_of_processes() {
    let Some(program) = real_program() else { return };
    let program = Program { nodes: 20_000, ..program };
    let stop = AtomicBool::new(false);
    let questions = questions(24);
    let answers = |engines: usize| {
        let mut answers = Vec::new();
        let ask = |engine: &mut Engine<'_>, question: &Question| engine.evaluate(question);
        run(&program, engines, questions.iter().cloned(), ask, &stop, |_, answer| {
            answers.push(answer.unwrap());
            ControlFlow::Continue(())
        });
        answers
    };
    assert_eq!(answers(1), answers(3));
}

#[test]
fn reasons_are_said_in_words_that_differ() {
    let texts: BTreeSet<String> = faults().iter().map(|(_, fault)| fault.to_string()).collect();
    assert_eq!(texts.len(), faults().len());
    insta::assert_snapshot!(texts.into_iter().collect::<Vec<_>>().join("\n"), @"
    closed its output
    did not name a move in a position that has legal moves
    did not name a move within 0.7 s
    ended with exit status: 3
    ended with signal: 6 (SIGABRT)
    gave no score
    named `a1a1`, which is not legal
    named `castles`, which is not a move
    wrote a line of more than 65536 bytes
    wrote more than 4194304 bytes for one answer
    ");
}
