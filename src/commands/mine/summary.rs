//! The end of a run in a few lines.

use textwrap::WordSplitter;

use super::options::MineOptions;
use crate::board::SacrificeKind;
use crate::query::Pattern;
use crate::statistics::{Outcomes, Summary};
use crate::tables::{EndOfRun, RunFile};
use crate::terminal::{Figure, Sheet, SheetColumn, counted, grouped, percent};
use crate::visible::visible;

/// The end of a run in a few lines.
pub(super) fn summary(
    options: &MineOptions,
    manifest: &RunFile,
    patterns: &[Pattern],
    summaries: &[Summary],
    width: usize,
) -> String {
    let counts = &manifest.counts;
    let mut parts = vec![format!("{} read", counted(counts.games, "game"))];
    match manifest.ended {
        EndOfRun::Interrupted => parts.push("then interrupted".to_owned()),
        EndOfRun::AtTheLimit => parts.push("which is the limit".to_owned()),
        EndOfRun::AtTheEnd => {}
    }
    if counts.left_out > 0 {
        parts.push(format!("{} left out by the options", grouped(counts.left_out)));
    }
    let way_on = if counts.rejected > 0 { " (see the table `rejects`)" } else { "" };
    parts.push(format!("{} rejected{way_on}", grouped(counts.rejected)));
    if counts.duplicates > 0 {
        parts.push(format!("{} left out", counted(counts.duplicates, "duplicate")));
    }
    let damaged = manifest.sources.iter().filter(|source| source.unchecked_from.is_some()).count();
    if damaged > 0 {
        parts.push(format!(
            "{} (see the column `doubts`)",
            counted(damaged as u64, "damaged source")
        ));
    }
    let names = patterns.iter().map(|pattern| &*pattern.query.name);
    let (found, idle): (Vec<_>, Vec<_>) = names.zip(summaries).partition(|(_, summary)| {
        !options.names_no_query() || summary.hits + summary.overlooked > 0
    });
    let rows = found.iter().map(|(name, summary)| summary_row(name, summary)).collect();
    if !idle.is_empty() {
        parts.push(format!("{} of {} queries found nothing", idle.len(), patterns.len()));
    }
    if options.overlooked {
        let total = summaries.iter().map(|summary| summary.overlooked).sum();
        parts.push(format!("{} overlooked", counted(total, "offer")));
    }
    let (parts, tables) = (parts.join(", "), options.out.display().to_string());
    let tables = visible(&tables);
    let unbroken = textwrap::Options::new(width).word_splitter(WordSplitter::NoHyphenation);
    let head = textwrap::fill(&format!("{parts}; tables in {tables}"), unbroken);
    format!("{head}\n\n{}", sheet(rows).as_text(width))
}

fn sheet(rows: Vec<Vec<Figure>>) -> Sheet {
    let columns = vec![
        SheetColumn::kept("query", "query"),
        SheetColumn::kept("hits", "hits"),
        SheetColumn::spared(3, "given_up", "given up"),
        SheetColumn::spared(6, "accepted", "accepted"),
        SheetColumn::spared(4, "sham", "sham"),
        SheetColumn::spared(4, "real", "real"),
        SheetColumn::spared(2, "results", "results"),
        SheetColumn::spared(1, "score", "score"),
        SheetColumn::spared(5, "interval", "interval"),
    ];
    Sheet { title: String::new(), columns, rows, note: LEGEND.to_owned() }
}

/// What the columns of the summary mean.
const LEGEND: &str = "given up: hits that give something up (cost over 0). Only these count under \
                      accepted, sham, real (see `hecatomb help kinds`), results (won-drawn-lost) \
                      and score, which is the attacker's percentage with its 95 % interval. No \
                      score for fewer than 10 results.";

fn summary_row(name: &str, summary: &Summary) -> Vec<Figure> {
    let outcomes = &summary.outcomes;
    let enough = outcomes.enough();
    let interval = enough.and_then(Outcomes::interval);
    let interval = interval.map(|ends| format!("{}-{}", percent(ends.lower), percent(ends.upper)));
    let results = [outcomes.wins, outcomes.draws, outcomes.losses].map(grouped).join("-");
    vec![
        Figure::Text(name.to_owned()),
        Figure::Count(summary.hits),
        Figure::Count(summary.given_up),
        Figure::Count(summary.accepted),
        Figure::Count(summary.of_kind(SacrificeKind::Sham)),
        Figure::Count(summary.of_kind(SacrificeKind::Real)),
        Figure::Text(results),
        Figure::of(enough.and_then(Outcomes::score), Figure::Share),
        Figure::of(interval, Figure::Text),
    ]
}
