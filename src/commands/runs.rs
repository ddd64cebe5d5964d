//! The runs that a command reads, taken together, and all games that they went through.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use super::shared_options::{EditedOption, SacrificeOption, only_these};
use crate::advice::suggestion;
use crate::hits::{Collector, LeftOut, NoColumn, PassTrouble, Reading, Runs};
use crate::query::Library;
use crate::statistics::{Base, Group, Groups, Tally, counted};
use crate::tables::TableTrouble;
use crate::terminal::Terminal;
use crate::words::Words;

/// The runs that a command reads.
pub(super) struct Mined {
    /// The runs.
    pub(super) runs: Runs,
    /// The games they went through.
    pub(super) base: Base,
    /// Where they are.
    folders: Vec<PathBuf>,
    /// How their tables are read.
    reading: Reading,
    /// What was left out of the hits of each query.
    left_out: RefCell<BTreeMap<String, LeftOut>>,
}

impl Mined {
    /// Opens the runs in these folders.
    pub(super) fn open(
        folders: &[PathBuf],
        edited: &EditedOption,
        sacrifices: &SacrificeOption,
    ) -> Result<Mined, TableTrouble> {
        let reading = edited.reading();
        let chosen = sacrifices.kinds();
        let runs = Runs::open(folders, reading)?.of_kinds(chosen);
        let base = Base::of(&runs)?;
        let folders = folders.to_vec();
        Ok(Mined { runs, base, folders, reading, left_out: RefCell::default() })
    }

    /// The folders of the runs, as they were named.
    pub(super) fn folders(&self) -> Vec<String> {
        self.folders.iter().map(|path| path.display().to_string()).collect()
    }

    /// Adds the query of this name to a library, if it is known: by a file in the current folder, by the text
    /// that the runs keep of it, or as a built-in one.
    pub(super) fn add_query(&self, name: &str, library: &mut Library) -> bool {
        match self.runs.text_of(name).filter(|_| !Library::is_in_folder(name)) {
            Some(text) => library.add_mined(name, text),
            None if Library::knows(name) => library.add(name),
            None => return false,
        }
        true
    }

    /// What must be said of the results, for a heading.
    pub(super) fn short_remarks(&self) -> String {
        let chosen = self.runs.kinds();
        let by_force = if chosen.by_force { " by force" } else { "" };
        let kinds = chosen.words().into_iter().map(|word| format!("{word}{by_force}"));
        let as_they_are =
            self.is_read_as_it_is().then(|| "tables read as they are, --edited".to_owned());
        kinds.chain(as_they_are).collect::<Vec<_>>().join(", ")
    }

    /// What must be said of whatever comes out of these runs, if anything must.
    pub(super) fn remarks(&self, words: Words) -> Option<String> {
        let only = only_these(self.runs.kinds(), words);
        let as_they_are = self.is_read_as_it_is().then(|| words.say("read-as-they-are"));
        let remarks: Vec<String> = only.into_iter().chain(as_they_are).collect();
        (!remarks.is_empty()).then(|| remarks.join(" "))
    }

    /// Whether their tables are taken as they are.
    pub(super) fn is_read_as_it_is(&self) -> bool {
        self.reading == Reading::AsTheyAre
    }

    /// The same, a pass over which ends as soon as this is set.
    pub(super) fn until(self, stop: Arc<AtomicBool>) -> Mined {
        Mined { runs: self.runs.until(stop), ..self }
    }

    /// Goes once through the hits of a query.
    pub(super) fn pass(
        &self,
        query: &str,
        collectors: &mut [&mut dyn Collector],
    ) -> anyhow::Result<()> {
        let left_out = self.runs.pass(query, collectors)?;
        self.note_left_out(query, left_out);
        Ok(())
    }

    /// Notes what was left out of the hits of a query.
    pub(super) fn note_left_out(&self, query: &str, left_out: LeftOut) {
        self.left_out.borrow_mut().insert(query.to_owned(), left_out);
    }

    /// Tells what was left out of all hits that were gone through.
    pub(super) fn tell_left_out(&self, terminal: Terminal) {
        let left_out = self.left_out.borrow();
        let hits = left_out.values().map(|left_out| left_out.hits).sum();
        if hits > 0 {
            let hits = counted(hits, "hit");
            terminal.note(format!(
                "left out: {hits} of games that an earlier run holds, too; the numbers of games \
                 searched and the scores of all games still count such games in every run"
            ));
        }
        if left_out.values().any(|left_out| left_out.may_be_more) {
            terminal.note("there may be more such hits, too many to know them all again");
        }
    }

    /// The hits of a query in groups.
    pub(super) fn groups(&self, query: &str, by: &[String]) -> anyhow::Result<Vec<Group>> {
        let mut groups = Groups::by(by);
        self.pass(query, &mut [&mut groups])?;
        Ok(groups.beside(&self.base))
    }

    /// The tally of all hits of a query.
    pub(super) fn tally(&self, query: &str) -> anyhow::Result<Tally> {
        let mut groups = Groups::default();
        self.pass(query, &mut [&mut groups])?;
        Ok(groups.into_tally())
    }
}

/// What the user can do about hits that could not be gone through.
pub(super) fn way_on(trouble: &PassTrouble) -> Option<String> {
    match trouble {
        PassTrouble::Table(trouble) => trouble.hint.map(str::to_owned),
        PassTrouble::NoColumn { column: NoColumn { name, known }, .. } => match &**name {
            "verdict" | "sound" | "forced_kind" => Some("`hecatomb verify DIR` adds it".to_owned()),
            _ => suggestion(name, known.iter().map(String::as_str)),
        },
        PassTrouble::OtherQuery { .. } => Some(
            "mine one of them again with the query of the other, or read them one by one"
                .to_owned(),
        ),
        PassTrouble::Stopped => None,
        PassTrouble::TooManyGroups { .. } => Some(FEWER_GROUPS.to_owned()),
    }
}

/// The way on where there are too many groups.
pub(super) const FEWER_GROUPS: &str = "count by columns with fewer values, such as `rating` or \
                                       `side`; for each hit by itself read its table";
