//! Who attacks the square of an offer, and who guards it.

use shakmaty::{Bitboard, Color, Position};

use super::{ShortCase, ShortSolution};
use crate::board::destination;
use crate::teaching::exercise::flaw::Flaw;
use crate::teaching::exercise::grade::{Features, Level};
use crate::teaching::exercise::upshot::Upshot;

/// Fewer men than this are no question.
const FEWEST: usize = 3;
/// With more men an exercise is of the second level.
const FEW: usize = 4;

impl ShortCase<'_> {
    /// The men that bear upon the square of the offer just before it is made, by the rules: those behind others do
    /// not, pinned ones do.
    pub(super) fn count(&mut self) -> Result<ShortSolution, Flaw> {
        self.nodes = 1;
        let start = self.candidate.before.clone();
        let square = destination(self.candidate.offer);
        let attacker = self.candidate.attacker();
        let board = start.board();
        let bearing =
            |side: Color| -> Bitboard { board.attacks_to(square, side, board.occupied()) };
        let (attackers, guards) = (bearing(attacker), bearing(attacker.other()));
        let looked_at = attackers.count() + guards.count();
        if attackers.is_empty() || guards.is_empty() || looked_at < FEWEST {
            return Err(Flaw::Plain);
        }
        let none = Features::of(&start, &[], attacker, 0);
        Ok(ShortSolution {
            lead: Vec::new(),
            line: Vec::new(),
            comes_to: Upshot::Counted { square, attackers, guards },
            also: Vec::new(),
            asides: Vec::new(),
            features: Features { looked_at, tempting: 0, ..none },
            level: Level(if looked_at > FEW { 2 } else { 1 }),
            start,
        })
    }
}
