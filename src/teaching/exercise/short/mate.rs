//! The end of an attack: mate in one or two, in the game or in the proved best line.

use shakmaty::{Chess, Move, Position};

use super::{ShortCase, ShortSolution};
use crate::board::{Replay, played};
use crate::hits::Verdict;
use crate::teaching::exercise::flaw::Flaw;
use crate::teaching::exercise::grade::Features;
use crate::teaching::exercise::short_fit::ends_in_mate;
use crate::teaching::exercise::upshot::Upshot;
use crate::teaching::exercise::{Aside, AsideRole};

/// With more correct first moves a position is left out.
const MOST_KEYS: usize = 3;
/// At most this many other replies are shown.
const MOST_REPLIES: usize = 3;

impl ShortCase<'_> {
    /// The last move or the last two of the attacker, after the offer.
    pub(super) fn last_moves(&mut self) -> Result<ShortSolution, Flaw> {
        let course = self.mating_course()?;
        let last = course.moves.len() - 1;
        // So that a sheet has both.
        let order = if self.candidate.lot.is_multiple_of(2) { [1, 2] } else { [2, 1] };
        let mut flaw = Flaw::Otherwise;
        for moves in order {
            let Some(at) = last.checked_sub(2 * usize::from(moves) - 2).filter(|&at| at > 0) else {
                continue;
            };
            match self.mate_at(&course, at, moves) {
                Ok(found) => return Ok(found),
                Err(other) => flaw = other,
            }
        }
        Err(flaw)
    }

    /// The game if the attacker mates in it, or else the proved best line.
    fn mating_course(&self) -> Result<Replay, Flaw> {
        let hit = &self.candidate.hit;
        let best = hit.verdict.as_ref().map(|record| &*record.best_line).unwrap_or_default();
        let course = if ends_in_mate(&hit.offer.line) {
            self.course()?
        } else {
            let line = format!("{} {best}", hit.offer.san);
            Replay::read(&self.candidate.before, &line).map_err(|_| Flaw::Otherwise)?
        };
        let is_by_attacker = course.moves.len() % 2 == 1;
        let mates = is_by_attacker && course.end().is_checkmate();
        mates.then_some(course).ok_or(Flaw::Otherwise)
    }

    /// The mate in this many moves in a position of the course.
    fn mate_at(&mut self, course: &Replay, at: usize, moves: u8) -> Result<ShortSolution, Flaw> {
        let start = &course.positions[at];
        let keys = self.keys(start, moves)?;
        if moves > 1 && !self.keys(start, 1)?.is_empty() {
            return Err(Flaw::Better);
        }
        let was_played = course.moves[at];
        let key = keys.iter().copied().find(|&m| m == was_played).or(keys.first().copied());
        let key = key.ok_or(Flaw::Otherwise)?;
        if keys.len() > MOST_KEYS {
            return Err(Flaw::Several);
        }
        let comes_to = Upshot::Found(Verdict::Mates(moves));
        let others = keys.iter().copied().filter(|&m| m != key).map(|m| (m, comes_to));
        let (line, asides) = self.mated_out(start, key, course.moves.get(at + 1).copied())?;
        let features = Features::of(start, &line, start.turn(), 0);
        Ok(ShortSolution {
            lead: course.moves[..at].to_vec(),
            start: start.clone(),
            line,
            comes_to,
            also: others.collect(),
            asides,
            level: features.level(),
            features,
        })
    }

    fn keys(&mut self, pos: &Chess, moves: u8) -> Result<Vec<Move>, Flaw> {
        self.with_budget(|prover, budget| prover.keys(pos, moves, budget)).ok_or(Flaw::Open)
    }

    /// The key and what follows up to the mate, the reply of the game first, and the other replies.
    fn mated_out(
        &mut self,
        start: &Chess,
        key: Move,
        reply: Option<Move>,
    ) -> Result<(Vec<Move>, Vec<Aside>), Flaw> {
        let after = played(start, key);
        let mut replies: Vec<Move> = after.legal_moves().into_iter().collect();
        // Where another key was played, its reply may not be one here.
        replies.sort_by_key(|&m| Some(m) != reply);
        let mut lines = Vec::new();
        for &reply in replies.iter().take(1 + MOST_REPLIES) {
            let mates = self.keys(&played(&after, reply), 1)?;
            lines.push(vec![reply, *mates.first().ok_or(Flaw::Open)?]);
        }
        let mut lines = lines.into_iter();
        let line = [&[key], &lines.next().unwrap_or_default()[..]].concat();
        let comes_to = Upshot::Found(Verdict::Mates(1));
        let asides = lines.map(|moves| Aside { at: 1, moves, comes_to, role: AsideRole::Reply });
        Ok((line, asides.collect()))
    }
}
