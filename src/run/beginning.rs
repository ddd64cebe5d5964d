//! Where a run begins: at the start, or where an earlier one was cut short.

use std::path::Path;

use super::checkpoint::{Checkpoint, last_changes};
use super::{Found, RunOptions};
use crate::advice::WithHint;
use crate::collection::Source;
use crate::hits::{Reading, Run};
use crate::statistics::counted;
use crate::tables::{EndOfRun, FolderError, OutputFolder, RunFile};

/// Where a run begins.
#[derive(Debug)]
pub enum Beginning {
    /// At the start of the collection.
    Anew,
    /// Where an earlier run was cut short.
    From(Box<Checkpoint>),
    /// Everything was done before.
    NothingLeft,
}

/// Where a run begins, by what its folder holds and the options say.
///
/// # Errors
///
/// If the folder holds what must not be written over, or what can't be resumed.
pub fn beginning(
    options: &RunOptions,
    folder: &OutputFolder,
    manifest: &RunFile,
    sources: &[Source],
    was_missed: bool,
) -> anyhow::Result<Beginning> {
    let name = options.out.display();
    if let Some(source) = sources.iter().find(|source| source.origin.file().is_none())
        && options.found == Found::Resume
    {
        anyhow::bail!("--resume needs sources that can be read again; `{}` can't be", source.name);
    }
    let left = folder.checkpoint()?;
    if options.found != Found::Resume {
        if options.found == Found::Refuse {
            refuse_others(folder, &options.out, manifest)?;
        }
        return Ok(Beginning::Anew);
    }
    let left = left.as_deref().map(serde_json::from_slice::<Checkpoint>);
    let Some(left) = left else {
        let whole = Run::open(&options.out, Reading::AsWritten).is_ok_and(|run| {
            run.manifest.is_same_run(manifest) && run.manifest.ended != EndOfRun::Interrupted
        });
        // A run that was cut short before its first checkpoint starts again.
        if whole && !folder.is_begun() {
            return Ok(Beginning::NothingLeft);
        }
        folder.refuse_other_content(manifest).map_err(with_advice)?;
        return Ok(Beginning::Anew);
    };
    let obstacle = match left {
        Ok(left) => match left.obstacle(manifest, &last_changes(sources), was_missed) {
            None => return Ok(Beginning::From(Box::new(left))),
            Some(obstacle) => obstacle,
        },
        Err(error) => format!("its checkpoint is from another version: {error}"),
    };
    let error = anyhow::anyhow!("the run in `{name}` can't be resumed: {obstacle}");
    Err(error.hint("start again with --replace"))
}

/// Fails if a folder holds a run that was cut short, another run than this, or something else.
///
/// # Errors
///
/// What it holds, and what the user can do.
pub fn refuse_others(folder: &OutputFolder, path: &Path, run: &RunFile) -> anyhow::Result<()> {
    let left = folder.checkpoint()?;
    let left = left.as_deref().map(serde_json::from_slice::<Checkpoint>);
    if let Some(left) = left.filter(|left| !left.as_ref().is_ok_and(|left| left.is_over)) {
        let after = left.map_or_else(
            |_| "in another version".to_owned(),
            |left| format!("after {}", counted(left.manifest.counts.games, "game")),
        );
        let path = path.display();
        let error = anyhow::anyhow!("`{path}` holds a run that was cut short {after}");
        return Err(error.hint("continue it with --resume, or start again with --replace"));
    }
    folder.refuse_other_content(run).map_err(with_advice)
}

/// Adds to an error what the user can do.
fn with_advice(error: FolderError) -> anyhow::Error {
    match &error {
        FolderError::HoldsAnotherRun(_) | FolderError::NotEmpty(_) | FolderError::Edited(_) => {
            error.hint("name another folder with --out, or write to this one with --replace")
        }
        _ => error.into(),
    }
}
