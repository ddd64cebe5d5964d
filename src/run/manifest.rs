//! The manifest of a run that is about to start.

use std::collections::BTreeMap;

use crate::collection::Source;
use crate::query::{Library, Pattern};
use crate::tables::{Counts, EndOfRun, OptionsFile, QueryRun, RunFile, SourceRun, hash_of};

/// The manifest of a run that is about to start.
#[must_use]
pub fn new_manifest(recorded: &OptionsFile, sources: &[Source], patterns: &[Pattern]) -> RunFile {
    let source_run = |source: &Source| SourceRun {
        name: source.name.clone(),
        size: source.size,
        games: 0,
        failure: None,
        unchecked_from: None,
    };
    let query_run = |pattern: &Pattern| QueryRun {
        name: pattern.query.name.clone(),
        sha256: hash_of(&pattern.query.source),
        text: (!Library::has_built_in(&pattern.query)).then(|| pattern.query.source.clone()),
        hits: 0,
        overlooked: 0,
    };
    RunFile {
        hecatomb: env!("CARGO_PKG_VERSION").to_owned(),
        ended: EndOfRun::AtTheEnd,
        sources: sources.iter().map(source_run).collect(),
        queries: patterns.iter().map(query_run).collect(),
        options: recorded.clone(),
        counts: Counts::default(),
        tables: BTreeMap::new(),
        seconds: 0.0,
        part: None,
    }
}
