//! A game that a teacher brings, read whole from its PGN.
//!
//! The few games that are shown are read with a library that knows comments and variations. It passes over
//! moves that it can't read; so the movetext is scanned first, and a game with such a move is an error.

use std::io;
use std::ops::ControlFlow;

use pgn_reader::{Nag, RawComment, Reader, SanPlus, Skip, Visitor};
use shakmaty::san::SanError;
use shakmaty::{Chess, Color};

use super::game_tree::{GameTree, Note, Variation};
use crate::board::{Replay, move_fault, read_position, read_san};
use crate::collection::{ByteOffset, GameNumber, GameResult, Games, RawGame, Scan};
use crate::mining::GameInfo;

/// A game with the comments, glyphs and variations of its file.
#[derive(Clone, Debug)]
pub struct OwnGame {
    /// What its tags say.
    pub info: GameInfo,
    /// Its moves.
    pub tree: GameTree,
    /// What is said before the first of them.
    pub intro: Option<String>,
    /// How many moves were made before the position with which it opens.
    pub opened_at: usize,
    /// The side that it is seen from.
    pub bottom: Color,
}

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

/// A game of a text, whole; games are counted from 1.
///
/// # Errors
///
/// If there is no such game, or one of its moves can't be read or made, in its main line or in a variation.
pub fn read_game(text: &[u8], number: usize) -> Result<OwnGame, OwnGameError> {
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
    let start = start(&game).map_err(unfit)?;
    let end = game.movetext_start + game.movetext.len();
    let mut reading = OwnGameReader { start: start.clone() };
    let read = Reader::new(&text[game.start..end]).read_game(&mut reading);
    let read = read.map_err(|cause| OwnGameError::CutOff { number, cause })?;
    let (tree, intro) = match read {
        Some(read) => read.map_err(unfit)?,
        None => (GameTree::of_line(&start, &[]), None),
    };
    let info = info(&game, number, tree.replay.moves.len());
    Ok(OwnGame { info, tree, intro, opened_at: 0, bottom: Color::White })
}

fn start(game: &RawGame<'_>) -> Result<Chess, String> {
    match &*game.tags.text_of(b"FEN") {
        "" => Ok(Chess::default()),
        fen => read_position(fen).map_err(|fault| fault.to_string()),
    }
}

fn info(game: &RawGame<'_>, number: usize, plies: usize) -> GameInfo {
    let result = game.tags.result().unwrap_or(GameResult::Open);
    let (number, offset) = (GameNumber(number as u64), ByteOffset(game.start as u64));
    GameInfo::new(number, offset, &game.tags, result, plies, [])
}

/// Plays a game with its variations; the output of one that can't be played says why.
struct OwnGameReader {
    start: Chess,
}

/// A game that is read, or why it can't be.
type Read = Result<(GameTree, Option<String>), String>;

/// The main line and the variations that are open.
struct Lines {
    main: GameTree,
    /// Each with the index of the move that it stands instead of.
    open: Vec<(usize, GameTree)>,
    intro: Option<String>,
    /// A comment before the first move of a variation.
    lead: Option<String>,
}

impl Lines {
    fn innermost(&mut self) -> &mut GameTree {
        match self.open.last_mut() {
            Some((_, tree)) => tree,
            None => &mut self.main,
        }
    }

    /// What is said at the last move; nothing before the first.
    fn note(&mut self) -> Option<&mut Note> {
        let tree = self.innermost();
        let last = tree.replay.moves.len().checked_sub(1)?;
        Some(tree.notes.entry(last).or_default())
    }

    fn say(&mut self, words: &str) {
        let is_in_variation = !self.open.is_empty();
        if let Some(note) = self.note() {
            let before = note.comment.take().map(|comment| comment + " ").unwrap_or_default();
            note.comment = Some(before + words);
            return;
        }
        let place = if is_in_variation { &mut self.lead } else { &mut self.intro };
        let before = place.take().map(|said| said + " ").unwrap_or_default();
        *place = Some(before + words);
    }
}

impl Visitor for OwnGameReader {
    type Tags = ();
    type Movetext = Lines;
    type Output = Read;

    fn begin_tags(&mut self) -> ControlFlow<Read, ()> {
        ControlFlow::Continue(())
    }

    fn begin_movetext(&mut self, (): ()) -> ControlFlow<Read, Lines> {
        let main = GameTree::of_line(&self.start, &[]);
        ControlFlow::Continue(Lines { main, open: Vec::new(), intro: None, lead: None })
    }

    fn begin_variation(&mut self, lines: &mut Lines) -> ControlFlow<Read, Skip> {
        let before = lines.innermost();
        let Some(at) = before.replay.moves.len().checked_sub(1) else {
            return ControlFlow::Continue(Skip(true));
        };
        let tree = GameTree::of_line(&before.replay.positions[at], &[]);
        lines.open.push((at, tree));
        ControlFlow::Continue(Skip(false))
    }

    fn end_variation(&mut self, lines: &mut Lines) -> ControlFlow<Read> {
        if let Some((at, tree)) = lines.open.pop()
            && !tree.replay.moves.is_empty()
        {
            lines.innermost().branches.push(Variation { at, tree, known: None });
        }
        ControlFlow::Continue(())
    }

    fn san(&mut self, lines: &mut Lines, written: SanPlus) -> ControlFlow<Read> {
        let start = self.start.clone();
        let is_in_variation = !lines.open.is_empty();
        let replay: &mut Replay = &mut lines.innermost().replay;
        if let Err(error) = replay.play_san(written.san) {
            let ply = ply_of(&start, replay);
            let place = if is_in_variation { " in a variation" } else { "" };
            return ControlFlow::Break(Err(match error {
                SanError::IllegalSan => format!("`{written}` on ply {ply}{place} is not legal"),
                error => {
                    let fault = move_fault(replay.end(), written.san, &written.to_string(), &error);
                    format!("on ply {ply}{place}, {fault}")
                }
            }));
        }
        if let Some(lead) = lines.lead.take() {
            lines.say(&lead);
        }
        ControlFlow::Continue(())
    }

    fn nag(&mut self, lines: &mut Lines, nag: Nag) -> ControlFlow<Read> {
        if let Some(note) = lines.note() {
            note.glyphs.push(nag.0);
        }
        ControlFlow::Continue(())
    }

    fn comment(&mut self, lines: &mut Lines, comment: RawComment<'_>) -> ControlFlow<Read> {
        let words = prose(&String::from_utf8_lossy(comment.as_bytes()));
        if !words.is_empty() {
            lines.say(&words);
        }
        ControlFlow::Continue(())
    }

    fn end_game(&mut self, lines: Lines) -> Read {
        Ok((lines.main, lines.intro))
    }
}

/// The ply that comes after a line, counted from the start of its game.
fn ply_of(start: &Chess, line: &Replay) -> usize {
    use shakmaty::Position;
    let plies =
        |pos: &Chess| 2 * pos.fullmoves().get() as usize + usize::from(pos.turn() == Color::Black);
    plies(line.end()) + 1 - plies(start)
}

/// A comment without the commands in it, such as `[%clk 0:01:30]`, and with single blanks.
fn prose(comment: &str) -> String {
    let mut prose = String::new();
    let mut rest = comment;
    while let Some((before, after)) = rest.split_once("[%") {
        prose += before;
        rest = after.split_once(']').map_or("", |(_, after)| after);
    }
    prose += rest;
    prose.split_whitespace().collect::<Vec<_>>().join(" ")
}
