//! A proof as a tree that people can follow: each reply with the answer to it, indented by depth.

use std::collections::{HashMap, HashSet};

use shakmaty::{Chess, Move, Position};

use crate::board::{line_in_san, played};
use crate::hits::Verdict;
use crate::statistics::counted;
use crate::verdict::{Budget, Checks, Effort, Judgement, Prover, perpetual};

/// About how many lines of a proof are shown; the replies to the offer always are.
const LINES: usize = 60;
/// What stands where there was no room for the rest.
const CUT: &str = "…";

/// The proof of what an offer comes to, with a heading, if it is one: counts of material are none.
pub(super) fn proof(after: &Chess, judgement: &Judgement, effort: Effort) -> Option<String> {
    let overall = &judgement.overall;
    let replied = |reply: Move| (line_in_san(after, &[reply]), played(after, reply));
    match overall.verdict {
        Verdict::Mates(moves @ 2..) => {
            let lines = Mating::new(effort).below(after, moves - 1, 1, LINES);
            Some(told("Proof, the attacker's answer after each reply:", &lines))
        }
        Verdict::Mated(moves @ 2..) => {
            let (reply, replied) = replied(overall.reply?);
            let lines = Mating::new(effort).below(&replied, moves - 1, 1, LINES);
            let heading = format!("Proof, the defender's answer to each move after {reply}:");
            Some(told(&heading, &lines))
        }
        Verdict::Draws => {
            let (reply, replied) = replied(overall.reply?);
            if let Checks::Endless(endless) = perpetual(&replied, &mut Budget::of(effort.checks)) {
                let lines = Checking::new(endless.checks).lines(&replied);
                return Some(told(&format!("Proof, the attacker's checks after {reply}:"), &lines));
            }
            match perpetual(after, &mut Budget::of(effort.checks)) {
                Checks::Endless(endless) => {
                    let lines = Checking::new(endless.checks).lines(after);
                    Some(told("Proof, the defender's checks:", &lines))
                }
                Checks::End | Checks::Unknown => None,
            }
        }
        _ => None,
    }
}

fn told(heading: &str, lines: &[String]) -> String {
    format!("\n{heading}\n{}\n", lines.join("\n"))
}

fn indented(depth: usize, text: &str) -> String {
    format!("{}{text}", "  ".repeat(depth))
}

/// A mate played out against every reply.
struct Mating {
    prover: Prover,
    nodes: u64,
}

impl Mating {
    fn new(effort: Effort) -> Mating {
        const ENTRIES: usize = 1 << 18;
        Mating { prover: Prover::with_entries(ENTRIES), nodes: effort.mate }
    }

    /// A line for every reply in a position with the answer to it, which mates within `moves` moves, and
    /// the lines after these as far as there is room.
    fn below(&mut self, pos: &Chess, moves: u8, depth: usize, room: usize) -> Vec<String> {
        let mut open = 0;
        let mut answered = Vec::new();
        for reply in pos.legal_moves() {
            let replied = played(pos, reply);
            let mate = self.prover.mate(&replied, moves, &mut Budget::of(self.nodes));
            open += usize::from(mate.as_ref().is_some_and(|mate| mate.moves > 1));
            answered.push((reply, replied, mate));
        }
        let mut room = room.saturating_sub(answered.len());
        let mut lines = Vec::new();
        for (reply, replied, mate) in answered {
            let answer = mate.as_ref().and_then(|mate| Some((*mate.line.first()?, mate.moves - 1)));
            let Some((answer, left)) = answer else {
                let reply = line_in_san(pos, &[reply]);
                lines.push(indented(
                    depth,
                    &format!("{reply} {CUT} beyond the budget of the proof"),
                ));
                continue;
            };
            let mut line = indented(depth, &line_in_san(pos, &[reply, answer]));
            let mut after = Vec::new();
            if left > 0 {
                let next = played(&replied, answer);
                let share = room / open;
                if next.legal_moves().len() <= share {
                    after = self.below(&next, left, depth + 1, share);
                } else {
                    line += &format!(" {CUT} and mates in {left}");
                }
                room = room.saturating_sub(after.len());
                open -= 1;
            }
            lines.push(line);
            lines.append(&mut after);
        }
        lines
    }
}

/// A perpetual check, played out against every reply.
struct Checking {
    checks: HashMap<Chess, Move>,
    met: HashSet<Chess>,
    lines: Vec<String>,
}

impl Checking {
    fn new(checks: HashMap<Chess, Move>) -> Checking {
        Checking { checks, met: HashSet::new(), lines: Vec::new() }
    }

    fn lines(mut self, start: &Chess) -> Vec<String> {
        if let Some(&check) = self.checks.get(start) {
            self.lines.push(indented(1, &line_in_san(start, &[check])));
            self.met.insert(start.clone());
            self.below(&played(start, check), 2);
        }
        let rest = self.checks.len().saturating_sub(self.met.len());
        if rest > 0 {
            let rest = counted(rest as u64, "more position");
            self.lines.push(indented(1, &format!("{CUT} and so on for {rest}")));
        }
        self.lines
    }

    /// A line for every reply with the check that answers it, and what follows if the position is new.
    fn below(&mut self, pos: &Chess, depth: usize) {
        for reply in pos.legal_moves() {
            let next = played(pos, reply);
            let Some(&check) = self.checks.get(&next) else { continue };
            let line = indented(depth, &line_in_san(pos, &[reply, check]));
            let is_new = !self.met.contains(&next);
            if self.lines.len() >= LINES {
                return;
            }
            if is_new {
                self.lines.push(line);
                self.met.insert(next.clone());
                self.below(&played(&next, check), depth + 1);
            } else {
                self.lines.push(line + ", as before");
            }
        }
    }
}
