//! The page of a hit: its game on the board, what is given, what is known of it, and the hits before and after it in the
//! present choice.

use axum::extract::Query;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use minijinja::{Value, context};
use shakmaty::Color;

use super::address::{AddressWords, address, choice_of, value};
use super::extracted::HitsRead;
use super::keeping::Keeping;
use super::looked_at::{LookedAt, WhatIfs};
use super::opened::Opened;
use super::words::value_title;
use crate::collection::known;
use crate::finding::{Facet, FoundHits, HitChoice};
use crate::hits::{Evidence, Sound, VerdictRecord};
use crate::pages::{served_factors, served_game, served_given, served_positions, served_symbols};
use crate::teaching::{Specimen, in_words, why};
use crate::words::Words;

/// The word that asks for what else could have been replied.
const WHAT_IF: &str = "whatif";

/// The page of a hit.
pub(super) async fn look(read: HitsRead, Query(words): Query<AddressWords>) -> Response {
    // It reads tables and may search positions, which would keep others waiting.
    let looking = tokio::task::spawn_blocking(move || page(&read, &words));
    looking.await.unwrap_or_else(|_| {
        (StatusCode::INTERNAL_SERVER_ERROR, "This page can't be made.\n").into_response()
    })
}

fn page(read: &HitsRead, words: &AddressWords) -> Response {
    let (opened, hits) = read.parts();
    let id = value(words, "id").unwrap_or_default();
    let Some(place) = hits.place_of(id) else {
        return opened.frame.told(
            StatusCode::NOT_FOUND,
            "There is no such hit",
            "None is called so.",
        );
    };
    let what_ifs = match value(words, WHAT_IF) {
        Some(_) => WhatIfs::Asked,
        None => WhatIfs::Unasked,
    };
    let found = hits.get(place);
    match LookedAt::of(opened, (found.query, &found.id), hits.near(place), what_ifs) {
        Err(why) => opened.frame.failed(&why),
        Ok(None) => opened.frame.failed("the tables have changed since they were read"),
        Ok(Some(looked_at)) => {
            let choice = choice_of(words);
            let page = LookPage { opened, hits, place, choice, looked_at, what_ifs };
            page.shown()
        }
    }
}

struct LookPage<'l> {
    opened: &'l Opened,
    hits: &'l FoundHits,
    place: usize,
    choice: HitChoice,
    looked_at: LookedAt,
    what_ifs: WhatIfs,
}

impl LookPage<'_> {
    fn shown(&self) -> Response {
        let (opened, hit) = (self.opened, &self.looked_at.hit);
        let Some(query) = opened.queries.get(&*hit.query) else {
            return opened.frame.failed(&format!("there is no query `{}` here", hit.query));
        };
        let game = served_game(&self.looked_at.game, query, opened.letters);
        let specimen = self.looked_at.specimen.as_ref();
        let factors = specimen.map(|specimen| served_factors(specimen, query)).unwrap_or_default();
        let (held, failed): (Vec<_>, Vec<_>) = factors.into_iter().partition(|(_, held)| *held);
        let texts = |factors: Vec<(String, bool)>| factors.into_iter().map(|(text, _)| text);
        let (white, black) =
            (known(&hit.game.white).unwrap_or("White"), known(&hit.game.black).unwrap_or("Black"));
        let content = context! {
            title => format!("{white} – {black}"),
            symbols => served_symbols(),
            game,
            motif => query.title.replace('\'', "’"),
            motif_link => address("/", &[], &HitChoice::default().only(Facet::Motif, &hit.query)),
            id => &hit.id,
            offer => &hit.offer.san,
            number => hit.offer.move_number,
            dots => hit.view.attacker.fold_wb(".", "…"),
            is_played => hit.is_played(),
            given => specimen.map(served_given),
            attacker => hit.view.attacker.fold_wb("White", "Black"),
            kind => hit.offer.kind.map(|kind| kind.word()),
            why => specimen.map(|specimen| why(specimen, Words::ENGLISH)),
            ledger => self.ledger(),
            held => texts(held).collect::<Vec<_>>(),
            failed => texts(failed).collect::<Vec<_>>(),
            verdict => hit.verdict.as_ref().map(|record| verdict(record, specimen)),
            positions => Value::from_safe_string(served_positions(&self.looked_at.game)),
            around => self.around(),
            row => self.keeping(white, black),
            what_if => self.what_if(),
            engine => opened.engine.is_some(),
        };
        opened.frame.page("look.html", content)
    }

    /// What it takes to keep the game for a lesson.
    fn keeping(&self, white: &str, black: &str) -> Option<Value> {
        let keeping = Keeping::of(self.opened)?;
        let hit = self.hits.get(self.place);
        let here = address("/hit", &[("id", &hit.id)], &self.choice);
        let (id, row) = (hit.id.clone(), keeping.row(&hit, &here));
        Some(context! { id, white, black, ..row })
    }

    /// What the offer cost and brought, in words.
    fn ledger(&self) -> Option<Value> {
        let hit = &self.looked_at.hit;
        let ledger = &hit.offer.played()?.ledger;
        let moves = |ply: usize| ply.saturating_sub(hit.offer.ply).div_ceil(2);
        Some(context! {
            cost => hit.offer.cost,
            invested => ledger.invested,
            recovered => ledger.recovered.map(moves),
            end => hit.offer.balance_before + ledger.balance_end,
            mates => hit.gives_mate(),
            result => self.hits.get(self.place).value(Facet::Result).map(|result| value_title(self.opened, Facet::Result, result)),
        })
    }

    /// The list, and the hits before and after this one in it.
    fn around(&self) -> Value {
        let sifted = self.hits.sifted(&self.choice);
        let link =
            |place: usize| address("/hit", &[("id", &self.hits.get(place).id)], &self.choice);
        let (number, before, after) = match sifted.around(self.place) {
            Some((number, before, after)) => (Some(number), before, after),
            None => (None, None, None),
        };
        context! {
            number,
            all => sifted.len(),
            before => before.map(link),
            after => after.map(link),
            list => address("/", &[], &self.choice),
        }
    }

    /// The address that asks what else could have been replied, if that was not asked and there is something to ask.
    fn what_if(&self) -> Option<String> {
        let is_to_ask = self.what_ifs == WhatIfs::Unasked && self.looked_at.hit.is_played();
        let words = [("id", &*self.looked_at.hit.id), (WHAT_IF, "1")];
        is_to_ask.then(|| address("/hit", &words, &self.choice) + "#what-if")
    }
}

/// What an offer is worth, and how that is known.
fn verdict(record: &VerdictRecord, specimen: Option<&Specimen>) -> Value {
    // As it is printed, with numbers; the first of its moves is the reply.
    let best_play = specimen.map(|specimen| &specimen.best_play[..]).unwrap_or_default();
    let line: Vec<String> = best_play
        .iter()
        .enumerate()
        .map(|(at, step)| match step.side {
            Color::White => format!("{}.{}", step.number, step.san),
            Color::Black if at == 0 => format!("{}…{}", step.number, step.san),
            Color::Black => step.san.clone(),
        })
        .collect();
    let evidence = record.worth.evidence.map(|evidence| match evidence {
        Evidence::Proved => "Proved: every defence was played out.",
        Evidence::Judged => "Judged by an engine: that is no proof.",
        Evidence::FromGame => "From the evaluations in the game’s comments: that is no proof.",
        Evidence::Counted => "Counted in material where the search ended: that is no proof.",
    });
    let is_open = record.sound() == Sound::Open;
    let count = record.balance.zip(record.unrest).filter(|_| is_open);
    let count = count.map(|(balance, unrest)| {
        let (depth, why) = (record.depth, unrest.in_words());
        format!("A count of material ended at {balance:+} after {depth} plies, {why}.")
    });
    context! {
        says => in_words(record, Words::ENGLISH),
        is_open,
        evidence,
        count,
        line => line.join(" "),
        better => record.better.as_ref().map(|(san, _)| san),
        is_contradicted => record.worth.contradicted,
        by_force => record.forced_kind.map(|kind| kind.word()),
    }
}
