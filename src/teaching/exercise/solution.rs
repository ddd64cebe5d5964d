//! Everything of an exercise that is not of its game.

use std::sync::Arc;

use shakmaty::{Chess, Move, Position};

use super::candidate::Candidate;
use super::grade::Features;
use super::kind::ExerciseKind;
use super::moves::decisive;
use super::upshot::Upshot;
use super::{Aside, AsideRole, Exercise, Stretch};
use crate::board::balance;

/// What was found out about a position.
pub(super) struct Solution {
    pub(super) lead: Vec<Move>,
    pub(super) start: Chess,
    pub(super) line: Vec<Move>,
    pub(super) comes_to: Upshot,
    pub(super) also: Vec<(Move, Upshot)>,
    pub(super) asides: Vec<Aside>,
}

impl Solution {
    /// The exercise that a candidate makes with it; our searches looked at this many positions for it.
    pub(super) fn of(self, candidate: &Candidate, kind: ExerciseKind, nodes: u64) -> Exercise {
        let features = self.features(candidate, kind);
        let Solution { lead, start, line, comes_to, also, asides } = self;
        Exercise {
            kind,
            hit: Arc::clone(&candidate.hit),
            lead: Stretch { start: candidate.before.clone(), moves: lead },
            start,
            attacker: candidate.attacker(),
            line,
            comes_to,
            works: candidate.class.is_sound,
            also,
            asides,
            level: features.level(),
            features,
            nodes,
            lot: candidate.lot,
        }
    }

    /// The features of the hardest line that a pupil has to see: the solution, or what refutes another
    /// reply to its first move.
    fn features(&self, candidate: &Candidate, kind: ExerciseKind) -> Features {
        let Solution { start, line, asides, .. } = self;
        let fails = kind == ExerciseKind::Judge && !candidate.class.is_sound;
        let right = if fails { start.turn().other() } else { start.turn() };
        let before = balance(&candidate.before, candidate.attacker());
        let lead = if right == candidate.attacker() { before } else { -before };
        let replies = asides.iter().filter(|aside| aside.role == AsideRole::Reply && !fails);
        let lines = replies.map(|aside| [&line[..aside.at], &aside.moves].concat());
        let offered = candidate.hit.offer.cost;
        let of =
            |line: &[Move]| Features::of(start, decisive(start, line, right, lead), right, offered);
        let first = of(line);
        lines.map(|line| of(&line)).fold(first, |hardest, other| {
            if other.difficulty() > hardest.difficulty() { other } else { hardest }
        })
    }
}
