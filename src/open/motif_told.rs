//! What is told of an own motif while it is written: what is wrong under the very words, how it is understood, and the file
//! that it comes to.

use std::collections::BTreeMap;

use minijinja::{Value, context};

use super::motif_board::board_of;
use super::motif_form::{EXAMPLES, MotifFile, MotifForm};
use crate::mining::rehearse;
use crate::query::{Pattern, Query};
use crate::toml_files::Problem;
use crate::visible::visible;

/// A motif that was read.
pub(super) struct MotifRead {
    /// The form.
    pub(super) form: MotifForm,
    /// The file.
    pub(super) file: MotifFile,
    /// The query, or what is wrong.
    pub(super) query: Result<Box<Query>, Vec<Problem>>,
}

impl MotifRead {
    /// Reads what a form holds.
    pub(super) fn of(form: MotifForm) -> MotifRead {
        let file = form.file();
        let query = Query::read(&form.name, &form.name, &file.text);
        let query = query.map(Box::new).map_err(|problems| problems.problems);
        MotifRead { form, file, query }
    }

    /// What is told.
    pub(super) fn content(&self) -> Value {
        context! {
            faults => self.faults(),
            is_understood => self.query.is_ok(),
            board => self.query.as_ref().ok().map(|query| board_of(query)),
            text => &self.file.text,
        }
    }

    /// What is wrong, by field; what belongs to none is the name's.
    fn faults(&self) -> BTreeMap<&'static str, Vec<Value>> {
        let mut faults: BTreeMap<&'static str, Vec<Value>> = BTreeMap::new();
        match &self.query {
            Err(problems) => {
                for problem in problems {
                    let (field, fault) = self.fault(problem);
                    faults.entry(field).or_default().push(fault);
                }
            }
            Ok(query) => {
                if let Some(slip) = query.slip() {
                    let message = "this takes on the attacker’s own side of the board: squares are told as if White attacked";
                    let hint = format!("if Black’s offer there is meant, write “{}”", slip.meant);
                    faults.entry("offer").or_default().push(context! { message, hint });
                }
                for miss in rehearse(&Pattern::new((**query).clone())) {
                    let problem = if miss.expected {
                        "no offer was found in"
                    } else {
                        "an offer was found in"
                    };
                    let message = quoted(&format!("{problem} `{}`: {}", miss.line, miss.reason));
                    faults.entry(EXAMPLES).or_default().push(context! { message });
                }
            }
        }
        faults
    }

    /// A problem with the field it is in, and the words with the place marked.
    fn fault(&self, problem: &Problem) -> (&'static str, Value) {
        let text = &self.file.text;
        let place = self
            .file
            .line_at(problem.span.start)
            .filter(|_| !problem.span.is_empty() || problem.span.start > 0);
        let told = |words: &str| visible(words).into_owned();
        let said = |words: &str| quoted(&visible(words));
        let (message, hint) = (said(&problem.message), problem.hint.as_deref().map(said));
        let expected = problem.expected.as_deref().map(said);
        let Some(place) = place else {
            return ("name", context! { message, hint, expected });
        };
        // The line of the place, as far as it belongs to these words.
        let words = place.words.clone();
        let start = problem.span.start.clamp(words.start, words.end);
        let line =
            text[words.start..start].rfind('\n').map_or(words.start, |end| words.start + end + 1);
        let line_end = text[start..words.end].find('\n').map_or(words.end, |length| start + length);
        let end = problem.span.end.clamp(start, line_end);
        let is_within = words.start <= problem.span.start;
        let parts = is_within.then(|| {
            let mark = if start == end { "…" } else { &text[start..end] };
            context! { before => told(&text[line..start]), mark => told(mark), after => told(&text[end..line_end]) }
        });
        (place.field, context! { message, hint, expected, parts })
    }
}

/// A message as a page says it: with quotation marks where the terminal has backticks.
fn quoted(message: &str) -> String {
    let mut is_open = false;
    let mark = |letter| match letter {
        '`' => {
            is_open = !is_open;
            if is_open { '“' } else { '”' }
        }
        _ => letter,
    };
    message.chars().map(mark).collect()
}
