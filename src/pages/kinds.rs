//! How many offers were of each kind of sacrifice, and how they scored, in sentences.

use super::template::whole;
use crate::board::SacrificeKind;
use crate::statistics::{ByKind, Outcomes, grouped};

/// The kinds of which something was given up, in the order in which they are told.
const GIVEN_UP: [SacrificeKind; 4] =
    [SacrificeKind::Sham, SacrificeKind::Real, SacrificeKind::Declined, SacrificeKind::Desperado];

/// What is said of the kinds; nothing if nothing was given up.
pub(super) fn in_words(kinds: &ByKind) -> Option<String> {
    let met: Vec<(SacrificeKind, Outcomes)> = GIVEN_UP
        .into_iter()
        .map(|kind| (kind, kinds.of(kind)))
        .filter(|(_, outcomes)| outcomes.games() > 0)
        .collect();
    let first = match &met[..] {
        [] => return None,
        [(kind, outcomes)] => alone(*kind, outcomes.games()),
        several => together(several),
    };
    let free = kinds.of(SacrificeKind::Free);
    Some(if free.games() > 0 { format!("{first} {}", told_of_free(&free)) } else { first })
}

/// All offers are of one kind; their score was told already.
fn alone(kind: SacrificeKind, games: u64) -> String {
    let offers = if games == 1 { "the only offer was" } else { "every offer was" };
    format!("As the games went, {offers} {}.", what(kind, 1))
}

fn together(met: &[(SacrificeKind, Outcomes)]) -> String {
    let part = |(at, (kind, outcomes)): (usize, &(SacrificeKind, Outcomes))| {
        let games = outcomes.games();
        let and = if at > 0 && at + 1 == met.len() { "and " } else { "" };
        let of_these = if at == 0 { " of these offers" } else { "" };
        let are = if games == 1 { "was" } else { "were" };
        let scored = known_score(outcomes).map(|score| format!(" and scored {score}\u{a0}%"));
        let (number, what) = (grouped(games), what(*kind, games));
        format!("{and}{number}{of_these} {are} {what}{}", scored.unwrap_or_default())
    };
    let parts: Vec<String> = met.iter().enumerate().map(part).collect();
    format!("As the games went, {}.", parts.join("; "))
}

/// The moves that gave nothing up, of which the page tells no more.
fn told_of_free(free: &Outcomes) -> String {
    let scored = known_score(free).map(|score| format!(", and scored {score}\u{a0}%"));
    match free.games() {
        1 => "One more move was free: it gave nothing up.".to_owned(),
        games => format!(
            "Another {} moves were free: they gave nothing up{}.",
            grouped(games),
            scored.unwrap_or_default()
        ),
    }
}

/// What one or several offers of a kind were, and what the word means.
fn what(kind: SacrificeKind, number: u64) -> String {
    let (one, several, meaning) = match kind {
        SacrificeKind::Sham => (
            "a sham sacrifice",
            "sham sacrifices",
            " (accepted, and within four moves the attacker mated, won or made the material good)",
        ),
        SacrificeKind::Real => (
            "a real sacrifice",
            "real sacrifices",
            " (accepted, and after four moves the attacker was still down)",
        ),
        SacrificeKind::Desperado => {
            ("a desperado", "desperados", " (what was given up was lost anyway)")
        }
        SacrificeKind::Declined => ("declined", "declined", ""),
        SacrificeKind::Free => ("free", "free", ""),
    };
    format!("{}{meaning}", if number == 1 { one } else { several })
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
            in_words(&all).expect("there are offers"),
            "As the games went, 1,500 of these offers were sham sacrifices (accepted, and within four moves the \
             attacker mated, won or made the material good) and scored 80\u{a0}%; 9 were real sacrifices \
             (accepted, and after four moves the attacker was still down); 12 were declined and scored \
             75\u{a0}%; and 1 was a desperado (what was given up was lost anyway). Another 12 moves were free: \
             they gave nothing up, and scored 50\u{a0}%."
        );
    }

    #[test]
    fn one_kind_and_few_moves_are_told_without_figures() {
        assert_eq!(in_words(&kinds(&[(SacrificeKind::Free, 3, 0)])), None);
        let told = |counts: &[_]| in_words(&kinds(counts)).expect("there are offers");
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
