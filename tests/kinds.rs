//! What a move offers, and which kind of sacrifice it is. The positions are ours; the detector in
//! `.ci/detector`, which was written separately, comes to the same.

use hecatomb::board::{SacrificeKind, accepting, cost};
use hecatomb::hits::{Reading, Runs};
use hecatomb::mining::Hit;
use hecatomb::teaching::{Candidates, ExerciseKind, MOST_CANDIDATES, Shelf, Sides, Unjudged};
use hecatomb::verdict::{Effort, Judge, LEAST_DEPTH};
use shakmaty::{Position, Role, Square};

use crate::engines::peer_in;
use crate::exchange::LEFT_QUEEN;
use crate::support::{Place, game, mine, pattern};
use crate::verdicts::boards::{Chance, position, random_position, written};

/// What there is to say of the move at a ply of a game, whatever it is.
fn move_at(ply: usize, fen: &str, movetext: &str) -> Hit {
    let any_move = pattern("title = \"t\"\nchapter = \"any\"\noffer = \"any man to any square\"\n");
    let game = format!("[Event \"x\"]\n[SetUp \"1\"]\n[FEN \"{fen}\"]\n\n{movetext}\n");
    let report = mine(&[any_move], game.as_bytes(), false);
    assert!(report.rejects.is_empty(), "{:?}", report.rejects);
    let mut hits = report.mined[0].hits.iter();
    hits.find(|hit| hit.offer.ply == ply).expect("a move of the game").clone()
}

#[test]
fn man_that_costs_most_is_offered() {
    use Role::{Bishop, King, Knight, Pawn, Queen, Rook};
    for (fen, offer, man, square, cost, was_hanging) in [
        // Nothing is given: the man that moved.
        ("4k3/7p/8/8/8/3B4/8/4K3 w - - 0 1", "Bxh7", Bishop, Square::H7, 0, 0),
        ("6k1/7p/8/8/8/3B4/8/4K3 w - - 0 1", "Bxh7+", Bishop, Square::H7, 2, 0),
        // The queen is left, and the knight taken would cost less.
        (LEFT_QUEEN, "Nxe5", Queen, Square::D1, 5, 0),
        // A pawn that can be taken in passing, and one that could be won back there.
        ("4k3/8/8/8/1p6/8/P7/4K3 w - - 0 1", "a4", Pawn, Square::A4, 1, 0),
        ("4k3/8/8/8/1p6/8/P7/1N2K3 w - - 0 1", "a4", Pawn, Square::A4, 0, 0),
        // A promoted pawn that is taken, but a pawn was all it was.
        ("1r4k1/P7/8/8/8/8/8/6K1 w - - 0 1", "a8=Q", Queen, Square::A8, 1, 0),
        ("1r4k1/P7/8/8/8/8/8/6K1 w - - 0 1", "a8=N", Knight, Square::A8, 1, 0),
        ("1r4k1/P7/8/8/8/8/8/6K1 w - - 0 1", "axb8=Q+", Queen, Square::B8, 0, 0),
        // Castling leaves the bishop that the king guarded.
        ("4k3/8/8/8/1b6/8/3B4/4K2R w K - 0 1", "O-O", Bishop, Square::D2, 3, 0),
        // The bishop hung before, so it is not what the move offers.
        ("4k3/8/8/8/1b6/8/3B4/R5K1 w - - 0 1", "Ra5", Rook, Square::A5, 2, 3),
        ("4k3/8/8/8/1b6/8/3B4/R5K1 w - - 0 1", "Kf2", King, Square::F2, 0, 3),
        // Two men cost the same: the one that moved, or else the first square.
        ("4k3/8/2p5/8/1b6/2N5/3B4/6K1 w - - 0 1", "Nb5", Knight, Square::B5, 3, 0),
        ("1r1r3k/8/8/8/8/8/1N1B4/2Q3K1 w - - 0 1", "Qc5", Knight, Square::B2, 3, 0),
        // What the bishop shielded.
        ("3rk3/8/8/8/7b/6P1/3B4/3B2K1 w - - 0 1", "Bb4", Bishop, Square::D1, 3, 3),
        // A pinned man does not take.
        ("4k3/4n3/8/3B4/8/8/8/4RK2 w - - 0 1", "Bc6+", Bishop, Square::C6, 0, 0),
    ] {
        let hit = move_at(1, fen, &format!("1. {offer} *"));
        let it = &hit.offer;
        assert_eq!(
            (it.offered, it.cost, it.was_hanging),
            ((man, square), cost, was_hanging),
            "{fen} {offer}"
        );
    }
}

/// A bishop for a pawn, and the piece comes back with a discovery.
const DISCOVERY: &str = "r2qkbnr/pppn1ppp/3p4/4p3/2B1P1b1/2NP1N2/PPP2PPP/R1BQK2R w KQkq - 0 1";

/// Three pawns against three: one of them gets through.
const BREAKTHROUGH: &str = "8/ppp5/8/PPP5/8/7k/8/7K w - - 0 1";

#[test]
fn kind_says_how_the_game_went() {
    use SacrificeKind::{Declined, Desperado, Free, Real, Sham};
    const SHUFFLE: &str = "3. Rh1 Ra8 4. Rg1 Rb8 5. Rh1 Ra8 6. Rg1 Rb8";
    let on = |rest: &str| format!("1. Bxf7+ Kxf7 2. {rest}");
    for (ply, fen, game, kind) in [
        (1, "4k3/7p/8/8/8/3B4/8/4K3 w - - 0 1", "1. Bxh7 Kd7 *".to_owned(), Free),
        (1, DISCOVERY, "1. Bxf7+ Ke7 *".to_owned(), Declined),
        (1, DISCOVERY, "1. Bxf7+ *".to_owned(), Declined),
        // The piece is back with the answer to the second move.
        (1, DISCOVERY, on("Ng5+ Ke8 3. Qxg4 Ngf6 4. Qd1 *"), Sham),
        (1, DISCOVERY, on("Ng5+ Ke8 3. Qxg4 *"), Sham),
        (1, DISCOVERY, on("Ng5+ Qxg5 3. Bxg5 *"), Sham),
        // The game is won, or only over, before the four moves are made.
        (1, DISCOVERY, on("Ng5+ 1-0"), Sham),
        (1, DISCOVERY, on("Ng5+ *"), Real),
        (1, DISCOVERY, on("Ng5+ 0-1"), Real),
        (1, DISCOVERY, on("Ng5+ 1/2-1/2"), Real),
        // Mate.
        (1, LEFT_QUEEN, "1. Nxe5 Bxd1 2. Bxf7+ Ke7 3. Nd5# *".to_owned(), Sham),
        // It stays away for the four moves, or comes back with the fifth.
        (1, DISCOVERY, on(&format!("Rg1 Rb8 {SHUFFLE} *")), Real),
        (1, DISCOVERY, on("a3 a6 3. Ng5+ Ke8 4. Qxg4 Ngf6 5. Qd1 h6 *"), Sham),
        (1, DISCOVERY, on("a3 a6 3. a4 h6 4. h3 Rb8 5. hxg4 Ra8 6. Qd2 *"), Sham),
        (1, DISCOVERY, on("a3 a6 3. a4 h6 4. b3 Rb8 5. h3 Ra8 6. hxg4 c6 7. Qd2 *"), Real),
        // A pawn queens two moves later, and is worth more than what it took to get there.
        (3, BREAKTHROUGH, "1. b6 axb6 2. c6 bxc6 3. a6 c5 4. a7 c4 5. a8=Q c3 *".to_owned(), Sham),
        // The knight can't be saved, and takes a pawn along; or could be had for a pawn less.
        (1, "Nk6/p1p5/8/8/8/8/8/4K3 w - - 0 1", "1. Nxc7 Kxc7 *".to_owned(), Desperado),
        (1, "Nk6/p1p5/8/8/8/8/8/4K3 w - - 0 1", "1. Nb6 axb6 *".to_owned(), Real),
        // Attacked, but free to go: no desperado.
        (
            1,
            "r1bqk2r/pppp1pp1/2n2n1p/2b1p1N1/4P3/8/PPPPBPPP/RNBQ1RK1 w kq - 0 1",
            "1. Nxf7 Kxf7 2. Bc4+ d5 3. exd5 Na5 4. Be2 Rf8 5. d3 Kg8 6. h3 *".to_owned(),
            Real,
        ),
        // The only legal move.
        (1, "6k1/8/8/8/8/6B1/6PP/r6K w - - 0 1", "1. Be1 Rxe1# *".to_owned(), Desperado),
    ] {
        let hit = move_at(ply, fen, &game);
        assert_eq!(hit.offer.kind, Some(kind), "{fen} {game}");
    }
}

/// What an offer leads to by force.
fn forced(fen: &str, offer: &str, effort: Effort) -> Option<SacrificeKind> {
    let pos = position(fen);
    let offer = written(&pos, offer);
    Judge::new(effort).judge(&pos, offer).forced_kind(&pos, offer)
}

/// Invented: the knight's check also opens the queen's way to g4, where it takes a bishop for the other.
const BISHOP_BACK: &str = "rn1qkb1r/ppp1nppp/3p4/4p3/2B1P1b1/5N2/PPPP1PPP/RNBQK2R w KQkq - 0 4";

#[test]
fn forced_kind_says_what_taking_leads_to() {
    use SacrificeKind::{Desperado, Free, Real, Sham};
    for (fen, offer, kind) in [
        ("4k3/7p/8/8/8/3B4/8/4K3 w - - 0 1", "Bxh7", Some(Free)),
        ("Nk6/p1p5/8/8/8/8/8/4K3 w - - 0 1", "Nxc7", Some(Desperado)),
        // Mate by force, longer than four moves, and only if it is taken.
        ("r1q2rk1/pp4p1/1n2p1P1/3p4/7R/2P2P2/PP4K1/3QR3 w - - 0 1", "Rh8+", Some(Sham)),
        ("r1b2rk1/p4ppp/1pq1pn2/8/3Q4/1P1R4/PBP2PPP/6K1 w - - 0 1", "Qxf6", Some(Sham)),
        // The piece comes back.
        (BISHOP_BACK, "Bxf7+", Some(Sham)),
        // It stays away, or the attacker is mated.
        ("6k1/6pp/8/8/8/3B4/8/6K1 w - - 0 1", "Bxh7+", Some(Real)),
        ("6k1/1r3ppp/8/8/7q/1Q6/6P1/6K1 w - - 0 1", "Qb2", Some(Real)),
        // A draw by force, and nothing proved.
        ("6k1/1rr3pp/8/8/1B6/3B4/1q4PP/3Q3K w - - 0 1", "Bxh7+", None),
        (DISCOVERY, "Bxf7+", None),
    ] {
        assert_eq!(forced(fen, offer, Effort::default()), kind, "{fen} {offer}");
    }
}

#[test]
fn forced_kind_is_not_known_where_the_line_ends_too_soon() {
    let within = |depth| {
        let effort = Effort { depth, ..Effort::default() };
        forced("6k1/6pp/8/8/8/3B4/8/6K1 w - - 0 1", "Bxh7+", effort)
    };
    // The reply, and four moves with their answers.
    assert_eq!((within(LEAST_DEPTH), within(8)), (None, None));
    assert_eq!(within(9), Some(SacrificeKind::Real));
}

/// Why no offer is `declined` by force.
#[test]
fn what_costs_something_can_be_taken() {
    let mut chance = Chance::new(7);
    let mut offers = 0;
    for _ in 0..300 {
        let pos = {
            let most_men = 6 + chance.below(22);
            random_position(&mut chance, most_men)
        };
        for offer in pos.legal_moves() {
            if cost(&pos, offer) > 0 {
                offers += 1;
                assert!(!accepting(&pos, offer).is_empty(), "{pos:?} {offer}");
            }
        }
    }
    assert!(offers > 300, "{offers}");
}

const VERDICTS: &str = "hecatomb-out/verdicts/q.csv";

/// A run of two games, verified: one offer that brings the piece back and was declined, and one that gives
/// it for good.
fn verified() -> Place {
    let place = Place::new();
    place.write(
        "q.toml",
        "title = \"t\"\nchapter = \"bishop\"\noffer = \"bishop takes pawn on f7 or h7 with check\"\n",
    );
    let game = |fen: &str, moves: &str| {
        format!("[Event \"x\"]\n[SetUp \"1\"]\n[FEN \"{fen}\"]\n\n{moves} *\n\n")
    };
    let games = game(BISHOP_BACK, "1. Bxf7+ Kd7")
        + &game("6k1/6pp/8/8/8/3B4/8/6K1 w - - 0 1", "1. Bxh7+ Kxh7 2. Kf2");
    place.write("games.pgn", games);
    for arguments in [&["mine", "games.pgn", "--query", "q.toml"][..], &["verify", "hecatomb-out"]]
    {
        let ran = place.run(arguments);
        assert_eq!(ran.status, 0, "{ran}");
    }
    place
}

/// How many candidates for an exercise and how many model games a query's hits give.
fn taught(place: &Place, kind: ExerciseKind) -> (usize, usize) {
    let folder = place.path().join("hecatomb-out");
    let runs = Runs::open(&[folder], Reading::AsWritten).unwrap();
    let mut candidates = Candidates::new(kind, Sides::Both, Unjudged::IfWon, 1, MOST_CANDIDATES);
    let mut shelf = Shelf::default();
    runs.pass("q", &mut [&mut candidates, &mut shelf]).unwrap();
    (candidates.count(), shelf.choose([]).models.len())
}

#[test]
fn what_was_lost_anyway_is_not_taught_as_a_sacrifice() {
    let query = "title = \"t\"\nchapter = \"knight\"\noffer = \"knight takes pawn on c7\"\n";
    let place = Place::new();
    place.write("q.toml", query);
    let engine = peer_in(&place, "weighs");
    let game = |fen: &str, moves: &str| {
        format!("[Event \"x\"]\n[SetUp \"1\"]\n[FEN \"{fen}\"]\n\n{moves}\n\n")
    };
    // The knight can't be saved; it could go to b4 as well; nothing takes it.
    let knights = [
        ("Nk6/p1p5/8/8/8/8/8/4K3 w - - 0 1", "Kxc7", 0),
        ("1k6/p1p5/8/1N6/8/8/8/4K3 w - - 0 1", "Kxc7", 1),
        ("6k1/p1p5/8/1N6/8/8/8/4K3 w - - 0 1", "Kf7", 0),
    ];
    for (fen, reply, taught_as) in knights {
        let moves = |result: &str| format!("1. Nxc7 {reply} 2. Kd2 a6 3. Kd3 a5 {result}");
        place.write("games.pgn", game(fen, &moves("1-0")));
        let mine = ["mine", "games.pgn", "--query", "q.toml", "--replace"];
        assert_eq!(place.run(&mine).status, 0);
        assert_eq!(taught(&place, ExerciseKind::Find), (taught_as, taught_as), "{fen}");
        // Judged, as one that fails.
        place.write("games.pgn", game(fen, &moves("0-1")));
        assert_eq!(place.run(&mine).status, 0);
        // No count says by itself that something fails.
        let verify = ["verify", "hecatomb-out", "--nodes=20000"];
        assert_eq!(place.run(&verify).status, 0);
        assert_eq!(taught(&place, ExerciseKind::Judge).0, 0, "{fen}");
        let asked = ["--engine", &engine, "--engine-nodes=4000", "--replace"];
        assert_eq!(place.run(&[&verify[..], &asked].concat()).status, 0);
        assert_eq!(taught(&place, ExerciseKind::Judge), (taught_as, taught_as), "{fen}");
    }
}

#[test]
fn forced_kind_is_a_column_to_count_by() {
    let place = verified();
    let tally = |by: &str| place.run(&["tally", "hecatomb-out", "--by", by, "--format", "csv"]).out;
    let groups = |by: &str| {
        let cell = |line: &str| {
            line.split(',').skip(1).take(2).map(str::to_owned).collect::<Vec<_>>().join(" ")
        };
        let mut groups: Vec<String> = tally(by).lines().skip(1).map(cell).collect();
        groups.sort();
        groups
    };
    assert_eq!(groups("kind,forced_kind"), ["declined sham", "real real"]);
    assert_eq!(groups("verdict,forced_kind"), ["down real", "gains sham"]);
}

#[test]
fn verdicts_without_the_forced_kind_are_of_another_version() {
    let place = verified();
    let table = place.read(VERDICTS);
    let column = table.lines().next().unwrap().split(',').position(|it| it == "forced_kind");
    let without = |line: &str| {
        let mut cells: Vec<&str> = line.split(',').collect();
        cells.remove(column.unwrap());
        cells.join(",") + "\n"
    };
    place.write(VERDICTS, table.lines().map(without).collect::<String>());
    let ran = place.run(&["tally", "hecatomb-out", "--by", "verdict", "--edited"]);
    assert_eq!(ran.status, 1, "{ran}");
    assert!(ran.err.contains("`is_best` where `forced_kind` was expected"), "{ran}");
    assert!(ran.err.contains("the table is of another version, or was edited"), "{ran}");
    place.write(VERDICTS, table.replacen(",sham,", ",shame,", 1));
    let ran = place.run(&["tally", "hecatomb-out", "--by", "forced_kind", "--edited"]);
    assert!(ran.err.contains("`shame` is not a kind of sacrifice"), "{ran}");
}

/// A classical bishop sacrifice, and a queen's gambit that is not taken.
fn games() -> String {
    let gambit =
        "[White \"Elm, Kay\"]\n[Black \"Fir, Lee\"]\n[Result \"0-1\"]\n\n1. d4 d5 2. c4 e6 0-1\n\n";
    game("Alder, Tom", "Birch, Ida") + gambit
}

#[test]
fn every_sacrifice_is_found_and_those_without_a_name_are_listed() {
    let place = Place::new();
    place.write("games.pgn", games());
    let motifs = place.run(&["mine", "games.pgn", "--quiet"]);
    assert_eq!(motifs.status, 0, "{motifs}");
    let unnamed = place.run(&["tally", "hecatomb-out", "--unnamed"]);
    assert_eq!(
        unnamed.err,
        "error: these tables do not hold every sacrifice\nhint: mine with --every-sacrifice\n"
    );
    let arguments = ["mine", "games.pgn", "--every-sacrifice", "--replace", "--quiet"];
    assert_eq!(place.run(&arguments).status, 0);
    let offers = |query: &str| {
        let rows = place.rows(&format!("hits/{query}.csv"));
        rows.iter().map(|row| format!("{} {}", &row["offer"], &row["offered"])).collect::<Vec<_>>()
    };
    assert_eq!(offers("bishop-sacrifice"), ["Bxh7+ bishop h7"]);
    assert!(offers("pawn-sacrifice").contains(&"c4 pawn c4".to_owned()));
    let unnamed = place.run(&["tally", "hecatomb-out", "--unnamed", "--format", "csv"]);
    assert_eq!(unnamed.status, 0, "{unnamed}");
    assert!(!unnamed.out.contains("bishop,"), "a motif names it: {unnamed}");
    let one_motif = ["mine", "games.pgn", "--query", "queen-back-rank", "--every-sacrifice"];
    assert_eq!(place.run(&[&one_motif[..], &["--replace", "--quiet"]].concat()).status, 0);
    let unnamed = place.run(&["tally", "hecatomb-out", "--unnamed", "--format", "csv"]).out;
    assert!(unnamed.contains("bishop,takes,h7,sham,1,1,0,0,,games.pgn:1:15\n"), "{unnamed}");
    assert!(unnamed.contains("pawn,moves,c4,declined,1,0,0,1,,games.pgn:2:3\n"), "{unnamed}");
}

#[test]
fn chosen_kinds_are_counted_alone_and_named() {
    let place = Place::new();
    place.write("games.pgn", games());
    assert_eq!(
        place
            .run(&[
                "mine",
                "games.pgn",
                "--query",
                "pawn-sacrifice",
                "--query",
                "bishop-sacrifice",
                "--quiet"
            ])
            .status,
        0
    );
    let counted = |query: &str, kind: &str| {
        let arguments = ["tally", "hecatomb-out", "--query", query, "--sacrifice", kind];
        place.run(&[&arguments[..], &["--format", "csv"]].concat()).out
    };
    let hits = |text: &str| {
        let mut lines = text.lines().map(|line| line.split(',').map(str::to_owned).collect());
        let (names, row): (Vec<String>, Vec<String>) =
            (lines.next().unwrap(), lines.next().unwrap());
        let place = |name| names.iter().position(|known| known == name).unwrap();
        (row[place("hits")].clone(), row[place("sacrifice")].clone())
    };
    assert_eq!(hits(&counted("bishop-sacrifice", "sham")), ("1".to_owned(), "sham".to_owned()));
    assert_eq!(hits(&counted("bishop-sacrifice", "real")).0, "0");
    let text =
        place.run(&["tally", "hecatomb-out", "--query", "bishop-sacrifice", "--sacrifice", "sham"]);
    assert!(text.out.contains("Only offers of this kind are counted: sham."), "{text}");
}

/// How many hits a tally counts, and the names of its columns.
fn tallied(place: &Place, options: &[&str]) -> (usize, String) {
    let tally = ["tally", "hecatomb-out", "--query", "bishop-sacrifice", "--format", "csv"];
    let ran = place.run(&[&tally[..], options].concat());
    assert_eq!(ran.status, 0, "{ran}");
    let mut lines = ran.out.lines();
    let names: Vec<&str> = lines.next().unwrap().split(',').collect();
    let hits = names.iter().position(|name| *name == "hits").unwrap();
    (lines.next().unwrap().split(',').nth(hits).unwrap().parse().unwrap(), names.join(","))
}

#[test]
fn kinds_are_chosen_by_force_too_once_that_is_known() {
    let place = Place::new();
    place.write("season.pgn", crate::support::season());
    let mine = ["mine", "season.pgn", "--query", "bishop-sacrifice", "--limit", "400", "--quiet"];
    assert_eq!(place.run(&mine).status, 0);
    let by_force = ["tally", "hecatomb-out", "--factors", "--sacrifice", "sham", "--by-force"];
    let ran = place.run(&by_force);
    assert_eq!(ran.status, 1, "{ran}");
    let told = "have no column `forced_kind`\nhint: `hecatomb verify DIR` adds it\n";
    assert!(ran.err.ends_with(told), "{ran}");
    assert_eq!(place.run(&["verify", "hecatomb-out", "--nodes=3000", "--quiet"]).status, 0);
    let verdicts = place.rows("verdicts/bishop-sacrifice.csv");
    let hits = place.rows("hits/bishop-sacrifice.csv");
    for kind in ["sham", "real", "desperado"] {
        let forced = verdicts.iter().filter(|row| &row["forced_kind"] == kind).count();
        let went = hits.iter().filter(|row| &row["kind"] == kind).count();
        let (counted, columns) = tallied(&place, &["--sacrifice", kind, "--by-force"]);
        assert_eq!((counted, tallied(&place, &["--sacrifice", kind]).0), (forced, went), "{kind}");
        assert!(columns.ends_with("sacrifice_by_force"), "{columns}");
    }
    let differing = verdicts
        .iter()
        .zip(&hits)
        .filter(|(verdict, hit)| &hit["kind"] == "sham" && &verdict["forced_kind"] != "sham");
    assert!(differing.count() > 0, "some went so without need");
    let ran = place.run(&by_force);
    let told = "Only offers of this kind by force are counted: sham.";
    assert!(ran.status == 0 && ran.out.contains(told), "{ran}");
    for command in ["tally", "lesson", "exercises"] {
        let ran =
            place.run(&[command, "hecatomb-out", "--by-force", "--query", "bishop-sacrifice"]);
        assert!(ran.status == 2 && ran.err.contains("--sacrifice <KIND>"), "{ran}");
    }
    let declined = [&by_force[..], &["--sacrifice", "declined"]].concat();
    let ran = place.run(&declined);
    assert!(ran.status == 2 && ran.err.contains("what is given up can always be taken"), "{ran}");
}
