//! `hecatomb mine`: queries over a collection, tables out.

mod options;
mod summary;
mod telling;
mod timing;

use std::sync::atomic::AtomicBool;
use std::time::Instant;

use super::{Ending, show_problems, stop_on_interrupt};
use crate::advice::WithHint;
use crate::collection::{CollectionError, PartOf, Share, Source, find_sources};
use crate::mining::{Plan, Stopped, Waypoint, run};
use crate::query::Pattern;
use crate::run::{
    Beginning, Checkpoint, News, Recorded, Recorder, RunOptions, beginning, new_manifest, part_run,
};
use crate::tables::{FolderError, OutputFolder, PartRun, RunFile, Staging};
use crate::terminal::{Bar, Terminal, counted};

pub(super) use options::MineOptions;
use summary::summary;
use telling::{GameWatch, tell, tell_found, tell_gameless};
use timing::timing;

/// Runs the command.
pub(super) fn mine(options: &MineOptions, terminal: Terminal) -> anyhow::Result<Ending> {
    let started = Instant::now();
    let Some(patterns) = patterns(options, terminal)? else { return Ok(Ending::Failed) };
    let found = find_sources(&options.collection);
    tell_found(&found, terminal);
    let sources = found.sources;
    if sources.is_empty() {
        return Ok(Ending::Failed);
    }
    let run_options = options.run_options();
    let share = options.part.map(|part| share_of(part, &sources)).transpose()?;
    let (share, part) = share.unzip();
    let manifest = new_manifest(&run_options.recorded, &sources, &patterns);
    let manifest = RunFile { part, ..manifest };
    let folder = OutputFolder::at(&options.out);
    let earlier = match beginning(&run_options, &folder, &manifest, &sources, found.is_lacking)? {
        Beginning::Anew => None,
        Beginning::From(earlier) => Some(*earlier),
        Beginning::NothingLeft => {
            terminal.note(format!("`{}` already holds the whole run", options.out.display()));
            return Ok(Ending::Done);
        }
    };
    let staging = folder.stage(run_options.format, earlier.is_some())?;
    let stop = stop_on_interrupt()?;
    let first = share.map(|share: Share| Waypoint::after(&share.from)).unwrap_or_default();
    let from = earlier.as_ref().map_or(first, |earlier| earlier.place);
    let until = share.map(|share| share.to);
    let plan = Plan { until, ..plan(options, &sources, &patterns, from) };
    if earlier.is_some() {
        let games = counted(plan.from.progress.games, "game");
        terminal.note(format!("resuming after {games}"));
    }
    let begun = (manifest, earlier);
    let mined = mined(&plan, share, &staging, &run_options, begun, stop, terminal)
        .map_err(|error| with_way_on(error, staging.has_checkpoint()))?;
    let Recorded { manifest, summaries, checkpoint, .. } = &mined.outcome;
    staging.publish(manifest, checkpoint.as_deref())?;
    terminal.print(&summary(options, manifest, &patterns, summaries, terminal.width()))?;
    if options.verbose {
        terminal.note(timing(&mined.outcome, started.elapsed(), plan.threads, &sources));
    }
    if checkpoint.is_some() {
        terminal.note("continue with --resume");
    }
    Ok(ending(&mined, &found.errors, terminal))
}

/// What came of a run.
struct EndedRun {
    stopped: Stopped,
    /// Which sources hold a game.
    has_game: Vec<bool>,
    outcome: Recorded,
}

/// Mines and writes up what was found, with a bar that shows how far it has come.
fn mined(
    plan: &Plan<'_>,
    share: Option<Share>,
    staging: &Staging<'_>,
    options: &RunOptions,
    begun: (RunFile, Option<Checkpoint>),
    stop: &'static AtomicBool,
    terminal: Terminal,
) -> anyhow::Result<EndedRun> {
    let bytes = || plan.sources.iter().map(|source| source.size).sum();
    let (before, bytes) = share.map_or_else(
        || (0, bytes()),
        |share| {
            let (before, own) = share.bytes(plan.sources);
            (before, Some(own))
        },
    );
    let bar = Bar::new(terminal, bytes);
    let tell = |news: News<'_>| tell(news.after(before), &bar, terminal);
    let mut recorder = Recorder::open(staging, plan, options, begun, &tell)?;
    let is_begun = plan.from.games > 0 || share.is_some_and(|share| share.from.is_inside());
    let watched_from = plan.from.source + usize::from(is_begun);
    let watched_to = plan.until.map_or(plan.sources.len(), |until| until.source);
    let watched = watched_from..watched_to;
    let mut watch = GameWatch::over(&mut recorder, plan.sources.len(), watched);
    let stopped = run(plan, stop, &mut watch);
    bar.end();
    let has_game = watch.into_has_game();
    let stopped = stopped?;
    Ok(EndedRun { stopped, has_game, outcome: recorder.close(stopped)? })
}

/// How the command ends after a run, once it has told of sources without games.
fn ending(mined: &EndedRun, errors: &[CollectionError], terminal: Terminal) -> Ending {
    let EndedRun { stopped, has_game, outcome: Recorded { manifest, .. } } = mined;
    let is_gameless = *stopped == Stopped::AtTheEnd && tell_gameless(manifest, has_game, terminal);
    let has_failed = is_gameless
        || !errors.is_empty()
        || manifest.sources.iter().any(|source| source.failure.is_some());
    match stopped {
        Stopped::Interrupted => Ending::Interrupted,
        _ if has_failed => Ending::Failed,
        _ => Ending::Done,
    }
}

/// The share of the sources that a part has, and what the manifest says of it.
fn share_of(part: PartOf, sources: &[Source]) -> anyhow::Result<(Share, PartRun)> {
    if let Some(source) = sources.iter().find(|source| source.origin.file().is_none()) {
        anyhow::bail!(
            "--part needs files that every machine can read; `{}` can't be parted",
            source.name
        );
    }
    let share = Share::of(part, sources);
    let run = part_run(part, &share, sources);
    let run = run.map_err(|(name, cause)| anyhow::anyhow!("can't read `{name}`: {cause}"))?;
    Ok((share, run))
}

/// The patterns of the queries that are asked for; problems are shown.
fn patterns(options: &MineOptions, terminal: Terminal) -> anyhow::Result<Option<Vec<Pattern>>> {
    match options.library().queries() {
        Ok(queries) => {
            anyhow::ensure!(!queries.is_empty(), "there is no query to run");
            Ok(Some(queries.into_iter().map(Pattern::new).collect()))
        }
        Err(troubles) => {
            show_problems(terminal, &troubles);
            Ok(None)
        }
    }
}

fn plan<'p>(
    options: &MineOptions,
    sources: &'p [Source],
    patterns: &'p [Pattern],
    from: Waypoint,
) -> Plan<'p> {
    Plan {
        sources,
        patterns,
        selection: options.selection(),
        threads: options.threads.count(),
        block_size: options.block_size as usize * 1024,
        scrutiny: options.scrutiny(),
        most_games: options.limit.unwrap_or(u64::MAX),
        from,
        until: None,
        is_timed: options.verbose,
    }
}

/// Adds to an error that ended a run early how the run can be resumed.
fn with_way_on(error: anyhow::Error, has_checkpoint: bool) -> anyhow::Error {
    let is_changed = matches!(error.downcast_ref(), Some(FolderError::Changed(_)));
    let way_on = match is_changed {
        true => "start again with --replace",
        false => "once that is fixed, continue with --resume",
    };
    error.hint_if(has_checkpoint.then(|| way_on.to_owned()))
}
