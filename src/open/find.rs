//! The page on which hits are found: what can be chosen, with how many would be left, and a page of what is left.

use axum::extract::Query;
use axum::response::Response;
use minijinja::{Value, context};

use super::address::{AddressWords, address, choice_of, value};
use super::extracted::HitsRead;
use super::keeping::Keeping;
use super::opened::Opened;
use super::words::{facet_title, shown_at_once, value_title};
use crate::collection::known;
use crate::finding::{Facet, FoundHit, FoundHits, HitChoice, ListOrder, Sifted};

/// The hits on a page of the list.
const ON_A_PAGE: usize = 30;
/// A facet with more values than this shows the most frequent, and the others once it is unfolded.
const SHOWN_AT_ONCE: usize = 8;

/// The list of hits by a choice, whole or the part of it that a choice changes.
pub(super) async fn find(read: HitsRead, Query(words): Query<AddressWords>) -> Response {
    let (opened, hits) = read.parts();
    let choice = choice_of(&words);
    let sifted = hits.sifted(&choice);
    let is_part = value(&words, "part").is_some();
    let page = value(&words, "page").and_then(|page| page.parse().ok()).unwrap_or(1);
    let keeping = Keeping::of(opened);
    let shown = FindPage { opened, hits, choice: &choice, sifted: &sifted, keeping };
    let content = shown.content(page);
    opened.frame.page(if is_part { "found.html" } else { "find.html" }, content)
}

struct FindPage<'f> {
    opened: &'f Opened,
    hits: &'f FoundHits,
    choice: &'f HitChoice,
    sifted: &'f Sifted<'f>,
    keeping: Option<Keeping>,
}

impl FindPage<'_> {
    fn content(&self, page: usize) -> Value {
        let pages = self.sifted.len().div_ceil(ON_A_PAGE).max(1);
        let page = page.clamp(1, pages);
        let shown = self.sifted.places().skip((page - 1) * ON_A_PAGE).take(ON_A_PAGE);
        let to_page = |page: usize| address("/", &[("page", &page.to_string())], self.choice);
        let here = to_page(page);
        let shown: Vec<FoundHit<'_>> = shown.map(|place| self.hits.get(place)).collect();
        let same = shown.chunk_by(|one, next| one.offer == next.offer);
        let mut place = (page - 1) * ON_A_PAGE + 1;
        let rows: Vec<Value> = same
            .map(|same| {
                let first = place;
                place += same.len();
                context! { place => first, ..self.row(same, &here) }
            })
            .collect();
        context! {
            title => "Find",
            here => "find",
            found => self.sifted.len(),
            all => self.hits.len(),
            rows,
            page,
            pages,
            before => (page > 1).then(|| to_page(page - 1)),
            after => (page < pages).then(|| to_page(page + 1)),
            player => &self.choice.player,
            text => &self.choice.text,
            can_begin => self.opened.plan.as_deref().is_some_and(|plan| !plan.exists()),
            here_again => here,
            chosen => self.chosen(),
            kept => self.choice.words().into_iter().filter(|(word, _)| !["player", "text", "order"].contains(word)).collect::<Vec<_>>(),
            nothing_chosen => address("/", &[], &HitChoice { order: self.choice.order, ..HitChoice::default() }),
            orders => self.orders(),
            order => self.choice.order.word(),
            facets => Facet::ALL.into_iter().filter_map(|facet| self.facet(facet)).collect::<Vec<_>>(),
            numbers => address("/numbers", &[], self.choice),
        }
    }

    /// What it takes to keep an offer, for the lesson on each of its motifs.
    fn keepings(&self, same: &[FoundHit<'_>], here: &str) -> Vec<Value> {
        let Some(keeping) = &self.keeping else { return Vec::new() };
        let row = |hit: &FoundHit<'_>| {
            let (white, black) =
                (known(hit.white).unwrap_or("White"), known(hit.black).unwrap_or("Black"));
            let motif = (same.len() > 1).then(|| self.opened.title(hit.query).to_owned());
            context! { id => &hit.id, white, black, motif, ..keeping.row(hit, here) }
        };
        same.iter().map(row).collect()
    }

    /// A row of the list: an offer, as the hit of one query or of several.
    fn row(&self, same: &[FoundHit<'_>], here: &str) -> Value {
        let hit = &same[0];
        let titled =
            |facet: Facet| hit.value(facet).map(|value| value_title(self.opened, facet, value));
        let motif = |hit: &FoundHit<'_>| {
            let link = address("/hit", &[("id", &hit.id)], self.choice);
            context! { link, title => value_title(self.opened, Facet::Motif, hit.query) }
        };
        context! {
            link => address("/hit", &[("id", &hit.id)], self.choice),
            id => &hit.id,
            number => same.len(),
            motifs => same.iter().map(motif).collect::<Vec<_>>(),
            white => known(hit.white).unwrap_or("White"),
            black => known(hit.black).unwrap_or("Black"),
            event => known(hit.event).unwrap_or(""),
            year => hit.value(Facet::Year),
            move_number => hit.move_number,
            is_black => hit.value(Facet::Side) == Some("black"),
            san => hit.san,
            kind => hit.value(Facet::Kind),
            verdict => titled(Facet::Verdict).filter(|_| hit.value(Facet::Verdict) != Some("open")),
            evidence => hit.value(Facet::Evidence),
            result => titled(Facet::Result),
            moves_left => hit.moves_left,
            rating => hit.rating,
            is_overlooked => hit.value(Facet::Course) == Some("overlooked"),
            keepings => self.keepings(same, here),
        }
    }

    /// What is chosen, each with the address of the same choice without it.
    fn chosen(&self) -> Vec<Value> {
        let values = self.choice.chosen().map(|(facet, value)| {
            let without = address("/", &[], &self.choice.with_or_without(facet, value));
            let title = value_title(self.opened, facet, value);
            context! { title => format!("{}: {title}", facet_title(facet)), without }
        });
        let without_player = HitChoice { player: String::new(), ..self.choice.clone() };
        let without_text = HitChoice { text: String::new(), ..self.choice.clone() };
        let texts = [
            ("Player", &self.choice.player, without_player),
            ("Text", &self.choice.text, without_text),
        ];
        let texts = texts.into_iter().filter(|(_, text, _)| !text.is_empty());
        let texts = texts.map(|(title, text, without)| {
            context! { title => format!("{title}: {text}"), without => address("/", &[], &without) }
        });
        values.chain(texts).collect()
    }

    fn orders(&self) -> Vec<Value> {
        let order =
            |order: ListOrder| context! { word => order.word(), title => order_title(order) };
        ListOrder::ALL.into_iter().map(order).collect()
    }

    /// What can be chosen of a facet; nothing if all hits have the same value.
    fn facet(&self, facet: Facet) -> Option<Value> {
        let counts = self.sifted.counts(facet);
        let chosen = self.choice.values.get(&facet).map_or(0, Vec::len);
        let mut counts: Vec<_> = counts
            .into_iter()
            .filter(|count| count.hits > 0 || self.choice.has(facet, count.value))
            .collect();
        if counts.len() < 2 && chosen == 0 {
            return None;
        }
        if counts.len() > SHOWN_AT_ONCE {
            counts.sort_by_key(|count| {
                (!self.choice.has(facet, count.value), std::cmp::Reverse(count.hits))
            });
        }
        let values: Vec<Value> = counts
            .iter()
            .map(|count| {
                context! {
                    title => value_title(self.opened, facet, count.value),
                    hits => count.hits,
                    is_chosen => self.choice.has(facet, count.value),
                    link => address("/", &[], &self.choice.with_or_without(facet, count.value)),
                    key => format!("{}-{}", facet.word(), count.value),
                }
            })
            .collect();
        let (values, more) = values.split_at(shown_at_once(values.len(), SHOWN_AT_ONCE));
        Some(context! {
            word => facet.word(),
            title => facet_title(facet),
            values,
            more,
        })
    }
}

fn order_title(order: ListOrder) -> &'static str {
    match order {
        ListOrder::Teaching => "Best to teach",
        ListOrder::Shortest => "Shortest",
        ListOrder::Rating => "Highest rated",
        ListOrder::Newest => "Newest",
    }
}
