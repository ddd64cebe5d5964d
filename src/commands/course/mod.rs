//! `hecatomb course`: tables of hits and a teacher's plan in, lessons in one folder out.

mod folder;
mod options;
mod planned;

use std::path::Path;

use anyhow::Context;

use super::examiners::Examiners;
use super::lesson::{findings, queries_of};
use super::runs::Mined;
use super::{Ending, show_problems};
use crate::pages::{Course, Lesson, Listed, PlaceInCourse};
use crate::plan::PlannedLesson;
use crate::query::Query;
use crate::statistics::{Outcomes, adjust_together, counted};
use crate::teaching::Findings;
use crate::terminal::{Bar, Terminal};

use folder::{Folder, INDEX, page_name};
pub(super) use options::CourseOptions;
use planned::PlanFile;

/// A lesson to be made.
struct Wanted<'p> {
    query: Query,
    planned: Option<&'p PlannedLesson>,
}

/// Runs the command.
pub(super) fn course(options: &CourseOptions, terminal: Terminal) -> anyhow::Result<Ending> {
    let mined = Mined::open(&options.runs, &options.edited, &options.sacrifices)?;
    let file = match options.plan.as_deref().map(PlanFile::read).transpose()? {
        Some(Err(problems)) => {
            show_problems(terminal, &[problems]);
            return Ok(Ending::Failed);
        }
        Some(Ok(file)) => Some(file),
        None => None,
    };
    let wanted = match &file {
        Some(file) => file.wanted(&mined, terminal)?,
        None => wanted_unplanned(&options.query, &mined, terminal)?,
    };
    let Some(wanted) = wanted else { return Ok(Ending::Failed) };
    let program = options.engine.program();
    let (threads, effort) = (options.threads.count(), options.proof.effort());
    let mut examiners = Examiners::new(threads, effort, program.as_ref())?;
    let folder = Folder { path: options.folder(), replace: options.replace };
    write(&wanted, file.as_ref(), &mined, &mut examiners, &folder, terminal)?;
    examiners.end(terminal).map(|()| Ending::Done)
}

/// A lesson for each query with hits.
fn wanted_unplanned<'p>(
    asked: &[String],
    mined: &Mined,
    terminal: Terminal,
) -> anyhow::Result<Option<Vec<Wanted<'p>>>> {
    let queries = queries_of(asked, mined, terminal)?;
    let have_hits = |query: &Query| mined.runs.queries().contains(&&*query.name);
    Ok(queries.map(|queries| {
        let with_hits = queries.into_iter().filter(have_hits);
        with_hits.map(|query| Wanted { query, planned: None }).collect()
    }))
}

/// Writes each lesson with offers that give something up, and the page that lists them.
fn write(
    wanted: &[Wanted<'_>],
    file: Option<&PlanFile>,
    mined: &Mined,
    examiners: &mut Examiners<'_>,
    folder: &Folder<'_>,
    terminal: Terminal,
) -> anyhow::Result<()> {
    let queries: Vec<&Query> = wanted.iter().map(|wanted| &wanted.query).collect();
    folder.expect_place(&queries)?;
    let mut all_found = all_found(wanted, file, mined, examiners, terminal)?;
    adjust_together(all_found.iter_mut().flat_map(|(_, of_query)| &mut of_query.effects));
    anyhow::ensure!(!all_found.is_empty(), "no offer in these tables gives anything up");
    make_folder(folder.path)?;
    let all_games = mined.base.all();
    let (rests_on, caution) = (examiners.rests_on().to_owned(), mined.remarks());
    let mut course = Course::new(file.map(|file| &file.plan));
    for (index, (wanted, found)) in all_found.iter().enumerate() {
        let place = place(index, &all_found);
        let (query, planned) = (&wanted.query, wanted.planned);
        let rests_on = &rests_on;
        let lesson = Lesson { query, found, all_games, place, rests_on, caution, planned };
        folder.write(&page_name(&query.name), &lesson.to_html()?, terminal)?;
        course.add(Listed::of(&lesson));
    }
    let listed: Vec<&Query> = all_found.iter().map(|(wanted, _)| &wanted.query).collect();
    let others = folder.others(&listed);
    folder.write(
        INDEX,
        &course.to_html(Outcomes::games(&all_games), &others, caution)?,
        terminal,
    )?;
    let lessons = counted(all_found.len() as u64, "lesson");
    terminal.note(format!("{lessons} in {}", folder.path.display()));
    mined.tell_left_out(terminal);
    if !others.is_empty() {
        let others = counted(others.len() as u64, "other page");
        terminal.note(format!("its index also lists {others} that the folder held"));
    }
    Ok(())
}

fn make_folder(path: &Path) -> anyhow::Result<()> {
    std::fs::create_dir_all(path)
        .with_context(|| format!("can't create the folder `{}`", path.display()))
}

/// What there is to show of each lesson that shows anything.
fn all_found<'w, 'p>(
    wanted: &'w [Wanted<'p>],
    file: Option<&PlanFile>,
    mined: &Mined,
    examiners: &mut Examiners<'_>,
    terminal: Terminal,
) -> anyhow::Result<Vec<(&'w Wanted<'p>, Findings)>> {
    let mut all_found = Vec::new();
    let bar = Bar::counting(terminal, wanted.len() as u64);
    for lesson in wanted {
        let wishes = lesson.planned.map(planned::wishes).unwrap_or_default();
        let mut found = findings(&lesson.query, &wishes, mined, examiners, &Bar::hidden())?;
        if let Some((file, planned)) = file.zip(lesson.planned) {
            file.dress(planned, &mut found, terminal)?;
        }
        if found.tally.summary.given_up > 0 {
            all_found.push((lesson, found));
        } else if lesson.planned.is_some() {
            let name = &lesson.query.name;
            terminal.note(format!("left out: no offer of `{name}` gives anything up"));
        }
        bar.advance(1);
    }
    bar.end();
    Ok(all_found)
}

/// The lessons before and after one.
fn place(index: usize, all: &[(&Wanted<'_>, Findings)]) -> PlaceInCourse {
    let title = |(wanted, _): &(&Wanted<'_>, Findings)| {
        let heading = wanted.planned.and_then(|planned| planned.heading.as_ref());
        (wanted.query.name.clone(), heading.unwrap_or(&wanted.query.title).clone())
    };
    PlaceInCourse {
        is_in_course: true,
        before: index.checked_sub(1).map(|before| title(&all[before])),
        after: all.get(index + 1).map(title),
    }
}
