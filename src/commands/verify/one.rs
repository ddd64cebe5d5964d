//! One position judged for people, with its proof.

use std::fmt::Write as _;

use anyhow::Context;
use shakmaty::{Chess, Move};

use super::VerifyOptions;
use super::proof_tree::proof;
use crate::board::{SacrificeKind, cost, line_in_san, played, read_move, read_position};
use crate::hits::{Sound, Verdict};
use crate::terminal::grouped;
use crate::verdict::{Better, Judge, Judgement, Outcome};

/// The position of a FEN.
pub(super) fn position(fen: &str) -> anyhow::Result<Chess> {
    read_position(fen).with_context(|| format!("`{fen}` is not a legal position"))
}

/// A judgement in words, with its proof if there is one.
pub(super) fn judge(fen: &str, san: &str, options: &VerifyOptions) -> anyhow::Result<String> {
    let pos = position(fen)?;
    let offer = read_move(&pos, san)?;
    let judgement = Judge::new(options.effort()).judge(&pos, offer);
    let after = played(&pos, offer);
    let proof = proof(&after, &judgement, options.effort()).unwrap_or_default();
    Ok(in_words(&pos, offer, &after, &judgement) + &proof)
}

fn in_words(pos: &Chess, offer: Move, after: &Chess, judgement: &Judgement) -> String {
    let worth = judgement.record(pos, offer).worth;
    let sound = match worth.sound {
        Sound::Yes => "sound",
        Sound::Holds => "holds",
        Sound::No => "not sound",
        Sound::LastTry => "a last try",
        Sound::Open => "open",
    };
    let evidence = worth.evidence.map_or_else(String::new, |it| format!(", {}", it.word()));
    let verdict = match judgement.overall.verdict {
        Verdict::Open => String::new(),
        _ => format!(": {}", verdict_in_words(&judgement.overall)),
    };
    let mut text = format!("{}: {sound}{evidence}{verdict}\n", line_in_san(pos, &[offer]));
    let _ = writeln!(text, "  gives up  {}, in pawns", cost(pos, offer));
    let kind = judgement
        .forced_kind(pos, offer)
        .map_or("not known whether sham or real", SacrificeKind::word);
    let _ = writeln!(text, "  by force  {kind}");
    for (name, outcome) in [("accepted", &judgement.accepted), ("declined", &judgement.declined)] {
        if let Some(outcome) = outcome {
            let _ = writeln!(text, "  {name}  {}", outcome_in_words(after, outcome));
        }
    }
    let better = match &judgement.better {
        Better::No => "nothing better was found".to_owned(),
        Better::Unknown => "not known whether there is anything better".to_owned(),
        Better::Yes { verdict, line, .. } => {
            format!("better was {}: {verdict}", line_in_san(pos, line))
        }
    };
    let _ = writeln!(text, "  instead   {better}");
    let _ = writeln!(text, "  looked at {} positions", grouped(judgement.nodes));
    text
}

fn outcome_in_words(after: &Chess, outcome: &Outcome) -> String {
    let verdict = verdict_in_words(outcome);
    let counted = match (outcome.verdict, outcome.balance) {
        (Verdict::Gains(_) | Verdict::Down(_) | Verdict::Level, _) => {
            format!(", counted {} plies deep", outcome.depth)
        }
        (Verdict::Open, Some(balance)) => {
            format!(", {balance:+} pawns where the count ended, {} plies deep", outcome.depth)
        }
        _ => String::new(),
    };
    match &outcome.line[..] {
        [] => format!("{verdict}{counted}"),
        line => format!("{verdict}{counted}: {}", line_in_san(after, line)),
    }
}

fn verdict_in_words(outcome: &Outcome) -> String {
    let or_sooner = if outcome.may_be_sooner { " or sooner" } else { "" };
    format!("{}{or_sooner}", outcome.verdict)
}
