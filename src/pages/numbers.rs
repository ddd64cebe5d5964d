//! How often and how well, as a page says it: whole per cent, and nothing where too little is known.

use std::collections::BTreeMap;

use minijinja::{Value, context};

use super::kinds;
use super::lesson::Lesson;
use super::template::whole;
use crate::drawing::{Measured, Plot, widest};
use crate::hits::{Evidence, Sound};
use crate::query::{Files, Moment, Query, Wings};
use crate::statistics::{FactorEffect, Outcomes, SMALLEST_SAMPLE, Standing, share};
use crate::words::Words;

/// What the page says of the hits as a whole.
pub(super) fn context(lesson: &Lesson<'_>) -> Value {
    let Lesson { found, all_games, .. } = lesson;
    let words = lesson.telling.words;
    let tally = &found.tally;
    let (summary, outcomes) = (&tally.summary, tally.outcomes());
    let rated = Some(&tally.rated).filter(|rated| rated.outcomes().enough().is_some());
    let answered = summary.accepted + tally.declined;
    context! {
        games => all_games.games(),
        hits => summary.hits,
        often => share(summary.hits, all_games.games())
            .filter(|_| summary.hits >= SMALLEST_SAMPLE)
            .map(|share| (1e4 * share).round() as u64),
        given_up => summary.given_up,
        accepted => summary.accepted,
        answered,
        outcomes => results(outcomes),
        expected => rated.and_then(|rated| rated.expected_score()).map(whole),
        rated => tally.rated.outcomes().decided(),
        same_side => tally.base_score(all_games).map(whole),
        moves => tally.median_moves_left().map(f64::round_ties_even),
        mates => outcomes.enough().and_then(|_| tally.mate_share()).filter(|_| tally.mates > 0).map(whole),
        worth => worth(&found.worth, words),
        kinds => kinds::in_words(&found.kinds, words),
        rests_on => rests_on(&found.evidence, words),
        least => SMALLEST_SAMPLE,
        by_rating => plot(found.bands.len(), || Plot::of_scores(
            &words.say("plot-by-rating"),
            &words.say("plot-by-rating-below"),
            &found.bands,
            words,
        ).to_svg("score-by-rating")),
        by_year => plot(found.years.len(), || Plot::of_frequencies(
            &words.say("plot-by-year"),
            &words.say("plot-by-year-below"),
            &found.years,
            words,
        ).to_svg("offers-by-year")),
    }
}

/// How many offers have each verdict, by the words of the tables, and how those games went.
fn worth(worth: &[(Sound, Outcomes)], words: Words) -> Option<Value> {
    let of = |sound: Sound| {
        let found = worth.iter().find(|(known, _)| *known == sound);
        results(&found.map_or_else(Outcomes::default, |&(_, outcomes)| outcomes))
    };
    let all = Sound::ALL.map(|sound| (sound.word(), of(sound)));
    let said = [("says", Value::from(worth_in_words(worth, words)))];
    (!worth.is_empty()).then(|| Value::from(BTreeMap::from_iter(all.into_iter().chain(said))))
}

/// How many offers have each verdict, in a sentence.
fn worth_in_words(worth: &[(Sound, Outcomes)], words: Words) -> String {
    let part = |sound: Sound| {
        let (_, outcomes) = worth.iter().find(|(known, _)| *known == sound)?;
        let games = outcomes.games();
        let name = match sound {
            Sound::Yes => "worth-yes",
            Sound::Holds => "worth-holds",
            Sound::No => "worth-no",
            Sound::LastTry => "worth-last-try",
            Sound::Open => "worth-open",
        };
        (games > 0).then(|| words.tell(name, [("number", games.into())]))
    };
    let parts = words.list(&Sound::ALL.into_iter().filter_map(part).collect::<Vec<_>>());
    words.tell("worth-of-these", [("parts", parts.into())])
}

/// On what the verdicts rest, in a sentence; empty if there are none.
fn rests_on(evidence: &[(Evidence, u64)], words: Words) -> String {
    let part = |&(evidence, offers): &(Evidence, u64)| {
        let name = match evidence {
            Evidence::Proved => "verdicts-proved",
            Evidence::Judged => "verdicts-judged",
            Evidence::FromGame => "verdicts-from-game",
            Evidence::Counted => "verdicts-counted",
        };
        words.tell(name, [("number", offers.into())])
    };
    if evidence.is_empty() {
        return String::new();
    }
    let parts = words.list(&evidence.iter().map(part).collect::<Vec<_>>());
    words.tell("verdicts-of-these", [("parts", parts.into())])
}

/// A plot of at least two groups.
fn plot(groups: usize, draw: impl FnOnce() -> String) -> Option<Value> {
    (groups > 1).then(|| Value::from_safe_string(draw()))
}

/// Won, drawn, lost, and the score if there are enough games for one.
pub(super) fn results(outcomes: &Outcomes) -> Value {
    let known = outcomes.enough();
    let ends = known.and_then(Outcomes::interval);
    context! {
        games => outcomes.games(),
        decided => outcomes.decided(),
        wins => outcomes.wins,
        draws => outcomes.draws,
        losses => outcomes.losses,
        score => known.and_then(Outcomes::score).map(whole),
        lower => ends.map(|ends| whole(ends.lower)),
        upper => ends.map(|ends| whole(ends.upper)),
    }
}

/// The rules of thumb, the strongest first.
pub(super) fn rules(lesson: &Lesson<'_>) -> Value {
    let words = lesson.telling.words;
    let gains = lesson.found.effects.iter().filter_map(gain);
    let widest = widest(gains.collect::<Vec<_>>().iter());
    let rows = lesson.found.effects.iter().zip(1..).map(|(effect, number)| {
        context! {
            says => sentence(lesson, &effect.name),
            with => results(&effect.with),
            without => results(&effect.without),
            gain => gain(effect).map(|gain| signed(gain.value)),
            always => effect.always(),
            believed => believed(effect.standing(), words),
            plot => gain(effect).map(|gain| {
                let plot = Plot::of_one_gain(&words.say("plot-gain"), &gain, widest, words);
                Value::from_safe_string(plot.to_svg(&format!("rule-{number}")))
            }),
        }
    });
    let measured = lesson.found.effects.iter().filter(|effect| effect.difference.is_some()).count();
    context! { rows => rows.collect::<Vec<_>>(), measured, widest => format!("{widest:.0}") }
}

/// What is to be believed of a gain, in a few words.
fn believed(standing: Standing, words: Words) -> String {
    words.say(match standing {
        Standing::Holds | Standing::Unsettled => "rule-hardly-chance",
        Standing::Explained => "rule-balance",
        Standing::MayBeChance | Standing::Hidden => "rule-may-be-chance",
    })
}

fn gain(effect: &FactorEffect) -> Option<Measured> {
    effect.difference.map(Measured::gain)
}

/// A true minus, and always a sign.
fn signed(value: f64) -> String {
    format!("{value:+.0}").replace('-', "\u{2212}")
}

/// A factor as its query says it.
fn sentence(lesson: &Lesson<'_>, name: &str) -> String {
    let known = lesson.query.factors.iter().find(|factor| factor.name == name);
    let text = known.map_or_else(
        || name.replace('-', " "),
        |factor| match factor.moment {
            Moment::Before => factor.text.clone(),
            Moment::After => lesson
                .telling
                .words
                .tell("rule-after-offer", [("fact", factor.text.as_str().into())]),
        },
    );
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().collect::<String>())
        + letters.as_str()
}

/// The name in messages of how squares are to be read where the offers of both sides are taken together.
pub(super) fn turned(query: &Query) -> &'static str {
    match (query.wings, query.files) {
        (Wings::AsWritten, _) => "as-written",
        (Wings::Both, Files::AsWritten) => "mirrored",
        (Wings::Both, Files::Any) => "shifted",
    }
}
