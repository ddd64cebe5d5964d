//! What the mate search remembers about a position: within how many moves it is known to be mate, within
//! how many it is known not to be, and how far an unfinished search has come.
//!
//! Both bounds are plain facts of the position, however it was reached: the search counts down moves, so
//! no result ever rests on a repetition.

/// Work still to be done, in positions: to show that the side to move reaches its aim, and that it
/// fails. 0 means shown.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Numbers {
    pub(super) reach: u32,
    pub(super) fail: u32,
}

/// Infinite work: what is to be shown is false.
pub(super) const NEVER: u32 = u32::MAX / 4;

impl Numbers {
    pub(super) const REACHED: Numbers = Numbers { reach: 0, fail: NEVER };
    pub(super) const FAILED: Numbers = Numbers { reach: NEVER, fail: 0 };

    pub(super) const fn reached_if(is_reached: bool) -> Numbers {
        if is_reached { Numbers::REACHED } else { Numbers::FAILED }
    }

    pub(super) const fn is_decided(self) -> bool {
        self.reach == 0 || self.fail == 0
    }
}

/// What is known of one position, for one side's attack.
#[derive(Clone, Copy, Debug)]
pub(super) struct Known {
    /// An unfinished search for a mate within `open_for` moves.
    open: Numbers,
    open_for: u8,
    /// The least number of moves within which mate is proved; [`NO_MATE`] if none.
    mate_within: u8,
    /// The greatest number of moves within which mate is refuted.
    none_within: u8,
    /// The place of the first move of the proof among the legal moves.
    pub(super) first_move: u8,
}

const NO_MATE: u8 = u8::MAX;

impl Default for Known {
    fn default() -> Known {
        let open = Numbers { reach: 1, fail: 1 };
        Known { open, open_for: 0, mate_within: NO_MATE, none_within: 0, first_move: 0 }
    }
}

impl Known {
    /// Whether there is a mate within `moves` moves, if that is known.
    pub(super) fn is_mate_within(&self, moves: u8) -> Option<bool> {
        if self.mate_within <= moves {
            Some(true)
        } else if self.none_within >= moves.max(1) {
            Some(false)
        } else {
            None
        }
    }

    /// The numbers of an unfinished search for a mate within `moves` moves, if there was one.
    pub(super) fn open(&self, moves: u8) -> Option<Numbers> {
        (self.open_for == moves).then_some(self.open)
    }

    pub(super) fn set_open(&mut self, moves: u8, numbers: Numbers) {
        (self.open_for, self.open) = (moves, numbers);
    }

    pub(super) fn set_refuted(&mut self, moves: u8) {
        self.none_within = self.none_within.max(moves);
    }

    pub(super) fn set_proved(&mut self, moves: u8, first_move: u8) {
        if self.mate_within > moves {
            (self.mate_within, self.first_move) = (moves, first_move);
        }
    }
}
