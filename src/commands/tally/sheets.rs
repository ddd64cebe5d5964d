//! Numbers laid out as tables.

use super::super::runs::Mined;
use super::measures::{measure_columns, measures, score};
use crate::statistics::{Branch, Continuations, Group, ModelGame, Outcomes, Tally, share};
use crate::terminal::{Figure, Sheet, SheetColumn};

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
    let (kinds, by_force) = (mined.runs.kinds().words().join("+"), mined.runs.kinds().by_force);
    let unchecked = mined.is_read_as_it_is().then(|| ("tables", "unchecked".to_owned()));
    let chosen = (!kinds.is_empty())
        .then_some((if by_force { "sacrifice_by_force" } else { "sacrifice" }, kinds));
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
