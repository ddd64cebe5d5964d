//! What the forms of sheets ask for.

use super::address::value;
use super::plan_form::{PlanForm, Wished, no_other, wish};
use crate::desk::{Edit, ExerciseName, ListEdit, Noted, Nth, SheetGiven};
use crate::hits::query_in;
use crate::plan::SheetWanted;
use crate::teaching::ExerciseKind;

/// On how many motifs of a sheet another exercise is looked for.
const MOST_MOTIFS: usize = 4;

impl PlanForm<'_> {
    pub(super) async fn sheets(&self, act: &str) -> Wished {
        let name = value(self.words, "sheet").unwrap_or_default().to_owned();
        match act {
            "drop-sheet" => {
                wish(vec![Edit::DropSheet(name.clone())], format!("sheet dropped: {name}"))
            }
            "move-sheet" => {
                let moved = Edit::MoveSheet(name.clone(), self.spot()?);
                wish(vec![moved], format!("sheet moved: {name}"))
            }
            "add-sheet" => {
                let sheet = super::sheet_form::sheet(self.words)?;
                let what = format!("sheet added: {}", sheet.name.value);
                wish(vec![Edit::AddSheet(Box::new(sheet))], what)
            }
            "change-sheet" => {
                let sheet = super::sheet_form::sheet(self.words)?;
                let changed = Edit::ChangeSheet(name.clone(), Box::new(sheet));
                wish(vec![changed], format!("sheet changed: {name}"))
            }
            "drop-sheet-exercise" | "move-sheet-exercise" | "settle-sheet" => {
                let settled = self.settled_sheet(&name).await?;
                let edit = match act {
                    "drop-sheet-exercise" => Some(ListEdit::Drop(self.entry()?)),
                    "move-sheet-exercise" => Some(ListEdit::Move(self.entry()?, self.spot()?)),
                    _ => None,
                };
                let edit = edit.map(|edit| Edit::SheetExercises(name.clone(), edit));
                wish(settled.into_iter().chain(edit).collect(), format!("exercises of {name}"))
            }
            "give-sheet" => self.give_sheet(&name).await,
            "another-sheet-exercise" => self.another_on_sheet(&name).await,
            _ => Err(format!("nothing is called `{act}` here")),
        }
    }

    /// Puts another exercise in the place of one of a sheet: on the same motif, or else on another of the sheet's.
    async fn another_on_sheet(&self, name: &str) -> Wished {
        let sheet = self.plan()?.sheet(name);
        let Some(SheetWanted::These(these)) = sheet.map(|sheet| &sheet.wanted) else {
            return Err("the program chooses these already".to_owned());
        };
        let old: Nth<ExerciseName> = self.entry()?;
        let ExerciseName::One(kind, id) = &old.name else {
            return Err("the form names no exercise".to_owned());
        };
        self.opened.turn_down(*kind, id);
        // What its class had is not given to it again.
        let class = sheet.and_then(|sheet| sheet.class.as_deref());
        let had = self.plan()?.given.iter().filter(|given| Some(&*given.class) == class);
        let had = had.flat_map(|given| &given.exercises);
        let known: Vec<(ExerciseKind, String)> =
            these.iter().chain(had).map(|one| (one.kind, one.id.value.clone())).collect();
        let mut motifs: Vec<&str> = Vec::new();
        let of_sheet = these.iter().map(|one| &*one.id.value);
        for motif in std::iter::once(&**id).chain(of_sheet).filter_map(query_in) {
            if !motifs.contains(&motif) {
                motifs.push(motif);
            }
        }
        for motif in motifs.into_iter().take(MOST_MOTIFS) {
            if let Some(new) = self.none_of(motif, *kind, known.clone()).await? {
                let edit = Edit::SheetExercises(name.to_owned(), ListEdit::Replace(old, new));
                return wish(vec![edit], format!("another exercise on {name}"));
            }
        }
        Err(no_other(*kind))
    }

    /// Notes that the class of a sheet was given it today, as it is now; what it names so is what it had.
    async fn give_sheet(&self, name: &str) -> Wished {
        let sheet = self.plan()?.sheet(name);
        let class = sheet.and_then(|sheet| sheet.class.clone());
        let class = class.ok_or_else(|| format!("the sheet `{name}` names no class"))?;
        if self.plan()?.given_to(&class, name).is_some() {
            return Err(format!("{class} had this sheet already"));
        }
        let (named, positions) = self.opened.workshop.on_sheet(name, &self.now.text).await?;
        if named.is_empty() {
            return Err(format!("none of the exercises of `{name}` can be made"));
        }
        let exercise = |one: Noted<ExerciseName>| match one.name {
            ExerciseName::One(kind, id) => Some((kind, id)),
            ExerciseName::Some(..) => None,
        };
        let exercises = named.into_iter().filter_map(exercise).collect();
        let (what, sheet) = (format!("{name} given to {class}"), name.to_owned());
        let on = chrono::Local::now().date_naive().to_string();
        wish(vec![Edit::Give(SheetGiven { class, sheet, on, exercises, positions })], what)
    }

    async fn settled_sheet(&self, name: &str) -> Result<Option<Edit>, String> {
        let sheet = self.plan()?.sheet(name);
        if !sheet.is_some_and(|sheet| matches!(sheet.wanted, SheetWanted::Quotas { .. })) {
            return Ok(None);
        }
        let (exercises, _) = self.opened.workshop.on_sheet(name, &self.now.text).await?;
        Ok(Some(Edit::SettleSheet(name.to_owned(), exercises)))
    }
}
