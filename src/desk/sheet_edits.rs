//! Edits of a sheet, made in a plan's text.

use toml_edit::{Array, Value};

use super::apply::Editing;
use super::edit::{ExerciseName, ListEdit, Noted, Spot};
use super::fault::{EditFault, Made};
use super::levels::levels_value;
use super::listing::{count_after, exercise_table};
use super::named::{sheet_exercise_names, sheet_index, sheet_names};
use super::splice::{List, NewTable, add};
use crate::plan::{Audience, Paper, PlannedSheet, SHEET_KEYS, SheetLayout, SheetWanted};

/// What says which exercises the program chooses.
const QUOTA_KEYS: [&str; 5] = ["of", "level", "motif", "chapter", "seed"];

impl Editing<'_> {
    pub(super) fn add_sheet(&self, sheet: &PlannedSheet) -> Made {
        let names = sheet_names(self.plan);
        let name = &sheet.name.value;
        if names.contains(name) {
            return Err(EditFault::There(format!("sheet `{name}`")));
        }
        let new = NewTable { says: None, values: sheet_values(sheet), blank: 2 };
        let text = self.list(&[], "sheet").added(&names, &Spot::Last, &new)?;
        match &sheet.wanted {
            SheetWanted::Quotas { .. } => Ok(text),
            SheetWanted::These(exercises) => {
                let table = |name| exercise_table(&Noted { name, says: None });
                let tables = sheet_exercise_names(exercises).into_iter().map(table);
                add_exercises(text, names.len(), tables)
            }
        }
    }

    pub(super) fn change_sheet(&self, name: &str, sheet: &PlannedSheet) -> Made {
        let at = sheet_index(self.plan, name)?;
        let is_renamed = sheet.name.value != name;
        if is_renamed && sheet_index(self.plan, &sheet.name.value).is_ok() {
            return Err(EditFault::There(format!("sheet `{}`", sheet.name.value)));
        }
        if is_renamed && self.plan.given.iter().any(|given| given.sheet == name) {
            return Err(EditFault::Given(name.to_owned()));
        }
        let path = [("sheet".to_owned(), at)];
        let old = &self.plan.sheets[at];
        let (before, after) = (sheet_values(old), sheet_values(sheet));
        let mut text = self.text.to_owned();
        let has_own = matches!(old.wanted, SheetWanted::These(_));
        for key in SHEET_KEYS.into_iter().filter(|key| !(has_own && QUOTA_KEYS.contains(key))) {
            let find = |values: &[(&'static str, Value)]| {
                values.iter().find(|(known, _)| *known == key).map(|(_, value)| value.clone())
            };
            let (old, new) = (find(&before), find(&after));
            if old.as_ref().map(Value::to_string) != new.as_ref().map(Value::to_string) {
                text = Editing { text: &text, plan: self.plan }.set(&path, key, new)?;
            }
        }
        Ok(text)
    }

    pub(super) fn sheet_exercises(&self, name: &str, edit: &ListEdit<ExerciseName>) -> Made {
        let at = sheet_index(self.plan, name)?;
        let SheetWanted::These(exercises) = &self.plan.sheets[at].wanted else {
            return Err(EditFault::LeftToProgram { what: "exercises", of: name.to_owned() });
        };
        let names = sheet_exercise_names(exercises);
        if count_after(names.len(), edit) == 0 {
            return Err(EditFault::LastOfSheet(name.to_owned()));
        }
        let parent = [("sheet".to_owned(), at)];
        self.list(&parent, "exercise").changed(&names, edit, exercise_table)
    }

    pub(super) fn settle_sheet(&self, name: &str, exercises: &[Noted<ExerciseName>]) -> Made {
        let at = sheet_index(self.plan, name)?;
        if matches!(self.plan.sheets[at].wanted, SheetWanted::These(_)) || exercises.is_empty() {
            return Ok(self.text.to_owned());
        }
        let path = [("sheet".to_owned(), at)];
        let text = QUOTA_KEYS.into_iter().try_fold(self.text.to_owned(), |text, key| {
            Editing { text: &text, plan: self.plan }.set(&path, key, None)
        })?;
        add_exercises(text, at, exercises.iter().map(exercise_table))
    }
}

/// Adds exercises to a sheet that names none.
fn add_exercises(text: String, at: usize, tables: impl Iterator<Item = NewTable>) -> Made {
    let parent = [("sheet".to_owned(), at)];
    tables.enumerate().try_fold(text, |text, (index, table)| {
        let list = List { parent: &parent, key: "exercise" };
        add(&text, &list, index, &table).ok_or_else(|| EditFault::Scattered("sheet".to_owned()))
    })
}

/// What a plan's file says of a sheet; what goes without saying is left out.
fn sheet_values(sheet: &PlannedSheet) -> Vec<(&'static str, Value)> {
    let mut values = vec![("name", Value::from(&sheet.name.value))];
    let texts = [("title", &sheet.title), ("class", &sheet.class)];
    values.extend(
        texts.into_iter().filter_map(|(key, text)| Some((key, Value::from(text.as_ref()?)))),
    );
    if sheet.audiences[..] != [Audience::Both] {
        values.extend(some_texts("for", sheet.audiences.iter().map(|one| one.word())));
    }
    let SheetLayout { per_page, is_large, paper } = sheet.layout;
    let flags = [("projector", sheet.is_projected), ("large", is_large), ("pdf", sheet.is_pdf)];
    values.extend(
        flags.into_iter().filter(|(_, flag)| *flag).map(|(key, _)| (key, Value::from(true))),
    );
    let per_page = per_page.map(|one| one.count() as i64);
    values.extend(per_page.map(|count| ("per-page", Value::from(count))));
    values.extend((paper != Paper::default()).then(|| ("paper", Value::from(paper.word()))));
    if let SheetWanted::Quotas { quotas, levels, motifs, chapters, seed } = &sheet.wanted {
        let quotas = quotas.iter().map(|one| format!("{}:{}", one.kind.word(), one.count));
        values.extend(some_texts("of", quotas));
        values.extend(levels_value(*levels).map(|value| ("level", value)));
        values.extend(some_texts("motif", motifs.iter().map(|motif| &*motif.value)));
        values.extend(some_texts("chapter", chapters.iter().map(|chapter| chapter.word())));
        let seed = i64::try_from(*seed).ok().filter(|seed| *seed != 1);
        values.extend(seed.map(|seed| ("seed", Value::from(seed))));
    }
    values
}

/// A list of texts, if there are any.
fn some_texts<T: Into<Value>>(
    key: &'static str,
    texts: impl Iterator<Item = T>,
) -> Option<(&'static str, Value)> {
    let texts: Array = texts.collect();
    (!texts.is_empty()).then_some((key, Value::Array(texts)))
}
