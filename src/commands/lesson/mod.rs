//! `hecatomb lesson`: tables of hits in, a page to learn from out.

mod options;

use std::path::{Path, PathBuf};

use anyhow::Context;

use super::examiners::Examiners;
use super::runs::Mined;
use super::{Ending, chosen_queries, output, show_problems};
use crate::advice::WithHint;
use crate::pages::{Course, Lesson, Listed, Place};
use crate::query::{Library, Query};
use crate::statistics::{Outcomes, counted};
use crate::teaching::Findings;
use crate::terminal::{Bar, Terminal};

pub(super) use options::LessonOptions;

/// Runs the command.
pub(super) fn lesson(options: &LessonOptions, terminal: Terminal) -> anyhow::Result<Ending> {
    let mined = Mined::open(&options.runs)?;
    let Some(queries) = queries(options, &mined, terminal)? else {
        return Ok(Ending::Failed);
    };
    let mut examiners = Examiners::new(options.threads.count(), options.proof.effort());
    if options.course {
        let folder = options.out.clone().unwrap_or_else(|| PathBuf::from("course"));
        return write_course(&queries, &mined, &mut examiners, &folder, terminal);
    }
    for query in &queries {
        chosen_queries(std::slice::from_ref(&query.name), &mined.runs.queries())?;
        let path = options.out.clone().unwrap_or_else(|| format!("{}.html", query.name).into());
        output::expect_place(&path)?;
        let bar = Bar::new(terminal, None);
        let found = found(query, &mined, &mut examiners, &bar)?;
        bar.end();
        anyhow::ensure!(
            found.tally.summary.real_offers > 0,
            "these tables hold no real offer of `{}`",
            query.name
        );
        let all_games = mined.base.all();
        let lesson = Lesson { query, found: &found, all_games, place: Place::default() };
        output::write(&path, &lesson.to_html()?, terminal)?;
    }
    Ok(Ending::Done)
}

/// The queries that are asked for, or those of the runs that are known here; problems are shown.
fn queries(
    options: &LessonOptions,
    mined: &Mined,
    terminal: Terminal,
) -> anyhow::Result<Option<Vec<Query>>> {
    let runs = &mined.runs;
    let mut library = Library::new();
    for query in &options.query {
        if !Library::knows(query) && runs.queries().contains(&&**query) {
            let error = anyhow::anyhow!("`{query}` was mined, but there is no such query here");
            return Err(error.hint(format!("name its file, such as --query {query}.toml")));
        }
        library.add(query);
    }
    if options.query.is_empty() {
        for name in runs.queries() {
            if Library::knows(name) {
                library.add(name);
            } else {
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

/// What the runs say of a query.
fn found(
    query: &Query,
    mined: &Mined,
    examiners: &mut Examiners,
    bar: &Bar,
) -> anyhow::Result<Findings> {
    let choose = |pool| Ok(examiners.choose(pool, bar)?);
    Findings::read(&query.name, &mined.runs, &mined.base, choose)
}

/// Writes a lesson for each query with real offers, and the page that lists them.
fn write_course(
    queries: &[Query],
    mined: &Mined,
    examiners: &mut Examiners,
    folder: &Path,
    terminal: Terminal,
) -> anyhow::Result<Ending> {
    let (runs, all_games) = (&mined.runs, mined.base.all());
    let mut all_found = Vec::new();
    let with_hits = queries.iter().filter(|query| runs.queries().contains(&&*query.name));
    let bar = Bar::counting(terminal, with_hits.clone().count() as u64);
    for query in with_hits {
        let of_query = found(query, mined, examiners, &Bar::hidden())?;
        if of_query.tally.summary.real_offers > 0 {
            all_found.push((query, of_query));
        }
        bar.advance(1);
    }
    bar.end();
    anyhow::ensure!(!all_found.is_empty(), "no motif has a real offer in these tables");
    std::fs::create_dir_all(folder)
        .with_context(|| format!("can't create the folder `{}`", folder.display()))?;
    let title = |(query, _): &(&Query, Findings)| (query.name.clone(), query.title.clone());
    let mut course = Course::default();
    for (index, (query, of_query)) in all_found.iter().enumerate() {
        let place = Place {
            is_in_course: true,
            before: index.checked_sub(1).map(|before| title(&all_found[before])),
            after: all_found.get(index + 1).map(title),
        };
        let lesson = Lesson { query, found: of_query, all_games, place };
        let path = folder.join(format!("{}.html", query.name));
        output::write(&path, &lesson.to_html()?, terminal)?;
        course.add(Listed::of(&lesson));
    }
    let games = Outcomes::games(&all_games);
    output::write(&folder.join("index.html"), &course.to_html(games)?, terminal)?;
    let lessons = counted(all_found.len() as u64, "lesson");
    terminal.note(format!("{lessons} in {}", folder.display()));
    let names: Vec<&str> = all_found.iter().map(|(query, _)| &*query.name).collect();
    let others = other_pages(folder, &names);
    if others > 0 {
        let others = counted(others, "page");
        terminal.note(format!("not listed, left from an earlier course: {others}"));
    }
    Ok(Ending::Done)
}

/// How many pages a folder holds beside a course of these lessons.
fn other_pages(folder: &Path, lessons: &[&str]) -> u64 {
    let Ok(entries) = std::fs::read_dir(folder) else { return 0 };
    let pages = entries.flatten().map(|entry| entry.path());
    let pages = pages.filter(|path| path.extension().is_some_and(|ending| ending == "html"));
    let stems = pages.filter_map(|path| Some(path.file_stem()?.to_str()?.to_owned()));
    stems.filter(|stem| stem != "index" && !lessons.contains(&&**stem)).count() as u64
}
