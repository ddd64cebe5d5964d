//! Whether the verdicts that a query's examples state are what the searches find, or an engine if one is
//! named.

use anyhow::Context;
use shakmaty::{Chess, Move};

use crate::board::{Replay, balance};
use crate::commands::second_look::looked_at;
use crate::engine::{Engine, OfferMade, Program};
use crate::hits::{Circumstances, Judged, Sound, Verdict};
use crate::mining::offer_in;
use crate::query::{Example, Pattern, Worth};
use crate::verdict::{Effort, Judge, Judgement};

/// The nodes that are spent on a stated verdict, one number after the other until it is confirmed: first
/// what a run spends on a hit, last what takes some seconds.
const NODES: [u64; 3] = [Effort::NODES, 5 * Effort::NODES, 20 * Effort::NODES];

/// Who tells what stated verdicts are worth.
pub(super) struct Proofs<'p> {
    judges: [Judge; NODES.len()],
    engine: Option<(&'p Program, Engine<'p>)>,
}

impl<'p> Proofs<'p> {
    /// Our searches, and an engine if a program is named.
    pub(super) fn new(program: Option<&'p Program>) -> anyhow::Result<Proofs<'p>> {
        let start = |program: &'p Program| {
            let engine = Engine::start(program, crate::commands::stop_on_interrupt()?);
            Ok::<_, anyhow::Error>((program, engine.with_context(|| failed(program))?))
        };
        let engine = program.map(start).transpose()?;
        Ok(Proofs { judges: NODES.map(|nodes| Judge::new(Effort::of(nodes))), engine })
    }

    /// What is wrong with the stated verdicts, each with the example's place.
    pub(super) fn wrong_verdicts(&mut self, pattern: &Pattern) -> anyhow::Result<Vec<String>> {
        let mut wrong = Vec::new();
        for example in &pattern.query.examples {
            let Some(stated) = example.worth else { continue };
            let place = format!("example on line {}", example.file_line);
            match offer_of(pattern, example) {
                None => wrong.push(format!("{place}: it states a verdict but holds no offer")),
                Some((pos, offer)) => {
                    let objection = self.objection(stated, &pos, offer)?;
                    wrong
                        .extend(objection.map(|it| format!("{place}: it states `{stated}`, {it}")));
                }
            }
        }
        Ok(wrong)
    }

    /// What speaks against a stated verdict, if something does. Mates are proved; of the rest an engine decides
    /// if one is named.
    fn objection(
        &mut self,
        stated: Worth,
        pos: &Chess,
        offer: Move,
    ) -> anyhow::Result<Option<String>> {
        if let (Some((program, engine)), false) =
            (&mut self.engine, matches!(stated, Worth::MatesIn(_)))
        {
            let judgement = self.judges[0].judge(pos, offer);
            let sound = judged(&judgement, pos, offer, engine).with_context(|| failed(program))?;
            let says = format!("but with the engine it is `{}`", in_words(sound));
            return Ok((!is_stated(stated, sound)).then_some(says));
        }
        let mut found = Verdict::Open;
        let is_proved = self.judges.iter_mut().any(|judge| {
            let judgement = judge.judge(pos, offer);
            found = judgement.overall.verdict;
            is_borne_out(stated, &judgement)
        });
        Ok((!is_proved).then(|| format!("but the searches say `{found}`")))
    }
}

fn failed(program: &Program) -> String {
    format!("`{}` can't be asked", program.path.display())
}

/// The offer of an example, and the position before it.
fn offer_of(pattern: &Pattern, example: &Example) -> Option<(Chess, Move)> {
    let index = offer_in(pattern, example)?;
    let replay = Replay::of(&example.start, &example.line);
    Some((replay.positions[index].clone(), replay.moves[index]))
}

/// What an offer is worth by the searches and an engine.
fn judged(
    judgement: &Judgement,
    pos: &Chess,
    offer: Move,
    engine: &mut Engine<'_>,
) -> anyhow::Result<Sound> {
    let mut record = judgement.record_of_searches(pos, offer);
    let made = OfferMade::new(pos.clone(), offer).context("the offer is not legal")?;
    let said = looked_at(&made, engine)?;
    let judged = Judged { after: said.after.points, best: said.other.map(|other| other.points) };
    let balance_before = balance(pos, shakmaty::Position::turn(pos));
    record.weigh(&Circumstances { balance_before, judged: Some(judged), commented: None });
    Ok(record.sound())
}

/// Whether the searches say what is stated: by a proof, or else by a count of material, which is not enough to
/// prove it, but speaks for it.
fn is_borne_out(stated: Worth, judgement: &Judgement) -> bool {
    match stated {
        Worth::MatesIn(moves) => judgement.overall.verdict == Verdict::Mates(moves),
        Worth::Sound => judgement.overall.verdict.is_ahead(),
        Worth::Holds => matches!(judgement.overall.verdict, Verdict::Level | Verdict::Draws),
        Worth::NotSound => judgement.overall.verdict.is_behind(),
    }
}

/// Whether an offer of this worth is what is stated.
fn is_stated(stated: Worth, sound: Sound) -> bool {
    match stated {
        Worth::MatesIn(_) | Worth::Sound => sound == Sound::Yes,
        Worth::Holds => sound == Sound::Holds,
        Worth::NotSound => matches!(sound, Sound::No | Sound::LastTry),
    }
}

/// A worth in the words of query files.
fn in_words(sound: Sound) -> &'static str {
    match sound {
        Sound::Yes => "sound",
        Sound::No => "not sound",
        other => other.word(),
    }
}
