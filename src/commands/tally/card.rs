//! One query in lines that say in words what they count.

use super::measures::{difference, enough_replies, expected};
use crate::board::SacrificeKind;
use crate::statistics::{BalanceBand, Group, Interval, KeyValue, Outcomes, Tally, share};
use crate::terminal::{Figure, Sheet, SheetColumn, counted, grouped, percent};

/// One query in lines. `by_balance` are its hits by the balance before the offer.
pub(super) fn card(query: &str, tally: &Tally, by_balance: &[Group], all: &Outcomes) -> Sheet {
    let columns = ["measure", "value", "detail"].map(|name| SheetColumn::kept(name, "")).to_vec();
    let mut rows = counts(tally, all);
    match tally.outcomes().enough() {
        None => {
            rows.push(line(
                "score",
                "-".to_owned(),
                "no rate for fewer than 10 results".to_owned(),
            ));
        }
        Some(outcomes) => {
            rows.extend(rates(tally, outcomes, all));
            rows.push(line("by balance before", String::new(), scores_by_balance(by_balance)));
        }
    }
    Sheet { title: query.to_owned(), columns, rows, note: String::new() }
}

fn line(name: &str, value: String, detail: String) -> Vec<Figure> {
    vec![Figure::Text(format!("  {name}")), Figure::Text(value), Figure::Text(detail)]
}

/// The lines that count.
fn counts(tally: &Tally, all: &Outcomes) -> Vec<Vec<Figure>> {
    let outcomes = tally.outcomes();
    let summary = &tally.summary;
    let mut rows = vec![
        line("games searched", grouped(all.games()), String::new()),
        line("hits", grouped(summary.hits), frequency(summary.hits, all.games())),
    ];
    if summary.overlooked > 0 {
        rows.push(line("overlooked", grouped(summary.overlooked), "not counted below".to_owned()));
    }
    rows.push(line("given up", grouped(summary.given_up), "cost over 0".to_owned()));
    rows.push(line("accepted", grouped(summary.accepted), rate_of(enough_replies(tally))));
    let [sham, real, desperado] =
        [SacrificeKind::Sham, SacrificeKind::Real, SacrificeKind::Desperado]
            .map(|kind| grouped(summary.of_kind(kind)));
    rows.push(line("sham, real", format!("{sham}, {real}"), format!("desperado {desperado}")));
    let results = [outcomes.wins, outcomes.draws, outcomes.losses].map(grouped).join("-");
    let undecided = match outcomes.open {
        0 => String::new(),
        open => format!("and {} without a result", grouped(open)),
    };
    rows.push(line("won-drawn-lost", results, undecided));
    rows
}

/// The lines that rate; `outcomes` are enough of them.
fn rates(tally: &Tally, outcomes: &Outcomes, all: &Outcomes) -> Vec<Vec<Figure>> {
    let rate = |share: Option<f64>| {
        share.map_or_else(String::new, |share| format!("{} %", percent(share)))
    };
    let ends = outcomes.interval().map_or_else(String::new, between);
    let same_side = "that side's score in all games searched".to_owned();
    let unrated = match tally.unrated() {
        0 => String::new(),
        unrated => format!(", {} unrated", grouped(unrated)),
    };
    let rated =
        format!("{} in rated games{unrated}", counted(tally.rated.outcomes().decided(), "offer"));
    let mut rows = vec![
        line("score", rate(outcomes.score()), ends),
        line("all games, same side", rate(tally.base_score(all)), same_side),
        line("expected by ratings", rate(expected(tally)), rated),
    ];
    if let Some(gain) = difference(tally) {
        let value = format!("{:+.1}", 100.0 * gain.value);
        rows.push(line("gain on the ratings", value, signed_between(gain.interval)));
    }
    let moves = tally.median_moves_left().map_or_else(String::new, |moves| moves.to_string());
    rows.push(line("moves to the end", moves, "median, the offer included".to_owned()));
    rows.push(line("the attacker mates", rate(tally.mate_share()), String::new()));
    rows
}

/// The scores of those who were behind, level and ahead before the offer.
fn scores_by_balance(by_balance: &[Group]) -> String {
    use BalanceBand::{Ahead, Behind, FarAhead, FarBehind, Level};
    let score = |says: &str, are_meant: &[BalanceBand]| {
        let meant = by_balance.iter().filter(|group| match group.values[..] {
            [KeyValue::Balance(band)] => are_meant.contains(&band),
            _ => false,
        });
        let outcomes =
            meant.fold(Outcomes::default(), |all, group| all.and(group.tally.outcomes()));
        match outcomes.enough().and_then(Outcomes::score) {
            Some(score) => format!("{says} {} %", percent(score)),
            None => format!("{says} -"),
        }
    };
    let behind = score("behind", &[FarBehind, Behind]);
    let level = score("level", &[Level]);
    let ahead = score("ahead", &[Ahead, FarAhead]);
    format!("{behind}, {level}, {ahead}")
}

fn rate_of(figure: Figure) -> String {
    if figure == Figure::Blank {
        String::new()
    } else {
        format!("{} % of those answered", figure.shown())
    }
}

fn frequency(hits: u64, games: u64) -> String {
    share(hits, games)
        .map_or_else(String::new, |share| format!("{:.1} in 10,000 games", 1e4 * share))
}

fn between(ends: Interval) -> String {
    format!("{} to {} (95 %)", percent(ends.lower), percent(ends.upper))
}

fn signed_between(ends: Interval) -> String {
    format!("{:+.1} to {:+.1} (95 %)", 100.0 * ends.lower, 100.0 * ends.upper)
}
