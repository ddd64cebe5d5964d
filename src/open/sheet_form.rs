//! The form of a sheet, read by the plan's own reader.

use toml_edit::{Array, ArrayOfTables, DocumentMut, Item, Table, Value};

use super::address::{AddressWords, value};
use crate::plan::{CoursePlan, PlannedSheet};

/// The sheet that a form describes.
///
/// # Errors
///
/// What is wrong in it, in the words of whoever reads plans.
pub(super) fn sheet(words: &AddressWords) -> Result<PlannedSheet, String> {
    let mut table = Table::new();
    let said = |word: &str| value(words, word).map(str::trim).filter(|text| !text.is_empty());
    for key in ["name", "title", "class", "level", "paper"] {
        if let Some(text) = said(key) {
            table.insert(key, Item::Value(Value::from(text)));
        }
    }
    let quotas: Array = said("of").unwrap_or_default().split_whitespace().collect();
    if !quotas.is_empty() {
        table.insert("of", Item::Value(Value::Array(quotas)));
    }
    for key in ["for", "motif", "chapter"] {
        let chosen = words.iter().filter(|(word, value)| word == key && !value.is_empty());
        let chosen: Array = chosen.map(|(_, value)| value.as_str()).collect();
        if !chosen.is_empty() {
            table.insert(key, Item::Value(Value::Array(chosen)));
        }
    }
    for key in ["per-page", "seed"] {
        if let Some(number) = said(key) {
            let number: i64 = number.parse().map_err(|_| format!("`{key}` must be a number"))?;
            table.insert(key, Item::Value(Value::from(number)));
        }
    }
    for key in ["projector", "pdf", "large"] {
        if said(key).is_some() {
            table.insert(key, Item::Value(Value::from(true)));
        }
    }
    read(table, said("names-exercises").is_some())
}

fn read(mut table: Table, names_exercises: bool) -> Result<PlannedSheet, String> {
    if names_exercises && !table.contains_key("of") {
        // Its own exercises stay; what the form says of them does not count.
        let quota: Array = ["find:1"].into_iter().collect();
        table.insert("of", Item::Value(Value::Array(quota)));
    }
    let mut sheets = ArrayOfTables::new();
    sheets.push(table);
    let mut document = DocumentMut::new();
    document.insert("sheet", Item::ArrayOfTables(sheets));
    let plan = CoursePlan::read("the form", &document.to_string());
    let plan = plan.map_err(|problems| {
        let told = problems.problems.iter().map(|problem| {
            let hint = problem.hint.iter().map(|hint| format!(" ({hint})"));
            problem.message.clone() + &hint.collect::<String>()
        });
        told.collect::<Vec<_>>().join("; ")
    })?;
    plan.sheets.into_iter().next().ok_or_else(|| "this describes no sheet".to_owned())
}
