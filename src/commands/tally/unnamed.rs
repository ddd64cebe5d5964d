//! What is given up and no motif names, as a table.

use super::measures::score;
use crate::advice::WithHint;
use crate::board::word_of;
use crate::commands::runs::Mined;
use crate::query::every_sacrifice_names;
use crate::statistics::{Named, Unnamed, UnnamedGroup, UnnamedKey, grouped, percent, share};
use crate::terminal::{Figure, Sheet, SheetColumn};

/// The most rows that are shown to people.
const MOST_ROWS: usize = 40;

/// A table of what the queries that find every sacrifice found, and no other query did.
pub(super) fn sheet(mined: &Mined, is_for_programs: bool) -> anyhow::Result<Sheet> {
    let catch_alls = every_sacrifice_names();
    let queries = mined.runs.queries();
    let (every, motifs): (Vec<&str>, Vec<&str>) =
        queries.into_iter().partition(|name| catch_alls.iter().any(|known| known == name));
    if every.is_empty() {
        let error = anyhow::anyhow!("these tables do not hold every sacrifice");
        return Err(error.hint("mine with --every-sacrifice"));
    }
    let mut named = Named::default();
    for query in motifs {
        mined.pass(query, &mut [&mut named])?;
    }
    let mut unnamed = Unnamed::beside(&named);
    for query in every {
        mined.pass(query, &mut [&mut unnamed])?;
    }
    let groups = unnamed.groups();
    let shown = if is_for_programs { groups.len() } else { MOST_ROWS.min(groups.len()) };
    let rows = groups[..shown].iter().map(|(key, group)| row(*key, group)).collect();
    let left = grouped((groups.len() - shown) as u64);
    let more = if shown < groups.len() {
        format!(" {left} more rows are in CSV and JSON.")
    } else {
        String::new()
    };
    let note = format!("{}{more}", covered(unnamed.named_of_accepted()));
    Ok(Sheet {
        title: "Given up, and named by no motif".to_owned(),
        columns: columns(),
        rows,
        note,
    })
}

fn columns() -> Vec<SheetColumn> {
    vec![
        SheetColumn::kept("man", "man"),
        SheetColumn::kept("manner", ""),
        SheetColumn::kept("square", "square"),
        SheetColumn::kept("kind", "kind"),
        SheetColumn::kept("games", "games"),
        SheetColumn::spared(1, "wins", "won"),
        SheetColumn::spared(1, "draws", "drawn"),
        SheetColumn::spared(1, "losses", "lost"),
        SheetColumn::kept("score", "score %"),
        SheetColumn::spared(2, "examples", "source:game:ply"),
    ]
}

fn row(key: UnnamedKey, group: &UnnamedGroup) -> Vec<Figure> {
    let outcomes = &group.outcomes;
    vec![
        Figure::Text(word_of(key.man).to_owned()),
        Figure::Text(key.manner.word().to_owned()),
        Figure::Text(key.square.to_string()),
        Figure::Text(key.kind.word().to_owned()),
        Figure::Count(outcomes.games()),
        Figure::Count(outcomes.wins),
        Figure::Count(outcomes.draws),
        Figure::Count(outcomes.losses),
        score(outcomes),
        Figure::Text(group.games.join(" ")),
    ]
}

/// What share of the sacrifices that were accepted motifs name.
fn covered((named, all): (u64, u64)) -> String {
    let share =
        share(named, all).map_or_else(String::new, |share| format!(" ({} %)", percent(share)));
    format!("Motifs name {} of {} sham and real sacrifices{share}.", grouped(named), grouped(all))
}
