//! An edit made in a plan's text.
//!
//! Invariant: what comes out was read again by the plan's own reader, and holds every byte of what went in that the edit
//! is not about.

use toml_edit::Value;

use super::edit::{CourseField, Edit, NewLesson, SheetGiven, Spot};
use super::fault::{EditFault, Made};
use super::listing::{ListText, said};
use super::named::{lesson_index, lesson_names, sheet_index, sheet_names};
use super::splice::{List, NewTable, set};
use crate::plan::{CoursePlan, given_entry};

/// Makes edits in a plan's text, one after the other.
///
/// # Errors
///
/// If the text is no plan, or one of the edits can't be made; then none is.
pub fn edited(text: &str, edits: &[Edit]) -> Result<String, EditFault> {
    edits.iter().try_fold(text.to_owned(), |text, edit| {
        let plan = read(&text)?;
        let made = Editing { text: &text, plan: &plan }.made(edit)?;
        read(&made).map(|_| made)
    })
}

pub(super) fn read(text: &str) -> Result<CoursePlan, EditFault> {
    let unreadable = |problems| EditFault::Unreadable(Box::new(problems));
    CoursePlan::read("the plan", text).map_err(unreadable)
}

/// A plan with its text.
pub(super) struct Editing<'e> {
    pub(super) text: &'e str,
    pub(super) plan: &'e CoursePlan,
}

impl Editing<'_> {
    fn made(&self, edit: &Edit) -> Made {
        match edit {
            Edit::Course(field, words) => {
                let key = match field {
                    CourseField::Title => "title",
                    CourseField::Audience => "audience",
                    CourseField::Words => "words",
                };
                self.set(&[], key, words.as_deref().and_then(said))
            }
            Edit::AddLesson(lesson, spot) => self.add_lesson(lesson, spot),
            Edit::DropLesson(motif) => {
                let at = lesson_index(self.plan, motif)?;
                self.list(&[], "lesson").dropped(at)
            }
            Edit::MoveLesson(motif, spot) => {
                let at = lesson_index(self.plan, motif)?;
                self.list(&[], "lesson").moved(at, &lesson_names(self.plan), spot)
            }
            Edit::Lesson(motif, edit) => {
                let at = lesson_index(self.plan, motif)?;
                self.of_lesson(at, edit)
            }
            Edit::AddSheet(sheet) => self.add_sheet(sheet),
            Edit::DropSheet(name) => {
                let at = sheet_index(self.plan, name)?;
                self.list(&[], "sheet").dropped(at)
            }
            Edit::MoveSheet(name, spot) => {
                let at = sheet_index(self.plan, name)?;
                self.list(&[], "sheet").moved(at, &sheet_names(self.plan), spot)
            }
            Edit::ChangeSheet(name, sheet) => self.change_sheet(name, sheet),
            Edit::SheetExercises(name, edit) => self.sheet_exercises(name, edit),
            Edit::SettleSheet(name, exercises) => self.settle_sheet(name, exercises),
            Edit::Give(given) => self.give(given),
        }
    }

    fn give(&self, given: &SheetGiven) -> Made {
        let SheetGiven { class, sheet, on, exercises, positions } = given;
        let entry = given_entry(class, sheet, on, exercises, positions);
        // Lines end as in the rest of the file.
        let entry = if self.text.contains("\r\n") { entry.replace('\n', "\r\n") } else { entry };
        Ok(self.text.to_owned() + &entry)
    }

    pub(super) fn set(&self, path: &[(String, usize)], key: &str, value: Option<Value>) -> Made {
        set(self.text, path, key, value).ok_or_else(|| EditFault::Scattered(key.to_owned()))
    }

    pub(super) fn list<'l>(
        &'l self,
        parent: &'l [(String, usize)],
        key: &'static str,
    ) -> ListText<'l> {
        ListText { text: self.text, list: List { parent, key } }
    }

    fn add_lesson(&self, lesson: &NewLesson, spot: &Spot<String>) -> Made {
        let motif = &lesson.motif.name;
        let names = lesson_names(self.plan);
        if names.contains(motif) {
            return Err(EditFault::There(format!("lesson on `{motif}`")));
        }
        let optional = [("chapter", &lesson.chapter), ("heading", &lesson.heading)];
        let optional = optional.into_iter().filter_map(|(key, text)| Some((key, text.clone()?)));
        let values = [("motif", motif.clone())].into_iter().chain(optional);
        let values = values.map(|(key, text)| (key, Value::from(text))).collect();
        let new = NewTable { says: lesson.motif.says.clone(), values, blank: 2 };
        self.list(&[], "lesson").added(&names, spot, &new)
    }
}
