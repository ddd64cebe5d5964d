//! Offers that could have been made and were not.

use std::collections::BTreeMap;

use hecatomb::board::{Replay, cost};
use hecatomb::mining::{Miner, Scrutiny, Selection, fits, holds};
use hecatomb::query::{MoveSentence, Pattern};
use pgn_reader::SanPlus;
use shakmaty::{Chess, Position, Square};

use crate::support::{Place, block, built_in, game, lenses_of, season};

#[test]
fn first_chance_is_told_with_what_was_played_instead_and_how_long_it_stayed() {
    let place = Place::new();
    let movetext = "1. e4 e6 2. d4 d5 3. Nc3 Nf6 4. e5 Nfd7 5. Nf3 Be7 6. Bd3 O-O 7. h4 c5 8. Be3 Nc6 \
                    9. Ne2 f5 10. Ng3 *";
    let missed = game("Alder, Tom", "Birch, Ida").split("\n\n").next().unwrap().to_owned();
    place
        .write("games.pgn", format!("{missed}\n\n{movetext}\n\n{}", game("Cedar, Ann", "Fir, Jo")));
    let mine = ["mine", "games.pgn", "--query", "bishop-takes-h7", "--overlooked"];
    let ran = place.run(&mine);
    assert_eq!(ran.status, 0, "{ran}");
    let rows = place.rows("hits/bishop-takes-h7.csv");
    // In the second game the offer was made one move after it could have been: it is not overlooked.
    let told: Vec<[&str; 6]> = rows
        .iter()
        .map(|row| {
            ["game", "ply", "played", "offer", "instead", "stayed"].map(|column| &row[column])
        })
        .collect();
    assert_eq!(
        told,
        [["1", "13", "false", "Bxh7+", "h4", "5"], ["2", "15", "true", "Bxh7+", "", ""]]
    );
    for blank in ["reply", "accepted", "king_goes", "invested", "balance_end", "f_knight-check"] {
        assert_eq!(&rows[0][blank], "", "{blank}");
    }
    assert_eq!((&rows[0]["cost"], &rows[0]["x_pawn-on-e5"]), ("2", "true"));
    assert!(ran.out.contains("1 offer overlooked"), "{ran}");
}

#[test]
fn offer_of_one_side_does_not_take_the_others_chance() {
    let query =
        "title = \"t\"\nchapter = \"knight\"\noffer = \"knight to e4 or e5 giving up 1 or more\"\n";
    let fen = "[Event \"?\"]\n[SetUp \"1\"]\n[FEN \"4k3/8/5n2/3p4/8/2NP4/8/4K3 w - - 0 1\"]\n\n";
    let place = Place::new();
    place.write("q.toml", query).write("games.pgn", format!("{fen}1. Kd1 Ne4 *\n"));
    let ran = place.run(&["mine", "games.pgn", "--query", "q.toml", "--overlooked"]);
    assert_eq!(ran.status, 0, "{ran}");
    let rows = place.rows("hits/q.csv");
    let told: Vec<[&str; 3]> =
        rows.iter().map(|row| ["side", "played", "offer"].map(|column| &row[column])).collect();
    assert_eq!(told, [["white", "false", "Ne4"], ["black", "true", "Ne4"]]);
}

#[test]
fn promotion_made_is_no_other_promotion_overlooked() {
    let query =
        "title = \"t\"\nchapter = \"pawn\"\noffer = \"pawn to 8th rank giving up 1 or more\"\n";
    let fen = "[Event \"?\"]\n[SetUp \"1\"]\n[FEN \"8/2P4k/4b3/8/8/8/8/6K1 w - - 0 1\"]\n\n";
    let place = Place::new();
    place.write("q.toml", query).write("games.pgn", format!("{fen}1. c8=N Kg7 *\n"));
    let ran = place.run(&["mine", "games.pgn", "--query", "q.toml", "--overlooked"]);
    assert_eq!(ran.status, 0, "{ran}");
    let rows = place.rows("hits/q.csv");
    let told: Vec<[&str; 2]> =
        rows.iter().map(|row| ["played", "offer"].map(|column| &row[column])).collect();
    assert_eq!(told, [["true", "c8=N"]]);
}

/// Where a chance came first, by query, whether White had it, and square.
type Firsts = BTreeMap<(usize, bool, Square), usize>;

/// Whether chances of a query are looked for: its offer must name squares.
fn names_squares(pattern: &Pattern) -> bool {
    // What it gives up is from one amount to another.
    let offer = pattern.query.offer_text.split(" giving up ").next().unwrap();
    let anywhere = ["any square", "beside the king"].iter().any(|words| offer.contains(words));
    !anywhere && [" on ", " to "].iter().any(|word| offer.contains(word))
}

/// The chances of a game by trying every legal move in every position.
fn by_brute_force(patterns: &[Pattern], line: &str) -> Firsts {
    let mut firsts = Firsts::new();
    let mut made = Vec::new();
    let mut pos = Chess::default();
    let sans =
        line.split_ascii_whitespace().filter_map(|word| SanPlus::from_ascii(word.as_bytes()).ok());
    for (index, san) in sans.enumerate() {
        let played = san.san.to_move(&pos).unwrap();
        for m in pos.legal_moves() {
            let step = Replay::of(&pos, &[m]);
            let mut after = pos.clone();
            after.play_unchecked(m);
            let asked = patterns.iter().enumerate().filter(|(_, pattern)| names_squares(pattern));
            for (query, pattern) in asked {
                let is_offer = lenses_of(pattern, pos.turn()).any(|lens| {
                    // What comes back can't be told of an offer that was not made.
                    let offer = MoveSentence { not_taken_back: None, ..lens.offer.clone() };
                    fits(&offer, lens.view, &step, 0)
                        && lens.when.iter().all(|condition| holds(condition, lens.view, &pos))
                        && lens.after.iter().all(|condition| holds(condition, lens.view, &after))
                });
                let gives_up = pattern.query.offer.uncovers() || cost(&pos, m) > 0;
                if is_offer && gives_up {
                    let key = (query, pos.turn().is_white(), m.to());
                    if m == played {
                        made.push(key);
                    } else {
                        firsts.entry(key).or_insert(index + 1);
                    }
                }
            }
        }
        pos.play_unchecked(played);
    }
    firsts.retain(|key, _| !made.contains(key));
    firsts
}

#[test]
fn chances_are_those_that_brute_force_finds() {
    let text = season();
    let patterns = built_in();
    let selection = Selection::default();
    let scrutiny = Scrutiny { audit: false, overlooked: true };
    let report = Miner::new(&patterns, &selection, scrutiny).mine(&block(&text), 60);
    let mut compared = 0;
    for (number, raw) in (1..=60).zip(hecatomb::collection::Games::of(&text)) {
        let mined = report.mined.iter().find(|mined| mined.info.number.0 == number);
        let ours: Firsts = mined
            .into_iter()
            .flat_map(|mined| &mined.hits)
            .filter(|hit| hit.offer.overlooked().is_some())
            .map(|hit| {
                let san = SanPlus::from_ascii(hit.offer.san.as_bytes()).unwrap();
                let shakmaty::san::San::Normal { to, .. } = san.san else { panic!("castling") };
                ((hit.query, hit.view.attacker.is_white(), to), hit.offer.ply)
            })
            .collect();
        let mut scan = hecatomb::collection::Scan::new();
        scan.read(raw.movetext).unwrap();
        let words =
            scan.moves.iter().map(|token| String::from_utf8_lossy(token.text(raw.movetext)));
        let line: Vec<String> = words.map(std::borrow::Cow::into_owned).collect();
        assert_eq!(ours, by_brute_force(&patterns, &line.join(" ")), "game {number}");
        compared += ours.len();
    }
    assert!(compared > 20, "only {compared} chances were compared");
}
