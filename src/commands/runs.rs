//! The runs that a command reads, taken together.

use std::path::PathBuf;

use super::suggestion;
use crate::query::Query;
use crate::statistics::{
    Base, Continuations, Factors, Grouping, Groups, KeyValue, Outcomes, Tally,
};
use crate::tables::{Run, TableReader, TableTrouble, hash_of};

/// The runs that are counted together.
pub(super) struct Runs {
    runs: Vec<Run>,
    /// The games they went through.
    pub(super) base: Base,
}

impl Runs {
    /// Opens the runs in these folders.
    pub(super) fn open(folders: &[PathBuf]) -> Result<Runs, TableTrouble> {
        let runs: Vec<Run> =
            folders.iter().map(|path| Run::open(path)).collect::<Result<_, _>>()?;
        let mut base = Base::default();
        for run in &runs {
            base.add_table(run.collection()?)?;
        }
        Ok(Runs { runs, base })
    }

    /// The names of the queries of any run, in the order of the runs.
    pub(super) fn queries(&self) -> Vec<&str> {
        let mut names: Vec<&str> = Vec::new();
        for query in self.runs.iter().flat_map(|run| &run.manifest.queries) {
            if !names.contains(&&*query.name) {
                names.push(&query.name);
            }
        }
        names
    }

    /// Whether a run mined this very query.
    pub(super) fn have(&self, query: &Query) -> bool {
        let hash = hash_of(&query.source);
        self.runs
            .iter()
            .flat_map(|run| &run.manifest.queries)
            .any(|known| known.name == query.name && known.sha256 == hash)
    }

    /// Goes through the tables of hits of a query, run by run.
    pub(super) fn each_table(
        &self,
        query: &str,
        mut see: impl FnMut(TableReader) -> anyhow::Result<()>,
    ) -> anyhow::Result<()> {
        let has_query = |run: &&Run| run.manifest.queries.iter().any(|known| known.name == query);
        for run in self.runs.iter().filter(has_query) {
            see(run.judged_hits(query)?)?;
        }
        Ok(())
    }

    /// Whether every run that has hits of a query has verdicts on them.
    pub(super) fn are_judged(&self, query: &str) -> anyhow::Result<bool> {
        let mut are_judged = true;
        self.each_table(query, |table| {
            are_judged &= table.columns().is_empty() || table.column("sound").is_some();
            Ok(())
        })?;
        Ok(are_judged)
    }

    /// The hits of a query in groups.
    pub(super) fn groups(&self, query: &str, by: &[String]) -> anyhow::Result<Vec<Group>> {
        let mut groups = Groups::default();
        let mut last_grouping = None;
        self.each_table(query, |mut table| {
            if table.columns().is_empty() {
                return Ok(());
            }
            let grouping = Grouping::new(by, &table).map_err(|name| {
                let near = match &*name {
                    "verdict" | "sound" => "\nhint: make it with `hecatomb verify DIR`".to_owned(),
                    _ => suggestion(&name, Grouping::names(&table)),
                };
                anyhow::anyhow!("the hits of `{query}` have no column `{name}`{near}")
            })?;
            groups.add_table(&mut table, &grouping)?;
            last_grouping = Some(grouping);
            Ok(())
        })?;
        let white = |values: &[KeyValue]| match &last_grouping {
            Some(grouping) => grouping.base(values, &self.base),
            None => self.base.all(),
        };
        let groups = groups.tallies.into_iter();
        Ok(groups.map(|(values, tally)| Group { white: white(&values), values, tally }).collect())
    }

    /// The counts of the factors of a query.
    pub(super) fn factors(&self, query: &str) -> anyhow::Result<Factors> {
        let mut factors = Factors::default();
        self.each_table(query, |mut table| Ok(factors.add_table(&mut table)?))?;
        Ok(factors)
    }

    /// What was played after the offers of a query, so many plies deep.
    pub(super) fn continuations(&self, query: &str, depth: u8) -> anyhow::Result<Continuations> {
        let mut tree = Continuations::new(depth.into());
        self.each_table(query, |mut table| Ok(tree.add_table(&mut table)?))?;
        Ok(tree)
    }
}

/// A group of hits.
pub(super) struct Group {
    /// What the hits have in common.
    pub(super) values: Vec<KeyValue>,
    /// What they came to.
    pub(super) tally: Tally,
    /// How the games of the collection ended for White that they are compared with.
    pub(super) white: Outcomes,
}
