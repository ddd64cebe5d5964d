//! The runs that a command reads, taken together, and all games that they went through.

use std::path::PathBuf;

use crate::advice::WithHint;
use crate::hits::{Collector, NoColumn, PassTrouble, Runs};
use crate::query::suggestion;
use crate::statistics::{Base, Group, Groups, Tally};
use crate::tables::TableTrouble;

/// The runs that a command reads.
pub(super) struct Mined {
    /// The runs.
    pub(super) runs: Runs,
    /// The games they went through.
    pub(super) base: Base,
}

impl Mined {
    /// Opens the runs in these folders.
    pub(super) fn open(folders: &[PathBuf]) -> Result<Mined, TableTrouble> {
        let runs = Runs::open(folders)?;
        let base = Base::of(&runs)?;
        Ok(Mined { runs, base })
    }

    /// Goes once through the hits of a query.
    pub(super) fn pass(
        &self,
        query: &str,
        collectors: &mut [&mut dyn Collector],
    ) -> anyhow::Result<()> {
        self.runs.pass(query, collectors).map_err(with_hint)
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

/// Adds to an error what the user can do.
fn with_hint(trouble: PassTrouble) -> anyhow::Error {
    let PassTrouble::NoColumn { column: NoColumn { name, known }, .. } = &trouble else {
        return trouble.into();
    };
    let hint = match &**name {
        "verdict" | "sound" => Some("`hecatomb verify DIR` adds it".to_owned()),
        _ => suggestion(name, known.iter().map(String::as_str)),
    };
    trouble.hint_if(hint)
}
