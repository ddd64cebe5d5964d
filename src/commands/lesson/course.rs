//! A lesson for each motif in one folder, and the page that lists them.

use std::path::Path;

use anyhow::Context;

use super::found;
use crate::advice::WithHint;
use crate::commands::examiners::Examiners;
use crate::commands::output;
use crate::commands::runs::Mined;
use crate::pages::{Course, Lesson, Listed, OtherPage, PlaceInCourse};
use crate::query::Query;
use crate::statistics::{Outcomes, adjust_together, counted};
use crate::teaching::Findings;
use crate::terminal::{Bar, Terminal};

/// The page that lists the lessons.
const INDEX: &str = "index.html";

/// The folder of a course.
pub(super) struct Folder<'f> {
    pub(super) path: &'f Path,
    /// Whether other pages in it may be written over.
    pub(super) replace: bool,
}

impl Folder<'_> {
    /// Fails if what it holds must not be written over unasked: another course, or edited pages.
    fn expect_place(&self, queries: &[&Query]) -> anyhow::Result<()> {
        let pages = queries.iter().map(|query| page_name(&query.name));
        for page in pages.chain([INDEX.to_owned()]) {
            let place = self.path.join(page);
            output::refuse_link(&place)?;
            if !self.replace {
                output::expect_untouched(&place)?;
            }
        }
        if self.replace {
            return Ok(());
        }
        let others = self.others(queries).len() as u64;
        if others > 0 {
            let (folder, others) = (self.path.display(), counted(others, "other page"));
            let error = anyhow::anyhow!("`{folder}` holds {others} besides these lessons");
            return Err(
                error.hint("name another folder with -o, or add to this one with --replace")
            );
        }
        Ok(())
    }

    /// The pages it holds besides those of a course on these queries, by name.
    fn others(&self, queries: &[&Query]) -> Vec<OtherPage> {
        let Ok(entries) = std::fs::read_dir(self.path) else { return Vec::new() };
        let own = |name: &String| {
            name == INDEX || queries.iter().any(|query| page_name(&query.name) == *name)
        };
        let names = entries.flatten().filter_map(|entry| entry.file_name().into_string().ok());
        let mut names: Vec<String> =
            names.filter(|name| name.ends_with(".html") && !own(name)).collect();
        names.sort();
        let page = |name: String| {
            let text = std::fs::read_to_string(self.path.join(&name)).unwrap_or_default();
            OtherPage::new(name, &text)
        };
        names.into_iter().map(page).collect()
    }

    fn write(&self, name: &str, page: &str, terminal: Terminal) -> anyhow::Result<()> {
        output::write(&self.path.join(name), page, terminal)
    }
}

fn page_name(query: &str) -> String {
    format!("{query}.html")
}

/// Writes a lesson for each query with offers that give something up, and the page that lists them.
pub(super) fn write_course(
    queries: &[Query],
    mined: &Mined,
    examiners: &mut Examiners<'_>,
    folder: &Folder<'_>,
    terminal: Terminal,
) -> anyhow::Result<()> {
    let have_hits = |query: &&Query| mined.runs.queries().contains(&&*query.name);
    let with_hits: Vec<&Query> = queries.iter().filter(have_hits).collect();
    folder.expect_place(&with_hits)?;
    let mut all_found = Vec::new();
    let bar = Bar::counting(terminal, with_hits.len() as u64);
    for query in with_hits {
        let of_query = found(query, mined, examiners, &Bar::hidden())?;
        if of_query.tally.summary.given_up > 0 {
            all_found.push((query, of_query));
        }
        bar.advance(1);
    }
    bar.end();
    adjust_together(all_found.iter_mut().flat_map(|(_, of_query)| &mut of_query.effects));
    anyhow::ensure!(!all_found.is_empty(), "no offer in these tables gives anything up");
    std::fs::create_dir_all(folder.path)
        .with_context(|| format!("can't create the folder `{}`", folder.path.display()))?;
    let all_games = mined.base.all();
    let title = |(query, _): &(&Query, Findings)| (query.name.clone(), query.title.clone());
    let mut course = Course::default();
    for (index, (query, of_query)) in all_found.iter().enumerate() {
        let place = PlaceInCourse {
            is_in_course: true,
            before: index.checked_sub(1).map(|before| title(&all_found[before])),
            after: all_found.get(index + 1).map(title),
        };
        let (rests_on, caution) = (examiners.rests_on(), mined.remarks());
        let lesson = Lesson { query, found: of_query, all_games, place, rests_on, caution };
        folder.write(&page_name(&query.name), &lesson.to_html()?, terminal)?;
        course.add(Listed::of(&lesson));
    }
    let listed: Vec<&Query> = all_found.iter().map(|(query, _)| *query).collect();
    let others = folder.others(&listed);
    let games = Outcomes::games(&all_games);
    folder.write(INDEX, &course.to_html(games, &others, mined.remarks())?, terminal)?;
    let lessons = counted(all_found.len() as u64, "lesson");
    terminal.note(format!("{lessons} in {}", folder.path.display()));
    mined.tell_left_out(terminal);
    if !others.is_empty() {
        let others = counted(others.len() as u64, "other page");
        terminal.note(format!("its index also lists {others} that the folder held"));
    }
    Ok(())
}
