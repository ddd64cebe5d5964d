//! Where the time of a run went, and how many games passed each gate.

use std::time::Duration;

use crate::collection::{Source, Strands};
use crate::mining::{Stage, Times};
use crate::run::Recorded;
use crate::statistics::share;
use crate::tables::Counts;
use crate::terminal::{Align, counted, grouped, in_columns, percent};

/// The time of each stage, and the games that passed each gate.
pub(super) fn timing(
    recorded: &Recorded,
    took: Duration,
    threads: usize,
    sources: &[Source],
) -> String {
    let threads = counted(threads as u64, "thread");
    let mut text = format!(
        "{}: {} of work by {threads} in {}\n\n{}\n{}",
        counted(recorded.manifest.counts.games, "game"),
        seconds(recorded.times.sum()),
        seconds(took),
        stages(&recorded.times),
        gates(&recorded.manifest.counts),
    );
    let long = sources_in_one_strand(sources);
    if long > 0 {
        text += &format!(
            "\ndecompressed by one core at a time: {} (gzip, bzip2, or zstd in long frames)\n",
            counted(long, "source")
        );
    }
    text
}

fn seconds(time: Duration) -> String {
    format!("{:.2} s", time.as_secs_f64())
}

fn stages(times: &Times) -> String {
    let mut rows = vec![["stage", "seconds", "share %"].map(str::to_owned).to_vec()];
    let micros = |time: Duration| u64::try_from(time.as_micros()).unwrap_or(u64::MAX);
    rows.extend(Stage::ALL.map(|stage| {
        let time = times.of(stage);
        let part = share(micros(time), micros(times.sum())).map_or_else(String::new, percent);
        vec![stage.name().to_owned(), format!("{:.2}", time.as_secs_f64()), part]
    }));
    in_columns(&[Align::Left, Align::Right, Align::Right], &rows)
}

/// How many games came through each gate.
fn gates(counts: &Counts) -> String {
    let looked_at = counts.games - counts.left_out;
    let mut rows = vec![["gate", "games passed", "%"].map(str::to_owned).to_vec()];
    for (gate, games) in [("text gate", counts.passed_text), ("token gate", counts.replayed)] {
        let part = share(games, looked_at).map_or_else(|| "-".to_owned(), percent);
        rows.push(vec![gate.to_owned(), grouped(games), part]);
    }
    in_columns(&[Align::Left, Align::Right, Align::Right], &rows)
}

/// How many sources can't be decompressed in parts.
fn sources_in_one_strand(sources: &[Source]) -> u64 {
    let is_long = |index: &usize| {
        let source = std::slice::from_ref(&sources[*index]);
        Strands::of(source, 0, 0).next().is_some_and(|strand| strand.is_long())
    };
    (0..sources.len()).filter(is_long).count() as u64
}
