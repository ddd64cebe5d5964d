//! What is noted beside the entries of a plan.

use super::ground::{Ground, Path, Site};

/// A plan's text, to be asked for what is noted in it.
pub struct PlanNotes<'t> {
    ground: Option<Ground<'t>>,
}

impl<'t> PlanNotes<'t> {
    /// The notes of a text; none if it is no TOML.
    #[must_use]
    pub fn of(text: &'t str) -> PlanNotes<'t> {
        PlanNotes { ground: Ground::read(text) }
    }

    /// The first comment of an entry: the way to it is keys, each with the index in its list.
    #[must_use]
    pub fn first(&self, way: &[(&str, usize)]) -> Option<String> {
        let ground = self.ground.as_ref()?;
        let path: Path = way.iter().map(|(key, index)| ((*key).to_owned(), *index)).collect();
        let Site::Lines { .. } = ground.site(&path) else { return None };
        let text = &ground.text[ground.entry(&path)?];
        let mut comments = text.lines().filter_map(|line| line.trim().strip_prefix('#'));
        comments.next().map(|comment| comment.trim().to_owned())
    }
}
