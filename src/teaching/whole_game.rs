//! A game with an offer, whole: from its first move to its last, and what best play would have been where the game left
//! it.

use std::collections::BTreeSet;

use shakmaty::{Chess, Move};

use super::game_tree::{GameTree, VariationNote};
use super::specimen::Specimen;
use crate::board::{FenFault, Replay, legal_move, read_position};
use crate::hits::{Runs, Sound};
use crate::mining::GameText;
use crate::tables::TableTrouble;

/// A game with an offer, whole.
#[derive(Clone, Debug)]
pub struct WholeGame {
    /// The offer.
    pub specimen: Specimen,
    /// Whether it starts from a position of its own.
    pub is_set_up: bool,
    /// All its moves; where the game left the best play after the offer, if that is known, that branches off.
    pub tree: GameTree,
    /// The index of the offer among them.
    pub offer: usize,
}

/// Why the text of a game is not that of an offer.
#[derive(thiserror::Error, Clone, PartialEq, Eq, Debug)]
pub enum WholeGameError {
    /// There is no text.
    #[error("no run holds this game")]
    NoGame,
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

impl WholeGame {
    /// The whole games of some offers, which the runs keep.
    ///
    /// # Errors
    ///
    /// If a table can't be read, or does not hold the game of an offer.
    pub fn all(specimens: Vec<Specimen>, runs: &Runs) -> Result<Vec<WholeGame>, TableTrouble> {
        let ids: BTreeSet<_> = specimens.iter().map(|specimen| specimen.hit.game.id).collect();
        let texts = runs.games(&ids)?;
        let whole = |specimen: Specimen| {
            let id = specimen.hit.game.id;
            let text = texts.get(&id).ok_or(WholeGameError::NoGame);
            let game = text.and_then(|text| WholeGame::of(specimen, text));
            game.map_err(|error| runs.trouble_with_game(id, &error))
        };
        specimens.into_iter().map(whole).collect()
    }

    /// The whole game of an offer.
    ///
    /// # Errors
    ///
    /// If the text is not that of a game with this offer.
    pub fn of(specimen: Specimen, text: &GameText) -> Result<WholeGame, WholeGameError> {
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
        let missed = is_known.then(|| missed(&specimen, &replay, offer + 1)).flatten();
        let mut tree = GameTree::of(replay);
        if let Some((at, moves)) = missed {
            tree.branch(at, &moves, VariationNote::BestPlay);
        }
        Ok(WholeGame { specimen, is_set_up: !text.start.is_empty(), tree, offer })
    }
}

/// Where a game leaves best play, of which it has the first reply at an index, and how that goes on.
fn missed(specimen: &Specimen, replay: &Replay, reply: usize) -> Option<(usize, Vec<Move>)> {
    let mut best = Replay::of(replay.positions.get(reply)?, &[]);
    for step in &specimen.best_play {
        best.play(legal_move(best.end(), &step.san)?);
    }
    let played = &replay.moves[reply..];
    let same = best.moves.iter().zip(played).take_while(|(best, played)| best == played).count();
    // Where the game ends before best play does, nothing was missed.
    let is_left = same < best.moves.len() && same < played.len();
    is_left.then(|| (reply + same, best.moves[same..].to_vec()))
}
