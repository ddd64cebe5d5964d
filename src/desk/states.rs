//! The states of a plan, kept beside it so that each can come back, also after a crash.
//!
//! They are in a folder beside the plan, `.course.toml.states` for `course.toml`, each a whole file that can be read, and
//! that goes where the plan goes; a file `order` says which is the plan now, and what each came of. A state is on the disk
//! before it is in the order, and in the order before it is in the plan. So whatever moment the program dies at, the
//! order knows the plan's text, or somebody else changed it.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use super::whole_file;

/// How many changes can be undone, whatever happens; there is room for one more, which a crash may cut short.
pub const UNDONE_AT_LEAST: usize = 50;

/// The name of the file that says which states there are.
const ORDER: &str = "order";

/// Which states there are.
#[derive(Clone, PartialEq, Eq, Debug, Default, Serialize, Deserialize)]
pub(super) struct StatesFile {
    /// The number that the next state gets; none is used twice.
    next: u64,
    /// Which of them is the plan.
    now: usize,
    states: Vec<StateRow>,
}

/// A state of a plan.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub(super) struct StateRow {
    pub(super) number: u64,
    /// The hash of its text.
    pub(super) hash: String,
    /// What made it of the state before.
    pub(super) what: String,
}

/// The states of a plan, and where they are.
pub(super) struct States {
    folder: PathBuf,
    file: StatesFile,
}

impl States {
    /// Reads the states in a folder; none if there is nothing to be read.
    pub(super) fn read(folder: &Path) -> States {
        let text = fs::read_to_string(folder.join(ORDER)).unwrap_or_default();
        let file: StatesFile = serde_json::from_str(&text).unwrap_or_default();
        let is_sound = file.now < file.states.len() || file.states.is_empty();
        let file = if is_sound { file } else { StatesFile::default() };
        States { folder: folder.to_owned(), file }
    }

    /// The state that is the plan.
    pub(super) fn now(&self) -> Option<&StateRow> {
        self.file.states.get(self.file.now)
    }

    /// The states before it, the last of them first.
    pub(super) fn before(&self) -> impl Iterator<Item = &StateRow> {
        let before = self.file.states.get(..self.file.now).unwrap_or_default();
        before.iter().rev()
    }

    /// The states after it, which were undone.
    pub(super) fn undone(&self) -> impl Iterator<Item = &StateRow> {
        self.file.states.iter().skip(self.file.now + 1)
    }

    /// The state of this number.
    pub(super) fn of_number(&self, number: u64) -> Option<&StateRow> {
        self.file.states.iter().find(|state| state.number == number)
    }

    /// The text of a state; nothing if it is not there, or somebody changed it.
    pub(super) fn text(&self, state: &StateRow) -> Option<String> {
        let text = fs::read_to_string(self.path(state.number)).ok()?;
        (hash(&text) == state.hash).then_some(text)
    }

    fn path(&self, number: u64) -> PathBuf {
        self.folder.join(format!("{number}.toml"))
    }

    /// Finds the state that a text is, the nearest first, and makes it the plan.
    pub(super) fn turn_to(&mut self, hash: &str) -> bool {
        let now = self.file.now;
        let states = self.file.states.iter().enumerate();
        let same = states.filter(|(_, state)| state.hash == hash).map(|(index, _)| index);
        let nearest = same.min_by_key(|index| index.abs_diff(now));
        self.file.now = nearest.unwrap_or(now);
        nearest.is_some()
    }

    /// Makes the state of this number the plan.
    pub(super) fn turn_to_number(&mut self, number: u64) {
        let place = self.file.states.iter().position(|state| state.number == number);
        self.file.now = place.unwrap_or(self.file.now);
    }

    /// The order, for [`States::put_back`].
    pub(super) fn order(&self) -> StatesFile {
        self.file.clone()
    }

    /// Puts an order back that was taken before a change that came to nothing; no number is used again.
    pub(super) fn put_back(&mut self, order: StatesFile) -> io::Result<()> {
        self.file = StatesFile { next: self.file.next, ..order };
        self.keep()
    }

    /// Forgets all states; no number is used again.
    pub(super) fn forget(&mut self) -> io::Result<()> {
        self.file = StatesFile { next: self.file.next, ..StatesFile::default() };
        self.keep()
    }

    /// Adds a state after the one that is the plan, which it becomes; those that were undone are gone for good, and so
    /// are the oldest. It is on the disk when this returns.
    pub(super) fn add(&mut self, text: &str, what: &str) -> io::Result<()> {
        let number = self.file.next.max(1);
        whole_file::write(&self.path(number), &self.folder, text)?;
        let state = StateRow { number, hash: hash(text), what: what.to_owned() };
        let keep = self.file.states.len().min(self.file.now + 1);
        self.file.states.truncate(keep);
        self.file.states.push(state);
        let too_many = self.file.states.len().saturating_sub(UNDONE_AT_LEAST + 2);
        self.file.states.drain(..too_many);
        self.file.next = number + 1;
        self.file.now = self.file.states.len() - 1;
        self.keep()
    }

    /// Removes the texts of states that are gone for good; what can't be removed takes up room, and nothing more.
    pub(super) fn tidy(&self) {
        let entries = fs::read_dir(&self.folder).into_iter().flatten().flatten();
        for entry in entries {
            let name = entry.file_name();
            let number = name.to_str().and_then(|name| name.strip_suffix(".toml"));
            let number = number.and_then(|number| number.parse().ok());
            if number.is_some_and(|number| self.of_number(number).is_none()) {
                let _ = fs::remove_file(entry.path());
            }
        }
    }

    /// Writes the order.
    pub(super) fn keep(&self) -> io::Result<()> {
        let text = serde_json::to_string_pretty(&self.file).map_err(io::Error::other)?;
        whole_file::write(&self.folder.join(ORDER), &self.folder, &text)
    }
}

/// The hash of a text, by which it is known again.
pub(super) fn hash(text: &str) -> String {
    use sha2::{Digest, Sha256};
    let hash = Sha256::digest(text.as_bytes());
    hash.iter().map(|byte| format!("{byte:02x}")).collect()
}
