//! The sheets of a plan's file, and what classes were given.

use std::ops::Range;

use toml::de::{DeTable, DeValue};

use super::audience::Audience;
use super::layout::{NoSuchLayout, SheetLayout};
use super::planned::Planned;
use super::reading::{kinds, planned};
use super::sheet::{Given, PlannedSheet, SheetExercise, SheetWanted};
use crate::query::Chapter;
use crate::teaching::{Quota, QuotaFault};
use crate::toml_files::{Problem, Text, TomlReader};

/// What a sheet can say, beside its exercises.
pub const SHEET_KEYS: [&str; 14] = [
    "name",
    "title",
    "for",
    "projector",
    "class",
    "of",
    "level",
    "motif",
    "chapter",
    "seed",
    "per-page",
    "large",
    "pdf",
    "paper",
];
/// The keys of an exercise, and of what was given.
const EXERCISE_KEYS: [&str; 2] = ["kind", "id"];
const GIVEN_KEYS: [&str; 5] = ["class", "sheet", "on", "exercises", "positions"];

impl TomlReader<'_> {
    pub(super) fn sheets(&mut self, table: &DeTable<'_>) -> Vec<PlannedSheet> {
        let sheets = self.tables(table, "sheet");
        let sheets: Vec<PlannedSheet> =
            sheets.into_iter().filter_map(|(place, sheet)| self.sheet(sheet, place)).collect();
        for (index, sheet) in sheets.iter().enumerate() {
            let name = &sheet.name;
            if sheets[..index].iter().any(|known| known.name.value == name.value) {
                let message = format!("there is a sheet `{}` already", name.value);
                self.note(Problem::new(name.place.clone(), message));
            }
        }
        sheets
    }

    fn sheet(&mut self, table: &DeTable<'_>, place: Range<usize>) -> Option<PlannedSheet> {
        let keys = [&SHEET_KEYS[..], &["exercise"]].concat();
        self.check_keys(table, &keys, "a sheet");
        let name = self.name(table, place.clone());
        let [title, class] = ["title", "class"].map(|key| self.words(table, key));
        let audiences = self.audiences(table);
        let paper = self.optional_text(table, "paper");
        let layout = SheetLayout {
            per_page: self.per_page(table),
            is_large: self.flag(table, "large"),
            paper: paper.and_then(|text| self.choice(&text)).unwrap_or_default(),
        };
        let [is_projected, is_pdf] = ["projector", "pdf"].map(|key| self.flag(table, key));
        let (name, wanted) = (name?, self.wanted(table, place)?);
        Some(PlannedSheet { name, title, audiences, is_projected, is_pdf, layout, class, wanted })
    }

    /// What its files are called: a word that is safe in any file system.
    fn name(&mut self, table: &DeTable<'_>, place: Range<usize>) -> Option<Planned<String>> {
        let Some(text) = self.optional_text(table, "name") else {
            if !table.contains_key("name") {
                self.note(Problem::new(place, "this sheet has no `name`"));
            }
            return None;
        };
        let is_plain = |letter: char| matches!(letter, 'a'..='z' | '0'..='9' | '-');
        if text.value.is_empty() || !text.value.chars().all(is_plain) || text.value == "index" {
            let message = format!("`{}` can't be the name of a file", text.value);
            let problem = Problem::new(text.span.clone(), message);
            self.note(problem.with_hint("use lower-case letters, digits and hyphens"));
        }
        Some(planned(text))
    }

    fn audiences(&mut self, table: &DeTable<'_>) -> Vec<Audience> {
        let texts = self.one_or_more(table, "for");
        let audiences: Vec<Audience> = texts.iter().filter_map(|text| self.choice(text)).collect();
        if audiences.is_empty() { vec![Audience::Both] } else { audiences }
    }

    fn per_page(&mut self, table: &DeTable<'_>) -> Option<super::layout::PerPage> {
        let number = self.number(table, "per-page", 1..=12)?;
        let place = table.get("per-page").map(toml::Spanned::span).unwrap_or_default();
        let read = number.to_string().parse();
        read.map_err(|fault: NoSuchLayout| self.note(Problem::new(place, fault.to_string()))).ok()
    }

    fn flag(&mut self, table: &DeTable<'_>, key: &str) -> bool {
        let Some(value) = table.get(key) else { return false };
        let DeValue::Boolean(flag) = value.get_ref() else {
            self.note(Problem::new(value.span(), format!("`{key}` must be true or false")));
            return false;
        };
        *flag
    }

    fn wanted(&mut self, table: &DeTable<'_>, place: Range<usize>) -> Option<SheetWanted> {
        let these = self.tables(table, "exercise");
        let these: Vec<SheetExercise> =
            these.into_iter().filter_map(|(place, one)| self.sheet_exercise(one, place)).collect();
        let quotas = self.quotas(table);
        let levels = self.levels(table);
        let motifs = self.one_or_more(table, "motif").into_iter().map(planned).collect();
        let chapters = Chapter::ALL.map(|chapter| (chapter.word(), chapter));
        let texts = self.one_or_more(table, "chapter");
        let chapters = texts.iter().filter_map(|text| self.one_of(text, &chapters)).collect();
        let seed = self.number(table, "seed", 1..=i64::MAX).unwrap_or(1).unsigned_abs();
        match (quotas.is_empty(), these.is_empty()) {
            (false, true) => Some(SheetWanted::Quotas { quotas, levels, motifs, chapters, seed }),
            (true, false) => Some(SheetWanted::These(these)),
            (is_without, _) => {
                let message = if is_without {
                    "this sheet has neither exercises nor quotas"
                } else {
                    "a sheet names its exercises, or there are so many `of` each kind, not both"
                };
                let problem = Problem::new(place, message);
                self.note(problem.with_hint("write of = [\"find:6\", \"judge:4\"]"));
                None
            }
        }
    }

    fn quotas(&mut self, table: &DeTable<'_>) -> Vec<Quota> {
        let texts = self.one_or_more(table, "of");
        let mut quotas: Vec<Quota> = Vec::new();
        for text in texts {
            match text.value.parse::<Quota>() {
                Ok(quota) => quotas.push(quota),
                Err(fault) => {
                    let fault: QuotaFault = fault;
                    self.note(Problem::new(text.span, fault.to_string()));
                }
            }
        }
        quotas
    }

    fn sheet_exercise(
        &mut self,
        table: &DeTable<'_>,
        place: Range<usize>,
    ) -> Option<SheetExercise> {
        self.check_keys(table, &EXERCISE_KEYS, "an exercise of a sheet");
        let kind = self.required_text(table, "kind", "this exercise");
        let kind = kind.and_then(|text| self.one_of(&text, &kinds()));
        let id = self.optional_text(table, "id");
        if id.is_none() && !table.contains_key("id") {
            self.note(Problem::new(place, "this exercise has no `id`"));
        }
        Some(SheetExercise { kind: kind?, id: planned(id?) })
    }

    pub(super) fn given(&mut self, table: &DeTable<'_>) -> Vec<Given> {
        let given = self.tables(table, "given");
        given.into_iter().filter_map(|(_, given)| self.one_given(given)).collect()
    }

    fn one_given(&mut self, table: &DeTable<'_>) -> Option<Given> {
        self.check_keys(table, &GIVEN_KEYS, "what a class was given");
        let class = self.required_text(table, "class", "what was given");
        let sheet = self.words(table, "sheet").unwrap_or_default();
        let texts = self.text_list(table, "exercises");
        let exercises = texts.into_iter().filter_map(|text| self.kind_and_id(text)).collect();
        let positions = self.text_list(table, "positions").into_iter().map(planned).collect();
        let on = self.words(table, "on").unwrap_or_default();
        Some(Given { class: class?.value, sheet, on, exercises, positions })
    }

    /// An exercise in one text: `find ID`.
    fn kind_and_id(&mut self, text: Text) -> Option<SheetExercise> {
        let parts = text.value.split_once(' ');
        let found = parts.and_then(|(kind, id)| {
            let kind = kinds().into_iter().find(|(word, _)| *word == kind)?.1;
            Some((kind, id.trim().to_owned()))
        });
        if found.is_none() {
            let message = format!("`{}` is not a kind of exercise and an id", text.value);
            self.note(Problem::new(text.span.clone(), message));
        }
        let (kind, value) = found?;
        Some(SheetExercise { kind, id: Planned { value, place: text.span } })
    }

    /// A text, or several in a list.
    fn one_or_more(&mut self, table: &DeTable<'_>, key: &str) -> Vec<Text> {
        match table.get(key) {
            Some(value) if value.get_ref().as_str().is_some() => {
                self.text(value).into_iter().collect()
            }
            _ => self.text_list(table, key),
        }
    }
}
