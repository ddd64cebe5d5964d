//! The manifest of a run that is about to start.

use super::options::MineOptions;
use crate::collection::Source;
use crate::query::Pattern;
use crate::tables::{Counts, QueryRun, RunFile, SourceRun, hash_of};

/// The manifest of a run that is about to start.
pub(super) fn new_manifest(
    options: &MineOptions,
    sources: &[Source],
    patterns: &[Pattern],
) -> RunFile {
    let source_run = |source: &Source| SourceRun {
        name: source.name.clone(),
        size: source.size,
        games: 0,
        failure: None,
    };
    let query_run = |pattern: &Pattern| QueryRun {
        name: pattern.query.name.clone(),
        sha256: hash_of(&pattern.query.source),
        hits: 0,
        overlooked: 0,
    };
    RunFile {
        hecatomb: env!("CARGO_PKG_VERSION").to_owned(),
        ended: String::new(),
        sources: sources.iter().map(source_run).collect(),
        queries: patterns.iter().map(query_run).collect(),
        options: options.recorded(),
        counts: Counts::default(),
        seconds: 0.0,
    }
}
