//! A program to run, and how long to wait for it.

use std::path::PathBuf;
use std::time::Duration;

use super::options::EngineOption;

/// A program that speaks UCI, and how it is to be asked.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Program {
    /// Where it is; a name without a folder is looked up as the system does. It gets no arguments.
    pub path: PathBuf,
    /// What is set before the first position.
    pub options: Vec<EngineOption>,
    /// How many positions it searches for each question.
    pub nodes: u64,
    /// How long it may take.
    pub patience: Patience,
}

/// How long a program may take. An answer that needs longer is a fault: one that was cut short by the
/// clock would differ from machine to machine.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Patience {
    /// For saying what it offers, and again for being ready.
    pub ready: Duration,
    /// For a search.
    pub search: Duration,
    /// For ending when it is told to.
    pub end: Duration,
}

impl Patience {
    /// How long a search of that many positions may take: half a minute to get going, and a second for
    /// each two thousand.
    ///
    /// Programs that count material look at a million positions a second and more; those that ask a neural
    /// network on a processor look at some hundreds, and are asked about far fewer (both from memory). So
    /// this is slow for the first by a factor of five hundred, and leaves the second half a minute for the
    /// thousands that suit them.
    #[must_use]
    pub fn of(nodes: u64) -> Patience {
        const NODES_A_SECOND: u64 = 2_000;
        let [ready, start, end] = [20, 30, 2].map(Duration::from_secs);
        Patience { ready, search: start + Duration::from_secs(nodes / NODES_A_SECOND), end }
    }
}
