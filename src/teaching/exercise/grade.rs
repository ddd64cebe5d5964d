//! How hard an exercise is, from 1 to 5, by features of its solution.
//!
//! Which features tell something is known from research on what people fail at: the length of the
//! solution, moves that neither check nor take, what is given up, wrong moves that tempt, and how many
//! replies must be looked at (Stoiljkovikj, Bratko and Guid, "A computational model for estimating the
//! difficulty of chess problems", Advances in Cognitive Systems 2015; Hristova, Guid and Bratko,
//! "Assessing the difficulty of chess tactical problems", 2014). The weights given to them are ours, and
//! were not measured on people.

use std::str::FromStr;

use shakmaty::{Chess, Color, Move, Position};

use crate::board::{cost, played};

/// How hard an exercise is, from 1 to 5.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Level(pub u8);

impl Level {
    /// The easiest.
    pub const EASIEST: Level = Level(1);
    /// The hardest.
    pub const HARDEST: Level = Level(5);

    /// What a solved exercise of this level counts on a sheet: a point for each level.
    #[must_use]
    pub const fn points(self) -> u64 {
        self.0 as u64
    }
}

/// The levels that are wanted, one or several in a row.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Levels {
    /// The easiest of them.
    pub least: Level,
    /// The hardest of them.
    pub most: Level,
}

impl Levels {
    /// Any.
    pub const ALL: Levels = Levels { least: Level::EASIEST, most: Level::HARDEST };

    /// Whether a level is among them.
    #[must_use]
    pub fn have(self, level: Level) -> bool {
        (self.least..=self.most).contains(&level)
    }
}

/// What is wrong with a range of levels.
#[derive(Clone, Copy, PartialEq, Eq, Debug, thiserror::Error)]
pub enum LevelsFault {
    /// It is neither a level nor two with a dash between.
    #[error("expected a level, such as 2, or a range of them, such as 1-3")]
    Unreadable,
    /// There is no such level.
    #[error("{0} is not in 1..=5")]
    NoLevel(u8),
    /// The second is less than the first.
    #[error("the easier level comes first")]
    Backwards,
}

impl FromStr for Levels {
    type Err = LevelsFault;

    /// Reads a level, `2`, or a range, `1-3`.
    fn from_str(text: &str) -> Result<Levels, LevelsFault> {
        let level = |text: &str| {
            let number: u8 = text.trim().parse().map_err(|_| LevelsFault::Unreadable)?;
            let level = Level(number);
            if Levels::ALL.have(level) { Ok(level) } else { Err(LevelsFault::NoLevel(number)) }
        };
        let (least, most) = text.split_once('-').unwrap_or((text, text));
        let (least, most) = (level(least)?, level(most)?);
        if least <= most { Ok(Levels { least, most }) } else { Err(LevelsFault::Backwards) }
    }
}

/// What a level depends on.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Features {
    /// The moves that the side which is proved right makes.
    pub moves: usize,
    /// Those of them that neither check nor take nor promote.
    pub quiet: usize,
    /// What the offer gives up, in pawns.
    pub offered: i32,
    /// Other checks and captures that the first move has to compete with and that give nothing up.
    pub tempting: usize,
    /// The legal replies to each of these moves, on average and in tenths.
    pub replies: usize,
    /// What is to be looked at one by one in a short exercise: men, squares or moves.
    pub looked_at: usize,
}

impl Features {
    /// The features of the moves a pupil has to see to prove a side right, from the first one on.
    pub(super) fn of(start: &Chess, line: &[Move], right: Color, offered: i32) -> Features {
        let mut features = Features {
            moves: 0,
            quiet: 0,
            offered,
            tempting: tempting(start, line),
            replies: 0,
            looked_at: 0,
        };
        let (mut pos, mut replies, mut questions) = (start.clone(), 0, 0);
        for &m in line {
            let after = played(&pos, m);
            if pos.turn() == right {
                features.moves += 1;
                features.quiet += usize::from(is_quiet(m, &after));
                if !after.is_game_over() {
                    replies += after.legal_moves().len();
                    questions += 1;
                }
            }
            pos = after;
        }
        features.replies = (10 * replies).checked_div(questions).unwrap_or(0);
        features
    }

    /// The weights that the level depends on: of each feature from 0 upwards.
    #[must_use]
    pub fn weights(&self) -> [usize; 5] {
        [
            steps(self.moves, &[3, 4, 5, 6]),
            2 * self.quiet.min(2),
            steps(usize::try_from(self.offered).unwrap_or(0), &[3, 6]),
            steps(self.tempting, &[2, 5]),
            steps(self.replies, &[25, 60]),
        ]
    }

    /// All weights together.
    pub(super) fn difficulty(&self) -> usize {
        self.weights().iter().sum()
    }

    /// The level: 1 for a difficulty of up to 1, and one more for every two.
    #[must_use]
    pub fn level(&self) -> Level {
        Level(1 + steps(self.difficulty(), &[2, 4, 6, 8]) as u8)
    }
}

/// How many of these steps a number has reached.
fn steps(number: usize, steps: &[usize]) -> usize {
    steps.iter().filter(|&&step| number >= step).count()
}

fn is_quiet(m: Move, after: &Chess) -> bool {
    !m.is_capture() && !m.is_promotion() && !after.is_check()
}

/// The other checks and captures at the start that give nothing up on their square.
fn tempting(start: &Chess, line: &[Move]) -> usize {
    let is_loud = |m: Move| m.is_capture() || played(start, m).is_check();
    let others = start.legal_moves().into_iter().filter(|m| Some(m) != line.first());
    others.filter(|&m| is_loud(m) && cost(start, m) == 0).count()
}
