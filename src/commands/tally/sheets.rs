//! Numbers laid out as tables.

use super::super::runs::Mined;
use super::measures::{measure_columns, measures, score};
use crate::statistics::{
    Branch, Continuations, Difference, FactorEffect, Group, Interval, ModelGame, Outcomes,
    SMALLEST_SAMPLE, Tally, share,
};
use crate::terminal::{Figure, Sheet, SheetColumn, grouped, percent};

/// One query in one row.
pub(super) fn overview(query: &str, tally: &Tally, all: &Outcomes) -> Sheet {
    let mut columns =
        vec![SheetColumn::kept("query", "query"), SheetColumn::kept("games", "games")];
    columns.extend(measure_columns());
    let mut row = vec![Figure::Text(query.to_owned()), Figure::Count(all.games())];
    row.extend(measures(tally, all));
    Sheet { title: String::new(), columns, rows: vec![row], note: String::new() }
}

/// Adds for programs which offers were counted, if not all, and that the tables were read as they are.
pub(super) fn mark(sheet: &mut Sheet, mined: &Mined) {
    let kinds = mined.runs.kinds().iter().map(|kind| kind.word()).collect::<Vec<_>>().join("+");
    let unchecked = mined.is_read_as_it_is().then(|| ("tables", "unchecked".to_owned()));
    let chosen = (!kinds.is_empty()).then_some(("sacrifice", kinds));
    for (name, mark) in chosen.into_iter().chain(unchecked) {
        sheet.columns.push(SheetColumn::in_title(name));
        for row in &mut sheet.rows {
            row.push(Figure::Text(mark.clone()));
        }
    }
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
        SheetColumn::spared(5, "p_alone", "p alone"),
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
        if effects.iter().all(|effect| effect.difference.is_none()) {
            return format!(
                "Too few games to weigh factors: each needs {SMALLEST_SAMPLE} games with it and \
                 {SMALLEST_SAMPLE} without."
            );
        }
        return "No factor makes a difference here that chance alone would make less than one time in \
                twenty (p corrected for the number of factors)."
            .to_owned();
    };
    let score = |outcomes: &Outcomes| outcomes.score().map_or_else(String::new, percent);
    let Interval { lower, upper } = difference.interval;
    let (more, least, most) =
        if difference.value < 0.0 { ("fewer", -upper, -lower) } else { ("more", lower, upper) };
    format!(
        "Strongest factor: `{}`. With it the attacker scored {} % in {} games, without it {} % in {}: \
         {} percentage points {more} ({} to {}).",
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
        SheetColumn::spared(3, "wins", "won"),
        SheetColumn::spared(3, "draws", "drawn"),
        SheetColumn::spared(3, "losses", "lost"),
        SheetColumn::kept("score", "score %"),
        SheetColumn::spared(1, "model_white", "model game"),
        SheetColumn::spared(1, "model_black", ""),
        SheetColumn::spared(2, "model_game", "number"),
        SheetColumn::spared(4, "model_source", "found in"),
    ];
    let mut rows = Vec::new();
    add_branches(query, &tree.root, least, &mut Vec::new(), &mut rows);
    Sheet {
        title: query.to_owned(),
        columns,
        rows,
        note: "Moves are in the attacker's view. Shares are of the games with the move before. The model \
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
            Figure::of(model, |ModelGame { white, .. }| Figure::Text(white.clone())),
            Figure::of(model, |ModelGame { black, .. }| Figure::Text(black.clone())),
            Figure::of(model, |model| Figure::Count(model.game.0)),
            Figure::of(model, |ModelGame { source, .. }| Figure::Text(source.clone())),
        ]);
        if san.is_some() {
            add_branches(query, &branch, least, line, rows);
        }
        line.pop();
    }
}
