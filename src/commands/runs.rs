//! The runs that a command reads, taken together, and all games that they went through.

use std::path::PathBuf;

use super::shared_options::EditedOption;
use crate::hits::{Collector, NoColumn, PassTrouble, Reading, Runs};
use crate::query::suggestion;
use crate::statistics::{Base, Group, Groups, Tally};
use crate::tables::TableTrouble;

/// The runs that a command reads.
pub(super) struct Mined {
    /// The runs.
    pub(super) runs: Runs,
    /// The games they went through.
    pub(super) base: Base,
    /// How their tables are read.
    pub(super) reading: Reading,
}

impl Mined {
    /// Opens the runs in these folders.
    pub(super) fn open(folders: &[PathBuf], edited: &EditedOption) -> Result<Mined, TableTrouble> {
        let reading = edited.reading();
        let runs = Runs::open(folders, reading)?;
        let base = Base::of(&runs)?;
        Ok(Mined { runs, base, reading })
    }

    /// Whether their tables are taken as they are.
    pub(super) fn is_read_as_it_is(&self) -> bool {
        self.reading == Reading::AsTheyAre
    }

    /// Goes once through the hits of a query.
    pub(super) fn pass(
        &self,
        query: &str,
        collectors: &mut [&mut dyn Collector],
    ) -> anyhow::Result<()> {
        Ok(self.runs.pass(query, collectors)?)
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
            "verdict" | "sound" => Some("`hecatomb verify DIR` adds it".to_owned()),
            _ => suggestion(name, known.iter().map(String::as_str)),
        },
    }
}
