//! `hecatomb join`: the parts of a collection, or whole runs, made one run.

use std::path::PathBuf;

use clap::Args;

use super::Ending;
use crate::advice::WithHint;
use crate::hits::{Reading, Run};
use crate::joining::{Assembly, JoinError, Joined, join};
use crate::run::refuse_others;
use crate::tables::OutputFolder;
use crate::terminal::{Terminal, counted, grouped};
use crate::visible::visible;

/// Join the parts of a collection, or several runs, into one run
///
/// Of parts (`mine --part`) it makes the run that one machine would have made: the same bytes in every table. Whole
/// runs with the same queries and options become the run over all their sources, in the order given. Verdicts
/// are kept. `hecatomb help parts` says more.
#[derive(Args, Debug)]
#[command(after_help = "Example: hecatomb join part-1 part-2 part-3 -o hits")]
pub(super) struct JoinOptions {
    /// Folders of parts or runs, written by `mine --out`
    #[arg(required = true, value_name = "DIR")]
    runs: Vec<PathBuf>,

    /// Write the run to this folder
    #[arg(short, long, value_name = "DIR")]
    out: PathBuf,

    /// Write even if the folder holds another run or other files
    #[arg(long)]
    replace: bool,
}

/// Runs the command.
pub(super) fn join_runs(options: &JoinOptions, terminal: Terminal) -> anyhow::Result<Ending> {
    let open = |path: &PathBuf| Run::open(path, Reading::AsWritten);
    let runs: Vec<Run> = options.runs.iter().map(open).collect::<Result<_, _>>()?;
    refuse_own(options, &runs)?;
    let format = runs[0].format();
    let assembly = Assembly::of(runs).map_err(with_way_on)?;
    let folder = OutputFolder::at(&options.out);
    if !options.replace {
        refuse_others(&folder, &options.out, &assembly.manifest)?;
    }
    let staging = folder.stage(format, false)?;
    let joined = join(&assembly, &staging).map_err(with_way_on)?;
    staging.publish(&joined.manifest, None)?;
    terminal.print(&summary(options, &assembly, &joined))?;
    if joined.unjudged > 0 {
        let hits = counted(joined.unjudged, "hit");
        let message = format!("{hits} of verified queries have no verdict");
        terminal.note_with_hint(message, "judge them with `hecatomb verify` and --resume");
    }
    Ok(Ending::Done)
}

/// Fails if the run is to be written where one of those is that it is made of.
fn refuse_own(options: &JoinOptions, runs: &[Run]) -> anyhow::Result<()> {
    let Ok(out) = options.out.canonicalize() else { return Ok(()) };
    for run in runs {
        if run.real_path()? == out {
            let out = options.out.display();
            let error = anyhow::anyhow!("`{out}` is one of the runs that are to be joined");
            return Err(error.hint("name another folder with --out"));
        }
    }
    Ok(())
}

/// Adds to what keeps runs from being joined what the user can do.
fn with_way_on(error: JoinError) -> anyhow::Error {
    let way_on = match &error {
        JoinError::Disagreement(disagreement) => disagreement.way_on().map(str::to_owned),
        JoinError::Table(trouble) => return trouble.clone().into(),
        JoinError::Folder(_) => None,
    };
    error.hint_if(way_on)
}

/// What came of it in a few words.
fn summary(options: &JoinOptions, assembly: &Assembly, joined: &Joined) -> String {
    let Joined { manifest, judged, .. } = joined;
    let what = if assembly.is_of_parts() { "part" } else { "run" };
    let hits = manifest.queries.iter().map(|query| query.hits + query.overlooked).sum();
    let counts = &manifest.counts;
    let mut said = vec![
        format!("{} joined", counted(assembly.runs() as u64, what)),
        counted(counts.games, "game"),
        format!("{} rejected", grouped(counts.rejected)),
        format!("{} left out", counted(counts.duplicates, "duplicate")),
        counted(hits, "hit"),
    ];
    if let Some(judged) = judged {
        said.push(format!("{} carried over", counted(*judged, "verdict")));
    }
    let out = options.out.display().to_string();
    format!("{}; tables in {}\n", said.join(", "), visible(&out))
}
