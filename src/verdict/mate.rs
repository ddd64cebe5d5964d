//! Shortest mates: how far, by which key moves, along which line.

use shakmaty::{Chess, Move, Position};

use super::budget::{Budget, Spent};
use super::checks::CheckMap;
use super::proof::{MOST_MOVES, ProofSearch};
use super::proof_table::Known;
use super::question::{MateAnswer, MateNode, Width};
use super::replay::ProofReplay;
use super::table::Table;
use crate::board::played;

/// Between which bounds the distance to mate was shown to lie, in moves of the attacker.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct Distance {
    /// There is no mate within this many moves.
    pub none_within: u8,
    /// There is a mate within this many moves.
    pub mate_within: Option<u8>,
}

/// A forced mate. It was played out against every defence before it was reported.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Mate {
    /// The attacker mates within this many moves.
    pub moves: u8,
    /// Whether it was shown that there is no shorter one.
    pub is_shortest: bool,
    /// What the proof lets the attacker play; [`Width::Checks`] if checks alone mate as soon.
    pub width: Width,
    /// The attacker's best moves and the defender's longest defence, the mating move included.
    pub line: Vec<Move>,
}

/// A mate that was found and not yet replayed.
struct FoundMate {
    moves: u8,
    is_shortest: bool,
    width: Width,
}

/// Proves mates. Holds the table, so keep one for many positions.
pub struct Prover {
    table: Table<Known>,
}

/// In which order mates are looked for, each with one part in this many of the nodes that are left: by checks
/// alone first, then by any moves, which alone shows that there is none, then by checks and threats.
const SHARES: [(Width, u64); 3] = [(Width::Checks, 2), (Width::All, 2), (Width::Threats, 1)];

impl Prover {
    /// A prover that remembers at least `entries` positions, at 24 bytes each.
    #[must_use]
    pub fn with_entries(entries: usize) -> Prover {
        Prover { table: Table::with_entries(entries) }
    }

    /// Forgets earlier positions. What is remembered stays true, but it saves nodes: without this, what a
    /// budget suffices for would depend on earlier questions.
    pub fn forget(&mut self) {
        self.table.forget();
    }

    /// Whether the side to move mates within `moves` moves against every defence. The claim that there is
    /// no mate within `moves` moves is proved by `Disproved`. Mates of more than 60 moves are not looked
    /// for.
    ///
    /// With [`Width::Checks`], `Disproved` says only that checks alone do not do it.
    pub fn within(
        &mut self,
        pos: &Chess,
        moves: u8,
        width: Width,
        budget: &mut Budget,
    ) -> MateAnswer {
        self.within_each(std::slice::from_ref(pos), moves, width, budget)
    }

    /// Whether the side to move mates within `moves` moves in each of some positions.
    fn within_each(
        &mut self,
        starts: &[Chess],
        moves: u8,
        width: Width,
        budget: &mut Budget,
    ) -> MateAnswer {
        if starts.is_empty() {
            return MateAnswer::Disproved;
        }
        let mut search = ProofSearch::new(&mut self.table, budget, width);
        for start in starts {
            match search.is_mate_within(&MateNode::attacker(start, moves.min(MOST_MOVES))) {
                Ok(true) => {}
                Ok(false) if moves <= MOST_MOVES => return MateAnswer::Disproved,
                Ok(false) | Err(Spent) => return MateAnswer::Unknown,
            }
        }
        MateAnswer::Proved
    }

    /// The distance to mate of the side to move in the worst of some positions, looked for up to `limit`
    /// moves. None at all are no mate.
    ///
    /// By checks alone, longer mates are asked for in ever greater steps, since there a longer search costs
    /// little more than a shorter one; then the shorter ones that were passed over.
    pub fn distance(
        &mut self,
        starts: &[Chess],
        limit: u8,
        width: Width,
        budget: &mut Budget,
    ) -> Distance {
        let mut distance = Distance::default();
        let (mut step, mut moves) = (1, 1);
        while distance.none_within < limit && distance.mate_within.is_none() {
            if !self.narrow(&mut distance, starts, moves.min(limit), width, budget) {
                return distance;
            }
            let is_hasty = width == Width::Checks;
            (step, moves) = if is_hasty { (moves, moves + step) } else { (step, moves + 1) };
        }
        while distance.mate_within.is_some_and(|moves| distance.none_within + 1 < moves) {
            let shorter = distance.none_within + 1;
            if !self.narrow(&mut distance, starts, shorter, width, budget) {
                break;
            }
        }
        distance
    }

    /// Asks for a mate within some moves and takes in the answer; whether there was one.
    fn narrow(
        &mut self,
        distance: &mut Distance,
        starts: &[Chess],
        moves: u8,
        width: Width,
        budget: &mut Budget,
    ) -> bool {
        match self.within_each(starts, moves, width, budget) {
            MateAnswer::Proved => distance.mate_within = Some(moves),
            MateAnswer::Disproved => distance.none_within = moves,
            MateAnswer::Unknown => return false,
        }
        true
    }

    /// The shortest mate of the side to move that the budget finds, of `limit` moves at most. `None` says nothing; ask [`Prover::within`] for a refutation.
    pub fn mate(&mut self, pos: &Chess, limit: u8, budget: &mut Budget) -> Option<Mate> {
        self.mate_in_each(std::slice::from_ref(pos), limit, budget).map(|(_, mate)| mate)
    }

    /// The shortest mate of the side to move that begins with one of some legal moves, if one of at most
    /// `limit` moves is found.
    pub(super) fn mate_by(
        &mut self,
        pos: &Chess,
        firsts: &[Move],
        limit: u8,
        budget: &mut Budget,
    ) -> Option<Mate> {
        let share = budget.left() / 2;
        let (first, moves) = budget.lend(share, |loan| {
            let mut search = ProofSearch::new(&mut self.table, loan, Width::All);
            for moves in 1..=limit.min(MOST_MOVES) {
                for &first in firsts {
                    let after = MateNode::defender(&played(pos, first), moves - 1);
                    if search.is_mate_within(&after).ok()? {
                        return Some((first, moves));
                    }
                }
            }
            None
        })?;
        let after = played(pos, first);
        let replies = after.legal_moves();
        if replies.is_empty() {
            let (is_shortest, width, line) = (true, Width::All, vec![first]);
            return Some(Mate { moves, is_shortest, width, line });
        }
        let starts: Vec<Chess> = replies.iter().map(|&reply| played(&after, reply)).collect();
        let (longest, mate) = self.mate_in_each(&starts, moves - 1, budget)?;
        let line = [&[first, replies[longest]], &mate.line[..]].concat();
        Some(Mate { moves, is_shortest: true, width: mate.width, line })
    }

    /// The shortest mate found that works in each of some positions, with the place of one that holds out
    /// longest, from which its line starts.
    pub(super) fn mate_in_each(
        &mut self,
        starts: &[Chess],
        limit: u8,
        budget: &mut Budget,
    ) -> Option<(usize, Mate)> {
        let share = budget.left() / 4 * 3;
        let found = budget.lend(share, |loan| self.shortest_in_each(starts, limit, loan))?;
        let FoundMate { moves, width, .. } = found;
        if self.replay(starts, moves, width, budget) != Ok(true) {
            return None;
        }
        let holds_out =
            |start: &Chess| self.within(start, moves - 1, width, budget) == MateAnswer::Disproved;
        let longest = starts.iter().position(holds_out).unwrap_or(0);
        let line = self.line(&starts[longest], moves, width, budget);
        Some((longest, Mate { moves, is_shortest: found.is_shortest, width, line }))
    }

    fn shortest_in_each(
        &mut self,
        starts: &[Chess],
        limit: u8,
        budget: &mut Budget,
    ) -> Option<FoundMate> {
        let mut found = None;
        let mut none_within = 0;
        for (width, part) in SHARES {
            let share = budget.left() / part;
            let below = found.map_or(limit, |(moves, _)| moves - 1);
            let distance = budget.lend(share, |loan| self.distance(starts, below, width, loan));
            if let Some(moves) = distance.mate_within {
                found = Some((moves, width));
            }
            if width == Width::All {
                none_within = distance.none_within;
            }
        }
        let (moves, width) = found?;
        Some(FoundMate { moves, is_shortest: none_within + 1 == moves, width })
    }

    /// Plays a proved mate out against every defence, on the board. `Ok(false)` means that the proof does
    /// not hold.
    fn replay(
        &mut self,
        starts: &[Chess],
        moves: u8,
        width: Width,
        budget: &mut Budget,
    ) -> Result<bool, Spent> {
        let search = ProofSearch::new(&mut self.table, budget, width);
        ProofReplay::new(search).holds_in_each(starts, moves)
    }

    /// Every first move that mates within `moves` moves (60 at most), in the order of the move generator;
    /// `None` if the budget ran out.
    pub fn keys(&mut self, pos: &Chess, moves: u8, budget: &mut Budget) -> Option<Vec<Move>> {
        let Some(left) = moves.min(MOST_MOVES).checked_sub(1) else {
            return Some(Vec::new());
        };
        let map = CheckMap::of(pos);
        let mut search = ProofSearch::new(&mut self.table, budget, Width::All);
        let mut keys = Vec::new();
        for &m in &pos.legal_moves() {
            if left > 0 || map.may_check(m) {
                let after = MateNode::defender(&played(pos, m), left);
                if search.is_mate_within(&after).ok()? {
                    keys.push(m);
                }
            }
        }
        Some(keys)
    }

    /// The attacker's best moves against the longest defence, from a proved mate within `moves` moves.
    /// Ends early if the budget does.
    fn line(&mut self, pos: &Chess, moves: u8, width: Width, budget: &mut Budget) -> Vec<Move> {
        let mut search = ProofSearch::new(&mut self.table, budget, width);
        let (mut pos, mut line) = (pos.clone(), Vec::new());
        for left in (1..=moves).rev() {
            let Ok(Some(m)) = search.first_move(&MateNode::attacker(&pos, left)) else {
                break;
            };
            line.push(m);
            pos.play_unchecked(m);
            let Some(reply) = longest_defence(&mut search, &pos, left - 1) else {
                break;
            };
            line.push(reply);
            pos.play_unchecked(reply);
        }
        line
    }
}

/// The first reply that holds out for all of `moves` moves, or the first of all if none is known to.
fn longest_defence(search: &mut ProofSearch<'_>, pos: &Chess, moves: u8) -> Option<Move> {
    let replies = pos.legal_moves();
    let shorter = moves.checked_sub(1)?;
    let holds_out = |&reply: &Move| {
        let node = MateNode::attacker(&played(pos, reply), shorter);
        shorter == 0 || search.is_mate_within(&node) == Ok(false)
    };
    replies.iter().copied().find(holds_out).or_else(|| replies.first().copied())
}
