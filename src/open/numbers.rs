//! The page of numbers: how often and how well what is chosen went, as a whole and by every facet; each figure leads to
//! the games behind it.

use axum::extract::Query;
use axum::response::Response;
use minijinja::{Value, context};

use super::address::{AddressWords, address, choice_of};
use super::extracted::HitsRead;
use super::opened::Opened;
use super::words::{facet_title, shown_at_once, value_title};
use crate::drawing::Measured;
use crate::finding::{Facet, HitChoice, HowTheyWent, Sifted};
use crate::pages::served_scores;
use crate::statistics::{Outcomes, SMALLEST_SAMPLE};

/// A facet with more values than this shows the most frequent, and the others once it is unfolded.
const SHOWN_AT_ONCE: usize = 12;
/// By kind and by level first; the side that is tallied decides the rest.
const ORDER: [Facet; 13] = [
    Facet::Kind,
    Facet::Level,
    Facet::Verdict,
    Facet::Evidence,
    Facet::Motif,
    Facet::Chapter,
    Facet::Course,
    Facet::Side,
    Facet::Reply,
    Facet::King,
    Facet::Result,
    Facet::Year,
    Facet::Opening,
];

/// The numbers of what is chosen.
pub(super) async fn numbers(read: HitsRead, Query(words): Query<AddressWords>) -> Response {
    let (opened, hits) = read.parts();
    let choice = choice_of(&words);
    let sifted = hits.sifted(&choice);
    let page = NumbersPage { opened, choice: &choice, sifted: &sifted };
    opened.frame.page("numbers.html", page.content())
}

struct NumbersPage<'n> {
    opened: &'n Opened,
    choice: &'n HitChoice,
    sifted: &'n Sifted<'n>,
}

impl NumbersPage<'_> {
    fn content(&self) -> Value {
        let facets = ORDER.into_iter().filter_map(|facet| self.facet(facet));
        context! {
            title => "Numbers",
            here => "numbers",
            least => SMALLEST_SAMPLE,
            list => address("/", &[], self.choice),
            chosen => self.chosen(),
            all => told(&self.sifted.how_they_went()),
            results => self.results(self.choice),
            plot => self.plot(),
            facets => facets.collect::<Vec<_>>(),
        }
    }

    fn chosen(&self) -> Vec<String> {
        let values = self.choice.chosen().map(|(facet, value)| {
            format!("{}: {}", facet_title(facet), value_title(self.opened, facet, value))
        });
        let texts = [("Player", &self.choice.player), ("Text", &self.choice.text)];
        let texts = texts.into_iter().filter(|(_, text)| !text.is_empty());
        values.chain(texts.map(|(title, text)| format!("{title}: {text}"))).collect()
    }

    /// Where the games of a choice are that were won, drawn and lost.
    fn results(&self, choice: &HitChoice) -> Value {
        let link = |result: &str| address("/", &[], &choice.only(Facet::Result, result));
        context! { won => link("won"), drawn => link("drawn"), lost => link("lost") }
    }

    fn plot(&self) -> Option<Value> {
        let bands = self.sifted.how_they_went_by(Facet::Level);
        let score = |went: &HowTheyWent| Measured::score(&went.outcomes);
        let bands = bands.iter().filter(|(band, _)| band.value != "unknown");
        let bands = bands.filter_map(|(band, went)| Some((band.value.to_owned(), score(went)?)));
        let bands: Vec<(String, Measured)> = bands.collect();
        (bands.len() > 1).then(|| served_scores(&bands))
    }

    /// How it went by the values of a facet, if there are at least two.
    fn facet(&self, facet: Facet) -> Option<Value> {
        let mut went = self.sifted.how_they_went_by(facet);
        if went.len() < 2 {
            return None;
        }
        if went.len() > SHOWN_AT_ONCE {
            went.sort_by_key(|(count, _)| std::cmp::Reverse(count.hits));
        }
        let rows: Vec<Value> = went
            .iter()
            .map(|(count, went)| {
                let choice = self.choice.only(facet, count.value);
                context! {
                    title => value_title(self.opened, facet, count.value),
                    link => address("/", &[], &choice),
                    results => self.results(&choice),
                    ..told(went),
                }
            })
            .collect();
        let (rows, more) = rows.split_at(shown_at_once(rows.len(), SHOWN_AT_ONCE));
        let (word, title) = (facet.word(), facet_title(facet));
        Some(context! { word, title, is_of_results => facet == Facet::Result, rows, more })
    }
}

/// How hits went, in figures; no rates where there are too few games.
fn told(went: &HowTheyWent) -> Value {
    let known = went.outcomes.enough();
    let ends = known.and_then(Outcomes::interval);
    let rated = Some(&went.rated).filter(|rated| rated.outcomes().enough().is_some());
    let whole = |share: f64| format!("{:.0}", 100.0 * share);
    let answered = went.accepted + went.declined;
    context! {
        hits => went.hits,
        given_up => went.given_up,
        accepted => went.accepted,
        answered,
        wins => went.outcomes.wins,
        draws => went.outcomes.draws,
        losses => went.outcomes.losses,
        decided => went.outcomes.decided(),
        mates => went.mates,
        score => known.and_then(Outcomes::score).map(whole),
        lower => ends.map(|ends| whole(ends.lower)),
        upper => ends.map(|ends| whole(ends.upper)),
        expected => rated.and_then(|rated| rated.expected_score()).map(whole),
        rated => went.rated.outcomes().decided(),
    }
}
