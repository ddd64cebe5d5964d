//! Numbers laid out as tables.

use crate::commands::runs::Group;
use crate::statistics::{
    Branch, Continuations, Difference, FactorEffect, Interval, ModelGame, Outcomes,
    SMALLEST_SAMPLE, Tally, share,
};
use crate::terminal::{Figure, Sheet, SheetColumn, grouped, percent};

/// What is known of real offers, and how it is shown.
type Measure = (u8, &'static str, &'static str, fn(&Tally, &Outcomes) -> Figure);

/// The measures of a tally: rank in which text leaves them out, name, heading, figure. `Outcomes` are
/// those of all games for White.
const MEASURES: &[Measure] = &[
    (0, "hits", "hits", |tally, _| Figure::Count(tally.summary.hits)),
    (7, "per_10000_games", "per 10,000", |tally, all| {
        Figure::of(share(tally.summary.hits, all.games()), |share| Figure::Number(1e4 * share, 1))
    }),
    (14, "overlooked", "missed", |tally, _| Figure::Count(tally.summary.overlooked)),
    (0, "real", "real", |tally, _| Figure::Count(tally.summary.real_offers)),
    (13, "accepted", "taken", |tally, _| Figure::Count(tally.summary.accepted)),
    (2, "accepted_share", "taken %", |tally, _| enough_replies(tally)),
    (0, "wins", "won", |tally, _| Figure::Count(tally.outcomes().wins)),
    (0, "draws", "drawn", |tally, _| Figure::Count(tally.outcomes().draws)),
    (0, "losses", "lost", |tally, _| Figure::Count(tally.outcomes().losses)),
    (12, "undecided", "open", |tally, _| Figure::Count(tally.outcomes().open)),
    (0, "score", "score %", |tally, _| score(tally.outcomes())),
    (1, "score_lower", "from", |tally, _| end(tally.outcomes(), |ends| ends.lower)),
    (1, "score_upper", "to", |tally, _| end(tally.outcomes(), |ends| ends.upper)),
    (11, "unrated", "unrated", |tally, _| Figure::Count(tally.unrated())),
    (6, "expected", "expected %", |tally, _| Figure::of(expected(tally), Figure::Share)),
    (3, "gain", "gain", |tally, _| gain(tally, |gain| gain.value)),
    (4, "gain_lower", "from", |tally, _| gain(tally, |gain| gain.interval.lower)),
    (4, "gain_upper", "to", |tally, _| gain(tally, |gain| gain.interval.upper)),
    (5, "base", "all games %", |tally, all| {
        Figure::of(enough(tally.outcomes()).and_then(|_| tally.base_score(all)), Figure::Share)
    }),
    (9, "median_moves_left", "moves left", |tally, _| {
        Figure::of(enough(tally.outcomes()).and_then(|_| tally.median_moves_left()), |moves| {
            Figure::Number(moves, 1)
        })
    }),
    (8, "mate_share", "mate %", |tally, _| {
        Figure::of(enough(tally.outcomes()).and_then(|_| tally.mate_share()), Figure::Share)
    }),
];

/// Nothing if there are too few games for a rate.
fn enough(outcomes: &Outcomes) -> Option<&Outcomes> {
    Some(outcomes).filter(|outcomes| outcomes.decided() >= SMALLEST_SAMPLE)
}

fn enough_replies(tally: &Tally) -> Figure {
    let replies = tally.summary.accepted + tally.declined;
    let is_enough = replies >= SMALLEST_SAMPLE;
    Figure::of(tally.accepted_share().filter(|_| is_enough), Figure::Share)
}

fn score(outcomes: &Outcomes) -> Figure {
    Figure::of(enough(outcomes).and_then(Outcomes::score), Figure::Share)
}

fn end(outcomes: &Outcomes, end: fn(Interval) -> f64) -> Figure {
    Figure::of(enough(outcomes).and_then(Outcomes::interval).map(end), Figure::Share)
}

fn expected(tally: &Tally) -> Option<f64> {
    enough(tally.rated.outcomes()).and_then(|_| tally.rated.expected_score())
}

fn difference(tally: &Tally) -> Option<Difference> {
    enough(tally.rated.outcomes()).and_then(|_| tally.rated.difference())
}

fn gain(tally: &Tally, part: fn(Difference) -> f64) -> Figure {
    Figure::of(difference(tally).map(part), Figure::Gain)
}

/// One query in one row.
pub(super) fn overview(query: &str, tally: &Tally, all: &Outcomes) -> Sheet {
    let mut columns =
        vec![SheetColumn::kept("query", "query"), SheetColumn::kept("games", "games")];
    columns.extend(measure_columns());
    let mut row = vec![Figure::Text(query.to_owned()), Figure::Count(all.games())];
    row.extend(measures(tally, all));
    Sheet { title: String::new(), columns, rows: vec![row], note: String::new() }
}

fn measure_columns() -> impl Iterator<Item = SheetColumn> {
    MEASURES.iter().map(|&(rank, name, heading, _)| SheetColumn::spared(rank, name, heading))
}

fn measures(tally: &Tally, all: &Outcomes) -> impl Iterator<Item = Figure> {
    MEASURES.iter().map(|(_, _, _, figure)| figure(tally, all))
}

/// One query in lines.
pub(super) fn card(query: &str, tally: &Tally, all: &Outcomes) -> Sheet {
    let columns = ["measure", "value", "detail"].map(|name| SheetColumn::kept(name, "")).to_vec();
    let mut rows = counts(tally, all);
    match enough(tally.outcomes()) {
        None => rows.push(line("score", "-".to_owned(), "fewer than 10 games: no rate".to_owned())),
        Some(outcomes) => rows.extend(rates(tally, outcomes, all)),
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
    rows.push(line("real offers", grouped(summary.real_offers), "cost over 0".to_owned()));
    rows.push(line("accepted", grouped(summary.accepted), rate_of(enough_replies(tally))));
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
    let same_side = "what that side scores in all games searched".to_owned();
    let unrated = match tally.unrated() {
        0 => String::new(),
        unrated => format!(", {} unrated", grouped(unrated)),
    };
    let rated = format!("{} rated games{unrated}", grouped(tally.rated.outcomes().decided()));
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

/// One query group by group.
pub(super) fn by(query: &str, by: &[String], groups: &[Group]) -> Sheet {
    let mut columns = vec![SheetColumn::in_title("query")];
    columns.extend(by.iter().map(|name| SheetColumn::kept(name, name)));
    columns.push(SheetColumn::spared(10, "games", "games"));
    columns.extend(measure_columns());
    let row = |group: &Group| {
        let mut row = vec![Figure::Text(query.to_owned())];
        row.extend(group.values.iter().map(|value| Figure::Text(value.to_string())));
        row.push(Figure::Count(group.white.games()));
        row.extend(measures(&group.tally, &group.white));
        row
    };
    Sheet {
        title: query.to_owned(),
        columns,
        rows: groups.iter().map(row).collect(),
        note: String::new(),
    }
}

/// What the factors of a query are worth.
pub(super) fn factors(query: &str, effects: &[FactorEffect]) -> Sheet {
    let columns = vec![
        SheetColumn::in_title("query"),
        SheetColumn::kept("factor", "factor"),
        SheetColumn::kept("with_games", "with"),
        SheetColumn::kept("with_score", "score %"),
        SheetColumn::kept("without_games", "without"),
        SheetColumn::kept("without_score", "score %"),
        SheetColumn::kept("difference", "gain"),
        SheetColumn::spared(1, "difference_lower", "from"),
        SheetColumn::spared(1, "difference_upper", "to"),
        SheetColumn::spared(5, "p", "p alone"),
        SheetColumn::spared(2, "adjusted_p", "p"),
        SheetColumn::spared(3, "odds_ratio", "odds"),
        SheetColumn::spared(4, "odds_ratio_lower", "from"),
        SheetColumn::spared(4, "odds_ratio_upper", "to"),
    ];
    let row = |effect: &FactorEffect| {
        let of_difference =
            |part: fn(Difference) -> f64| Figure::of(effect.difference.map(part), Figure::Gain);
        let odds = effect.odds_ratio;
        vec![
            Figure::Text(query.to_owned()),
            Figure::Text(effect.name.clone()),
            Figure::Count(effect.with.decided()),
            score(&effect.with),
            Figure::Count(effect.without.decided()),
            score(&effect.without),
            of_difference(|difference| difference.value),
            of_difference(|difference| difference.interval.lower),
            of_difference(|difference| difference.interval.upper),
            Figure::of(effect.difference, |difference| Figure::Number(difference.p, 3)),
            Figure::of(effect.adjusted_p, |p| Figure::Number(p, 3)),
            Figure::of(odds, |odds| Figure::Number(odds.ratio(), 2)),
            Figure::of(odds, |odds| Figure::Number(odds.interval().lower, 2)),
            Figure::of(odds, |odds| Figure::Number(odds.interval().upper, 2)),
        ]
    };
    Sheet {
        title: query.to_owned(),
        columns,
        rows: effects.iter().map(row).collect(),
        note: strongest(effects),
    }
}

/// What the strongest rule of thumb is worth, in a sentence.
fn strongest(effects: &[FactorEffect]) -> String {
    const SURE: f64 = 0.05;
    let sure = effects.iter().find(|effect| effect.adjusted_p.is_some_and(|p| p < SURE));
    let told = sure.and_then(|effect| Some((effect, effect.difference?)));
    let Some((effect, difference)) = told else {
        return "No factor makes a difference here that chance alone would not make one time in twenty \
                (p corrected for the number of factors)."
            .to_owned();
    };
    let score = |outcomes: &Outcomes| outcomes.score().map_or_else(String::new, percent);
    let Interval { lower, upper } = difference.interval;
    let (more, least, most) =
        if difference.value < 0.0 { ("fewer", -upper, -lower) } else { ("more", lower, upper) };
    format!(
        "Most is told by `{}`: with it the attacker scored {} % in {} games, without it {} % in {}, \
         which is {} points in a hundred {more} (from {} to {}).",
        effect.name,
        score(&effect.with),
        grouped(effect.with.decided()),
        score(&effect.without),
        grouped(effect.without.decided()),
        percent(difference.value.abs()),
        percent(least),
        percent(most),
    )
}

/// The tree of what was played after the offer.
pub(super) fn continuations(query: &str, tree: &Continuations, least: u64) -> Sheet {
    let columns = vec![
        SheetColumn::in_title("query"),
        SheetColumn::in_title("line"),
        SheetColumn::kept("move", "move"),
        SheetColumn::kept("games", "games"),
        SheetColumn::kept("share", "share %"),
        SheetColumn::spared(2, "wins", "won"),
        SheetColumn::spared(2, "draws", "drawn"),
        SheetColumn::spared(2, "losses", "lost"),
        SheetColumn::kept("score", "score %"),
        SheetColumn::spared(1, "model_source", "model game"),
        SheetColumn::spared(1, "model_game", ""),
    ];
    let mut rows = Vec::new();
    add_branches(query, &tree.root, least, &mut Vec::new(), &mut rows);
    Sheet {
        title: query.to_owned(),
        columns,
        rows,
        note: "Moves are in the attacker's view; a share is of the games with the move before. The model \
               game is the one whose weaker player is rated highest."
            .to_owned(),
    }
}

fn add_branches(
    query: &str,
    parent: &Branch,
    least: u64,
    line: &mut Vec<String>,
    rows: &mut Vec<Vec<Figure>>,
) {
    let next = parent.next(least);
    // That everything is rare needs no line.
    if next.iter().all(|(san, _)| san.is_none()) {
        return;
    }
    for (san, branch) in next {
        line.push(san.unwrap_or("other").to_owned());
        let indented = format!("{}{}", "  ".repeat(line.len() - 1), san.unwrap_or("other"));
        let outcomes = &branch.outcomes;
        let model = branch.model.as_ref();
        rows.push(vec![
            Figure::Text(query.to_owned()),
            Figure::Text(line.join(" ")),
            Figure::Text(indented),
            Figure::Count(branch.count()),
            Figure::of(share(branch.count(), parent.count()), Figure::Share),
            Figure::Count(outcomes.wins),
            Figure::Count(outcomes.draws),
            Figure::Count(outcomes.losses),
            score(outcomes),
            Figure::of(model, |ModelGame { source, .. }| Figure::Text(source.clone())),
            Figure::of(model, |model| Figure::Count(model.game.unsigned_abs())),
        ]);
        if san.is_some() {
            add_branches(query, &branch, least, line, rows);
        }
        line.pop();
    }
}
