//! Which kinds of sacrifice are looked at.

use super::collector::NoColumn;
use super::judged_hit::JudgedHit;
use super::layout::{Layout, Verdicts, Wanted};
use crate::board::SacrificeKind;

/// The kinds of sacrifice whose hits are passed on.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct ChosenKinds {
    /// Any of these; none means all.
    pub kinds: Vec<SacrificeKind>,
    /// Whether they are meant against best play, and not as the game went.
    pub by_force: bool,
}

impl ChosenKinds {
    /// Their words.
    #[must_use]
    pub fn words(&self) -> Vec<&'static str> {
        self.kinds.iter().map(|kind| kind.word()).collect()
    }

    pub(super) fn has(&self, hit: &JudgedHit) -> bool {
        let forced = || hit.verdict.as_ref().and_then(|verdict| verdict.forced_kind);
        let kind = if self.by_force { forced() } else { hit.offer.kind };
        self.kinds.is_empty() || kind.is_some_and(|kind| self.kinds.contains(&kind))
    }

    /// What must be known of the hits to tell.
    pub(super) fn wanted(&self, layout: &Layout) -> Result<Wanted, NoColumn> {
        match (self.by_force, layout.verdicts) {
            (false, _) => Ok(Wanted::figures()),
            (true, Verdicts::Missing) => {
                Err(NoColumn { name: "forced_kind".to_owned(), known: layout.names() })
            }
            (true, _) => Ok(Wanted::figures().with_verdict()),
        }
    }
}
