//! Which moves of the king run into mate once it, or another man, has taken what was offered.

use shakmaty::{Chess, Move, Position, Role};

use super::{Fates, LONGEST, ShortCase, ShortSolution};
use crate::board::Replay;
use crate::teaching::exercise::flaw::Flaw;
use crate::teaching::exercise::upshot::Upshot;
use crate::teaching::exercise::{Aside, AsideRole};

/// The defender's moves that are looked at, in plies after the offer: those after the attacker's next three moves.
const PLIES: [usize; 3] = [3, 5, 7];

impl ShortCase<'_> {
    /// The first position in which some of the king's moves run into mate and some do not.
    pub(super) fn kings_moves(&mut self) -> Result<ShortSolution, Flaw> {
        let course = self.course()?;
        for at in PLIES {
            let Some(pos) = course.positions.get(at) else { break };
            let moves = kings_moves(pos);
            if moves.len() < 2 {
                continue;
            }
            for within in 1..=LONGEST {
                let fates = self.fates(pos, &moves, within)?;
                if !fates.mated.is_empty() && !fates.unmated.is_empty() {
                    return self.fatal(&course, at, &fates);
                }
            }
        }
        Err(Flaw::Otherwise)
    }

    fn fatal(&self, course: &Replay, at: usize, fates: &Fates) -> Result<ShortSolution, Flaw> {
        let start = course.positions[at].clone();
        let mut mistakes = fates.mistakes();
        let first = mistakes.remove(0);
        let comes_to = Upshot::Unmated(fates.within);
        let unmated = fates.unmated.iter();
        let better =
            unmated.map(|&m| Aside { at: 0, moves: vec![m], comes_to, role: AsideRole::Better });
        let (features, level) = fates.grade(&start, self.candidate.attacker());
        Ok(ShortSolution {
            lead: course.moves[..at].to_vec(),
            line: first.moves,
            comes_to: first.comes_to,
            also: Vec::new(),
            asides: mistakes.into_iter().chain(better).collect(),
            features,
            level,
            start,
        })
    }
}

/// The king's moves; none where it may castle: whether that is one of them is not what is asked.
fn kings_moves(pos: &Chess) -> Vec<Move> {
    let moves: Vec<Move> =
        pos.legal_moves().into_iter().filter(|m| m.role() == Role::King).collect();
    if moves.iter().any(|m| m.is_castle()) { Vec::new() } else { moves }
}
