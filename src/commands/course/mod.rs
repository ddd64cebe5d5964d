//! `hecatomb course`: tables of hits and a teacher's plan in, lessons in one folder out.

mod folder;
mod options;
mod planned;
mod sheets;

use std::path::Path;

use anyhow::Context;

use super::examiners::Examiners;
use super::exercises::expect_built;
use super::lesson::{bring_games, findings, queries_of, query_of_motif};
use super::runs::Mined;
use super::{Ending, show_problems};
use crate::pages::{
    Course, ExerciseFormat, Lesson, Listed, ListedSheet, PlaceInCourse, Telling, motif_title,
};
use crate::plan::{CoursePlan, PlannedLesson};
use crate::query::Query;
use crate::statistics::{Outcomes, adjust_together, counted};
use crate::teaching::Findings;
use crate::terminal::{Bar, Terminal};
use crate::words::Words;

use folder::{Folder, INDEX, page_name};
pub(super) use options::CourseOptions;
pub(super) use planned::PlanFile;
use sheets::write_sheets;
pub(super) use sheets::{exercises_of, given_to, note_given, position_given, sheet_text};

/// A lesson to be made.
struct LessonWanted<'p> {
    query: Query,
    planned: Option<&'p PlannedLesson>,
}

/// Runs the command.
pub(super) fn course(options: &CourseOptions, terminal: Terminal) -> anyhow::Result<Ending> {
    let mined = options.teaching.mined()?;
    let mut file = match options.plan.as_deref().map(PlanFile::read).transpose()? {
        Some(Err(problems)) => {
            show_problems(terminal, &[problems]);
            return Ok(Ending::Failed);
        }
        Some(Ok(file)) => Some(file),
        None => None,
    };
    let plan = file.as_ref().map(|file| file.plan.clone());
    if plan.iter().flat_map(|plan| &plan.sheets).any(|sheet| sheet.is_pdf) {
        expect_built(ExerciseFormat::Pdf)?;
    }
    let wanted = match (&file, &plan) {
        (Some(file), Some(plan)) => file.wanted(plan, &mined, terminal)?,
        _ => wanted_unplanned(&options.query, &mined, terminal)?,
    };
    let Some(wanted) = wanted else { return Ok(Ending::Failed) };
    let words = options.language.or(plan.as_ref().and_then(|plan| plan.language));
    let letters = options.pieces.or(plan.as_ref().and_then(|plan| plan.pieces), words);
    let sheets: Vec<String> = plan.iter().flat_map(CoursePlan::sheet_files).collect();
    let folder = Folder { path: options.folder(), replace: options.replace, sheets };
    folder.expect_place(&wanted.iter().map(|wanted| &wanted.query).collect::<Vec<_>>())?;
    let program = options.teaching.program();
    let mut examiners = options.teaching.examiners(program.as_ref())?;
    let telling = examiners.telling(words, letters, &mined);
    let found = all_found(&wanted, file.as_ref(), &mined, &mut examiners, terminal)?;
    anyhow::ensure!(
        !found.is_empty() || !folder.sheets.is_empty(),
        "no offer in these tables gives anything up"
    );
    make_folder(folder.path)?;
    let sheets = match &mut file {
        Some(file) => write_sheets(file, &telling, &mined, &mut examiners, folder.path, terminal)?,
        None => Vec::new(),
    };
    write_lessons(found, plan.as_ref(), sheets, &mined, &telling, &folder, terminal)?;
    examiners.end(terminal).map(|()| Ending::Done)
}

/// The lesson on a motif as a plan has it, by itself: with its games and exercises, and no lessons around it.
///
/// # Errors
///
/// If the plan has none, or the runs can't be read or hold no offer that gives something up.
pub(super) fn lesson_alone(
    file: &PlanFile,
    motif: &str,
    mined: &Mined,
    examiners: &mut Examiners<'_>,
    terminal: Terminal,
) -> anyhow::Result<(Query, Findings)> {
    let planned = file.plan.lesson_on(motif);
    let planned = planned.with_context(|| format!("the plan has no lesson on `{motif}`"))?;
    let query = query_of_motif(motif, mined, terminal)?;
    let wishes = planned::wishes(planned);
    let mut found = findings(&query, &wishes, mined, examiners, &Bar::hidden())?;
    anyhow::ensure!(found.tally.summary.given_up > 0, "no offer of `{motif}` gives anything up");
    bring_games(&mut [&mut found], mined, examiners)?;
    adjust_together(&mut found.effects);
    file.dress(planned, &mut found, terminal)?;
    Ok((query, found))
}

/// A lesson for each query with hits.
fn wanted_unplanned<'p>(
    asked: &[String],
    mined: &Mined,
    terminal: Terminal,
) -> anyhow::Result<Option<Vec<LessonWanted<'p>>>> {
    let queries = queries_of(asked, mined, terminal)?;
    let have_hits = |query: &Query| mined.runs.queries().contains(&&*query.name);
    Ok(queries.map(|queries| {
        let with_hits = queries.into_iter().filter(have_hits);
        with_hits.map(|query| LessonWanted { query, planned: None }).collect()
    }))
}

/// Writes each lesson, and the page that lists them.
fn write_lessons(
    mut all_found: Vec<(&LessonWanted<'_>, Findings)>,
    plan: Option<&CoursePlan>,
    sheets: Vec<ListedSheet>,
    mined: &Mined,
    telling: &Telling,
    folder: &Folder<'_>,
    terminal: Terminal,
) -> anyhow::Result<()> {
    adjust_together(all_found.iter_mut().flat_map(|(_, of_query)| &mut of_query.effects));
    let all_games = mined.base.all();
    let words = telling.words;
    let mut course = Course::new(plan, words, sheets);
    for (index, (wanted, found)) in all_found.iter().enumerate() {
        let place = place(index, &all_found, words);
        let (query, planned) = (&wanted.query, wanted.planned);
        let lesson = Lesson { query, found, all_games, place, telling, planned };
        folder.write(&page_name(&query.name), &lesson.to_html()?, terminal)?;
        course.add(Listed::of(&lesson));
    }
    let listed: Vec<&Query> = all_found.iter().map(|(wanted, _)| &wanted.query).collect();
    let others = folder.others(&listed);
    folder.write(
        INDEX,
        &course.to_html(Outcomes::games(&all_games), &others, telling.caution.as_deref())?,
        terminal,
    )?;
    let lessons = counted(all_found.len() as u64, "lesson");
    let sheets = match course.sheets() as u64 {
        0 => String::new(),
        sheets => format!(" and {}", counted(sheets, "sheet")),
    };
    terminal.note(format!("{lessons}{sheets} in {}", folder.path.display()));
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
    wanted: &'w [LessonWanted<'p>],
    file: Option<&PlanFile>,
    mined: &Mined,
    examiners: &mut Examiners<'_>,
    terminal: Terminal,
) -> anyhow::Result<Vec<(&'w LessonWanted<'p>, Findings)>> {
    let mut all_found = Vec::new();
    let bar = Bar::counting(terminal, wanted.len() as u64);
    for lesson in wanted {
        let wishes = lesson.planned.map(planned::wishes).unwrap_or_default();
        let found = findings(&lesson.query, &wishes, mined, examiners, &Bar::hidden())?;
        if found.tally.summary.given_up > 0 {
            all_found.push((lesson, found));
        } else if lesson.planned.is_some() {
            let name = &lesson.query.name;
            terminal.note(format!("left out: no offer of `{name}` gives anything up"));
        }
        bar.advance(1);
    }
    bar.end();
    let mut of_all: Vec<&mut Findings> = all_found.iter_mut().map(|(_, found)| found).collect();
    bring_games(&mut of_all, mined, examiners)?;
    for (lesson, found) in &mut all_found {
        if let Some((file, planned)) = file.zip(lesson.planned) {
            file.dress(planned, found, terminal)?;
        }
    }
    Ok(all_found)
}

/// The lessons before and after one.
fn place(index: usize, all: &[(&LessonWanted<'_>, Findings)], words: Words) -> PlaceInCourse {
    let title = |(wanted, _): &(&LessonWanted<'_>, Findings)| {
        let heading = wanted.planned.and_then(|planned| planned.heading.as_ref());
        let Query { name, title, .. } = &wanted.query;
        (name.clone(), heading.cloned().unwrap_or_else(|| motif_title(name, title, words)))
    };
    PlaceInCourse {
        is_in_course: true,
        before: index.checked_sub(1).map(|before| title(&all[before])),
        after: all.get(index + 1).map(title),
    }
}
