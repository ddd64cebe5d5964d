//! Whether the verdicts that a query's examples state are what the searches find.

use crate::board::Replay;
use crate::hits::Verdict;
use crate::mining::offer_in;
use crate::query::{Pattern, Worth};
use crate::verdict::{Effort, Judge, Judgement};

/// The nodes that are spent on a stated verdict, one number after the other until it is confirmed: first
/// what a run spends on a hit, last what takes some seconds.
const NODES: [u64; 3] = [Effort::NODES, 5 * Effort::NODES, 20 * Effort::NODES];

/// What is wrong with the stated verdicts, each with the example's place.
pub(super) fn wrong_verdicts(pattern: &Pattern) -> Vec<String> {
    let mut judges = NODES.map(|nodes| Judge::new(Effort::of(nodes)));
    let mut wrong = Vec::new();
    for example in &pattern.query.examples {
        let Some(stated) = example.worth else { continue };
        let place = format!("example on line {}", example.file_line);
        let Some(index) = offer_in(pattern, example) else {
            wrong.push(format!("{place}: it states a verdict but holds no offer"));
            continue;
        };
        let replay = Replay::of(&example.start, &example.line);
        let (pos, offer) = (&replay.positions[index], replay.moves[index]);
        let mut found = Verdict::Open;
        let is_proved = judges.iter_mut().any(|judge| {
            let judgement = judge.judge(pos, offer);
            found = judgement.overall.verdict;
            is_borne_out(stated, &judgement)
        });
        if !is_proved {
            wrong.push(format!("{place}: it states `{stated}`, but the searches say `{found}`"));
        }
    }
    wrong
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
