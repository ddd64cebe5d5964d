//! Whole games come out of a run as they went in, with what there is to say of their offers.

use std::ops::ControlFlow;

use hecatomb::board::Replay;
use pgn_reader::{RawComment, RawTag, Reader, SanPlus, Skip, Visitor};
use shakmaty::{Chess, Position as _};

use crate::support::{Place, game, game_from_move};

const QUERY: &str = "bishop-takes-h7";

fn mined() -> Place {
    let place = Place::new();
    place.write(
        "league.pgn",
        [game("Alder, Tom", "Birch, Ida"), game("Cedar, Ann", "Birch, Ida")].concat(),
    );
    assert_eq!(place.run(&["mine", "league.pgn", "--query", QUERY]).status, 0);
    // The run stands by itself.
    std::fs::remove_file(place.path().join("league.pgn")).unwrap();
    place
}

/// A game as a reader of PGN takes it: its players, its moves, and how deep its variations go. Every move of a
/// variation must be legal where it stands.
#[derive(Clone, Default)]
struct Read {
    players: Vec<String>,
    moves: Vec<String>,
    variations: usize,
    comments: Vec<String>,
}

/// The positions before and after the last move of each line that is open.
struct Lines {
    read: Read,
    open: Vec<(Chess, Chess)>,
}

struct Reading;

impl Visitor for Reading {
    type Tags = Read;
    type Movetext = Lines;
    type Output = Read;

    fn begin_tags(&mut self) -> ControlFlow<Read, Read> {
        ControlFlow::Continue(Read::default())
    }

    fn tag(&mut self, read: &mut Read, name: &[u8], value: RawTag<'_>) -> ControlFlow<Read> {
        if [&b"White"[..], b"Black"].contains(&name) {
            read.players.push(value.decode_utf8_lossy().into_owned());
        }
        ControlFlow::Continue(())
    }

    fn begin_movetext(&mut self, read: Read) -> ControlFlow<Read, Lines> {
        let start = Chess::default();
        ControlFlow::Continue(Lines { read, open: vec![(start.clone(), start)] })
    }

    fn san(&mut self, lines: &mut Lines, san: SanPlus) -> ControlFlow<Read> {
        if lines.open.len() == 1 {
            lines.read.moves.push(san.to_string());
        }
        let (before, after) = lines.open.last_mut().unwrap();
        before.clone_from(after);
        let m = san.san.to_move(before).unwrap();
        after.play_unchecked(m);
        ControlFlow::Continue(())
    }

    fn begin_variation(&mut self, lines: &mut Lines) -> ControlFlow<Read, Skip> {
        let (before, _) = lines.open.last().unwrap();
        let line = (before.clone(), before.clone());
        lines.open.push(line);
        lines.read.variations += 1;
        ControlFlow::Continue(Skip(false))
    }

    fn end_variation(&mut self, lines: &mut Lines) -> ControlFlow<Read> {
        lines.open.pop();
        ControlFlow::Continue(())
    }

    fn comment(&mut self, lines: &mut Lines, comment: RawComment<'_>) -> ControlFlow<Read> {
        let text = String::from_utf8_lossy(comment.as_bytes()).replace('\n', " ");
        lines.read.comments.push(text);
        ControlFlow::Continue(())
    }

    fn end_game(&mut self, lines: Lines) -> Read {
        lines.read
    }
}

fn read(text: &str) -> Vec<Read> {
    let mut reader = Reader::new(text.as_bytes());
    std::iter::from_fn(|| reader.read_game(&mut Reading).unwrap()).collect()
}

#[test]
fn games_come_out_whole_in_pgn_with_their_offers_told() {
    let place = mined();
    let verify = ["verify", "hecatomb-out", "--nodes", "20000"];
    assert_eq!(place.run(&verify).status, 0);
    let ran = place.run(&["games", "hecatomb-out", "--query", QUERY]);
    assert_eq!(ran.status, 0, "{ran}");
    let games = read(&ran.out);
    assert_eq!(games.len(), 1, "the second game has the same moves: {ran}");
    let moves = "e4 e6 d4 d5 Nc3 Nf6 e5 Nfd7 Nf3 Be7 Bd3 O-O h4 c5 Bxh7+ Kxh7 Ng5+ Kg8 Qh5 Bxg5 \
                 hxg5 f6 g6";
    assert_eq!(games[0].moves.join(" "), moves);
    assert_eq!(games[0].players, ["Alder, Tom", "Birch, Ida"]);
    let about = &games[0].comments[0];
    assert!(about.contains("a bishop for a pawn (2 pawns' worth)"), "{about}");
    assert!(ran.out.lines().all(|line| line.chars().count() < 80), "{ran}");
    // What else could have been replied is mated by force, some of it.
    assert!(games[0].variations >= 1, "{ran}");
}

#[cfg(unix)]
#[test]
fn best_play_stands_where_the_game_left_it() {
    let place = Place::new();
    let text = game("Alder, Tom", "Birch, Ida").replace("10. Qh5 Bxg5", "10. Qd2 Bxg5");
    place.write("league.pgn", text.replace("11. hxg5 f6 12. g6 1-0", "0-1"));
    assert_eq!(place.run(&["mine", "league.pgn", "--query", QUERY]).status, 0);
    let variations = |engine: &[&str], sound: &str| {
        let verify = ["verify", "hecatomb-out", "--nodes", "20000", "--replace"];
        assert_eq!(place.run(&[&verify[..], engine].concat()).status, 0);
        assert_eq!(&place.rows("verdicts/bishop-takes-h7.csv")[0]["sound"], sound);
        let ran = place.run(&["games", "hecatomb-out", "--query", QUERY]);
        read(&ran.out)[0].variations
    };
    let engine = crate::engines::peer_in(&place, "weighs");
    let judged = variations(&["--engine", &engine, "--engine-nodes", "4000"], "no");
    // Of an open offer nobody knows what is best.
    let open = variations(&[], "open");
    // Other replies are answered in both.
    assert!(judged > open, "{judged} and {open}");
}

#[test]
fn games_are_chosen_by_their_ids() {
    let place = mined();
    let rows = place.rows("hits/bishop-takes-h7.csv");
    let games = |ids: &[&str]| {
        let asked: Vec<&str> = ids.iter().flat_map(|id| ["--id", id]).collect();
        let ran = place.run(&[&["games", "hecatomb-out", "--query", QUERY][..], &asked].concat());
        assert_eq!(ran.status, 0, "{ran}");
        read(&ran.out).iter().map(|game| game.players[0].clone()).collect::<Vec<_>>()
    };
    assert_eq!(games(&[&rows[1]["id"]]), ["Cedar, Ann"]);
    assert_eq!(games(&[&rows[1]["game_id"], &rows[0]["id"]]), ["Cedar, Ann", "Alder, Tom"]);
    for unknown in ["0000000000000", "league", ""] {
        let ran = place.run(&["games", "hecatomb-out", "--query", QUERY, "--id", unknown]);
        assert_eq!(ran.status, 1, "{ran}");
        assert!(
            ran.err.contains(&format!("no offer of `{QUERY}` that was made is in `{unknown}`"))
        );
    }
}

#[test]
fn games_from_set_up_positions_say_so() {
    let place = Place::new();
    place.write("cup.pgn", game_from_move(13, "E", "F"));
    assert_eq!(place.run(&["mine", "cup.pgn", "--query", QUERY]).status, 0);
    let ran = place.run(&["games", "hecatomb-out", "--query", QUERY]);
    let fen = "[FEN \"rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 13\"]";
    assert!(ran.out.contains(fen) && ran.out.contains("[SetUp \"1\"]"), "{ran}");
    assert!(ran.out.contains("20. Bxh7+"), "{ran}");
    let replay = Replay::read(&Chess::default(), &place.rows("games.csv")[0]["moves"]).unwrap();
    assert_eq!(replay.moves.len(), 23);
}

#[test]
fn text_to_read_has_a_board_of_each_offer() {
    let place = mined();
    let ran = place.run(&["games", "hecatomb-out", "--query", QUERY, "--format", "text"]);
    assert_eq!(ran.status, 0, "{ran}");
    insta::assert_snapshot!(ran.out);
}

#[test]
fn run_whose_games_are_gone_is_an_error() {
    let place = mined();
    std::fs::remove_file(place.path().join("hecatomb-out/games.csv")).unwrap();
    let ran = place.run(&["games", "hecatomb-out", "--query", QUERY]);
    assert_eq!(ran.status, 1, "{ran}");
    assert!(ran.err.contains("games.csv"), "{ran}");
}
