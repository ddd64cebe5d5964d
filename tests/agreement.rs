//! What a query finds is what others find, too, on the real games of the package pgn-reader.

use std::ops::ControlFlow;

use hecatomb::board::{Replay, read_san};
use hecatomb::collection::{GameResult, Games, Scan};
use hecatomb::mining::{BlockReport, Hit};
use hecatomb::query::Pattern;
use pgn_reader::{Reader, SanPlus, Skip, Visitor};
use shakmaty::{Chess, Move, Position};

use crate::second_detector;
use crate::support::{Place, built_in, mine, package_games, pattern, season};

fn report(patterns: &[Pattern], index: usize) -> BlockReport {
    let text = std::fs::read(package_games()[index]).unwrap();
    let report = mine(patterns, &text, false);
    assert_eq!(report.rejects, []);
    report
}

/// A query of every bishop that takes a pawn on h7 with check, and the built-in one, which leaves out what
/// costs nothing, what comes back at once and what a lost side does.
fn rook_pawn() -> [Pattern; 2] {
    let every = "title = \"t\"\nchapter = \"bishop\"\nwings = \"both\"\n\
                 offer = \"bishop takes pawn on h7 with check\"\n";
    let motif = built_in().into_iter().find(|pattern| pattern.query.name == "bishop-takes-h7");
    [pattern(every), motif.unwrap()]
}

/// The hits of a query, with their games' numbers and results.
fn hits(report: &BlockReport, query: usize) -> Vec<(u64, GameResult, &Hit)> {
    let games = report.mined.iter();
    games
        .flat_map(|game| game.hits.iter().map(|hit| (game.info.number.0, game.info.result, hit)))
        .filter(|(_, _, hit)| hit.query == query)
        .collect()
}

/// Games and moves at which a bishop takes a pawn on h7 (h2) with check: found by replaying the files
/// with python-chess 1.11.2.
const MASTERS: &str = "74/22w 125/13w 130/35b 173/27w 211/12b 367/23w 436/15b 470/15w 656/21w 798/20b 898/15w 925/14w \
     958/12w 1051/28w";
const SERVER: &str =
    "104/11w 115/20w 183/13b 197/23b 215/22w 262/24w 293/17w 329/10b 368/14w 423/14b";

#[test]
fn bishop_takes_rook_pawn_where_python_chess_finds_it() {
    for (index, places) in [MASTERS, SERVER].into_iter().enumerate() {
        let report = report(&rook_pawn(), index);
        let [every, motif] = [0, 1].map(|query| {
            let place = |(game, _, hit): &(u64, GameResult, &Hit)| {
                let side = hit.view.attacker.fold_wb("w", "b");
                format!("{game}/{}{side}", hit.offer.move_number)
            };
            hits(&report, query).iter().map(place).collect::<Vec<String>>()
        });
        assert_eq!(every.join(" "), places);
        assert!(!motif.is_empty() && motif.iter().all(|place| every.contains(place)), "{motif:?}");
    }
}

#[test]
fn replies_and_results_are_those_that_python_chess_counts() {
    // Number taken on the next ply, taken by the king, wins, draws and losses of the offering side.
    for (index, counts) in [[5, 5, 8, 3, 3], [7, 6, 6, 1, 3]].into_iter().enumerate() {
        let report = report(&rook_pawn(), index);
        let hits = hits(&report, 0);
        let count = |is_counted: &dyn Fn(&(u64, GameResult, &Hit)) -> bool| {
            hits.iter().filter(|hit| is_counted(hit)).count()
        };
        let by_king = |hit: &Hit| {
            hit.offer.played().unwrap().reply.as_deref().is_some_and(|reply| reply.starts_with('K'))
        };
        let found = [
            count(&|(_, _, hit)| hit.offer.played().unwrap().accepted == Some(true)),
            count(&|(_, _, hit)| {
                hit.offer.played().unwrap().accepted == Some(true) && by_king(hit)
            }),
            count(&|(_, result, hit)| result.half_points(hit.view.attacker) == Some(2)),
            count(&|(_, result, hit)| result.half_points(hit.view.attacker) == Some(1)),
            count(&|(_, result, hit)| result.half_points(hit.view.attacker) == Some(0)),
        ];
        assert_eq!(found, counts);
    }
}

/// An offer with, for each package file, how often it was made, how often the next ply took on its
/// square, and the wins, draws and losses of the offering side: counted by replaying both files with
/// python-chess 1.11.2, squares mirrored for Black.
const OFFERS: [(&str, [[usize; 5]; 2]); 6] = [
    ("bishop takes pawn on h7 with check", [[14, 5, 8, 3, 3], [10, 7, 6, 1, 3]]),
    ("bishop takes pawn on f7 with check", [[17, 9, 9, 4, 4], [16, 12, 7, 2, 7]]),
    ("knight takes pawn on f7", [[35, 16, 22, 6, 7], [25, 13, 11, 2, 12]]),
    ("knight takes pawn on e6", [[28, 12, 15, 6, 7], [9, 1, 2, 1, 6]]),
    ("knight takes pawn on g7", [[7, 2, 3, 2, 2], [6, 1, 2, 0, 4]]),
    ("rook takes knight on c6 or f6", [[32, 14, 17, 7, 8], [11, 5, 6, 1, 4]]),
];

#[test]
fn offers_are_as_many_as_python_chess_counts() {
    for (sentence, expected) in OFFERS {
        let query = format!("title = \"t\"\nchapter = \"any\"\noffer = \"{sentence}\"\n");
        let patterns = [pattern(&query)];
        let counts = package_games().map(|path| {
            let report = mine(&patterns, &std::fs::read(path).unwrap(), false);
            let mut counts = [0; 5];
            for game in &report.mined {
                for hit in &game.hits {
                    counts[0] += 1;
                    counts[1] += usize::from(hit.offer.played().unwrap().accepted == Some(true));
                    let half_points = game.info.result.half_points(hit.view.attacker).unwrap();
                    counts[4 - usize::from(half_points)] += 1;
                }
            }
            counts
        });
        assert_eq!(counts, expected, "{sentence}");
    }
}

#[test]
fn games_results_and_plies_are_those_that_python_chess_counts() {
    // Games, plies, and results 1-0, 1/2-1/2, 0-1 of both files.
    let expected = [(1110, 101_487, [413, 373, 324]), (438, 28_538, [204, 19, 215])];
    for (index, (games, plies, results)) in expected.into_iter().enumerate() {
        let base = report(&built_in(), index).base;
        let sum = |wanted: Option<GameResult>| {
            let of_result =
                base.iter().filter(|(kind, _)| wanted.is_none_or(|wanted| wanted == kind.result));
            of_result.fold((0, 0), |sum, (_, count)| (sum.0 + count.games, sum.1 + count.plies))
        };
        assert_eq!(sum(None), (games, plies));
        let by_result = [GameResult::WhiteWins, GameResult::Draw, GameResult::BlackWins];
        assert_eq!(by_result.map(|result| sum(Some(result)).0), results);
    }
}

/// Plays the main line of every game with pgn-reader and shakmaty's own reading of SAN.
struct Played;

impl Visitor for Played {
    type Tags = ();
    type Movetext = (Chess, Vec<Move>);
    type Output = Vec<Move>;

    fn begin_tags(&mut self) -> ControlFlow<Vec<Move>> {
        ControlFlow::Continue(())
    }

    fn begin_movetext(&mut self, (): ()) -> ControlFlow<Vec<Move>, (Chess, Vec<Move>)> {
        ControlFlow::Continue((Chess::default(), Vec::new()))
    }

    fn begin_variation(&mut self, _: &mut Self::Movetext) -> ControlFlow<Vec<Move>, Skip> {
        ControlFlow::Continue(Skip(true))
    }

    fn san(&mut self, (pos, moves): &mut Self::Movetext, san: SanPlus) -> ControlFlow<Vec<Move>> {
        let m = san.san.to_move(pos).unwrap();
        pos.play_unchecked(m);
        moves.push(m);
        ControlFlow::Continue(())
    }

    fn end_game(&mut self, (_, moves): Self::Movetext) -> Vec<Move> {
        moves
    }
}

#[test]
fn moves_are_those_that_pgn_reader_reads() {
    for path in package_games() {
        let text = std::fs::read(path).unwrap();
        let mut reader = Reader::new(&text[..]);
        let mut scan = Scan::new();
        let mut replay = Replay::default();
        let mut plies = 0;
        for game in Games::of(&text) {
            scan.read(game.movetext).unwrap();
            replay.start(&Chess::default());
            for token in &scan.moves {
                let san = read_san(token.text(game.movetext)).unwrap();
                replay.play_san(san).unwrap();
            }
            assert_eq!(reader.read_game(&mut Played).unwrap(), Some(replay.moves.clone()));
            plies += replay.moves.len();
        }
        assert_eq!(reader.read_game(&mut Played).unwrap(), None);
        assert!(plies > 20_000);
    }
}

#[test]
fn second_detector_finds_the_same_hits_column_for_column() {
    for text in
        [package_games().map(|path| std::fs::read(path).unwrap()).to_vec(), vec![season()]].concat()
    {
        let place = mined_twice_told(&text);
        let others = second_detector::detect(&text);
        for query in &second_detector::QUERIES {
            let ours = place.rows(&format!("hits/{}.csv", query.name));
            let theirs: Vec<_> = others.iter().filter(|hit| hit.query == query.name).collect();
            let places = ours.iter().map(|row| format!("{}/{}", &row["game"], &row["ply"]));
            let other_places = theirs.iter().map(|hit| format!("{}/{}", hit.game, hit.ply));
            assert_eq!(
                places.collect::<Vec<_>>(),
                other_places.collect::<Vec<_>>(),
                "{}",
                query.name
            );
            for (row, hit) in ours.iter().zip(theirs) {
                for (column, cell) in hit.cells() {
                    assert_eq!(row[&*column], cell, "{column} of {}, {}", &row["id"], &row["fen"]);
                }
            }
        }
        assert!(others.len() > 10, "only {} hits were compared", others.len());
    }
}

/// A run over these games with the queries of the second detector.
fn mined_twice_told(text: &[u8]) -> Place {
    let place = Place::new();
    place.write("games.pgn", text);
    let mut arguments =
        ["mine", "games.pgn", "--quiet", "--keep-duplicates"].map(str::to_owned).to_vec();
    for query in &second_detector::QUERIES {
        let file = format!("{}.toml", query.name);
        place.write(&file, query.text);
        arguments.extend(["--query".to_owned(), file]);
    }
    let ran = place.run(&arguments);
    assert_eq!(ran.status, 0, "{ran}");
    place
}
