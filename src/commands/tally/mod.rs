//! `hecatomb tally`: tables of hits in, numbers out.

mod card;
mod factors;
mod measures;
mod missed;
mod options;
mod plot;
mod sheets;
mod unnamed;

use super::runs::{FEWER_GROUPS, Mined};
use super::{Ending, chosen_queries, output};
use crate::advice::WithHint;
use crate::statistics::{Continuations, Groups, MOST_GROUPS, grouped};
use crate::terminal::{Sheet, SheetFormat, Terminal, written};
use crate::words::Words;

pub(super) use options::TallyOptions;

/// Runs the command.
pub(super) fn tally(options: &TallyOptions, terminal: Terminal) -> anyhow::Result<Ending> {
    let mined = Mined::open(&options.runs, &options.edited, &options.sacrifices)?;
    let queries = chosen_queries(&options.query, &mined.runs.queries())?;
    if let Some(path) = &options.plot {
        let [query] = queries[..] else {
            anyhow::bail!("a plot shows one query; name it with --query");
        };
        output::expect_place(path)?;
        let picture = plot::picture(query, &mined)?;
        output::write(path, &picture, terminal)?;
    }
    let is_for_programs = matches!(options.format, SheetFormat::Csv | SheetFormat::Json);
    let all = if options.unnamed {
        vec![unnamed::sheet(&mined, is_for_programs)?]
    } else if options.overlooked {
        vec![missed::sheet(&queries, &mined)?]
    } else if options.factors {
        factors::sheets(&queries, &mined, &options.by, is_for_programs)?
    } else {
        sheets_one_by_one(&queries, &mined, options)?
    };
    terminal.print(&text(all, &mined, options.format, terminal.width()))?;
    mined.tell_left_out(terminal);
    Ok(Ending::Done)
}

/// A sheet for each query, as long as there is room for the groups.
fn sheets_one_by_one(
    queries: &[&str],
    mined: &Mined,
    options: &TallyOptions,
) -> anyhow::Result<Vec<Sheet>> {
    let mut all = Vec::new();
    let mut rows = 0;
    for query in queries {
        let sheet = sheet(query, mined, options)?;
        rows += sheet.rows.len();
        if !options.by.is_empty() && rows > MOST_GROUPS {
            let error = anyhow::anyhow!(
                "the hits fall into more than {} groups by these columns",
                grouped(MOST_GROUPS as u64)
            );
            return Err(error.hint(format!("name one --query, or {FEWER_GROUPS}")));
        }
        all.push(sheet);
    }
    Ok(all)
}

/// The sheets as they are written, with what must be said of the tables.
fn text(mut all: Vec<Sheet>, mined: &Mined, format: SheetFormat, width: usize) -> String {
    let is_for_people = matches!(format, SheetFormat::Text | SheetFormat::Markdown);
    if !is_for_people {
        all.iter_mut().for_each(|sheet| sheets::mark(sheet, mined));
    }
    let text = written(&all, format, width);
    match mined.remarks(Words::ENGLISH).filter(|_| is_for_people) {
        Some(remarks) => format!("{text}\n{}\n", textwrap::fill(&remarks, width)),
        None => text,
    }
}

/// What was asked for about a query.
fn sheet(query: &str, mined: &Mined, options: &TallyOptions) -> anyhow::Result<Sheet> {
    if options.continuations {
        let mut tree = Continuations::new(options.depth.into());
        mined.pass(query, &mut [&mut tree])?;
        Ok(sheets::continuations(query, &tree, options.least))
    } else if !options.by.is_empty() {
        Ok(sheets::by(query, &options.by, &mined.groups(query, &options.by)?))
    } else if options.format == SheetFormat::Text {
        let (mut all, mut by_balance) = (Groups::default(), Groups::by(&["balance".to_owned()]));
        mined.pass(query, &mut [&mut all, &mut by_balance])?;
        let by_balance = by_balance.beside(&mined.base);
        Ok(card::card(query, &all.into_tally(), &by_balance, &mined.base.all()))
    } else {
        Ok(sheets::overview(query, &mined.tally(query)?, &mined.base.all()))
    }
}
