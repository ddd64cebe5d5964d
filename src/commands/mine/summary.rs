//! The end of a run in a few lines.

use super::options::MineOptions;
use crate::query::Pattern;
use crate::statistics::{SMALLEST_SAMPLE, Summary};
use crate::tables::RunFile;
use crate::terminal::{Align, counted, grouped, in_columns, percent};

/// The end of a run in a few lines.
pub(super) fn summary(
    options: &MineOptions,
    manifest: &RunFile,
    patterns: &[Pattern],
    summaries: &[Summary],
) -> String {
    let counts = &manifest.counts;
    let mut parts = vec![format!("{} read", counted(counts.games, "game"))];
    match manifest.ended.as_str() {
        "interrupted" => parts.push("then interrupted".to_owned()),
        "at the limit" => parts.push("which is the limit".to_owned()),
        _ => {}
    }
    if counts.left_out > 0 {
        parts.push(format!("{} left out by the options", grouped(counts.left_out)));
    }
    parts.push(format!("{} rejected", grouped(counts.rejected)));
    if counts.duplicates > 0 {
        parts.push(format!("{} left out", counted(counts.duplicates, "duplicate")));
    }
    let heading = ["query", "hits", "real", "accepted", "results", "score %", "interval"];
    let mut rows = vec![heading.map(str::to_owned).to_vec()];
    let names = patterns.iter().map(|pattern| &pattern.query.name);
    rows.extend(names.zip(summaries).map(|(name, summary)| summary_row(name, summary)));
    let mut align = [Align::Right; 7];
    align[0] = Align::Left;
    if options.overlooked {
        let total = summaries.iter().map(|summary| summary.overlooked).sum();
        parts.push(format!("{} overlooked", counted(total, "offer")));
    }
    format!(
        "{}; tables in {}\n\n{}\n{LEGEND}",
        parts.join(", "),
        options.out.display(),
        in_columns(&align, &rows)
    )
}

/// What the columns of the summary mean.
const LEGEND: &str = "\
real: hits that give something up (cost over 0); accepted, results (won-drawn-lost)
and the attacker's score with its 95 % interval are of these, games without a
result aside. With fewer than 10 games no score is given.
";

fn summary_row(name: &str, summary: &Summary) -> Vec<String> {
    let outcomes = &summary.outcomes;
    let is_enough = outcomes.decided() >= SMALLEST_SAMPLE;
    let score = outcomes.score().filter(|_| is_enough).map(percent);
    let interval = outcomes.interval().filter(|_| is_enough);
    let interval = interval.map(|ends| format!("{}-{}", percent(ends.lower), percent(ends.upper)));
    let results = [outcomes.wins, outcomes.draws, outcomes.losses].map(grouped).join("-");
    vec![
        name.to_owned(),
        grouped(summary.hits),
        grouped(summary.real_offers),
        grouped(summary.accepted),
        results,
        score.unwrap_or_else(|| "-".to_owned()),
        interval.unwrap_or_else(|| "-".to_owned()),
    ]
}
