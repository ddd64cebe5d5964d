//! What the program is measured against: general-purpose libraries and programs at the bare work.

use std::ops::ControlFlow;
use std::path::Path;
use std::time::{Duration, Instant};

use pgn_reader::{Reader, SanPlus, Skip, Visitor};
use shakmaty::{Chess, Position};

/// How long pgn-reader takes to parse every move, on one core.
pub(crate) fn parsing(bytes: &[u8]) -> Duration {
    let start = Instant::now();
    let mut reader = Reader::new(bytes);
    let mut moves = Moves(0);
    while reader.read_game(&mut moves).is_ok_and(|game| game.is_some()) {}
    assert!(moves.0 > 0);
    start.elapsed()
}

/// How long pgn-reader and shakmaty take to replay every game, on all cores; `part` is the length after
/// which the games begin again.
pub(crate) fn replaying(bytes: &[u8], part: usize) -> Duration {
    let parts: Vec<&[u8]> = bytes.chunks(part).collect();
    let threads = std::thread::available_parallelism().map_or(1, usize::from);
    let start = Instant::now();
    std::thread::scope(|scope| {
        for share in parts.chunks(parts.len().div_ceil(threads)) {
            scope.spawn(|| share.iter().for_each(|games| replay_all(games)));
        }
    });
    start.elapsed()
}

/// How long the package csv takes to read a table of this many rows.
pub(crate) fn reading_rows(table: &Path, count: usize) -> Duration {
    let start = Instant::now();
    let mut reader = csv::Reader::from_path(table).expect("the table was just written");
    let mut record = csv::StringRecord::new();
    let mut rows = 0;
    while reader.read_record(&mut record).expect("the table was just written") {
        rows += 1;
    }
    assert_eq!(rows, count);
    start.elapsed()
}

/// Counts the moves of every game, so that every move is parsed.
struct Moves(u64);

impl Visitor for Moves {
    type Tags = ();
    type Movetext = ();
    type Output = ();

    fn begin_tags(&mut self) -> ControlFlow<()> {
        ControlFlow::Continue(())
    }

    fn begin_movetext(&mut self, (): ()) -> ControlFlow<()> {
        ControlFlow::Continue(())
    }

    fn san(&mut self, (): &mut (), _: SanPlus) -> ControlFlow<()> {
        self.0 += 1;
        ControlFlow::Continue(())
    }

    fn end_game(&mut self, (): ()) {}
}

/// Replays every game of a text.
fn replay_all(games: &[u8]) {
    let mut reader = Reader::new(games);
    let mut board = Replayed(0);
    while reader.read_game(&mut board).is_ok_and(|game| game.is_some()) {}
    assert!(board.0 > 0);
}

/// Plays the moves of every game, and counts them.
struct Replayed(u64);

impl Visitor for Replayed {
    type Tags = ();
    type Movetext = Chess;
    type Output = ();

    fn begin_tags(&mut self) -> ControlFlow<()> {
        ControlFlow::Continue(())
    }

    fn begin_movetext(&mut self, (): ()) -> ControlFlow<(), Chess> {
        ControlFlow::Continue(Chess::default())
    }

    fn begin_variation(&mut self, _: &mut Chess) -> ControlFlow<(), Skip> {
        ControlFlow::Continue(Skip(true))
    }

    fn san(&mut self, pos: &mut Chess, san: SanPlus) -> ControlFlow<()> {
        let Ok(m) = san.san.to_move(pos) else {
            return ControlFlow::Break(());
        };
        pos.play_unchecked(m);
        self.0 += 1;
        ControlFlow::Continue(())
    }

    fn end_game(&mut self, _: Chess) {}
}
