//! A game that a teacher brings, read whole from its PGN.
//!
//! The few games that are shown are read with a library that knows comments and variations. It passes over
//! moves that it can't read; so the movetext is scanned first, and a game with such a move is an error.

use std::io;
use std::ops::ControlFlow;

use pgn_reader::{RawTag, Reader, SanPlus, Skip, Visitor};
use shakmaty::Chess;
use shakmaty::san::SanError;

use crate::board::{FenFault, Replay, move_fault, read_position, read_san};
use crate::collection::{Games, Scan};

/// Why a game can't be read.
#[derive(thiserror::Error, Debug)]
pub enum OwnGameError {
    /// There are fewer games.
    #[error("there is no game {number}; the file holds {games}")]
    NoSuchGame {
        /// The game that was asked for, from 1.
        number: usize,
        /// How many there are.
        games: usize,
    },
    /// Its text is unfit.
    #[error("game {number}: {reason}")]
    Unfit {
        /// The game, from 1.
        number: usize,
        /// What is wrong with it.
        reason: String,
    },
    /// It can't be read to its end.
    #[error("game {number}: {cause}")]
    CutOff {
        /// The game, from 1.
        number: usize,
        /// What the library says.
        cause: io::Error,
    },
}

/// The main line of a game of a text; games are counted from 1.
///
/// # Errors
///
/// If there is no such game, or one of its moves can't be read or made.
pub fn read_game(text: &[u8], number: usize) -> Result<Replay, OwnGameError> {
    let unfit = |reason: String| OwnGameError::Unfit { number, reason };
    let mut games = Games::of(text);
    let Some(game) = number.checked_sub(1).and_then(|index| games.nth(index)) else {
        return Err(OwnGameError::NoSuchGame { number, games: Games::of(text).count() });
    };
    let mut scan = Scan::new();
    scan.read(game.movetext).map_err(|fault| unfit(fault.reason.to_string()))?;
    for (token, ply) in scan.moves.iter().zip(1..) {
        let san = token.text(game.movetext);
        if read_san(san).is_none() {
            let san = String::from_utf8_lossy(san);
            return Err(unfit(format!("`{san}` on ply {ply} is not a move in SAN")));
        }
    }
    let end = game.movetext_start + game.movetext.len();
    let read = Reader::new(&text[game.start..end]).read_game(&mut MainLine);
    let replay = read.map_err(|cause| OwnGameError::CutOff { number, cause })?;
    replay.unwrap_or_else(|| Ok(Replay::of(&Chess::default(), &[]))).map_err(unfit)
}

/// Plays the main line; the output of a game that can't be played says why.
struct MainLine;

type Line = Result<Replay, String>;

impl Visitor for MainLine {
    type Tags = Chess;
    type Movetext = Replay;
    type Output = Line;

    fn begin_tags(&mut self) -> ControlFlow<Line, Chess> {
        ControlFlow::Continue(Chess::default())
    }

    fn tag(&mut self, start: &mut Chess, name: &[u8], value: RawTag<'_>) -> ControlFlow<Line> {
        if name != b"FEN" {
            return ControlFlow::Continue(());
        }
        match read_position(&value.decode_utf8_lossy()) {
            Ok(position) => {
                *start = position;
                ControlFlow::Continue(())
            }
            Err(fault) => ControlFlow::Break(Err(FenFault::to_string(&fault))),
        }
    }

    fn begin_movetext(&mut self, start: Chess) -> ControlFlow<Line, Replay> {
        ControlFlow::Continue(Replay::of(&start, &[]))
    }

    fn begin_variation(&mut self, _: &mut Replay) -> ControlFlow<Line, Skip> {
        ControlFlow::Continue(Skip(true))
    }

    fn san(&mut self, replay: &mut Replay, written: SanPlus) -> ControlFlow<Line> {
        let ply = replay.moves.len() + 1;
        match replay.play_san(written.san) {
            Ok(_) => ControlFlow::Continue(()),
            Err(SanError::IllegalSan) => {
                ControlFlow::Break(Err(format!("`{written}` on ply {ply} is not legal")))
            }
            Err(error) => {
                let fault = move_fault(replay.end(), written.san, &written.to_string(), &error);
                ControlFlow::Break(Err(format!("on ply {ply}, {fault}")))
            }
        }
    }

    fn end_game(&mut self, replay: Replay) -> Line {
        Ok(replay)
    }
}
