//! One position judged for people, with its proof.

use std::fmt::Write as _;

use anyhow::Context;
use shakmaty::{Chess, Move, Position};

use super::VerifyOptions;
use crate::board::{cost, read_position, read_san};
use crate::terminal::grouped;
use crate::verdict::{
    Better, Budget, Judge, Judgement, Outcome, Prover, Sound, Verdict, line_in_san, played,
};

/// So many lines of a proof are shown.
const MOST_LINES: usize = 60;

/// The position of a FEN.
pub(super) fn position(fen: &str) -> anyhow::Result<Chess> {
    read_position(fen).with_context(|| format!("`{fen}` is no legal position"))
}

/// The legal move of a SAN.
pub(super) fn legal_move(pos: &Chess, san: &str) -> anyhow::Result<Move> {
    let read = read_san(san.as_bytes()).with_context(|| format!("`{san}` is no move in SAN"))?;
    read.to_move(pos).map_err(|_| anyhow::anyhow!("`{san}` is no legal move in this position"))
}

/// A judgement in words, with the proof if the offer mates.
pub(super) fn judge(fen: &str, san: &str, options: &VerifyOptions) -> anyhow::Result<String> {
    let pos = position(fen)?;
    let offer = legal_move(&pos, san)?;
    let judgement = Judge::new(options.effort()).judge(&pos, offer);
    let after = played(&pos, offer);
    let mut text = in_words(&pos, offer, &after, &judgement);
    if let Verdict::Mates(moves) = judgement.overall.verdict
        && moves > 1
    {
        let mut tree = Tree::new(options.effort().mate);
        tree.replies(&after, moves - 1, 1);
        text += &format!("\nProof, the attacker's answer behind each reply:\n{}", tree.text());
    }
    Ok(text)
}

fn in_words(pos: &Chess, offer: Move, after: &Chess, judgement: &Judgement) -> String {
    let sound = match judgement.sound() {
        Sound::Yes => "sound",
        Sound::Holds => "holds the balance",
        Sound::No => "not sound",
        Sound::Open => "nothing proved",
    };
    let verdict = judgement.overall.verdict;
    let mut text = format!("{}: {sound}, {verdict}\n", line_in_san(pos, &[offer]));
    let _ = writeln!(text, "  gives up  {} on its square, in pawns", cost(pos, offer));
    for (name, outcome) in [("accepted", &judgement.accepted), ("declined", &judgement.declined)] {
        if let Some(outcome) = outcome {
            let _ = writeln!(text, "  {name}  {}", outcome_in_words(after, outcome));
        }
    }
    let better = match &judgement.better {
        Better::No => "nothing better was found".to_owned(),
        Better::Unknown => "not known whether there is better".to_owned(),
        Better::Yes { verdict, line, .. } => {
            format!("better was {}: {verdict}", line_in_san(pos, line))
        }
    };
    let _ = writeln!(text, "  instead   {better}");
    let _ = writeln!(text, "  looked at {} positions", grouped(judgement.nodes));
    text
}

fn outcome_in_words(after: &Chess, outcome: &Outcome) -> String {
    let depth = match outcome.verdict {
        Verdict::Gains(_) | Verdict::Costs(_) | Verdict::Level => {
            format!(", counted {} plies deep", outcome.depth)
        }
        _ => String::new(),
    };
    format!("{}{depth}: {}", outcome.verdict, line_in_san(after, &outcome.line))
}

/// A mate played out against every reply.
struct Tree {
    prover: Prover,
    nodes: u64,
    lines: Vec<String>,
    /// The lines that there was no room for.
    left_out: usize,
}

impl Tree {
    fn new(nodes: u64) -> Tree {
        const ENTRIES: usize = 1 << 18;
        Tree { prover: Prover::with_entries(ENTRIES), nodes, lines: Vec::new(), left_out: 0 }
    }

    /// Adds every reply of a position with the attacker's answer, who mates within so many moves.
    fn replies(&mut self, pos: &Chess, moves: u8, depth: usize) {
        for reply in pos.legal_moves() {
            if self.lines.len() == MOST_LINES {
                self.left_out += 1;
                continue;
            }
            let replied = played(pos, reply);
            let mate = self.prover.mate(&replied, moves, &mut Budget::of(self.nodes));
            let answer = mate.as_ref().and_then(|mate| mate.line.first().copied());
            let shown: Vec<Move> = std::iter::once(reply).chain(answer).collect();
            let more = if mate.is_some() { "" } else { "  (the proof is longer than the budget)" };
            self.lines.push(format!("{}{}{more}", "  ".repeat(depth), line_in_san(pos, &shown)));
            if let (Some(mate), Some(answer)) = (mate, answer)
                && mate.moves > 1
            {
                self.replies(&played(&replied, answer), mate.moves - 1, depth + 1);
            }
        }
    }

    fn text(&self) -> String {
        let mut text = self.lines.join("\n") + "\n";
        if self.left_out > 0 {
            let _ = writeln!(text, "  and {} more replies", grouped(self.left_out as u64));
        }
        text
    }
}
