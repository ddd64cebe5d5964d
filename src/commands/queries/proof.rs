//! Whether the verdicts that a query's examples state can be proved.

use crate::mining::{Replay, offer_in};
use crate::query::{Pattern, Worth};
use crate::verdict::{Effort, Judge, Judgement, Sound, Verdict};

/// More than a run spends on a hit: what a file states may take time to prove.
const NODES: u64 = 20 * Effort::NODES;

/// What is wrong with the stated verdicts, each with the example's place.
pub(super) fn wrong_verdicts(pattern: &Pattern) -> Vec<String> {
    let mut judge = Judge::new(Effort::of(NODES));
    let mut wrong = Vec::new();
    for example in &pattern.query.examples {
        let Some(stated) = example.worth else { continue };
        let place = format!("example on line {}", example.file_line);
        let Some(index) = offer_in(pattern, example) else {
            wrong.push(format!("{place}: it states a verdict, and there is no offer in it"));
            continue;
        };
        let replay = Replay::of(&example.start, &example.line);
        let judgement = judge.judge(&replay.positions[index], replay.moves[index]);
        if !is_borne_out(stated, &judgement) {
            let found = judgement.overall.verdict;
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
        Worth::NotSound => matches!(judgement.sound(), Sound::No | Sound::Open),
    }
}
