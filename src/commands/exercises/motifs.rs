//! The queries that exercises are drawn from: which were asked for, and what is said about them.

use std::collections::BTreeMap;

use super::wishes::SheetWishes;
use crate::commands::chosen_queries;
use crate::commands::runs::Mined;
use crate::pages::Motif;
use crate::query::{Library, Query};
use crate::statistics::Outcomes;
use crate::words::Words;

/// The names of the queries that were asked for, in the order of the runs.
pub(super) fn queries(wishes: &SheetWishes, mined: &Mined) -> anyhow::Result<Vec<String>> {
    let all = mined.runs.queries();
    let named = chosen_queries(&wishes.queries, &all)?;
    let chapters = &wishes.chapters;
    let is_asked_for = |name: &str| {
        chapters.is_empty()
            || known(name, mined).is_some_and(|query| chapters.contains(&query.chapter))
    };
    let queries: Vec<String> =
        named.into_iter().filter(|name| is_asked_for(name)).map(str::to_owned).collect();
    anyhow::ensure!(!queries.is_empty(), "this run has no query of that chapter");
    Ok(queries)
}

/// The query of this name, if it is known here.
fn known(name: &str, mined: &Mined) -> Option<Query> {
    let mut library = Library::new();
    mined.add_query(name, &mut library);
    library.queries().ok()?.pop()
}

/// What is said about the queries of some exercises.
pub(in crate::commands) fn motifs<'n>(
    names: impl IntoIterator<Item = &'n str>,
    mined: &Mined,
    words: Words,
) -> anyhow::Result<BTreeMap<String, Motif>> {
    let mut motifs = BTreeMap::new();
    for name in names {
        if !motifs.contains_key(name) {
            motifs.insert(name.to_owned(), motif(name, mined, words)?);
        }
    }
    Ok(motifs)
}

fn motif(name: &str, mined: &Mined, words: Words) -> anyhow::Result<Motif> {
    let title = known(name, mined).map_or_else(|| name.replace('-', " "), |query| query.title);
    let tally = mined.tally(name)?;
    let games = Outcomes::games(&mined.base.all());
    let given_up = tally.summary.given_up;
    let outcomes = tally.outcomes();
    let games = words.tell("games-counted", [("number", games.into())]);
    let offers = [("offers", given_up.into()), ("games", games.into())];
    let rated = outcomes.enough().and_then(|enough| enough.score().zip(enough.interval()));
    let statistics = match rated {
        Some((score, interval)) => {
            let [score, lower, upper] = [score, interval.lower, interval.upper]
                .map(|share| format!("{:.0}", 100.0 * share).into());
            let score = [("score", score), ("lower", lower), ("upper", upper)];
            words.tell_all("motif-scored", offers.into_iter().chain(score))
        }
        None => {
            let [won, drawn, lost] =
                [outcomes.wins, outcomes.draws, outcomes.losses].map(Into::into);
            let ended = [("won", won), ("drawn", drawn), ("lost", lost)];
            words.tell_all("motif-ended", offers.into_iter().chain(ended))
        }
    };
    Ok(Motif { title, statistics })
}
