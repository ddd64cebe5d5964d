//! Whether best play after offers that nobody made shows what their queries require.

use std::collections::HashMap;

use crate::board::Replay;
use crate::hits::{JudgedHit, Run, VerdictRecord};
use crate::mining::shows_required;
use crate::query::{Pattern, Query, built_in_names};

/// The queries that require something after their offers.
pub(super) struct Sequels(HashMap<String, Pattern>);

impl Sequels {
    /// Those of a run that found overlooked offers, as they were mined.
    pub(super) fn of(run: &Run) -> Sequels {
        let asked = run.manifest.queries.iter().filter(|known| known.overlooked > 0);
        Sequels::among(asked.filter_map(Run::query))
    }

    /// The built-in ones.
    pub(super) fn built_in() -> Sequels {
        Sequels::among(built_in_names().filter_map(|name| Query::as_mined(name, None)))
    }

    fn among(queries: impl Iterator<Item = Query>) -> Sequels {
        let asking = queries.filter(|query| !query.requires.is_empty());
        Sequels(asking.map(|query| (query.name.clone(), Pattern::new(query))).collect())
    }

    /// Whether the line of a verdict shows them, if the offer was overlooked and something is required.
    pub(super) fn shown(&self, hit: &JudgedHit, verdict: &VerdictRecord) -> Option<bool> {
        let pattern = self.0.get(&*hit.query).filter(|_| !hit.is_played())?;
        let before = hit.position().ok()?;
        let text = format!("{} {}", hit.offer.san, verdict.best_line);
        let line = Replay::read(&before, &text).ok()?;
        shows_required(pattern, (hit.view, hit.shift), &line)
    }
}
