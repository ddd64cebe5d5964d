//! `hecatomb lesson`: tables of hits in, a page to learn from out.

mod asked;
mod options;

use std::path::{Path, PathBuf};

use anyhow::Context;

use super::examiners::Examiners;
use super::runs::Runs;
use super::{Ending, chosen_queries, measured, output, show_problems};
use crate::query::{Library, Query};
use crate::statistics::{Continuations, Outcomes, Tally, counted};
use crate::teaching::{Choice, Course, Exercise, Lesson, Listed, Place, Shelf};
use crate::terminal::{Bar, Terminal};

pub(super) use options::LessonOptions;

/// How many plies after the offer the tree goes on.
const DEPTH: u8 = 7;

/// Runs the command.
pub(super) fn lesson(options: &LessonOptions, terminal: Terminal) -> anyhow::Result<Ending> {
    let runs = Runs::open(&options.runs)?;
    let Some(queries) = queries(options, &runs, terminal)? else {
        return Ok(Ending::Failed);
    };
    let mut examiners = Examiners::new(options.threads.count(), options.proof.effort());
    if options.course {
        let folder = options.out.clone().unwrap_or_else(|| PathBuf::from("course"));
        return write_course(&queries, &runs, &mut examiners, &folder, terminal);
    }
    for query in &queries {
        chosen_queries(std::slice::from_ref(&query.name), &runs.queries())?;
        let path = options.out.clone().unwrap_or_else(|| format!("{}.html", query.name).into());
        output::expect_place(&path)?;
        let bar = Bar::new(terminal, None);
        let found = Found::read(query, &runs, &mut examiners, &bar)?;
        bar.end();
        anyhow::ensure!(
            found.tally.summary.real_offers > 0,
            "`{}` has no real offer in these tables",
            query.name
        );
        let page = found.lesson(query, &runs, Place::default())?.to_html()?;
        output::write(&path, &page, terminal)?;
    }
    Ok(Ending::Done)
}

/// The queries that are asked for, or those of the runs that are known here; problems are shown.
fn queries(
    options: &LessonOptions,
    runs: &Runs,
    terminal: Terminal,
) -> anyhow::Result<Option<Vec<Query>>> {
    let mut library = Library::new();
    for query in &options.query {
        anyhow::ensure!(
            Library::knows(query) || !runs.queries().contains(&&**query),
            "`{query}` was mined, but what it looks for is not known here\n\
             hint: name its file, such as --query {query}.toml"
        );
        library.add(query);
    }
    if options.query.is_empty() {
        for name in runs.queries() {
            if Library::knows(name) {
                library.add(name);
            } else {
                terminal.note(format!("no lesson on `{name}`: name its file with --query"));
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
        terminal.note(format!("`{}` was changed since it was mined", query.name));
    }
    Ok(Some(queries))
}

/// What the runs say of a query.
struct Found {
    tally: Tally,
    tree: Continuations,
    choice: Choice,
    exercises: Vec<Exercise>,
}

impl Found {
    fn read(
        query: &Query,
        runs: &Runs,
        examiners: &mut Examiners,
        bar: &Bar,
    ) -> anyhow::Result<Found> {
        let groups = runs.groups(&query.name, &[])?;
        let tally = groups.into_iter().next().map(|group| group.tally).unwrap_or_default();
        let real_offers = tally.summary.real_offers;
        let exercises = match real_offers {
            0 => Vec::new(),
            _ => asked::exercises(&query.name, real_offers, runs, examiners, bar)?,
        };
        let mut shelf = Shelf::default();
        runs.each_table(&query.name, |mut table| Ok(shelf.add_table(&mut table)?))?;
        Ok(Found {
            tally,
            tree: runs.continuations(&query.name, DEPTH)?,
            choice: shelf.choose(exercises.iter().map(|one| (&*one.game.source, one.game.number))),
            exercises,
        })
    }

    fn lesson<'l>(
        &'l self,
        query: &'l Query,
        runs: &Runs,
        place: Place,
    ) -> anyhow::Result<Lesson<'l>> {
        Ok(Lesson {
            query,
            tally: &self.tally,
            worth: measured::scores_by_worth(&query.name, runs)?,
            all_games: runs.base.all(),
            bands: measured::scores_by_band(&query.name, runs)?,
            years: measured::frequency_by_year(&query.name, runs)?,
            effects: runs.factors(&query.name)?.effects(),
            tree: &self.tree,
            choice: &self.choice,
            exercises: &self.exercises,
            place,
        })
    }
}

/// Writes a lesson for each query with real offers, and the page that lists them.
fn write_course(
    queries: &[Query],
    runs: &Runs,
    examiners: &mut Examiners,
    folder: &Path,
    terminal: Terminal,
) -> anyhow::Result<Ending> {
    let mut found = Vec::new();
    let mined = queries.iter().filter(|query| runs.queries().contains(&&*query.name));
    let bar = Bar::counting(terminal, mined.clone().count() as u64);
    for query in mined {
        let of_query = Found::read(query, runs, examiners, &Bar::hidden())?;
        if of_query.tally.summary.real_offers > 0 {
            found.push((query, of_query));
        }
        bar.advance(1);
    }
    bar.end();
    anyhow::ensure!(!found.is_empty(), "no motif has a real offer in these tables");
    std::fs::create_dir_all(folder)
        .with_context(|| format!("can't make the folder `{}`", folder.display()))?;
    let title = |(query, _): &(&Query, Found)| (query.name.clone(), query.title.clone());
    let mut course = Course::default();
    for (index, (query, of_query)) in found.iter().enumerate() {
        let place = Place {
            is_in_course: true,
            before: index.checked_sub(1).map(|before| title(&found[before])),
            after: found.get(index + 1).map(title),
        };
        let lesson = of_query.lesson(query, runs, place)?;
        let path = folder.join(format!("{}.html", query.name));
        output::write(&path, &lesson.to_html()?, terminal)?;
        course.add(Listed::of(&lesson));
    }
    let games = Outcomes::games(&runs.base.all());
    output::write(&folder.join("index.html"), &course.to_html(games)?, terminal)?;
    let lessons = counted(found.len() as u64, "lesson");
    terminal.note(format!("{lessons} in {}", folder.display()));
    let names: Vec<&str> = found.iter().map(|(query, _)| &*query.name).collect();
    let others = other_pages(folder, &names);
    if others > 0 {
        let others = counted(others, "page");
        terminal.note(format!("left there from before, and not listed: {others}"));
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
