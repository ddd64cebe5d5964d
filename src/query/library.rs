//! The built-in queries, and queries from files on disk.

use std::path::Path;

use include_dir::{Dir, include_dir};

use super::file::Query;
use super::sentence::{Chapter, Finds};
use crate::advice::{nearest, suggestion};
use crate::toml_files::{FileProblems, Problem, read_text};

static BUILT_IN: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/queries");

/// The names of the built-in queries, sorted.
pub fn built_in_names() -> impl Iterator<Item = &'static str> {
    let mut names: Vec<&str> = BUILT_IN.files().filter_map(|file| stem(file.path())).collect();
    names.sort_unstable();
    names.into_iter()
}

/// The names of the built-in queries that find every sacrifice.
#[must_use]
pub fn every_sacrifice_names() -> Vec<String> {
    let mut library = Library::new();
    library.add_finding(Finds::EverySacrifice, None);
    library.queries.into_iter().map(|query| query.name).collect()
}

fn stem(path: &Path) -> Option<&str> {
    path.file_stem()?.to_str()
}

/// The file that a query of this name is in.
fn file_of(name: &str) -> String {
    format!("{name}.toml")
}

/// A hint at the queries that `name`, which is none of `known`, may mean: the one with nearly that name,
/// or else the built-in ones that are also called that, or nearly that.
pub fn meant<'n>(
    name: &str,
    known: impl IntoIterator<Item = &'n str, IntoIter: Clone>,
) -> Option<String> {
    let known = known.into_iter();
    if let Some(near) = suggestion(name, known.clone()) {
        return Some(near);
    }
    let mut library = Library::new();
    library.add_built_in();
    let mut queries = library.queries().ok()?;
    queries.retain(|query| known.clone().any(|known| known == query.name));
    let wanted = name.to_lowercase().replace('-', " ");
    let has_part = |other: &String| wanted.len() >= 4 && other.to_lowercase().contains(&wanted);
    let is_near = |other: &String| nearest(&wanted, [&*other.to_lowercase()]).is_some();
    let called = |fits: &dyn Fn(&String) -> bool| -> Vec<String> {
        let other = |query: &Query| query.also_called.iter().find(|&other| fits(other)).cloned();
        let named = queries.iter().filter_map(|query| Some((&query.name, other(query)?)));
        named.map(|(name, other)| format!("`{name}` ({other})")).collect()
    };
    let found = Some(called(&has_part)).filter(|found| !found.is_empty());
    let found = found.unwrap_or_else(|| called(&is_near));
    match found.len() {
        0 => None,
        1..=MOST_NAMED => Some(format!("did you mean {}?", found.join(" or "))),
        _ => Some(format!("{} queries have such a name: see `hecatomb queries list`", found.len())),
    }
}

/// The most queries that a hint names.
const MOST_NAMED: usize = 3;

impl Query {
    /// A query as a run mined it: from the text that the run keeps or, if it keeps none, the built-in one.
    #[must_use]
    pub fn as_mined(name: &str, text: Option<&str>) -> Option<Query> {
        let built_in = || BUILT_IN.get_file(file_of(name))?.contents_utf8();
        Query::read(name, &format!("{name}, as it was mined"), text.or_else(built_in)?).ok()
    }
}

/// Reads queries by name or file and gathers what is wrong with them.
#[derive(Debug, Default)]
pub struct Library {
    queries: Vec<Query>,
    troubles: Vec<FileProblems>,
    /// The names of those that were mined, and so were in order then.
    mined: Vec<String>,
}

impl Library {
    /// A library with no query in it.
    #[must_use]
    pub fn new() -> Library {
        Library::default()
    }

    /// Whether there is a query of this name: built in, or as a file `NAME.toml` in the current folder.
    #[must_use]
    pub fn knows(name: &str) -> bool {
        Library::is_in_folder(name) || BUILT_IN.contains(file_of(name))
    }

    /// Whether a query is a built-in one, letter for letter.
    #[must_use]
    pub fn has_built_in(query: &Query) -> bool {
        let file = BUILT_IN.get_file(file_of(&query.name));
        file.and_then(|file| file.contents_utf8()).is_some_and(|text| text == query.source)
    }

    /// Whether there is a file `NAME.toml` in the current folder.
    #[must_use]
    pub fn is_in_folder(name: &str) -> bool {
        Path::new(&file_of(name)).is_file()
    }

    /// Adds a query from the text that a run keeps of it. The general motif of a special form need not be
    /// known here.
    pub fn add_mined(&mut self, name: &str, text: &str) {
        self.mined.push(name.to_owned());
        self.take(Query::read(name, &format!("{name}, as it was mined"), text));
    }

    /// Adds every built-in query.
    pub fn add_built_in(&mut self) {
        for name in built_in_names() {
            self.add_built_in_query(name);
        }
    }

    /// Adds the built-in queries that find motifs, or those that find every sacrifice; of one chapter or
    /// of all. There must be some.
    pub fn add_finding(&mut self, finds: Finds, chapter: Option<Chapter>) {
        let mut all = Library::new();
        all.add_built_in();
        self.troubles.extend(all.troubles);
        let is_chosen = |query: &Query| {
            query.finds == finds && chapter.is_none_or(|chapter| query.chapter == chapter)
        };
        let mut chosen = all.queries.into_iter().filter(is_chosen).peekable();
        if chosen.peek().is_none() {
            let chapter = chapter.map_or("any", Chapter::word);
            let message = format!("no built-in query is of chapter `{chapter}`");
            self.trouble("", Problem::new(0..0, message).with_hint("name your own with --query"));
        }
        chosen.for_each(|query| self.insert(query));
    }

    /// Adds a query by the name of a built-in one or by file: a word with a path separator or the
    /// ending `.toml` is a file, and a file `NAME.toml` in the current folder wins over a built-in
    /// query of that name.
    pub fn add(&mut self, name_or_file: &str) {
        let file_here = file_of(name_or_file);
        let is_file =
            name_or_file.ends_with(".toml") || name_or_file.contains(std::path::is_separator);
        if is_file {
            self.add_file(name_or_file);
        } else if Path::new(&file_here).is_file() {
            self.add_file(&file_here);
        } else {
            self.add_built_in_query(name_or_file);
        }
    }

    fn add_file(&mut self, path: &str) {
        let name = stem(Path::new(path)).unwrap_or_default().to_owned();
        match read_text(path, "no query") {
            Ok(text) => self.take(Query::read(&name, path, &text)),
            Err(problem) => self.trouble(path, problem),
        }
    }

    fn add_built_in_query(&mut self, name: &str) {
        let path = format!("queries/{name}.toml");
        match BUILT_IN.get_file(file_of(name)).and_then(|file| file.contents_utf8()) {
            Some(text) => self.take(Query::read(name, &path, text)),
            None => {
                let problem = Problem::new(0..0, format!("no query is called `{name}`"));
                let hint = meant(name, built_in_names().collect::<Vec<_>>());
                self.trouble("", Problem { hint, ..problem });
            }
        }
    }

    fn trouble(&mut self, path: &str, problem: Problem) {
        self.troubles.push(FileProblems {
            path: path.to_owned(),
            text: String::new(),
            problems: vec![problem],
        });
    }

    fn take(&mut self, query: Result<Query, FileProblems>) {
        match query {
            Ok(query) => self.insert(query),
            Err(problems) => self.troubles.push(problems),
        }
    }

    /// Adds a query; one of the same name gives way to it.
    fn insert(&mut self, query: Query) {
        self.queries.retain(|known| known.name != query.name);
        self.queries.push(query);
    }

    /// The queries in the order of a course: by chapter and name, special forms after their general motif.
    ///
    /// # Errors
    ///
    /// All problems of all files that were added, if there are any.
    pub fn queries(mut self) -> Result<Vec<Query>, Vec<FileProblems>> {
        self.check_forms();
        if !self.troubles.is_empty() {
            return Err(self.troubles);
        }
        self.queries.sort_by(|a, b| place(a).cmp(&place(b)));
        Ok(self.queries)
    }

    /// The general motif of a special form must be known, so that a typing mistake is seen.
    fn check_forms(&mut self) {
        let is_known = |general: &String| {
            self.queries.iter().any(|query| query.name == *general) || Library::knows(general)
        };
        let forms = self.queries.iter().filter_map(|query| Some((query, query.form_of.as_ref()?)));
        let is_mined = |query: &Query| self.mined.contains(&query.name);
        let stray = forms.filter(|(query, general)| !is_mined(query) && !is_known(general));
        let problems: Vec<Problem> = stray
            .map(|(query, general)| Problem {
                hint: meant(general, built_in_names().collect::<Vec<_>>()),
                ..Problem::new(
                    0..0,
                    format!("`{}` is a form of `{general}`, which is not a query", query.name),
                )
            })
            .collect();
        problems.into_iter().for_each(|problem| self.trouble("", problem));
    }
}

/// What a query is sorted by.
fn place(query: &Query) -> (Chapter, &str, bool, &str) {
    let family = query.form_of.as_ref().unwrap_or(&query.name);
    (query.chapter, family, query.form_of.is_some(), &query.name)
}
