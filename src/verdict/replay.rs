//! A proof of mate played out on the board against every defence, so that no mate is reported on the
//! word of a table.

use std::collections::HashSet;

use shakmaty::{Chess, Position};

use super::budget::Spent;
use super::proof::ProofSearch;
use super::question::MateNode;
use crate::board::played;

/// One replay.
pub(super) struct ProofReplay<'a> {
    search: ProofSearch<'a>,
    /// Positions that are done, by their boards and not by their keys.
    done: HashSet<(Chess, u8)>,
}

impl<'a> ProofReplay<'a> {
    pub(super) fn new(search: ProofSearch<'a>) -> ProofReplay<'a> {
        ProofReplay { search, done: HashSet::new() }
    }

    /// Whether the proof leads to mate within `moves` moves in each position, whatever the defender does.
    pub(super) fn holds_in_each(&mut self, starts: &[Chess], moves: u8) -> Result<bool, Spent> {
        for start in starts {
            if !self.holds(start, moves)? {
                return Ok(false);
            }
        }
        Ok(true)
    }

    fn holds(&mut self, pos: &Chess, moves: u8) -> Result<bool, Spent> {
        if self.done.contains(&(pos.clone(), moves)) {
            return Ok(true);
        }
        let Some(left) = moves.checked_sub(1) else {
            return Ok(false);
        };
        let Some(m) = self.search.first_move(&MateNode::attacker(pos, moves))? else {
            return Ok(false);
        };
        let after = played(pos, m);
        let replies = after.legal_moves();
        if replies.is_empty() && !after.is_check() {
            return Ok(false);
        }
        for reply in replies {
            if !self.holds(&played(&after, reply), left)? {
                return Ok(false);
            }
        }
        self.done.insert((pos.clone(), moves));
        Ok(true)
    }
}
