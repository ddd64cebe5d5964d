//! `hecatomb tally`: tables of hits in, numbers out.

mod options;
mod plot;
mod sheets;

use anyhow::Context;

use super::{Ending, chosen_queries, suggestion};
use crate::statistics::{
    Base, Continuations, Factors, Grouping, Groups, KeyValue, Outcomes, Tally,
};
use crate::tables::{Run, TableReader, TableTrouble};
use crate::terminal::{Sheet, SheetFormat, Terminal, written};

pub(super) use options::TallyOptions;

/// The runs that are counted together.
struct Runs {
    runs: Vec<Run>,
    base: Base,
}

impl Runs {
    fn open(options: &TallyOptions) -> Result<Runs, TableTrouble> {
        let runs: Vec<Run> =
            options.runs.iter().map(|path| Run::open(path)).collect::<Result<_, _>>()?;
        let mut base = Base::default();
        for run in &runs {
            base.add_table(run.collection()?)?;
        }
        Ok(Runs { runs, base })
    }

    /// The names of the queries of any run, in the order of the runs.
    fn queries(&self) -> Vec<&str> {
        let mut names: Vec<&str> = Vec::new();
        for query in self.runs.iter().flat_map(|run| &run.manifest.queries) {
            if !names.contains(&&*query.name) {
                names.push(&query.name);
            }
        }
        names
    }

    /// Goes through the tables of hits of a query, run by run.
    fn each_table(
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

    /// What is asked for of a query.
    fn sheet(&self, query: &str, options: &TallyOptions) -> anyhow::Result<Sheet> {
        if options.factors {
            Ok(sheets::factors(query, &self.factors(query)?.effects()))
        } else if options.continuations {
            let tree = self.continuations(query, options.depth)?;
            Ok(sheets::continuations(query, &tree, options.least))
        } else if !options.by.is_empty() {
            Ok(sheets::by(query, &options.by, &self.groups(query, &options.by)?))
        } else {
            let groups = self.groups(query, &[])?;
            let tally = groups.into_iter().next().map(|group| group.tally).unwrap_or_default();
            let white = self.base.all();
            Ok(match options.format {
                SheetFormat::Text => sheets::card(query, &tally, &white),
                _ => sheets::overview(query, &tally, &white),
            })
        }
    }

    /// The hits of a query in groups.
    fn groups(&self, query: &str, by: &[String]) -> anyhow::Result<Vec<Group>> {
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

    fn factors(&self, query: &str) -> anyhow::Result<Factors> {
        let mut factors = Factors::default();
        self.each_table(query, |mut table| Ok(factors.add_table(&mut table)?))?;
        Ok(factors)
    }

    fn continuations(&self, query: &str, depth: u8) -> anyhow::Result<Continuations> {
        let mut tree = Continuations::new(depth.into());
        self.each_table(query, |mut table| Ok(tree.add_table(&mut table)?))?;
        Ok(tree)
    }
}

/// A group of hits.
struct Group {
    /// What the hits have in common.
    values: Vec<KeyValue>,
    tally: Tally,
    /// How the games of the collection ended for White that they are compared with.
    white: Outcomes,
}

/// Runs the command.
pub(super) fn tally(options: &TallyOptions, terminal: Terminal) -> anyhow::Result<Ending> {
    let runs = Runs::open(options)?;
    let queries = chosen_queries(&options.query, &runs.queries())?;
    if let Some(path) = &options.plot {
        let [query] = queries[..] else {
            anyhow::bail!("a plot is of one query; name it with --query");
        };
        let picture = plot::picture(query, &runs)?;
        std::fs::write(path, picture)
            .with_context(|| format!("can't write `{}`", path.display()))?;
    }
    let sheets: Vec<Sheet> =
        queries.iter().map(|query| runs.sheet(query, options)).collect::<Result<_, _>>()?;
    terminal.print(&written(&sheets, options.format, terminal.width()))?;
    Ok(Ending::Done)
}
