//! The folder of a course: a page for each lesson and one that lists them.

use std::path::Path;

use crate::advice::WithHint;
use crate::commands::output;
use crate::pages::OtherPage;
use crate::query::Query;
use crate::statistics::counted;
use crate::terminal::Terminal;

/// The page that lists the lessons.
pub(super) const INDEX: &str = "index.html";

/// The folder of a course.
pub(super) struct Folder<'f> {
    pub(super) path: &'f Path,
    /// Whether other pages in it may be written over.
    pub(super) replace: bool,
    /// The pages of its sheets.
    pub(super) sheets: Vec<String>,
}

impl Folder<'_> {
    /// Fails if what it holds must not be written over unasked: another course, or edited pages.
    pub(super) fn expect_place(&self, queries: &[&Query]) -> anyhow::Result<()> {
        let pages = queries.iter().map(|query| page_name(&query.name));
        for page in pages.chain([INDEX.to_owned()]).chain(self.sheets.iter().cloned()) {
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
    pub(super) fn others(&self, queries: &[&Query]) -> Vec<OtherPage> {
        let Ok(entries) = std::fs::read_dir(self.path) else { return Vec::new() };
        let own = |name: &String| {
            name == INDEX
                || self.sheets.contains(name)
                || queries.iter().any(|query| page_name(&query.name) == *name)
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

    pub(super) fn write(&self, name: &str, page: &str, terminal: Terminal) -> anyhow::Result<()> {
        output::write(&self.path.join(name), page, terminal)
    }
}

/// The name of the page of a lesson.
pub(super) fn page_name(query: &str) -> String {
    format!("{query}.html")
}
