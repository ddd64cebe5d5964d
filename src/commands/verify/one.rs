//! One position judged for people, with its proof.

use std::fmt::Write as _;

use anyhow::Context;
use shakmaty::{Chess, Move, Position};

use super::proof_tree::proof;
use super::{VerifyOptions, asked};
use crate::board::{SacrificeKind, balance, cost, line_in_san, played, read_move, read_position};
use crate::commands::consultation::Consultation;
use crate::commands::second_look::looked_at;
use crate::commands::stop_on_interrupt;
use crate::engine::{OfferMade, Program};
use crate::hits::{Circumstances, DrawnBy, Evidence, OfferWorth, Sound, Verdict, VerdictRecord};
use crate::terminal::grouped;
use crate::verdict::{Better, Judge, Judgement, Outcome};

/// The position of a FEN.
pub(super) fn position(fen: &str) -> anyhow::Result<Chess> {
    read_position(fen).with_context(|| format!("`{fen}` is not a legal position"))
}

/// A judgement in words, with its proof if there is one.
pub(super) fn judge(
    fen: &str,
    san: &str,
    options: &VerifyOptions,
    program: Option<&Program>,
) -> anyhow::Result<String> {
    let pos = position(fen)?;
    let offer = read_move(&pos, san)?;
    let judgement = Judge::new(options.effort()).judge(&pos, offer);
    let record = weighed(&pos, offer, &judgement, program)?;
    let after = played(&pos, offer);
    let proof = proof(&after, &judgement, options.effort()).unwrap_or_default();
    let told = Told { pos: &pos, offer, after: &after, judgement: &judgement, record: &record };
    Ok(told.in_words() + &proof)
}

/// All evidence on an offer. An engine is asked if no mate is proved.
fn weighed(
    pos: &Chess,
    offer: Move,
    judgement: &Judgement,
    program: Option<&Program>,
) -> anyhow::Result<VerdictRecord> {
    let program = program.filter(|_| !matches!(judgement.overall.verdict, Verdict::Mates(_)));
    let Some(program) = program else { return Ok(judgement.record(pos, offer)) };
    let made = OfferMade::new(pos.clone(), offer).context("the offer is not legal")?;
    let consultation = Consultation::begin(program, 1, stop_on_interrupt()?)?;
    let answer = Ok(consultation.ask_once(|engine| looked_at(&made, engine))?);
    let mut record = judgement.record_of_searches(pos, offer);
    record.opinion = Some(asked::opinion(pos, offer, &answer));
    let judged = answer.as_ref().ok().map(asked::judged);
    let balance_before = balance(pos, pos.turn());
    record.weigh(&Circumstances { balance_before, judged, commented: None });
    Ok(record)
}

/// An offer and all that is told of it.
struct Told<'t> {
    pos: &'t Chess,
    offer: Move,
    after: &'t Chess,
    judgement: &'t Judgement,
    record: &'t VerdictRecord,
}

impl Told<'_> {
    fn in_words(&self) -> String {
        let Told { pos, offer, after, judgement, record } = *self;
        let mut text = format!("{}: {}\n", line_in_san(pos, &[offer]), self.headline());
        let _ = writeln!(text, "  gives up  {}, in pawns", cost(pos, offer));
        let kind = record.forced_kind.map_or("not known whether sham or real", SacrificeKind::word);
        let _ = writeln!(text, "  by force  {kind}");
        let outcomes = [("accepted", &judgement.accepted), ("declined", &judgement.declined)];
        for (name, outcome) in outcomes {
            if let Some(outcome) = outcome {
                let _ = writeln!(text, "  {name}  {}", outcome_in_words(after, outcome));
            }
        }
        for expected in self.expected().unwrap_or_default() {
            let _ = writeln!(text, "  expected  {expected}");
        }
        let _ = writeln!(text, "  instead   {}", self.instead());
        let _ = writeln!(text, "  looked at {} positions", grouped(judgement.nodes));
        text
    }

    /// Whether it is sound, how that is known, and what was found.
    fn headline(&self) -> String {
        let worth = &self.record.worth;
        let sound = match worth.sound {
            Sound::Yes => "sound",
            Sound::Holds => "holds",
            Sound::No => "not sound",
            Sound::LastTry => "a last try",
            Sound::Open => "open",
        };
        let evidence = worth.evidence.map_or_else(String::new, |it| format!(", {}", it.word()));
        let is_judged = worth.evidence == Some(Evidence::Judged);
        let verdict = match self.judgement.overall.verdict {
            Verdict::Open => String::new(),
            verdict if is_judged && !verdict.is_proof() => String::new(),
            _ => format!(": {}", verdict_in_words(&self.judgement.overall)),
        };
        let doubt = if worth.contradicted { "; the engine contradicts the proof" } else { "" };
        format!("{sound}{evidence}{verdict}{doubt}")
    }

    /// What an engine expects, of a hundred points: of the offer, and of the best other move.
    fn expected(&self) -> Option<Vec<String>> {
        let advice = self.record.opinion.as_ref()?.as_ref().ok()?;
        let line = line_after(&advice.line);
        let mut expected = vec![format!("{} of a hundred points{line}", self.record.worth.after?)];
        if let (Some(best), Some((san, _))) = (self.record.worth.best, &advice.instead) {
            expected.push(format!("{best} after {san}, the best other move"));
        }
        Some(expected)
    }

    /// What was better.
    fn instead(&self) -> String {
        let line = match &self.judgement.better {
            Better::Yes { line, .. } => line_in_san(self.pos, line),
            Better::No | Better::AllMated | Better::Unknown => String::new(),
        };
        match &self.record.better {
            Some((_, Some(verdict))) => format!("better was {line}: {verdict}"),
            Some((san, None)) => format!("better was {san}, as the engine judges"),
            None if self.record.worth == OfferWorth::ONLY_MOVE_MATED => {
                "there is no other move".to_owned()
            }
            None if self.record.worth.are_all_mated() => {
                "every other move is mated, too".to_owned()
            }
            None if self.record.is_best == Some(true) => "nothing better was found".to_owned(),
            None => "not known whether there is anything better".to_owned(),
        }
    }
}

/// A line that is expected.
fn line_after(line: &str) -> String {
    if line.is_empty() { String::new() } else { format!(": {line}") }
}

fn outcome_in_words(after: &Chess, outcome: &Outcome) -> String {
    let verdict = verdict_in_words(outcome);
    let counted = match (outcome.verdict, outcome.balance) {
        (Verdict::Gains(_) | Verdict::Down(_) | Verdict::Level, _) => {
            format!(", counted {} plies deep", outcome.depth)
        }
        (Verdict::Open, Some(balance)) => {
            let why = outcome.unrest.map_or_else(String::new, |it| format!(", {}", it.in_words()));
            let depth = outcome.depth;
            format!(", {balance:+} pawns where the count ended, {depth} plies deep{why}")
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
    match outcome.drawn_by {
        Some(DrawnBy::Defender) => "the defender draws at least".to_owned(),
        Some(DrawnBy::Attacker) | None => format!("{}{or_sooner}", outcome.verdict),
    }
}
