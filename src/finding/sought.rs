//! One hit with all that is known of it, by its id.

use crate::hits::{CellTrouble, Collector, JudgedHit, Layout, NoColumn, Wanted};

/// A hit that is looked for by its id.
#[derive(Debug)]
pub struct Sought {
    id: String,
    found: Option<JudgedHit>,
}

impl Sought {
    /// Not found yet.
    #[must_use]
    pub fn of(id: &str) -> Sought {
        Sought { id: id.to_owned(), found: None }
    }

    /// The hit, if it passed by.
    #[must_use]
    pub fn found(self) -> Option<JudgedHit> {
        self.found
    }
}

impl Collector for Sought {
    fn begin(&mut self, _: &Layout) -> Result<Wanted, NoColumn> {
        Ok(Wanted::everything())
    }

    fn take(&mut self, hit: &JudgedHit) -> Result<(), CellTrouble> {
        if hit.id == self.id {
            self.found = Some(hit.clone());
        }
        Ok(())
    }
}
