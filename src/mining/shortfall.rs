//! Why a line holds no hit: what the move lacks that comes nearest to being one.

use shakmaty::Position;

use super::holding::holds;
use super::matcher::{GameStep, gives, is_made_good, is_meant, is_taken, stands_between};
use super::watch::Watch;
use crate::board::{Replay, uncovered};
use crate::query::{Check, Condition, Lens, MoveSentence, Pattern, Query, Requirement};

/// What a move lacks, and how far it came before that.
struct Lack {
    stage: (u8, usize),
    what: String,
}

/// What the moves of a line lack to be a hit, in words: of the move that comes nearest, if the offer's
/// sentence speaks of any.
pub(super) fn shortfall(pattern: &Pattern, replay: &Replay) -> String {
    let mut nearest: Option<(usize, Lack)> = None;
    for index in 0..replay.moves.len() {
        let mover = replay.positions[index].turn();
        for lens in pattern.lenses.iter().filter(|lens| lens.view.attacker == mover) {
            let Some(lack) = lack(&pattern.query, lens, replay, index) else { continue };
            if nearest.as_ref().is_none_or(|(_, known)| known.stage < lack.stage) {
                nearest = Some((index, lack));
            }
        }
    }
    match nearest {
        Some((index, lack)) => format!("`{}`: {}", replay.san(index), lack.what),
        None => format!("no move in it is `{}`", pattern.query.offer_text),
    }
}

/// What a move lacks that the offer's sentence may speak of, by its man and its squares.
fn lack(query: &Query, lens: &Lens, replay: &Replay, index: usize) -> Option<Lack> {
    let step = GameStep::at(replay, index);
    if !is_meant(&lens.offer, lens.view, step.before, step.m) {
        return None;
    }
    let failing = |texts: &[String], conditions: &[Condition], pos| {
        let mut both = texts.iter().zip(conditions).enumerate();
        let by = lens.shift.map_or(0, |shift| shift.by(lens.view));
        let fails = |condition: &Condition| {
            !holds(&condition.shifted(by).turned(lens.view), lens.view, pos)
        };
        both.find(|(_, (_, condition))| fails(condition)).map(|(at, (text, _))| (at, text.clone()))
    };
    let condition = |key: &str, stage, (at, text): (usize, String)| Lack {
        stage: (stage, at),
        what: format!("`{key}` {} does not hold: `{text}`", at + 1),
    };
    let clause = |stage, what| Lack { stage: (stage, 0), what };
    failing(&query.when_texts, &query.when, step.before)
        .map(|failing| condition("when", 1, failing))
        .or_else(|| lacking_at_once(&lens.offer, &step).map(|what| clause(2, what)))
        .or_else(|| {
            failing(&query.after_texts, &query.after, step.after)
                .map(|failing| condition("after", 3, failing))
        })
        .or_else(|| lacking_later(&lens.offer, replay, index).map(|what| clause(4, what)))
        .or_else(|| {
            let (at, what) = lacking_follow_up(query, lens, replay, index)?;
            Some(Lack { stage: (5, at), what: format!("`requires` {}: {what}", at + 1) })
        })
}

/// What an offer's sentence asks for that the move itself does not do.
fn lacking_at_once(offer: &MoveSentence, step: &GameStep<'_>) -> Option<String> {
    let check = offer.check.filter(|&check| !gives(check, step));
    let cost = offer.giving_up.filter(|range| !range.contains(step.offered().cost));
    let uncovered = || uncovered(step.before, step.m);
    let loss = offer.uncovering.filter(|range| !range.contains(uncovered()));
    let offered = step.offered();
    let other = offer.offering.filter(|men| !men.contains(offered.man));
    let between = offer.between.filter(|&men| !stands_between(men, step));
    check
        .map(|check| format!("it is not `{}`", words_for(check)))
        .or_else(|| cost.map(|range| format!("it gives up {}, not {range}", step.offered().cost)))
        .or_else(|| other.map(|_| format!("it offers the man on {}", offered.square)))
        .or_else(|| loss.map(|range| format!("it uncovers {}, not {range}", uncovered())))
        .or_else(|| between.map(|_| "it does not come between two such men".to_owned()))
}

/// What an offer's sentence asks of the rest of the game that does not come.
fn lacking_later(offer: &MoveSentence, replay: &Replay, index: usize) -> Option<String> {
    let step = GameStep::at(replay, index);
    let taken = offer.is_taken.filter(|&men| !is_taken(men, &step));
    let back = offer.not_taken_back.filter(|&moves| is_made_good(replay, index, moves));
    taken
        .map(|_| "the next move does not take it, or not with such a man".to_owned())
        .or_else(|| back.map(|moves| format!("the material is back within {moves} moves")))
}

/// The first requirement that is not met, by its place, and in what.
fn lacking_follow_up(
    query: &Query,
    lens: &Lens,
    replay: &Replay,
    index: usize,
) -> Option<(usize, String)> {
    let mut watch = Watch::new(lens);
    let mut requires = query.requires.iter().enumerate();
    let (at, (text, requirement)) =
        requires.find(|(_, (_, requirement))| !watch.is_met(requirement, replay, index))?;
    let what = match requirement {
        Requirement::Comes(_) => format!("`{text}` did not come"),
        Requirement::StaysAway(follow_up) => {
            format!("`{}` came", query.follow_ups[*follow_up].name)
        }
    };
    Some((at, what))
}

fn words_for(check: Check) -> &'static str {
    match check {
        Check::With => "with check",
        Check::Double => "with double check",
        Check::Discovered => "with discovered check",
        Check::Mate => "with mate",
        Check::Stalemate => "with stalemate",
        Check::Without => "without check",
    }
}
