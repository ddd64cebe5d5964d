//! How the tables of a run that have grown are moved to their places, and what gives way to them.

use std::fs;
use std::path::Path;

use super::growing::is_unfinished;
use super::places::{
    CHECKPOINT, FOLDERS, FolderError, make_inside, read_if_there, refuse_link, remove_if_there,
};
use super::run_file::{RUN_FILE, RunFile, hits_table};
use super::staging::{Staging, VERDICTS, clear_tables, is_table};
use super::terms_file::{TERMS_FILE, TermsFile};

impl Staging<'_> {
    /// Moves the finished tables to their places, the tables of an earlier run giving way with the verdicts
    /// on other hits than these, and writes the manifest last. The checkpoint stays if `last` gives what it is to be from now on.
    ///
    /// # Errors
    ///
    /// If something can't be written or moved; the folder then holds no `run.json`.
    pub fn publish(self, run: &RunFile, last: Option<&[u8]>) -> Result<(), FolderError> {
        let manifest =
            serde_json::to_string_pretty(run).map_err(|error| self.unwritable(error.into()))?;
        let staged_manifest = self.folder.join(RUN_FILE);
        fs::write(&staged_manifest, manifest + "\n").map_err(|cause| self.unwritable(cause))?;
        FOLDERS.iter().try_for_each(|name| refuse_link(&self.target.join(name)))?;
        clear_earlier_run(self.target)?;
        self.clear_other_verdicts(run)?;
        make_inside(self.target, "hits")?;
        for folder in ["hits", ""] {
            let from = self.folder.join(folder);
            for entry in fs::read_dir(&from).map_err(FolderError::at(&from))? {
                let entry = entry.map_err(FolderError::at(&from))?;
                let path = entry.path();
                if is_table(&path) && entry.file_type().is_ok_and(|kind| kind.is_file()) {
                    let to = self.target.join(folder).join(path.file_name().unwrap_or_default());
                    fs::rename(&path, &to).map_err(FolderError::at(&to))?;
                }
            }
        }
        self.place_verdicts()?;
        let to = self.target.join(RUN_FILE);
        fs::rename(&staged_manifest, &to).map_err(FolderError::at(&to))?;
        match last {
            Some(checkpoint) => self.save(checkpoint).map_err(FolderError::at(self.target)),
            None => remove_if_there(&self.folder.join(CHECKPOINT)),
        }
    }

    /// Moves the tables of verdicts to their places, if there are any, and what is said of them.
    fn place_verdicts(&self) -> Result<(), FolderError> {
        let from = self.folder.join(VERDICTS);
        let staged = TermsFile::read(&from);
        if staged.0.is_empty() {
            return Ok(());
        }
        let folder = make_inside(self.target, VERDICTS)?;
        let mut known = TermsFile::read(&folder);
        for (query, verdicts) in staged.0 {
            let name = self.format.file_name(&query);
            let to = folder.join(&name);
            fs::rename(from.join(&name), &to).map_err(FolderError::at(&to))?;
            known.0.insert(query, verdicts);
        }
        remove_if_there(&folder.join(TERMS_FILE))?;
        known.write(&folder).map_err(FolderError::at(&folder))
    }

    /// Removes the verdicts on other hits than those of this run, which say nothing of these.
    fn clear_other_verdicts(&self, run: &RunFile) -> Result<(), FolderError> {
        let folder = self.target.join(VERDICTS);
        let mut known = TermsFile::read(&folder);
        let others = known.0.extract_if(.., |query, verdicts| {
            let hits = run.tables.get(&self.format.file_name(&hits_table(query)));
            hits.is_none_or(|hits| hits.xxh3 != verdicts.hits)
        });
        let others: Vec<String> = others.map(|(query, _)| query).collect();
        for entry in fs::read_dir(&folder).into_iter().flatten().flatten() {
            let (path, name) = (entry.path(), entry.file_name());
            let query = name.to_str().and_then(|name| name.split('.').next()).unwrap_or_default();
            let is_of_other = others.iter().any(|other| other == query);
            if is_of_other && (is_table(&path) || is_unfinished(&path)) {
                remove_if_there(&path)?;
            }
        }
        if others.is_empty() {
            return Ok(());
        }
        remove_if_there(&folder.join(TERMS_FILE))?;
        if known.0.is_empty() {
            return Ok(());
        }
        known.write(&folder).map_err(FolderError::at(&folder))
    }
}

/// Removes the tables of an earlier run, its manifest first. Files of other names are the user's.
fn clear_earlier_run(target: &Path) -> Result<(), FolderError> {
    let place = target.join(RUN_FILE);
    let unreadable = |cause| FolderError::Unreadable { path: place.display().to_string(), cause };
    let manifest = read_if_there(&place).map_err(unreadable)?;
    remove_if_there(&place)?;
    let Some(manifest) = manifest else { return Ok(()) };
    let Ok(manifest) = serde_json::from_slice::<RunFile>(&manifest) else {
        // One of another version.
        return clear_tables(target);
    };
    for name in manifest.tables.keys().filter(|name| names_table(name)) {
        remove_if_there(&target.join(name))?;
    }
    Ok(())
}

/// Whether a manifest can name a table so: in the folder of the run or that of the hits.
fn names_table(name: &str) -> bool {
    let file = name.strip_prefix("hits/").unwrap_or(name);
    !file.contains(['/', '\\']) && is_table(Path::new(file))
}
