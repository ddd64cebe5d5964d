//! What a pupil asks at the board: the other replies to an offer, and to the checks after it, with the line that answers
//! each.

use shakmaty::{Chess, Move, Position};

use super::exercise::Upshot;
use super::game_tree::VariationNote;
use super::whole_game::WholeGame;
use crate::board::{Replay, accepting, played};
use crate::engine::EngineEvaluation;
use crate::hits::Verdict;
use crate::verdict::Mate;

/// As many as a reader keeps in mind: replies to one move, moves at which there are any, and replies of a game.
const MOST_OF_ONE: usize = 4;
const MOST_PLACES: usize = 3;
const MOST: usize = 8;
/// How many plies after the offer such questions are asked.
const FAR: usize = 12;
/// The most plies of an answer.
const LONGEST: usize = 8;

/// A reply that was not played.
#[derive(Clone, Debug)]
pub struct WhatIf {
    /// The index in the game of the move it stands instead of.
    pub at: usize,
    /// The reply.
    pub reply: Move,
    /// The position after it, with the attacker to move.
    pub after: Chess,
}

/// The line that answers a reply, the reply included, and what it comes to for the attacker.
#[derive(Clone, Debug)]
pub struct Answered {
    line: Vec<Move>,
    comes_to: Upshot,
}

impl WhatIf {
    /// The replies of a game to be asked about, in the order of the game: whatever else takes what is offered, and every
    /// other way out of a check.
    #[must_use]
    pub fn of(game: &WholeGame) -> Vec<WhatIf> {
        let replay = &game.tree.replay;
        let first = game.offer + 1;
        let takers = accepting(&replay.positions[game.offer], replay.moves[game.offer]);
        let places = (first..replay.moves.len().min(first + FAR)).step_by(2);
        let asked = places.map(|at| {
            let pos = &replay.positions[at];
            let others = pos.legal_moves().into_iter().filter(|&m| m != replay.moves[at]);
            let is_asked = |m: &Move| pos.is_check() || (at == first && takers.contains(m));
            let is_known = |m: &Move| {
                let mut known = game.tree.branches_at(at);
                known.any(|branch| branch.tree.replay.moves.first() == Some(m))
            };
            let asked = others.filter(|m| is_asked(m) && !is_known(m)).take(MOST_OF_ONE);
            let what_if = |reply: Move| WhatIf { at, reply, after: played(pos, reply) };
            asked.map(what_if).collect::<Vec<WhatIf>>()
        });
        asked.filter(|some| !some.is_empty()).take(MOST_PLACES).flatten().take(MOST).collect()
    }

    /// The answer, if it is a mate that was proved.
    #[must_use]
    pub fn mated(&self, mate: &Mate) -> Answered {
        let comes_to = Verdict::Mates(mate.moves).into();
        Answered { line: self.line(&mate.line), comes_to }
    }

    /// The answer by an engine that looked at the position after the reply.
    #[must_use]
    pub fn judged(&self, said: &EngineEvaluation) -> Answered {
        Answered { line: self.line(&said.line), comes_to: Upshot::Judged(said.points) }
    }

    /// The reply and what follows, as far as it is shown: up to the attacker's last check or capture within reach, or their
    /// first move if there is none.
    fn line(&self, rest: &[Move]) -> Vec<Move> {
        let replay = Replay::of(&self.after, &rest[..rest.len().min(LONGEST)]);
        let shows = |&index: &usize| {
            let m = replay.moves[index];
            m.is_capture() || m.is_promotion() || replay.positions[index + 1].is_check()
        };
        let own = (0..replay.moves.len()).step_by(2);
        let end = own.rev().find(shows).unwrap_or(0);
        [&[self.reply], &rest[..rest.len().min(end + 1)]].concat()
    }

    /// Adds the answer to its game.
    pub fn answer(&self, game: &mut WholeGame, answered: &Answered) {
        game.tree.branch(self.at, &answered.line, VariationNote::WhatIf(answered.comes_to));
    }
}
