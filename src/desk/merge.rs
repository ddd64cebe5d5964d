//! Edits that were meant for a plan as somebody saw it, made in the plan as it is.
//!
//! Invariant: what another window or program changed is never written over unseen.

use super::apply::{edited, read};
use super::edit::Edit;
use super::fault::EditFault;
use super::touched::{meant, touched};

/// What two people wrote in the same place.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Clash {
    /// The edit that was not made.
    pub edit: Edit,
    /// What stood there when it was meant.
    pub seen: Option<String>,
    /// What stands there now.
    pub theirs: Option<String>,
    /// What the edit would put there, if it is a text.
    pub yours: Option<String>,
}

/// What came of edits.
pub(super) enum Merged {
    /// The text with the edits made.
    Text(String),
    /// They are about something that was changed meanwhile.
    Clash(Box<Clash>),
}

/// Makes edits that were meant for the text `seen` in the text `now`, if they are about something that is still as it
/// was.
pub(super) fn merged(seen: &str, now: &str, edits: &[Edit]) -> Result<Merged, EditFault> {
    read(now)?;
    let (mut seen, mut now) = (seen.to_owned(), now.to_owned());
    for edit in edits {
        let [before, theirs] = [&seen, &now].map(|text| {
            let plan = read(text).ok()?;
            touched(text, &plan, edit)
        });
        let yours = meant(edit).map(str::to_owned);
        if before != theirs && (theirs.is_none() || theirs != yours) {
            let edit = edit.clone();
            return Ok(Merged::Clash(Box::new(Clash { edit, seen: before, theirs, yours })));
        }
        let edit = std::slice::from_ref(edit);
        seen = edited(&seen, edit)?;
        now = edited(&now, edit)?;
    }
    Ok(Merged::Text(now))
}
