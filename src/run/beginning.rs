//! Where a run begins: anew, or where an earlier one was broken off.

use anyhow::Context;

use super::checkpoint::{Checkpoint, last_changes};
use super::{Found, RunOptions};
use crate::collection::Source;
use crate::hits::Run;
use crate::statistics::counted;
use crate::tables::{EndOfRun, FolderError, OutputFolder, RunFile};

/// Where a run begins.
#[derive(Debug)]
pub enum Beginning {
    /// At the start of the collection.
    Anew,
    /// Where an earlier run was broken off.
    From(Box<Checkpoint>),
    /// All was done before.
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
        anyhow::bail!("--resume needs sources that can be read again, and `{}` can't", source.name);
    }
    let left = folder.checkpoint()?;
    let left = left.as_deref().map(serde_json::from_slice::<Checkpoint>);
    if options.found != Found::Resume {
        if options.found == Found::Replace {
            return Ok(Beginning::Anew);
        }
        if let Some(left) = left
            && !left.as_ref().is_ok_and(|left| left.is_over)
        {
            let after = left.map_or_else(
                |_| "by another version".to_owned(),
                |left| format!("after {}", counted(left.manifest.counts.games, "game")),
            );
            anyhow::bail!(
                "`{name}` holds a run that was broken off {after}\n\
                 hint: go on with it with --resume, or start anew with --replace"
            );
        }
        folder.refuse_other_content(manifest).map_err(with_advice)?;
        return Ok(Beginning::Anew);
    }
    let Some(left) = left else {
        let whole = Run::open(&options.out).is_ok_and(|run| {
            run.manifest.is_same_run(manifest) && run.manifest.ended != EndOfRun::Interrupted
        });
        // A run that was broken off before its first checkpoint begins anew.
        if whole && !folder.is_begun() {
            return Ok(Beginning::NothingLeft);
        }
        folder.refuse_other_content(manifest).map_err(with_advice)?;
        return Ok(Beginning::Anew);
    };
    let advice = "hint: start anew with --replace";
    let left = left.with_context(|| {
        format!("the run in `{name}` can't be gone on with: it is of another version\n{advice}")
    })?;
    match left.obstacle(manifest, &last_changes(sources), was_missed) {
        None => Ok(Beginning::From(Box::new(left))),
        Some(obstacle) => {
            anyhow::bail!("the run in `{name}` can't be gone on with: {obstacle}\n{advice}")
        }
    }
}

/// Adds to an error what the user can do.
fn with_advice(error: FolderError) -> anyhow::Error {
    let advice = match &error {
        FolderError::HoldsAnotherRun(_) | FolderError::NotEmpty(_) => {
            "\nhint: name another folder with --out, or write to this one with --replace"
        }
        _ => "",
    };
    anyhow::anyhow!("{error}{advice}")
}
