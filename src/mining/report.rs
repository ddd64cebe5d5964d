//! The report of a block.

use super::base::{BaseKind, BaseRates};
use super::candidate::result_of;
use super::duplicates::{Identity, Remembered};
use super::game_id::MovesHash;
use super::game_info::{GameInfo, GameText};
use super::hit::Hit;
use super::stages::Times;
use crate::collection::{GameResult, RawGame, Reject, Scan, band, plies_at_a_glance};

/// The report of a block. Game numbers are counted from the block's start until the pipeline, which
/// knows how many games came before, calls [`BlockReport::renumber`].
#[derive(Clone, PartialEq, Debug, Default)]
pub struct BlockReport {
    /// The games it holds.
    pub games: u64,
    /// The bytes of their text.
    pub bytes: u64,
    /// Those that the selection left out.
    pub left_out: u64,
    /// Those that passed the text gate.
    pub passed_text: u64,
    /// Those that passed the token gate too and went to the board.
    pub replayed: u64,
    /// The games with hits, in order.
    pub mined: Vec<MinedGame>,
    /// The games that were not mined, in order.
    pub rejects: Vec<Reject>,
    /// How the games that were mined ended.
    pub base: BaseRates,
    /// How long the stages took that were measured.
    pub times: Times,
}

/// A game with its hits.
#[derive(Clone, PartialEq, Debug)]
pub struct MinedGame {
    /// The game.
    pub info: GameInfo,
    /// Its moves, to know it again.
    pub moves: MovesHash,
    /// Its whole text.
    pub text: GameText,
    /// Its hits, by ply and query; never empty.
    pub hits: Vec<Hit>,
}

impl MinedGame {
    /// What tells whether it was seen before.
    #[must_use]
    pub fn remembered(&self) -> Remembered {
        Remembered { moves: self.moves, identity: Identity::of(&self.info) }
    }
}

impl BlockReport {
    /// Counts games from the start of the source instead of that of the block.
    pub fn renumber(&mut self, games_before: u64) {
        for game in &mut self.mined {
            game.info.number.0 += games_before;
        }
        for reject in &mut self.rejects {
            reject.game.0 += games_before;
        }
    }

    /// Counts a game for the base rates, at a glance where that is enough.
    pub(super) fn count_base(&mut self, game: &RawGame<'_>, spare: &mut Scan) {
        let glance = plies_at_a_glance(game.movetext).filter(|_| game.tags.fen().is_empty());
        let (result, plies) = glance.unwrap_or_else(|| {
            // A text that is unfit further on still has the plies before that.
            let _ = spare.read(game.movetext);
            (spare.result, spare.moves.len())
        });
        self.count(game, result_of(game, result), plies);
    }

    /// Counts a game that came to this.
    pub(super) fn count(&mut self, game: &RawGame<'_>, result: GameResult, plies: usize) {
        let band = band(game.tags.white_elo(), game.tags.black_elo());
        self.base.add(BaseKind { year: game.tags.year(), band, result }, plies);
    }
}
