//! Whether the verdicts that a query's examples state can be proved.

use crate::board::Replay;
use crate::hits::{Sound, Verdict};
use crate::mining::offer_in;
use crate::query::{Pattern, Worth};
use crate::verdict::{Effort, Judge, Judgement};

/// So many nodes are spent on a stated verdict, the more if it is not borne out by fewer: at first what a
/// run spends on a hit, at last what takes some seconds.
const NODES: [u64; 3] = [Effort::NODES, 5 * Effort::NODES, 20 * Effort::NODES];

/// What is wrong with the stated verdicts, each with the example's place.
pub(super) fn wrong_verdicts(pattern: &Pattern) -> Vec<String> {
    let mut judges = NODES.map(|nodes| Judge::new(Effort::of(nodes)));
    let mut wrong = Vec::new();
    for example in &pattern.query.examples {
        let Some(stated) = example.worth else { continue };
        let place = format!("example on line {}", example.file_line);
        let Some(index) = offer_in(pattern, example) else {
            wrong.push(format!("{place}: it states a verdict, and there is no offer in it"));
            continue;
        };
        let replay = Replay::of(&example.start, &example.line);
        let (pos, offer) = (&replay.positions[index], replay.moves[index]);
        let mut found = Verdict::Unproved;
        let is_proved = judges.iter_mut().any(|judge| {
            let judgement = judge.judge(pos, offer);
            found = judgement.overall.verdict;
            is_borne_out(stated, &judgement)
        });
        if !is_proved {
            wrong.push(format!("{place}: `{stated}` is stated, and the proof says `{found}`"));
        }
    }
    wrong
}

fn is_borne_out(stated: Worth, judgement: &Judgement) -> bool {
    match stated {
        Worth::MatesIn(moves) => judgement.overall.verdict == Verdict::Mates(moves),
        Worth::Sound => judgement.sound() == Sound::Yes,
        Worth::Holds => judgement.sound() == Sound::Holds,
        Worth::NotSound => judgement.sound() == Sound::No,
    }
}
