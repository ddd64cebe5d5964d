//! The table of budgets, and what is grossly beyond them.

use std::time::{Duration, Instant};

/// How thoroughly is measured.
#[derive(Clone, Copy)]
pub(crate) struct Pains {
    /// About how long the games are, in bytes.
    pub(crate) input: usize,
    /// And how long for the whole library.
    pub(crate) for_library: usize,
    /// How often reference and program take turns, unless that takes too long.
    turns: usize,
    /// When they have taken so long, and three turns at least, they stop.
    longest: Duration,
}

impl Pains {
    pub(crate) const FULL: Pains = Pains {
        input: 300 << 20,
        for_library: 300 << 20,
        turns: 9,
        longest: Duration::from_secs(25),
    };
    /// Enough to see that something has become several times slower.
    pub(crate) const FEW: Pains = Pains {
        input: 300 << 20,
        for_library: 60 << 20,
        turns: 5,
        longest: Duration::from_secs(3),
    };

    /// The fastest of several turns of a reference and the program.
    pub(crate) fn take_turns(
        self,
        mut reference: impl FnMut() -> Duration,
        mut program: impl FnMut() -> Duration,
    ) -> Turns {
        let start = Instant::now();
        let mut turns: Vec<(Duration, Duration)> = Vec::new();
        while turns.len() < self.turns && (turns.len() < 3 || start.elapsed() < self.longest) {
            turns.push((reference(), program()));
        }
        let fastest = |times: &mut dyn Iterator<Item = Duration>| times.min().unwrap_or_default();
        Turns {
            reference: fastest(&mut turns.iter().map(|turn| turn.0)),
            program: fastest(&mut turns.iter().map(|turn| turn.1)),
        }
    }
}

/// The fastest of several turns.
#[derive(Clone, Copy)]
pub(crate) struct Turns {
    reference: Duration,
    program: Duration,
}

/// A budget, and what is known to be measured, on whatever games it is worst: gross is what is twice as bad
/// as the worse of both.
#[derive(Clone, Copy)]
pub(crate) enum Goal {
    /// The program takes this many times as long as its reference.
    TimesAsLong { at_most: f64, known: f64 },
    /// The program is this many times as fast.
    TimesAsFast { at_least: f64, known: f64 },
    /// The program takes this many seconds; gross is only what is also twice as bad beside its reference as
    /// known, so that a slow machine is no fault.
    Seconds { at_most: f64, known: f64 },
}

/// The table, row by row.
#[derive(Default)]
pub(crate) struct Report {
    gross: Vec<String>,
}

impl Report {
    pub(crate) fn heading(&self) {
        let [work, reference, program] = ["work", "reference", "program"];
        println!("{work:<46} {reference:>9} {program:>9} {:>7} {:>8}", "ratio", "budget");
    }

    /// A row of times beside a reference's.
    pub(crate) fn times(&mut self, work: &str, turns: Turns, goal: Goal) {
        let [reference, program] = [turns.reference, turns.program].map(|time| time.as_secs_f64());
        let (ratio, budget, is_gross) = match goal {
            Goal::TimesAsLong { at_most, known } => {
                let ratio = program / reference;
                (ratio, format!("<= {at_most:.2}"), ratio > 2.0 * at_most.max(known))
            }
            Goal::TimesAsFast { at_least, known } => {
                let ratio = reference / program;
                (ratio, format!(">= {at_least:.2}"), ratio < at_least.min(known) / 2.0)
            }
            Goal::Seconds { at_most, known } => {
                let ratio = program / reference;
                let is_gross = program > 2.0 * at_most && ratio > 2.0 * known;
                (ratio, format!("<= {at_most} s"), is_gross)
            }
        };
        let [reference, program] = [reference, program].map(|seconds| 1e3 * seconds);
        println!("{work:<46} {reference:>7.0}ms {program:>7.0}ms {ratio:>7.2} {budget:>8}");
        self.note(is_gross, work, &format!("{program:.0} ms, ratio {ratio:.2}, budget {budget}"));
    }

    /// A row of a quantity that has no reference.
    pub(crate) fn quantity(&mut self, work: &str, amount: f64, unit: &str, at_most: f64) {
        println!("{work:<46} {amount:>17.2} {unit:<6} {:>10}", format!("<= {at_most}"));
        self.note(amount > 2.0 * at_most, work, &format!("{amount:.2} {unit}, budget {at_most}"));
    }

    fn note(&mut self, is_gross: bool, work: &str, says: &str) {
        if is_gross {
            self.gross.push(format!("{work}: {says}"));
        }
    }

    /// What went grossly beyond its budget.
    pub(crate) fn gross(&self) -> Option<String> {
        (!self.gross.is_empty()).then(|| self.gross.join("\n"))
    }
}
