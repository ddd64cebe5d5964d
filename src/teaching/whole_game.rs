//! A game with an offer, whole: from its first move to its last, and what best play would have been where the game left
//! it.

use shakmaty::{Chess, Move};

use super::specimen::Specimen;
use crate::board::{FenFault, Replay, legal_move, read_position};
use crate::hits::Sound;
use crate::mining::GameText;

/// A game with an offer, whole.
#[derive(Clone, Debug)]
pub struct WholeGame<'s> {
    /// The offer.
    pub specimen: &'s Specimen,
    /// Whether it starts from a position of its own.
    pub is_set_up: bool,
    /// All its moves.
    pub replay: Replay,
    /// The index of the offer among them.
    pub offer: usize,
    /// Where the game left the best play after the offer, if that is known, and how that goes on.
    pub missed: Option<MissedPlay>,
}

/// Best play that a game left.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct MissedPlay {
    /// The index of the first move of the game that is another.
    pub index: usize,
    /// The moves instead, from that one on.
    pub moves: Vec<Move>,
}

/// Why the text of a game is not that of an offer.
#[derive(thiserror::Error, Clone, PartialEq, Eq, Debug)]
pub enum WholeGameError {
    /// The position is not one.
    #[error("it does not start from a position: {0}")]
    Position(FenFault),
    /// A move can't be made.
    #[error("`{0}` can't be played there")]
    Move(String),
    /// The offer is not among its moves.
    #[error("the offer is not among its moves")]
    NoOffer,
}

impl WholeGame<'_> {
    /// The whole game of an offer.
    ///
    /// # Errors
    ///
    /// If the text is not that of a game with this offer.
    pub fn of<'s>(
        specimen: &'s Specimen,
        text: &GameText,
    ) -> Result<WholeGame<'s>, WholeGameError> {
        let start = match &*text.start {
            "" => Chess::default(),
            fen => read_position(fen).map_err(WholeGameError::Position)?,
        };
        let replay = Replay::read(&start, &text.moves)
            .map_err(|san| WholeGameError::Move(san.to_owned()))?;
        let offer = specimen.hit.offer.ply - 1;
        let is_there = offer < replay.moves.len()
            && legal_move(&replay.positions[offer], &specimen.hit.offer.san)
                == Some(replay.moves[offer]);
        if !is_there {
            return Err(WholeGameError::NoOffer);
        }
        // Where nobody knows what the offer is worth, nobody knows what best play is.
        let verdict = specimen.hit.verdict.as_ref();
        let is_known = verdict.is_some_and(|verdict| verdict.sound() != Sound::Open);
        let missed = is_known.then(|| missed(specimen, &replay, offer + 1)).flatten();
        Ok(WholeGame { specimen, is_set_up: !text.start.is_empty(), replay, offer, missed })
    }
}

/// Where a game leaves best play, of which it has the first reply at an index.
fn missed(specimen: &Specimen, replay: &Replay, reply: usize) -> Option<MissedPlay> {
    let mut best = Replay::of(replay.positions.get(reply)?, &[]);
    for step in &specimen.best_play {
        best.play(legal_move(best.end(), &step.san)?);
    }
    let played = &replay.moves[reply..];
    let same = best.moves.iter().zip(played).take_while(|(best, played)| best == played).count();
    // Where the game ends before best play does, nothing was missed.
    let is_left = same < best.moves.len() && same < played.len();
    is_left.then(|| MissedPlay { index: reply + same, moves: best.moves[same..].to_vec() })
}
