//! `hecatomb lesson`: tables of hits in, a page to learn from out.

mod options;

use anyhow::Context as _;

use super::examiners::Examiners;
use super::runs::Mined;
use super::{Ending, chosen_queries, output, show_problems};
use crate::advice::WithHint;
use crate::pages::{Lesson, PlaceInCourse};
use crate::query::{Library, Query};
use crate::teaching::{Findings, LessonGame, LessonWishes};
use crate::terminal::{Bar, Terminal};

pub(super) use options::LessonOptions;

/// Runs the command.
pub(super) fn lesson(options: &LessonOptions, terminal: Terminal) -> anyhow::Result<Ending> {
    let mined = options.teaching.mined()?;
    let asked = std::slice::from_ref(&options.query);
    let Some(queries) = queries_of(asked, &mined, terminal)? else {
        return Ok(Ending::Failed);
    };
    let program = options.teaching.program();
    let mut examiners = options.teaching.examiners(program.as_ref())?;
    for query in &queries {
        chosen_queries(std::slice::from_ref(&query.name), &mined.runs.queries())?;
        let path = options.out.clone().unwrap_or_else(|| format!("{}.html", query.name).into());
        output::expect_place(&path)?;
        if !options.replace {
            output::expect_untouched(&path)?;
        }
        let bar = Bar::new(terminal, None);
        let wishes = LessonWishes::default();
        let mut found = findings(query, &wishes, &mined, &mut examiners, &bar)?;
        bring_games(&mut [&mut found], &mined, &mut examiners)?;
        bar.end();
        anyhow::ensure!(
            found.tally.summary.given_up > 0,
            "no offer of `{}` in these tables gives anything up",
            query.name
        );
        let all_games = mined.base.all();
        let place = PlaceInCourse::default();
        let words = options.language.or(None);
        let telling = examiners.telling(words, options.pieces.or(None, words), &mined);
        let (found, telling) = (&found, &telling);
        let lesson = Lesson { query, found, all_games, place, telling, planned: None };
        output::write(&path, &lesson.to_html()?, terminal)?;
    }
    mined.tell_left_out(terminal);
    examiners.end(terminal).map(|()| Ending::Done)
}

/// The queries that are asked for, or those of the runs that are known here; problems are shown.
pub(super) fn queries_of(
    asked: &[String],
    mined: &Mined,
    terminal: Terminal,
) -> anyhow::Result<Option<Vec<Query>>> {
    let runs = &mined.runs;
    let mut library = Library::new();
    for query in asked {
        if !runs.queries().contains(&&**query) {
            library.add(query);
        } else if !mined.add_query(query, &mut library) {
            let error = anyhow::anyhow!("`{query}` was mined, but there is no such query here");
            return Err(error.hint(format!("name its file, such as --query {query}.toml")));
        }
    }
    if asked.is_empty() {
        for name in runs.queries() {
            if !mined.add_query(name, &mut library) {
                terminal.note_with_hint(
                    format!("left out: there is no query `{name}` here"),
                    "name its file with --query",
                );
            }
        }
    }
    let queries = match library.queries() {
        Ok(queries) => queries,
        Err(troubles) => {
            show_problems(terminal, &troubles);
            return Ok(None);
        }
    };
    let is_mined = |query: &&Query| runs.queries().contains(&&*query.name);
    for query in queries.iter().filter(is_mined).filter(|query| !runs.have(query)) {
        terminal.note(format!("`{}` has changed since it was mined", query.name));
    }
    Ok(Some(queries))
}

/// The query of a motif that was mined.
///
/// # Errors
///
/// If the runs have no hits of it, or it can't be read.
pub(super) fn query_of_motif(
    motif: &str,
    mined: &Mined,
    terminal: Terminal,
) -> anyhow::Result<Query> {
    let is_mined = mined.runs.queries().contains(&motif);
    anyhow::ensure!(is_mined, "there are no hits of a query `{motif}` in these runs");
    let queries = queries_of(&[motif.to_owned()], mined, terminal)?;
    let query = queries.and_then(|mut queries| queries.pop());
    query.with_context(|| format!("the query `{motif}` can't be read"))
}

/// What the runs say of a query, and what a lesson shows of it, still without the games.
pub(super) fn findings(
    query: &Query,
    wishes: &LessonWishes,
    mined: &Mined,
    examiners: &mut Examiners<'_>,
    bar: &Bar,
) -> anyhow::Result<Findings> {
    let choose = |pool| anyhow::Ok(examiners.choose(pool, bar)?);
    let found = Findings::read(&query.name, &mined.runs, &mined.base, wishes, choose)?;
    mined.note_left_out(&query.name, found.left_out);
    Ok(found)
}

/// Brings in the games that lessons show, with what else could have been replied.
pub(super) fn bring_games(
    all: &mut [&mut Findings],
    mined: &Mined,
    examiners: &mut Examiners<'_>,
) -> anyhow::Result<()> {
    Findings::bring_games(all, &mined.runs)?;
    let models = all.iter_mut().flat_map(|found| &mut found.models);
    Ok(examiners.ask_what_if(models.filter_map(LessonGame::as_mined_mut))?)
}
