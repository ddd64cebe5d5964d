//! `hecatomb tally`: tables of hits in, numbers out.

mod card;
mod measures;
mod options;
mod plot;
mod sheets;

use super::runs::Runs;
use super::{Ending, chosen_queries, output};
use crate::terminal::{Sheet, SheetFormat, Terminal, written};

pub(super) use options::TallyOptions;

/// Runs the command.
pub(super) fn tally(options: &TallyOptions, terminal: Terminal) -> anyhow::Result<Ending> {
    let runs = Runs::open(&options.runs)?;
    let queries = chosen_queries(&options.query, &runs.queries())?;
    if let Some(path) = &options.plot {
        let [query] = queries[..] else {
            anyhow::bail!("a plot is of one query; name it with --query");
        };
        let picture = plot::picture(query, &runs)?;
        output::write(path, &picture, terminal)?;
    }
    let sheets: Vec<Sheet> =
        queries.iter().map(|query| sheet(query, &runs, options)).collect::<Result<_, _>>()?;
    terminal.print(&written(&sheets, options.format, terminal.width()))?;
    Ok(Ending::Done)
}

/// What is asked for of a query.
fn sheet(query: &str, runs: &Runs, options: &TallyOptions) -> anyhow::Result<Sheet> {
    if options.factors {
        Ok(sheets::factors(query, &runs.factors(query)?.effects()))
    } else if options.continuations {
        let tree = runs.continuations(query, options.depth)?;
        Ok(sheets::continuations(query, &tree, options.least))
    } else if !options.by.is_empty() {
        Ok(sheets::by(query, &options.by, &runs.groups(query, &options.by)?))
    } else {
        let groups = runs.groups(query, &[])?;
        let tally = groups.into_iter().next().map(|group| group.tally).unwrap_or_default();
        let white = runs.base.all();
        Ok(match options.format {
            SheetFormat::Text => card::card(query, &tally, &white),
            _ => sheets::overview(query, &tally, &white),
        })
    }
}
