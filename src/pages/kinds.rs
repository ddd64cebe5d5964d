//! How many offers were of each kind of sacrifice, and how they scored, in sentences.

use super::template::whole;
use crate::board::SacrificeKind;
use crate::statistics::{ByKind, Outcomes};
use crate::words::Words;

/// The kinds of which something was given up, in the order in which they are told.
const GIVEN_UP: [SacrificeKind; 4] =
    [SacrificeKind::Sham, SacrificeKind::Real, SacrificeKind::Declined, SacrificeKind::Desperado];

/// What is said of the kinds; nothing if nothing was given up.
pub(super) fn in_words(kinds: &ByKind, words: Words) -> Option<String> {
    let met: Vec<(SacrificeKind, Outcomes)> = GIVEN_UP
        .into_iter()
        .map(|kind| (kind, kinds.of(kind)))
        .filter(|(_, outcomes)| outcomes.games() > 0)
        .collect();
    let first = match &met[..] {
        [] => return None,
        [(kind, outcomes)] => alone(*kind, outcomes.games(), words),
        several => together(several, words),
    };
    let free = kinds.of(SacrificeKind::Free);
    let more = (free.games() > 0).then(|| told_of_free(&free, words));
    Some(more.map_or(first.clone(), |more| format!("{first} {more}")))
}

/// All offers are of one kind; their score was told already.
fn alone(kind: SacrificeKind, games: u64, words: Words) -> String {
    let name = if games == 1 { "kinds-alone-one" } else { "kinds-alone" };
    words.tell(name, [("kind", kind.word().into())])
}

fn together(met: &[(SacrificeKind, Outcomes)], words: Words) -> String {
    let part = |(at, (kind, outcomes)): (usize, &(SacrificeKind, Outcomes))| {
        let games = ("games", outcomes.games().into());
        let mut number = words.number(outcomes.games());
        if at == 0 {
            number = words.tell("kinds-number-of-these", [("number", number.into())]);
        }
        let values = [("kind", kind.word().into()), games, ("number", number.into())];
        let mut part = words.tell("kinds-part", values);
        if let Some(score) = known_score(outcomes) {
            let values = [("part", part.into()), ("score", score.into())];
            part = words.tell("kinds-part-scored", values);
        }
        if at > 0 && at + 1 == met.len() {
            part = words.tell("kinds-part-last", [("part", part.into())]);
        }
        part
    };
    let parts: Vec<String> = met.iter().enumerate().map(part).collect();
    words.tell("kinds-told", [("parts", parts.join(&words.say("semicolon")).into())])
}

/// The moves that gave nothing up, of which the page tells no more.
fn told_of_free(free: &Outcomes, words: Words) -> String {
    let number = ("number", free.games().into());
    match known_score(free) {
        Some(score) => words.tell("free-moves-scored", [number, ("score", score.into())]),
        None => words.tell("free-moves", [number]),
    }
}

/// The score in per cent, if there are enough games for one.
fn known_score(outcomes: &Outcomes) -> Option<String> {
    outcomes.enough().and_then(Outcomes::score).map(whole)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kinds(counts: &[(SacrificeKind, u64, u64)]) -> ByKind {
        let outcomes = |&(kind, wins, losses): &(SacrificeKind, u64, u64)| {
            (kind, Outcomes { wins, losses, ..Outcomes::default() })
        };
        counts.iter().map(outcomes).collect()
    }

    #[test]
    fn every_kind_is_told_with_its_score_where_there_are_enough_games() {
        let all = kinds(&[
            (SacrificeKind::Free, 6, 6),
            (SacrificeKind::Desperado, 0, 1),
            (SacrificeKind::Sham, 1200, 300),
            (SacrificeKind::Real, 4, 5),
            (SacrificeKind::Declined, 9, 3),
        ]);
        assert_eq!(
            in_words(&all, Words::ENGLISH).expect("there are offers"),
            "As the games went, 1,500 of these offers were sham sacrifices (accepted, and within four moves the \
             attacker mated, won or made the material good) and scored 80\u{a0}%; 9 were real sacrifices \
             (accepted, and after four moves the attacker was still down); 12 were declined and scored \
             75\u{a0}%; and 1 was a desperado (what was given up was lost anyway). Another 12 moves were free: \
             they gave nothing up, and scored 50\u{a0}%."
        );
    }

    #[test]
    fn one_kind_and_few_moves_are_told_without_figures() {
        assert_eq!(in_words(&kinds(&[(SacrificeKind::Free, 3, 0)]), Words::ENGLISH), None);
        let told =
            |counts: &[_]| in_words(&kinds(counts), Words::ENGLISH).expect("there are offers");
        assert_eq!(
            told(&[(SacrificeKind::Declined, 2, 0)]),
            "As the games went, every offer was declined."
        );
        assert_eq!(
            told(&[(SacrificeKind::Desperado, 1, 0), (SacrificeKind::Free, 1, 0)]),
            "As the games went, the only offer was a desperado (what was given up was lost anyway). One more \
             move was free: it gave nothing up."
        );
    }
}
