//! The one reply to an offer that does not run into mate.

use shakmaty::{Move, Position};

use super::{LONGEST, ShortCase, ShortSolution};
use crate::board::played;
use crate::teaching::exercise::flaw::Flaw;
use crate::teaching::exercise::upshot::Upshot;

/// With fewer or more replies a position is left out: there is nothing to choose from, or too much.
const REPLIES: std::ops::RangeInclusive<usize> = 3..=8;

impl ShortCase<'_> {
    /// The first reply: all others run into mate within the same number of moves, and that one does not.
    pub(super) fn one_reply(&mut self) -> Result<ShortSolution, Flaw> {
        let offer = self.candidate.offer;
        let start = played(&self.candidate.before, offer);
        let replies: Vec<Move> = start.legal_moves().into_iter().collect();
        if !REPLIES.contains(&replies.len()) {
            return Err(Flaw::Otherwise);
        }
        for moves in 1..=LONGEST {
            let fates = self.fates(&start, &replies, moves)?;
            let [reply] = fates.unmated[..] else { continue };
            let (features, level) = fates.grade(&start, self.candidate.attacker());
            return Ok(ShortSolution {
                lead: vec![offer],
                line: vec![reply],
                comes_to: Upshot::Unmated(moves),
                also: Vec::new(),
                asides: fates.mistakes(),
                features,
                level,
                start,
            });
        }
        Err(Flaw::Several)
    }
}
