//! `hecatomb mine`: queries over a collection, tables out.

mod desk;
mod options;
mod summary;

use std::time::Instant;

use super::{Ending, show_problems, stop_on_interrupt};
use crate::collection::{CollectionError, find_sources};
use crate::mining::{Plan, Stopped, run};
use crate::query::Pattern;
use crate::tables::{FolderError, OutputFolder};
use crate::terminal::{Bar, Terminal};

use desk::{Desk, new_manifest};
pub(super) use options::{ChapterWord, MineOptions};
use summary::summary;

/// Runs the command.
pub(super) fn mine(options: &MineOptions, terminal: Terminal) -> anyhow::Result<Ending> {
    let started = Instant::now();
    let queries = match options.library().queries() {
        Ok(queries) => queries,
        Err(troubles) => {
            show_problems(terminal, &troubles);
            return Ok(Ending::Failed);
        }
    };
    let patterns: Vec<Pattern> = queries.into_iter().map(Pattern::new).collect();
    anyhow::ensure!(!patterns.is_empty(), "there is no query to run");
    let (sources, errors) = find_sources(&options.collection);
    tell_collection_errors(terminal, &errors);
    if sources.is_empty() {
        return Ok(Ending::Failed);
    }
    let manifest = new_manifest(options, &sources, &patterns);
    let folder =
        OutputFolder::open(&options.out, &manifest, options.replace).map_err(with_advice)?;
    let staging = folder.stage(options.table.into())?;
    let stop = stop_on_interrupt()?;
    let plan = Plan {
        sources: &sources,
        patterns: &patterns,
        selection: options.selection(),
        threads: options.threads(),
        block_size: options.block_size as usize * 1024,
        scrutiny: options.scrutiny(),
        most_games: options.limit.unwrap_or(u64::MAX),
    };
    let bytes = sources.iter().map(|source| source.size).sum::<Option<u64>>();
    let mut desk =
        Desk::open(&staging, &plan, options, manifest, terminal, Bar::new(terminal, bytes))?;
    let stopped = run(&plan, stop, &mut desk);
    desk.bar.end();
    let stopped = stopped?;
    let (manifest, summaries) = desk.close(stopped, started)?;
    staging.publish(&manifest)?;
    terminal.print(&summary(options, &manifest, &patterns, &summaries))?;
    let has_failed =
        !errors.is_empty() || manifest.sources.iter().any(|source| source.failure.is_some());
    Ok(match stopped {
        Stopped::Interrupted => Ending::Interrupted,
        _ if has_failed => Ending::Failed,
        _ => Ending::Done,
    })
}

fn tell_collection_errors(terminal: Terminal, errors: &[CollectionError]) {
    for error in errors {
        terminal.error(error);
    }
}

/// Adds to an error what the user can do.
fn with_advice(error: FolderError) -> anyhow::Error {
    let advice = match &error {
        FolderError::HoldsAnotherRun(_) | FolderError::NotEmpty(_) => {
            "\nhint: name another folder with --out, or write to this one with --replace"
        }
        FolderError::LeadsElsewhere(_) | FolderError::Unwritable { .. } => "",
    };
    anyhow::anyhow!("{error}{advice}")
}
