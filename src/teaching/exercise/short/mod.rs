//! Short exercises, for beginners, from the same offers: how an attack ends, which replies run into mate, whether a
//! check is mate, who guards a square.
//!
//! Invariant: nothing here is counted or judged. A mate is proved against every defence, and that there is none within
//! the stated number of moves by trying everything; all else are the rules of chess.

mod check;
mod count;
mod king;
mod mate;
mod reply;

use std::sync::Arc;

use shakmaty::{Chess, Color, Move};

use super::candidate::Candidate;
use super::flaw::Flaw;
use super::grade::{Features, Level};
use super::kind::ExerciseKind;
use super::upshot::Upshot;
use super::{Aside, AsideRole, Exercise, Stretch};
use crate::board::Replay;
use crate::hits::Verdict;
use crate::verdict::{Budget, MateAnswer, Prover, Width};

/// What is harder is no short exercise.
const HARDEST: Level = Level(2);
/// Replies are looked at for mates of this many moves.
const LONGEST: u8 = 3;

/// A candidate of which a short exercise is to be made.
pub(super) struct ShortCase<'a> {
    candidate: &'a Candidate,
    prover: &'a mut Prover,
    /// How many positions a question may look at.
    most_nodes: u64,
    nodes: u64,
}

/// What was found for a short exercise.
struct ShortSolution {
    /// The moves from the position before the offer to the one that is shown.
    lead: Vec<Move>,
    start: Chess,
    line: Vec<Move>,
    comes_to: Upshot,
    also: Vec<(Move, Upshot)>,
    asides: Vec<Aside>,
    features: Features,
    level: Level,
}

/// The moves of a position by what becomes of them within some moves.
struct Fates {
    /// Within how many moves.
    within: u8,
    /// Those that run into mate, each with the line that mates and its length.
    mated: Vec<(Vec<Move>, u8)>,
    /// The others.
    unmated: Vec<Move>,
}

impl<'a> ShortCase<'a> {
    /// A case whose mate searches may each look at this many positions.
    pub(super) fn new(
        candidate: &'a Candidate,
        prover: &'a mut Prover,
        most_nodes: u64,
    ) -> ShortCase<'a> {
        ShortCase { candidate, prover, most_nodes, nodes: 0 }
    }

    /// The exercise of a short kind.
    ///
    /// # Errors
    ///
    /// Why there is none.
    pub(super) fn exercise(&mut self, kind: ExerciseKind) -> Result<Exercise, Flaw> {
        let found = match kind {
            ExerciseKind::Mate => self.last_moves()?,
            ExerciseKind::Reply => self.one_reply()?,
            ExerciseKind::King => self.kings_moves()?,
            ExerciseKind::Check => self.check()?,
            ExerciseKind::Count => self.count()?,
            _ => return Err(Flaw::Otherwise),
        };
        if found.level > HARDEST { Err(Flaw::Level) } else { Ok(self.of(found, kind)) }
    }

    fn of(&self, found: ShortSolution, kind: ExerciseKind) -> Exercise {
        let candidate = self.candidate;
        Exercise {
            kind,
            hit: Arc::clone(&candidate.hit),
            lead: Stretch { start: candidate.before.clone(), moves: found.lead },
            start: found.start,
            attacker: candidate.attacker(),
            line: found.line,
            comes_to: found.comes_to,
            works: candidate.class.is_sound,
            also: found.also,
            asides: found.asides,
            features: found.features,
            level: found.level,
            nodes: self.nodes,
            lot: candidate.lot,
        }
    }

    /// The game from the offer on.
    fn course(&self) -> Result<Replay, Flaw> {
        let line = &self.candidate.hit.offer.line;
        Replay::read(&self.candidate.before, line).map_err(|_| Flaw::Otherwise)
    }

    fn with_budget<T>(&mut self, ask: impl FnOnce(&mut Prover, &mut Budget) -> T) -> T {
        let mut budget = Budget::of(self.most_nodes);
        let answer = ask(self.prover, &mut budget);
        // A position that is mate on the board was looked at, too.
        self.nodes += budget.used().max(1);
        answer
    }

    /// What becomes of some moves within `moves` moves.
    fn fates(&mut self, pos: &Chess, tried: &[Move], moves: u8) -> Result<Fates, Flaw> {
        let mut fates = Fates { within: moves, mated: Vec::new(), unmated: Vec::new() };
        for &m in tried {
            let after = crate::board::played(pos, m);
            let answer =
                self.with_budget(|prover, budget| prover.within(&after, moves, Width::All, budget));
            match answer {
                MateAnswer::Proved => fates.mated.push(self.mated(&after, m, moves)?),
                MateAnswer::Disproved => fates.unmated.push(m),
                MateAnswer::Unknown => return Err(Flaw::Open),
            }
        }
        Ok(fates)
    }

    /// A move, the line that mates after it, and in how many moves.
    fn mated(&mut self, after: &Chess, m: Move, moves: u8) -> Result<(Vec<Move>, u8), Flaw> {
        let mate = self.with_budget(|prover, budget| prover.mate(after, moves, budget));
        let mate = mate.filter(|mate| mate.is_shortest).ok_or(Flaw::Open)?;
        let line = [&[m], &mate.line[..]].concat();
        Ok((line, mate.moves))
    }
}

impl Fates {
    /// The mistakes, each with the mate that it runs into.
    fn mistakes(&self) -> Vec<Aside> {
        let mistakes = self.mated.iter().map(|(line, moves)| Aside {
            at: 0,
            moves: line.clone(),
            comes_to: Upshot::Found(Verdict::Mates(*moves)),
            role: AsideRole::Mistake,
        });
        mistakes.collect()
    }

    /// The features and the level of the hardest of these mates, where a pupil looks at this many moves.
    fn grade(&self, pos: &Chess, attacker: Color) -> (Features, Level) {
        let each = self.mated.iter().filter_map(|(line, _)| {
            let (first, rest) = line.split_first()?;
            Some(Features::of(&crate::board::played(pos, *first), rest, attacker, 0))
        });
        let hardest = each.max_by_key(Features::difficulty);
        let hardest = hardest.unwrap_or_else(|| Features::of(pos, &[], attacker, 0));
        let looked_at = self.mated.len() + self.unmated.len();
        let features = Features { looked_at, moves: self.within.into(), ..hardest };
        (features, hardest.level())
    }
}
