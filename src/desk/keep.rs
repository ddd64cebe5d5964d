//! A plan's file under edit: what is changed in it is on the disk before anybody hears that it is done, and every change
//! can be undone.
//!
//! Whoever edits a plan here waits for the others by a lock. A program that knows nothing of the lock, such as a text
//! editor, is noticed by what the file holds. What remains possible: a program that still has the old file open writes
//! into it later, and so into nothing; and where the system can't exchange two files in one step, what was written in the
//! moment before the new file takes its place is lost.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};

use anyhow::Context as _;

use super::apply::edited;
use super::edit::Edit;
use super::merge::{Merged, merged};
use super::state_name::StateName;
use super::states::{States, hash};
use super::trouble::{DeskTrouble, cant};
use super::whole_file::{Swap, clear, folder_of, swap};
use crate::plan::CoursePlan;
use crate::teaching::{OwnGame, read_game};
use crate::toml_files::FileProblems;

/// What the first state came of, and one that somebody else made.
const FOUND: &str = "the plan as it was found";
const ELSEWHERE: &str = "a change made elsewhere";
/// How often an edit is tried while others write.
const TRIES: usize = 5;

/// A plan's file under edit.
#[derive(Clone, Debug)]
pub struct Desk {
    path: PathBuf,
    folder: PathBuf,
}

/// A plan as it is now.
#[derive(Clone, Debug)]
pub struct PlanNow {
    /// Its text.
    pub text: String,
    /// The plan, or what is wrong in the text.
    pub plan: Result<CoursePlan, FileProblems>,
    /// Which state it is.
    pub state: StateName,
    /// What can be undone, the last change first.
    pub undo: Vec<String>,
    /// What was undone, the next to be redone first.
    pub redo: Vec<String>,
}

/// A change that is in the file.
#[derive(Clone, Debug)]
pub struct Changed {
    /// The plan with the change.
    pub now: PlanNow,
    /// Whether somebody else had changed the plan since it was seen.
    pub is_merged: bool,
}

impl Desk {
    /// Opens a plan's file for edits. Its states are kept in a folder beside it.
    ///
    /// # Errors
    ///
    /// If it is not there, is a link, or can't be written.
    pub fn open(path: &Path) -> Result<Desk, DeskTrouble> {
        let desk = Desk::at(path)?;
        expect_file(path)?;
        let there = fs::symlink_metadata(&desk.folder);
        if there.is_ok_and(|there| !there.is_dir()) {
            return Err(DeskTrouble::Link(desk.folder));
        }
        fs::create_dir_all(&desk.folder).map_err(|error| cant("write", &desk.folder, error))?;
        desk.locked(|_| {
            clear(&desk.folder);
            Ok::<(), DeskTrouble>(())
        })?;
        Ok(desk)
    }

    /// Begins a plan in a file that is not there yet, and opens it.
    ///
    /// # Errors
    ///
    /// If something is there, or it can't be written.
    pub fn begin(path: &Path, text: &str) -> Result<Desk, DeskTrouble> {
        Desk::anew(path, || {
            let made = OpenOptions::new().write(true).create_new(true).open(path);
            let made = made.and_then(|mut file| {
                file.write_all(text.as_bytes())?;
                file.sync_all()
            });
            made.map_err(|error| cant("write", path, error))
        })?;
        Desk::open(path)
    }

    /// Has a whole new plan written to a path. The states of a plan that was there before are gone with it: none of them
    /// leads to the new one.
    ///
    /// # Errors
    ///
    /// Why it could not be written. Then the states are as they were.
    pub fn anew<E: From<DeskTrouble>>(
        path: &Path,
        write: impl FnOnce() -> Result<(), E>,
    ) -> Result<(), E> {
        let desk = Desk::at(path)?;
        if !fs::symlink_metadata(&desk.folder).is_ok_and(|there| there.is_dir()) {
            return write();
        }
        desk.locked(|desk| {
            let cant = |error| cant("write", &desk.folder, error);
            let mut states = States::read(&desk.folder);
            let before = states.order();
            // If the program dies in between, the old plan is there without them, never the new one with them.
            states.forget().map_err(cant)?;
            let written = write();
            if written.is_err() {
                states.put_back(before).map_err(cant)?;
            }
            states.tidy();
            written
        })
    }

    /// The desk for a plan at a path, where there may be none.
    fn at(path: &Path) -> Result<Desk, DeskTrouble> {
        let Some(name) = path.file_name() else {
            return Err(DeskTrouble::NoFile(path.to_owned()));
        };
        let name = format!(".{}.states", name.to_string_lossy());
        Ok(Desk { path: path.to_owned(), folder: folder_of(path).join(name) })
    }

    /// A teacher's game that the plan names by its file, from the plan's folder on.
    ///
    /// # Errors
    ///
    /// Why it can't be read.
    pub fn own_game(&self, file: &Path, number: usize) -> anyhow::Result<OwnGame> {
        let place = folder_of(&self.path).join(file);
        let text = fs::read(&place).with_context(|| format!("can't read `{}`", place.display()))?;
        Ok(read_game(&text, number)?)
    }

    /// The plan's file.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// The plan as it is now.
    ///
    /// # Errors
    ///
    /// If its file can't be read, or its state can't be kept.
    pub fn look(&self) -> Result<PlanNow, DeskTrouble> {
        self.locked(|desk| {
            let (text, states) = desk.found()?;
            Ok(desk.seen(text, &states))
        })
    }

    /// Makes edits, all or none, that somebody meant for the plan as they saw it. `what` names them, for whoever wants to
    /// undo them. The change is on the disk when this returns.
    ///
    /// # Errors
    ///
    /// If one can't be made, if it is about something that was changed since, or if the file can't be written. Then the
    /// file is as it was.
    pub fn change(
        &self,
        seen: &StateName,
        edits: &[Edit],
        what: &str,
    ) -> Result<Changed, DeskTrouble> {
        self.locked(|desk| {
            for _ in 0..TRIES {
                let (text, states) = desk.found()?;
                let is_merged = !states.now().is_some_and(|now| seen.is(now.number, &now.hash));
                let made = match is_merged {
                    false => edited(&text, edits)?,
                    true => desk.merged(seen, &states, &text, edits)?,
                };
                if made == text {
                    return Ok(Changed { now: desk.seen(text, &states), is_merged });
                }
                if let Some(states) = desk.put(states, &text, &made, what)? {
                    return Ok(Changed { now: desk.seen(made, &states), is_merged });
                }
            }
            Err(DeskTrouble::Busy(desk.path.clone()))
        })
    }

    /// Takes back the last change. `seen` is the plan as whoever does so saw it.
    ///
    /// # Errors
    ///
    /// If there is none, or the plan is another now.
    pub fn undo(&self, seen: &StateName) -> Result<PlanNow, DeskTrouble> {
        self.turned(seen, "undo", |states| states.before().next().cloned())
    }

    /// Makes the last change that was taken back.
    ///
    /// # Errors
    ///
    /// As of [`Desk::undo`].
    pub fn redo(&self, seen: &StateName) -> Result<PlanNow, DeskTrouble> {
        self.turned(seen, "redo", |states| states.undone().next().cloned())
    }

    fn merged(
        &self,
        seen: &StateName,
        states: &States,
        text: &str,
        edits: &[Edit],
    ) -> Result<String, DeskTrouble> {
        let state =
            states.of_number(seen.number()).filter(|state| seen.is(state.number, &state.hash));
        let state = state.and_then(|state| states.text(state)).ok_or(DeskTrouble::Outdated)?;
        match merged(&state, text, edits)? {
            Merged::Text(made) => Ok(made),
            Merged::Clash(clash) => Err(DeskTrouble::Clash(clash)),
        }
    }

    /// Writes a text in the place of another: as a state, then in the plan's file. Nothing comes back if somebody else
    /// wrote there meanwhile.
    fn put(
        &self,
        mut states: States,
        text: &str,
        made: &str,
        what: &str,
    ) -> Result<Option<States>, DeskTrouble> {
        let before = states.order();
        let cant = |error| cant("write", &self.path, error);
        states.add(made, what).map_err(cant)?;
        let swapped = swap(&self.path, &self.folder, text, made);
        if !matches!(swapped, Ok(Swap::Done)) {
            states.put_back(before).map_err(cant)?;
        }
        states.tidy();
        match swapped.map_err(cant)? {
            Swap::Done => Ok(Some(states)),
            Swap::Changed => Ok(None),
        }
    }

    fn turned(
        &self,
        seen: &StateName,
        how: &'static str,
        wanted: impl Fn(&States) -> Option<super::states::StateRow>,
    ) -> Result<PlanNow, DeskTrouble> {
        self.locked(|desk| {
            let (text, mut states) = desk.found()?;
            if !states.now().is_some_and(|now| seen.is(now.number, &now.hash)) {
                return Err(DeskTrouble::Outdated);
            }
            let state = wanted(&states).ok_or(DeskTrouble::NoState(how))?;
            let lost = || DeskTrouble::StateLost(desk.path.clone());
            let made = states.text(&state).ok_or_else(lost)?;
            let before = states.order();
            let cant = |error| cant("write", &desk.path, error);
            states.turn_to_number(state.number);
            states.keep().map_err(cant)?;
            let swapped = swap(&desk.path, &desk.folder, &text, &made);
            if !matches!(swapped, Ok(Swap::Done)) {
                states.put_back(before).map_err(cant)?;
            }
            match swapped.map_err(cant)? {
                Swap::Done => Ok(desk.seen(made, &states)),
                Swap::Changed => Err(DeskTrouble::Outdated),
            }
        })
    }

    /// The plan's text, which is a state from now on if it was none.
    fn found(&self) -> Result<(String, States), DeskTrouble> {
        expect_file(&self.path)?;
        let bytes = fs::read(&self.path).map_err(|error| cant("read", &self.path, error))?;
        let text = String::from_utf8(bytes).map_err(|_| DeskTrouble::NoText(self.path.clone()))?;
        let mut states = States::read(&self.folder);
        let hash = hash(&text);
        if states.now().is_some_and(|now| now.hash == hash) {
            return Ok((text, states));
        }
        let kept = if states.turn_to(&hash) {
            states.keep()
        } else {
            let what = if states.now().is_some() { ELSEWHERE } else { FOUND };
            states.add(&text, what)
        };
        kept.map_err(|error| cant("write", &self.folder, error))?;
        states.tidy();
        Ok((text, states))
    }

    fn seen(&self, text: String, states: &States) -> PlanNow {
        let plan = CoursePlan::read(&self.path.display().to_string(), &text);
        let state = states.now().map(|now| StateName::of(now.number, &now.hash));
        let state = state.unwrap_or_else(|| StateName::of(0, ""));
        // What made a state is undone by going to the one before.
        let (mut undo, redo) = (Vec::new(), states.undone().map(|state| state.what.clone()));
        if states.before().next().is_some() {
            undo.extend(states.now().map(|now| now.what.clone()));
            undo.extend(states.before().map(|state| state.what.clone()));
            undo.pop();
        }
        PlanNow { text, plan, state, undo, redo: redo.collect() }
    }

    /// Does something while nobody else that keeps to the lock edits the plan.
    fn locked<T, E: From<DeskTrouble>>(
        &self,
        act: impl FnOnce(&Desk) -> Result<T, E>,
    ) -> Result<T, E> {
        let path = self.folder.join("lock");
        if fs::symlink_metadata(&path).is_ok_and(|there| !there.is_file()) {
            return Err(DeskTrouble::Link(path).into());
        }
        let lock = OpenOptions::new().create(true).truncate(false).write(true).open(&path);
        let lock: File = lock.map_err(|error| cant("write", &path, error))?;
        match lock.lock() {
            // Some file systems have no locks; what others write is noticed all the same.
            Ok(()) => act(self),
            Err(error) if error.kind() == io::ErrorKind::Unsupported => act(self),
            Err(error) => Err(cant("write", &path, error).into()),
        }
    }
}

/// Fails if there is no file of its own at the path, or none that may be written.
fn expect_file(path: &Path) -> Result<(), DeskTrouble> {
    let there = fs::symlink_metadata(path);
    match there {
        Err(error) if error.kind() == io::ErrorKind::NotFound => {
            Err(DeskTrouble::Missing(path.to_owned()))
        }
        Err(error) => Err(cant("read", path, error)),
        Ok(there) if there.is_symlink() => Err(DeskTrouble::Link(path.to_owned())),
        Ok(there) if !there.is_file() => Err(DeskTrouble::NoFile(path.to_owned())),
        Ok(there) if there.permissions().readonly() => Err(DeskTrouble::ReadOnly(path.to_owned())),
        Ok(_) => Ok(()),
    }
}
