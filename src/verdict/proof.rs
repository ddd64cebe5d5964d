//! The mate search: is there a forced mate within N moves?
//!
//! Depth-first proof-number search (Allis 1994; in its depth-first form Nagai 2002). It counts down the
//! attacker's moves, so it always ends, a mate found within N moves is one within N, and a refutation
//! never rests on a repeated position: there is no path to remember.
//!
//! Each position has two numbers, seen from the side to move: the work to show that it reaches its aim
//! (the attacker: mate within the moves left; the defender: to escape it), and the work to show that it
//! fails. The search always follows the move that promises the least work.

use shakmaty::{Move, Position};

use super::budget::{Budget, Spent};
use super::checks::{CheckMap, is_mate};
use super::key::PositionKey;
use super::last_moves::{last_defence, mate_at_once};
use super::proof_table::{Known, NEVER, Numbers};
use super::question::{MateNode, MateSide, Width};
use super::table::Table;
use crate::board::played;

/// A move that the search may follow, with the numbers of the position it leads to.
#[derive(Clone, Copy)]
struct ProofBranch {
    m: Move,
    /// Its place among the legal moves.
    place: usize,
    numbers: Numbers,
}

/// So many replies a move that gives no check is taken to leave before it is looked at.
const QUIET_REPLIES: u32 = 30;
/// The same of one that threatens mate.
const THREAT_REPLIES: u32 = 6;
/// The greatest mate, in moves, that can be asked for.
pub(super) const MOST_MOVES: u8 = 60;

/// One search, with what it borrows.
pub(super) struct ProofSearch<'a> {
    table: &'a mut Table<Known>,
    budget: &'a mut Budget,
    width: Width,
    /// The branches of all positions on the path, one after the other.
    branches: Vec<ProofBranch>,
    /// The reply that last refuted an attack, by the number of moves left.
    refutations: [Option<Move>; MOST_MOVES as usize + 1],
}

impl<'a> ProofSearch<'a> {
    pub(super) fn new(
        table: &'a mut Table<Known>,
        budget: &'a mut Budget,
        width: Width,
    ) -> ProofSearch<'a> {
        let refutations = [None; MOST_MOVES as usize + 1];
        ProofSearch { table, budget, width, branches: Vec::new(), refutations }
    }

    /// Whether the attacker mates within the node's moves.
    pub(super) fn is_mate_within(&mut self, node: &MateNode) -> Result<bool, Spent> {
        let numbers = self.decide(node)?;
        Ok((numbers.reach == 0) == (node.side == MateSide::Attacker))
    }

    /// The first move of a proved mate within the node's moves, the attacker being to move; `None` if
    /// there is no such mate.
    pub(super) fn first_move(&mut self, node: &MateNode) -> Result<Option<Move>, Spent> {
        if node.moves == 1 {
            return mate_at_once(self.budget, &node.pos);
        }
        if !self.is_mate_within(node)? {
            return Ok(None);
        }
        let known = self.table.get(self.table_key(node.side, node.key));
        let place = known.map_or(usize::MAX, |known| usize::from(known.first_move));
        Ok(node.pos.legal_moves().get(place).copied())
    }

    fn decide(&mut self, node: &MateNode) -> Result<Numbers, Spent> {
        self.branches.clear();
        let numbers = self.first_look(node)?;
        if numbers.is_decided() {
            return Ok(numbers);
        }
        self.search(node, Numbers { reach: NEVER, fail: NEVER })
    }

    /// Searches until the node is decided or one of its numbers reaches its limit.
    fn search(&mut self, node: &MateNode, limits: Numbers) -> Result<Numbers, Spent> {
        self.budget.spend()?;
        match (node.side, node.moves) {
            (MateSide::Attacker, 0) => Ok(Numbers::FAILED),
            (MateSide::Attacker, 1) => {
                Ok(Numbers::reached_if(mate_at_once(self.budget, &node.pos)?.is_some()))
            }
            (MateSide::Attacker, 2) => self.mate_in_two(node),
            (MateSide::Defender, 0) => Ok(Numbers::reached_if(!is_mate(&node.pos))),
            (MateSide::Defender, 1) => {
                let refutation = &mut self.refutations[1];
                Ok(Numbers::reached_if(last_defence(self.budget, refutation, &node.pos)?))
            }
            _ => self.follow_best(node, limits),
        }
    }

    /// Decides a mate within two moves outright: so close to the end that costs less than bookkeeping.
    fn mate_in_two(&mut self, node: &MateNode) -> Result<Numbers, Spent> {
        let work_before = self.budget.used();
        let map = CheckMap::of(&node.pos);
        let moves = node.pos.legal_moves();
        let checks = moves.iter().enumerate().filter(|(_, m)| map.may_check(**m));
        let others = moves.iter().enumerate().filter(|(_, m)| !map.may_check(**m));
        let others = others.filter(|_| self.width != Width::Checks);
        let mut first_move = None;
        for (place, &m) in checks.chain(others) {
            self.budget.spend()?;
            let after = played(&node.pos, m);
            let is_allowed = self.width != Width::Checks || after.is_check();
            if is_allowed && !last_defence(self.budget, &mut self.refutations[1], &after)? {
                first_move = Some(place);
                break;
            }
        }
        let numbers = Numbers::reached_if(first_move.is_some());
        self.remember(node, numbers, first_move, self.budget.used() - work_before);
        Ok(numbers)
    }

    fn follow_best(&mut self, node: &MateNode, limits: Numbers) -> Result<Numbers, Spent> {
        let work_before = self.budget.used();
        let first = self.branches.len();
        self.branch_out(node)?;
        if self.branches.len() == first && node.side == MateSide::Defender {
            return Ok(Numbers::reached_if(!node.pos.is_check()));
        }
        let (numbers, best) = loop {
            let (numbers, best, limits_below) = self.weigh(first, limits);
            if numbers.reach >= limits.reach || numbers.fail >= limits.fail {
                break (numbers, best);
            }
            let child = node.child(self.branches[best].m);
            self.branches[best].numbers = self.search(&child, limits_below)?;
        };
        let decisive = self.branches[first..].get(best - first).copied();
        self.branches.truncate(first);
        if let (MateSide::Defender, 0, Some(branch)) = (node.side, numbers.reach, decisive) {
            self.refutations[usize::from(node.moves)] = Some(branch.m);
        }
        let place = decisive.map(|branch| branch.place);
        self.remember(node, numbers, place, self.budget.used() - work_before);
        Ok(numbers)
    }

    /// Lists the moves of a node with the first numbers of the positions they lead to.
    fn branch_out(&mut self, node: &MateNode) -> Result<(), Spent> {
        match node.side {
            MateSide::Attacker => self.list_attacks(node),
            MateSide::Defender => {
                self.list_defences(node);
                Ok(())
            }
        }
    }

    fn list_attacks(&mut self, node: &MateNode) -> Result<(), Spent> {
        let map = CheckMap::of(&node.pos);
        for (place, &m) in node.pos.legal_moves().iter().enumerate() {
            let numbers = match self.width {
                _ if map.may_check(m) => self.look_at_check(node, m)?,
                Width::Checks => None,
                Width::Threats => self.look_at_threat(node, m)?,
                Width::All => Some(self.look_at_quiet(node, m)),
            };
            let Some(numbers) = numbers else { continue };
            self.branches.push(ProofBranch { m, place, numbers });
            if numbers.fail == 0 {
                break;
            }
        }
        Ok(())
    }

    /// The first numbers of a move that may check; `None` if it does not and the width allows no other.
    fn look_at_check(&mut self, node: &MateNode, m: Move) -> Result<Option<Numbers>, Spent> {
        let child = node.child(m);
        if self.width == Width::All || child.pos.is_check() {
            return self.first_look(&child).map(Some);
        }
        if self.width == Width::Checks { Ok(None) } else { self.look_at_threat(node, m) }
    }

    /// The first numbers of a move that gives no check; `None` if it does not threaten to mate at once.
    fn look_at_threat(&mut self, node: &MateNode, m: Move) -> Result<Option<Numbers>, Spent> {
        self.budget.spend()?;
        let child = node.child(m);
        let known = self.recall(MateSide::Defender, child.key, child.moves);
        if known.is_some() {
            return Ok(known);
        }
        let Ok(passed) = child.pos.swap_turn() else {
            return Ok(None);
        };
        let threat = mate_at_once(self.budget, &passed)?;
        Ok(threat.map(|_| Numbers { reach: 1, fail: THREAT_REPLIES }))
    }

    /// The first numbers of a move that gives no check. It is not played yet.
    fn look_at_quiet(&self, node: &MateNode, m: Move) -> Numbers {
        let key = node.key.after_move(&node.pos, m);
        let known = self.recall(MateSide::Defender, key, node.moves - 1);
        known.unwrap_or(Numbers { reach: 1, fail: QUIET_REPLIES })
    }

    /// What refuted an attack elsewhere comes first.
    fn list_defences(&mut self, node: &MateNode) {
        let first = self.branches.len();
        for (place, &m) in node.pos.legal_moves().iter().enumerate() {
            let key = node.key.after_move(&node.pos, m);
            let known = self.recall(MateSide::Attacker, key, node.moves);
            let numbers = known.unwrap_or(Numbers { reach: 1, fail: 1 });
            self.branches.push(ProofBranch { m, place, numbers });
            if numbers.fail == 0 {
                break;
            }
        }
        let refutation = self.refutations[usize::from(node.moves)];
        let branches = &mut self.branches[first..];
        if let Some(place) = branches.iter().position(|branch| Some(branch.m) == refutation) {
            branches.swap(0, place);
        }
    }

    /// The numbers of a position that was not searched yet: as the table has them, or by the number of
    /// replies. Checks leave few replies and so are followed first.
    fn first_look(&mut self, node: &MateNode) -> Result<Numbers, Spent> {
        if let Some(numbers) = self.recall(node.side, node.key, node.moves) {
            return Ok(numbers);
        }
        if node.side == MateSide::Attacker {
            return Ok(Numbers { reach: 1, fail: 1 });
        }
        self.budget.spend()?;
        let replies = node.pos.legal_moves().len();
        if replies == 0 {
            return Ok(Numbers::reached_if(!node.pos.is_check()));
        }
        Ok(Numbers { reach: 1, fail: u32::try_from(replies).unwrap_or(NEVER - 1) })
    }

    /// The numbers of a node from those of its branches, the best branch, and how far to follow it.
    fn weigh(&self, first: usize, limits: Numbers) -> (Numbers, usize, Numbers) {
        let (mut least, mut second, mut best) = (NEVER, NEVER, first);
        let (mut greatest, mut others) = (0_u32, 0_u32);
        for (index, branch) in self.branches.iter().enumerate().skip(first) {
            let Numbers { reach, fail } = branch.numbers;
            greatest = greatest.max(reach);
            others += u32::from(reach > 0);
            if fail < least {
                (second, least, best) = (least, fail, index);
            } else {
                second = second.min(fail);
            }
        }
        if least == 0 {
            return (Numbers::REACHED, best, limits);
        }
        let numbers =
            Numbers { reach: least, fail: (greatest + others.saturating_sub(1)).min(NEVER - 1) };
        let Some(branch) = self.branches.get(best) else {
            return (Numbers::FAILED, best, limits);
        };
        // A little more than the second best, lest two branches of like worth take turns too often.
        let fail = limits.reach.min(second.saturating_add(second / 4 + 1));
        let others = others.saturating_sub(1);
        let reach = (limits.fail - others.min(limits.fail)).max(branch.numbers.reach + 1);
        (numbers, best, Numbers { reach, fail })
    }

    fn table_key(&self, side: MateSide, key: PositionKey) -> PositionKey {
        const DEFENDER: u64 = 0x9e37_79b9_7f4a_7c15;
        const CHECKS: u64 = 0xc2b2_ae3d_27d4_eb4f;
        const THREATS: u64 = 0x1656_67b1_9e37_79f9;
        let key = if side == MateSide::Defender { key.tinted(DEFENDER) } else { key };
        match self.width {
            Width::Checks => key.tinted(CHECKS),
            Width::Threats => key.tinted(THREATS),
            Width::All => key,
        }
    }

    fn recall(&self, side: MateSide, key: PositionKey, moves: u8) -> Option<Numbers> {
        let known = self.table.get(self.table_key(side, key))?;
        match known.is_mate_within(moves) {
            Some(is_mate) => Some(Numbers::reached_if(is_mate == (side == MateSide::Attacker))),
            None => known.open(moves),
        }
    }

    fn remember(
        &mut self,
        node: &MateNode,
        numbers: Numbers,
        first_move: Option<usize>,
        work: u64,
    ) {
        let key = self.table_key(node.side, node.key);
        let effort = u16::try_from(work.checked_ilog2().unwrap_or(0)).unwrap_or(u16::MAX);
        let is_reached = numbers.reach == 0;
        // No position has more than 218 legal moves, so a place fits.
        let first_move = u8::try_from(first_move.unwrap_or(0)).unwrap_or(u8::MAX);
        self.table.update(key, effort, |known| {
            if !numbers.is_decided() {
                known.set_open(node.moves, numbers);
            } else if is_reached == (node.side == MateSide::Attacker) {
                known.set_proved(node.moves, first_move);
            } else {
                known.set_refuted(node.moves);
            }
        });
    }
}
